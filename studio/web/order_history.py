"""What was done to an order: who, when, what, one sentence an entry."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from studio.book.audit import AuditLine
from studio.craft.directions import apart
from studio.craft.roles import Right
from studio.craft.units import figure_words
from studio.web.days import day_words
from studio.web.security import Seat
from studio.web.wording import hour_words, since_words

_DONE = {
    "take an order": "took the order",
    "issue a quote": "made a quote",
    "send a quote": "noted how the quote left",
    "note the deposit": "noted why the work begins without the deposit",
    "take a payment": "noted a payment",
    "give money back": "noted money given back",
    "take a payment back": "took a payment back that was entered by mistake",
    "settle a size": "settled a size",
    "sign a proof": "noted that the proof of an inscription was read and signed",
    "note what was said of the fit": "noted what was said of the fit",
    "note the yes": "noted the yes",
    "take the quote back": "took the quote back",
    "take the yes back": "took the yes back",
    "give it to the bench": "gave it to the bench",
    "mark it ready": "marked it ready",
    "hand it over": "handed it over",
    "call it off": "called it off",
    "take it back from the bench": "took it back from the bench",
    "put it back on the bench": "put it back on the bench",
    "take it back in": "took it back in",
    "take it up again": "took it up again",
    "change a route": "changed the way over the bench",
    "put down a bench record": "put down what the bench measured",
    "start a step": "started a step",
    "stop a step": "stopped a step",
    "tick a step off": "ticked a step off",
    "note a figure of a step": "noted what a step came to",
    "open a step again": "opened a step again",
    "undo at the bench": "took the last thing at the bench back",
    "settle up": "said what is owed",
    "make an answer link": "made a link for the customer",
    "put a link in a letter": "put a link for the customer into a letter",
    "say no by the link": "said no",
    "add a variant": "offered another variant",
    "change a variant": "changed a variant",
    "drop a variant": "dropped a variant",
    "put an amendment together": "put an amendment together",
    "drop an amendment": "let go of an amendment",
    "issue an amendment": "made an amendment",
    "withdraw an amendment": "withdrew an amendment",
    "add a picture": "added a picture",
    "take a picture away": "took a picture away",
    "make a confirmation": "made a confirmation",
    "take goods in": "took goods in",
    "give goods back": "gave goods back",
    "issue an invoice": "made an invoice",
    "issue an invoice on account": "made an invoice on account",
    "issue a credit note": "made a credit note",
    "queue a quote mail": "gave the mail to the outbox",
    "queue a test mail": "gave a test of the mail to the outbox",
    "refuse a mail": "could not hand the mail over",
    "put a thing down": "put a thing down",
    "give work outside": "gave work outside",
    "take outside work back": "took outside work back",
    "put in a piece": "put metal for it into the drawer",
    "change a piece": "put right what is known of its metal",
    "set a piece aside": "set metal aside for it",
    "free a piece": "gave its metal free",
    "take a piece out": "took its metal out of the drawer",
    "queue a reminder mail": "gave a reminder to the outbox",
    "take a reminder along": "took a reminder along",
    "drop a reminder": "let a reminder be that was not needed any more",
}
_OF_A_ROUTE = "change a route"
_OF_A_PICTURE = frozenset({"add a picture", "take a picture away"})
_OF_A_QUOTE = frozenset({
    "issue a quote", "send a quote", "issue an amendment", "withdraw an amendment", "make an answer link",
    "put a link in a letter", "say no by the link", "queue a quote mail", "queue a test mail",
    "refuse a mail", "queue a reminder mail", "take a reminder along", "drop a reminder",
})  # fmt: skip
_OF_A_DOCUMENT = frozenset({"make a confirmation", "take goods in", "give goods back"})
_OF_AN_INVOICE = frozenset({"issue an invoice", "issue an invoice on account", "issue a credit note"})
_OF_A_STEP = frozenset({
    "start a step", "stop a step", "tick a step off", "note a figure of a step", "open a step again",
    "undo at the bench",
})  # fmt: skip
_SHOWS_CHANGES = frozenset({"change an order", "settle a size", "put down a bench record", *_OF_A_STEP})
_FIELDS = {
    "wanted_on": "wanted by",
    "wanted_hard": "fixed day",
    "promised_at": "promised",
    "bench_on": "bench date",
    "note": "note",
    "state": "state",
    "avoid": "metals to avoid",
    "collects": "collected by",
    "mends": "mends",
    "before_mm": "length before the pattern",
    "after_mm": "length after the pattern",
    "closed_mm": "inside round once closed",
    "formed_mm": "inside round once formed",
    "tool": "tool",
    "wrong": "does not count",
}
_RING_FIELDS = {
    "profile": "section",
    "width_mm": "width",
    "thickness_mm": "thickness",
    "alloy": "metal",
    "from": "cut from",
    "pattern_when": "pattern put on",
    "stretch_percent": "stretch",
    "fit_mm": "fit",
    "to_size": "at most",
    "gauge_width_mm": "gauge width",
    "gauge": "gauge",
    "is_warm": "warm hands",
    "is_on_two_days": "measured on two days",
    "taken_by": "taken by",
    "taken_at": "taken",
    "finish_inside": "finish inside",
    "finish_outside": "finish outside",
    "inscription_on": "inscription on",
    "letter_mm": "height of a letter",
    "read_back": "inscription read back",
    "marks": "marks",
}
_OF_CONTACT = frozenset({"collects"})
"""Fields that are told to those alone who see a customer's contact."""
LONGEST_SHOWN = 80


