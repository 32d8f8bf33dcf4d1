"""The studio itself: the name on its papers, how to reach it, and the calendar it lives by."""

from dataclasses import asdict, dataclass, fields, replace
from datetime import date, datetime

from sqlalchemy import CheckConstraint, Text
from sqlalchemy import select as pick
from sqlmodel import Field, Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import VersionStale
from studio.book.transaction import transaction
from studio.book.types import Row, one_of
from studio.craft.hallmark import HallmarkRule
from studio.craft.open_days import DaysNeeded, OpenDays, StudioDays
from studio.papers.house_words import COMMON_CUSTODY, Country
from studio.papers.quote_words import COMMON_RETURNS


class StudioRow(Row, table=True):
    """The one row."""

    __tablename__ = "studio"
    __table_args__ = (
        CheckConstraint("id = 1", name="one_row"),
        CheckConstraint(one_of("hallmark_rule", HallmarkRule), name="hallmark_rule"),
        CheckConstraint("length(currency) = 3", name="currency"),
    )

    id: int = Field(default=1, primary_key=True, sa_column_kwargs={"autoincrement": False})
    name: str = Field(sa_type=Text)
    subtitle: str = Field(default="", sa_type=Text)
    address: str = Field(default="", sa_type=Text)
    phone: str = Field(default="", sa_type=Text)
    email: str = Field(default="", sa_type=Text)
    hallmark_rule: str = Field(default=HallmarkRule.UK, sa_type=Text)
    currency: str = Field(default="GBP", sa_type=Text)
    time_zone: str = Field(default="Europe/London", sa_type=Text)
    tax_name: str = Field(default="VAT", sa_type=Text)
    returns: str = Field(default=COMMON_RETURNS, sa_type=Text)
    small_print: str = Field(default="", sa_type=Text)
    country: str = Field(default="", sa_type=Text)
    hallmark_note: str = Field(default="", sa_type=Text)
    allergy_note: str = Field(default="", sa_type=Text)
    resizing_note: str = Field(default="", sa_type=Text)
    custody_note: str = Field(default=COMMON_CUSTODY, sa_type=Text)
    closed_weekdays: str = Field(default="", sa_type=Text)
    closed_on: str = Field(default="", sa_type=Text)
    making_days: int = 0
    assay_days: int = 0
    finishing_days: int = 0
    setting_days: int = 0
    engraving_days: int = 0
    plating_days: int = 0
    kept_agreed_bp: int | None = None
    kept_cut_bp: int | None = None
    kept_bench_bp: int | None = None
    kept_ready_bp: int | None = None
    tax_number: str = Field(default="", sa_type=Text)
    invoice_prefix: str = Field(default="", sa_type=Text)
    invoices_on_account: bool = False
    invoice_note: str = Field(default="", sa_type=Text)
    fit_weeks: int = 3
    insured_minor: int | None = None
    seller_years: int = 3
    version: int = 1


@dataclass(frozen=True, slots=True)
class Studio:
    """What the studio says of itself. `time_zone` decides which day and which year a moment falls in.

    `tax_name`, `returns`, `small_print` and the notes are its own words on a quote, `custody_note` on a
    receipt for goods taken in; `country` only says which words it was offered to begin with.
    `closed_weekdays` are digits from Monday ('06'), `closed_on` dates, a line each; the days are open days
    that each part of a ring takes, all 0 while nobody said. `kept_…_bp` is what is kept of the price of an
    order called off at that stage, in hundredths of a percent. `invoice_prefix` stands before the numbers of
    its invoices, `invoice_note` below each; with `invoices_on_account` a payment before the
    hand-over has one. Customers are asked after the fit `fit_weeks` weeks after it, never where that is 0.
    Customers' goods are insured for `insured_minor`, None where nobody said; who sold old gold is kept
    `seller_years` years.
    """

    name: str
    subtitle: str = ""
    address: str = ""
    phone: str = ""
    email: str = ""
    hallmark_rule: HallmarkRule = HallmarkRule.UK
    currency: str = "GBP"
    time_zone: str = "Europe/London"
    tax_name: str = "VAT"
    returns: str = COMMON_RETURNS
    small_print: str = ""
    country: Country = Country.ELSEWHERE
    hallmark_note: str = ""
    allergy_note: str = ""
    resizing_note: str = ""
    custody_note: str = COMMON_CUSTODY
    closed_weekdays: str = ""
    closed_on: str = ""
    making_days: int = 0
    assay_days: int = 0
    finishing_days: int = 0
    setting_days: int = 0
    engraving_days: int = 0
    plating_days: int = 0
    kept_agreed_bp: int | None = None
    kept_cut_bp: int | None = None
    kept_bench_bp: int | None = None
    kept_ready_bp: int | None = None
    tax_number: str = ""
    invoice_prefix: str = ""
    invoices_on_account: bool = False
    invoice_note: str = ""
    fit_weeks: int = 3
    insured_minor: int | None = None
    seller_years: int = 3
    version: int = 1

    def called(self, name: str) -> "Studio":
        """The same studio under another name."""
        return replace(self, name=name)


