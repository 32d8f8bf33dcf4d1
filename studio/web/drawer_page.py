"""The drawer's page: what it shows of every piece, and the words of each."""

import secrets
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.engine import session
from studio.book.piece_reads import Piece, pieces
from studio.book.pieces import WENT_TO
from studio.book.practices import practice_on
from studio.book.studio import studio
from studio.craft.designs import Profile
from studio.craft.drawer import PieceKind
from studio.craft.ledger import Account
from studio.craft.metals import Alloy
from studio.craft.own_alloys import short_name
from studio.craft.practice import Practice
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.roles import Right
from studio.craft.units import figure_words, shown_length
from studio.papers.money import money_words
from studio.web.amounts import shown_amount
from studio.web.counter_choices import Choice, ChoiceGroup, alloy_groups
from studio.web.counter_page import ErrorLine
from studio.web.many_forms import OneOfMany, lines_of
from studio.web.piece_reading import WORDS
from studio.web.render import Place, page
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import counted, opened, wire_words

HREF = "/metal"
NOTHING = Said()
NEW = "new"
_WENT_WORDS = {
    Account.SOLD: "sold",
    Account.LOSS: "lost",
    Account.SCRAP: "into the scrap box",
    Account.BENCH: "to the bench, uncut",
    Account.CUSTOMER: "back to the customer",
    Account.SUPPLIER: "back to the supplier",
}
WENT = tuple(Choice(account, _WENT_WORDS[account]) for account in WENT_TO)
"""Where the metal of a piece goes that is taken out, as the form offers it."""
_KINDS = {PieceKind.SHEET: "Sheet", PieceKind.STRIP: "Strip", PieceKind.WIRE: "Wire"}
_FIRST = {"kind": PieceKind.SHEET}


@dataclass(frozen=True, slots=True)
class PieceForm(OneOfMany):
    """One piece as a line and as a form: `texts` are its fields by name, `said` what is to be put right."""

    number: str
    mark: str
    what: str
    grams: str
    where: str
    whose: str
    action: str
    version: int
    texts: dict[str, str]
    said: Said
    is_open: bool


@dataclass(frozen=True, slots=True)
class AlloyPart:
    """The pieces of one alloy, with what they weigh together."""

    name: str
    together: str
    pieces: tuple[PieceForm, ...]


@dataclass(frozen=True, slots=True)
class DrawerPage:
    """The page."""

    title: str
    heading_note: str
    parts: tuple[AlloyPart, ...]
    new: PieceForm
    kinds: tuple[Choice, ...]
    no_alloy: Choice
    alloys: tuple[ChoiceGroup, ...]
    profiles: tuple[Choice, ...]
    went_to: tuple[Choice, ...]
    words: dict[str, str]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    sees_paid: bool
    currency: str
    form_key: str
    href: str = HREF
    losses_href: str = "/metal/losses"
    over_time_href: str = "/metal/over-time"
    alloying_href: str = "/alloying"
    buying_href: str = "/metal/buying"
    moves_href: str = ""
    refiner_href: str = ""
    ledger_href: str = "/metal/ledger"
    count_href: str = "/metal/count"
    old_gold_href: str = ""
    way_href: str = "/metal/pieces"


def drawer_page(
    request: Request, seat: Seat, said: Said = NOTHING, status: int = 200, key: str = ""
) -> HTMLResponse:
    """The page, with what is to be put right in the form of piece `key`."""
    with session(seat.engine) as book:
        found, practice, facts = pieces(book), practice_on(book, seat.today), studio(book)
    grams = sum(one.mass_g for one in found if one.owner_id is None)
    count = opened(counted(len(found), "piece", "pieces"))
    sees_paid = seat.may(Right.SEE_COST)
    context = DrawerPage(
        title=f"{said.heading}: Metal" if said.heading else "Metal",
        heading_note=f"{count} in the drawer, {grams:.2f} g of our own" if found else "The drawer is empty",
        parts=_parts(found, practice, said, key, facts.currency, sees_paid=sees_paid),
        new=_new(said if key == NEW else NOTHING, is_first=not found),
        kinds=tuple(Choice(kind, words) for kind, words in _KINDS.items()),
        no_alloy=Choice("", "Not chosen yet"),
        alloys=alloy_groups(_offered(practice, found)),
        profiles=(
            Choice("", "none, it is flat"),
            *(Choice(profile, PROFILE_NAMES[profile]) for profile in Profile),
        ),
        went_to=WENT,
        words=WORDS,
        said=said,
        error_lines=lines_of(said, WORDS, key),
        sees_paid=sees_paid,
        old_gold_href="/metal/old-gold" if seat.may(Right.SEE_PRICE) else "",
        moves_href="/metal/moves" if seat.may(Right.SEE_PRICE) else "",
        refiner_href="/metal/refiner" if seat.may(Right.KEEP_BOOKS) else "",
        currency=facts.currency,
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "drawer/page.html", context, place=Place.METAL, status=status)