@dataclass(frozen=True, slots=True)
class HistoryEntry:
    """One entry: when, who did what, the reason given, and what changed from what."""

    when: str
    sentence: str
    reason: str
    changes: tuple[str, ...]


def history_of(lines: tuple[AuditLine, ...], seat: Seat) -> tuple[HistoryEntry, ...]:
    """The entries in words, the latest first."""
    return tuple(_entry(line, seat) for line in reversed(lines))


def _entry(line: AuditLine, seat: Seat) -> HistoryEntry:
    new = line.new if isinstance(line.new, Mapping) else {}
    old = line.old if isinstance(line.old, Mapping) else {}
    what = _DONE.get(line.verb, "changed the order")
    if agreed := new.get("agreed_name"):
        what = f"{what} of {apart(str(agreed))}"
    if line.verb in _OF_A_QUOTE and (quote := new.get("quote")):
        about = f", of the {new['about']}" if new.get("about") else ""
        what = f"{what}{about}, {quote}"
    if line.verb in _OF_A_DOCUMENT:
        what = f"{what}, {new['document']}"
    if line.verb in _OF_AN_INVOICE:
        what = f"{what}, {new['invoice']}{' for ' * ('payment' in new)}{new.get('payment', '')}"
    elif payment := new.get("payment"):
        what = f"{what}{', with the payment' * (line.verb == 'note the yes')}, {payment}"
    if variant := new.get("variant"):
        what = f"{what}, variant {str(variant).upper()}"
    if line.verb in _OF_A_STEP:
        figure, minutes = new.get("figure"), new.get("minutes")
        told = (f"{new['step']} of ring {new['ring']}", figure or "", f"{minutes} min" if minutes else "")
        what = f"{what}: {', '.join(one for one in told if one)}"
    if line.verb in _OF_A_PICTURE:
        what = f"{what}{_picture_words(new or old, seat)}"
    if line.verb == _OF_A_ROUTE:
        what = f"{what} of ring {new['ring']}: {apart(str(new['route']))}"
    changes = tuple(_changes(old, new, seat)) if line.verb in _SHOWS_CHANGES else ()
    return HistoryEntry(
        when=hour_words(line.at, seat.zone, seat.today),
        sentence=f"{apart(line.actor)} {what}.",
        reason=line.reason or "",
        changes=changes,
    )


def _picture_words(told: Mapping[str, Any], seat: Seat) -> str:
    """Which picture it was: ' of ring 2, the twig to copy'."""
    ring = f" of ring {told['ring']}" if told.get("ring") else ""
    return f"{ring}, {_shown(told['note'], seat).removesuffix('.')}" if told.get("note") else ring


def _changes(old: Mapping[str, Any], new: Mapping[str, Any], seat: Seat) -> list[str]:
    """Each changed field: 'bench date Tue 1 Dec, before Mon 30 Nov'."""
    found = [
        f"{words} {_shown(new[name], seat)}, before {_shown(old.get(name), seat)}"
        for name, words in _FIELDS.items()
        if name in new and (name not in _OF_CONTACT or seat.may(Right.SEE_CONTACT))
    ]
    return [*found, *_ring_changes(old.get("rings"), new.get("rings"), seat)]


def _ring_changes(old: object, new: object, seat: Seat) -> list[str]:
    """What changed in each ring, and rings that came or went."""
    if not isinstance(old, list) or not isinstance(new, list):
        return []
    found = [f"ring {place} added" for place in range(len(old) + 1, len(new) + 1)]
    found += [f"ring {place} taken out" for place in range(len(new) + 1, len(old) + 1)]
    for place, (was, became) in enumerate(zip(old, new, strict=False), 1):
        names = [name for name in {**was, **became} if was.get(name) != became.get(name)]
        found += [
            f"ring {place}, {_RING_FIELDS.get(name, name)} {_shown(became.get(name), seat)},"
            f" before {_shown(was.get(name), seat)}"
            for name in names
        ]
    return found


def _shown(value: object, seat: Seat) -> str:
    """A kept value as it is said: a day, a moment, a figure, a word; long text is cut."""
    if value is None or value in ("", {}):
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return figure_words(float(value), 3)
    if isinstance(value, Mapping):
        return "; ".join(apart(str(text)) for text in value.values())
    text = str(value)
    if dated := _dated(text, seat):
        return dated
    return apart(text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN].rstrip()} …")


def _dated(text: str, seat: Seat) -> str:
    """The day or moment that `text` writes in ISO form, in words; '' for any other text."""
    try:
        if len(text) == len("2026-12-01"):
            return day_words(date.fromisoformat(text), today=seat.today)
        moment = datetime.fromisoformat(text)
    except ValueError:
        return ""
    return since_words(moment, seat.zone, seat.today) if moment.tzinfo else ""