def studio(session: Session) -> Studio:
    """The studio of this book. A book always has one, since making it writes the row."""
    row = session.connection().execute(_STUDIO).mappings().one()
    return Studio(
        **{
            **row,
            "hallmark_rule": HallmarkRule(row["hallmark_rule"]),
            "country": Country(row["country"]),
        }
    )


def letterhead_of(facts: Studio) -> dict[str, str]:
    """What stands at the head of the studio's papers, by its fields, as a paper keeps it."""
    return {name: getattr(facts, name) for name in ("name", "subtitle", "address", "phone", "email")}


def studio_days(session: Session) -> StudioDays:
    """When the studio works, and how long its rings take."""
    weekdays, closed, *needed = session.connection().execute(_DAYS).one()
    return StudioDays(
        OpenDays(
            frozenset(map(int, weekdays)), frozenset(date.fromisoformat(line) for line in closed.splitlines())
        ),
        DaysNeeded(*needed),
    )


def currency_of(session: Session) -> str:
    """The currency the studio reckons in, such as 'GBP'."""
    return session.connection().execute(_CURRENCY).scalar_one()


def makes_invoices_on_account(session: Session) -> bool:
    """Whether a payment before the hand-over has an invoice of its own."""
    return session.connection().execute(_ON_ACCOUNT).scalar_one()


def time_zone(session: Session) -> str:
    """The studio's time zone, such as 'Europe/London'."""
    return session.connection().execute(_TIME_ZONE).scalar_one()


def zone_and_rule(session: Session) -> tuple[str, HallmarkRule]:
    """The studio's time zone and its hallmark rule: what every request is answered by."""
    zone, rule = session.connection().execute(_ZONE_AND_RULE).one()
    return zone, HallmarkRule(rule)


def zone_and_fit_weeks(session: Session) -> tuple[str, int]:
    """The studio's time zone, and after how many weeks it asks how a ring fits; 0 for never."""
    zone, weeks = session.connection().execute(_ZONE_AND_FIT).one()
    return zone, weeks


def studio_name(session: Session) -> str:
    """The studio's name, which stands above every page."""
    return session.connection().execute(_NAME).scalar_one()


# Every page asks for these: they are put together once, and read without a row's object.
_TIME_ZONE = pick(col(StudioRow.time_zone))
_ZONE_AND_RULE = pick(col(StudioRow.time_zone), col(StudioRow.hallmark_rule))
_ZONE_AND_FIT = pick(col(StudioRow.time_zone), col(StudioRow.fit_weeks))
_NAME = pick(col(StudioRow.name))
_CURRENCY = pick(col(StudioRow.currency))
_ON_ACCOUNT = pick(col(StudioRow.invoices_on_account))
_DAYS = pick(
    col(StudioRow.closed_weekdays),
    col(StudioRow.closed_on),
    col(StudioRow.making_days),
    col(StudioRow.assay_days),
    col(StudioRow.finishing_days),
    col(StudioRow.setting_days),
    col(StudioRow.engraving_days),
    col(StudioRow.plating_days),
)
_STUDIO = pick(*(getattr(StudioRow, fact.name) for fact in fields(Studio)))


def found_studio(session: Session, *, facts: Studio, actor: Actor, now: datetime) -> Studio:
    """Write the studio into a new book."""
    with transaction(session):
        session.add(StudioRow(**asdict(facts)))
        note(session, actor=actor, now=now, verb="found the studio", new=asdict(facts))
    return facts


def change_studio(session: Session, *, facts: Studio, actor: Actor, now: datetime) -> Studio:
    """Put `facts` in the place of what stood; `facts.version` is the version that was read.

    Raises `VersionStale` when somebody else changed the studio since. Gives the studio as it stands now.
    """
    with transaction(session):
        row = session.exec(select(StudioRow).with_for_update()).one()
        if row.version != facts.version:
            raise VersionStale("the studio", facts.version, row.version)
        changed = asdict(replace(facts, version=row.version + 1))
        old = {name: getattr(row, name) for name, value in changed.items() if getattr(row, name) != value}
        for name, value in changed.items():
            setattr(row, name, value)
        session.add(row)
        note(
            session, actor=actor, now=now, verb="change the studio", old=old, new={n: changed[n] for n in old}
        )
    return studio(session)