def _offered(practice: Practice, found: tuple[Piece, ...]) -> list[Alloy]:
    """What a piece may be of: what rings are chosen from, and what lies in the drawer already."""
    lying = {one.measures.alloy for one in found}
    offered = {alloy.key for alloy in practice.offered_alloys}
    return [alloy for key, alloy in practice.alloys.items() if key in offered | lying]


def _parts(
    found: tuple[Piece, ...], practice: Practice, said: Said, key: str, currency: str, *, sees_paid: bool
) -> tuple[AlloyPart, ...]:
    alloys: dict[str, list[Piece]] = {}
    for one in found:
        alloys.setdefault(one.measures.alloy, []).append(one)
    order = list(practice.alloys)
    return tuple(
        AlloyPart(
            opened(practice.alloys[alloy].name if alloy in practice.alloys else short_name(alloy)),
            f"{sum(one.mass_g for one in alloys[alloy]):.2f} g",
            tuple(
                _form(one, said if str(one.id) == key else NOTHING, currency, sees_paid=sees_paid)
                for one in alloys[alloy]
            ),
        )
        for alloy in sorted(alloys, key=lambda name: order.index(name) if name in order else len(order))
    )


def _form(one: Piece, said: Said, currency: str, *, sees_paid: bool) -> PieceForm:
    where = [one.place, f"lot {one.lot}" if one.lot else ""]
    if sees_paid and one.paid_minor is not None:
        where.append(money_words(one.paid_minor, currency))
    whose = f"{one.owner}'s own, for {one.order}" if one.owner_id else f"for {one.order}" if one.order else ""
    return PieceForm(
        number=str(one.id),
        mark=one.mark,
        what=piece_words(one),
        grams=f"{one.mass_g:.2f} g" if one.is_weighed else f"about {one.mass_g:.2f} g",
        where=", ".join(part for part in where if part),
        whose=whose,
        action=f"{HREF}/{one.id}",
        version=one.version,
        texts=piece_texts(one, currency) | said.typed,
        said=said,
        is_open=bool(said.typed or said.heading),
    )


def _new(said: Said, *, is_first: bool) -> PieceForm:
    return PieceForm(
        NEW, "", "", "", "", "", HREF, 0, said.typed or dict(_FIRST), said, is_first or bool(said.typed)
    )


def piece_words(one: Piece) -> str:
    """'Sheet 198 × 24 × 1.5', 'offcut 75.3 × 5 × 1.5', 'half-round wire 4 × 1.7, 320 long'."""
    size = one.measures
    if size.profile is not None:
        sides = f"{figure_words(size.width_mm)} × {figure_words(size.thickness_mm)}"
        if size.profile in {Profile.ROUND, Profile.SQUARE}:
            sides = figure_words(size.width_mm)
        return f"{wire_words(size.profile)} {sides}, {figure_words(size.length_mm)} long"
    name = "offcut" if one.is_offcut else str(size.kind)
    all_three = (size.length_mm, size.width_mm, size.thickness_mm)
    return f"{name} {' × '.join(figure_words(side) for side in all_three)}"


def piece_texts(one: Piece, currency: str) -> dict[str, str]:
    """The piece as its fields show it."""
    size = one.measures
    return {
        "kind": size.kind,
        "alloy": size.alloy,
        "profile": size.profile or "",
        "length": shown_length(size.length_mm),
        "width": shown_length(size.width_mm),
        "thickness": shown_length(size.thickness_mm),
        "mass": figure_words(one.mass_g, 3) if one.is_weighed else "",
        "lot": one.lot,
        "paid": "" if one.paid_minor is None else shown_amount(one.paid_minor, currency),
        "place": one.place,
        "order": one.order or "",
        "is_customers": "yes" if one.owner_id else "",
        "is_offcut": "yes" if one.is_offcut else "",
    }
