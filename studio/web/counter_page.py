"""What the counter's page shows: typed, ready to read, nothing left to work out in a template."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from studio.craft.drawing.svg import Svg
from studio.web.counter_choices import Choices
from studio.web.counter_keys import KEYS, AccessKey


@dataclass(frozen=True, slots=True)
class Offer:
    """A known customer that may be meant."""

    id: int
    name: str
    contact: str


@dataclass(frozen=True, slots=True)
class Offers:
    """Known customers for what was typed, and the sentence that says how many."""

    lines: tuple[Offer, ...] = ()
    said: str = ""


@dataclass(frozen=True, slots=True)
class EarlierFinger:
    """One measurement that may be taken over, in words: 'UK O½, left ring finger, Tue 10 Nov'."""

    id: int
    words: str
    is_old: bool


@dataclass(frozen=True, slots=True)
class CustomerPart:
    """Whose order it is: fields for a new one, words for one that was chosen or stands."""

    is_new: bool
    chosen: Offer | None = None
    offers: Offers = Offers()
    contact: str = ""
    change_href: str = ""
    fingers: tuple[EarlierFinger, ...] = ()


@dataclass(frozen=True, slots=True)
class StepInput:
    """One value that went into a figure."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class Step:
    """How one figure came about."""

    name: str
    value: str
    formula: str
    inputs: tuple[StepInput, ...]
    source: str


@dataclass(frozen=True, slots=True)
class SumRow:
    """One line of a sum: its words, a quiet note, the amount; `is_total` where a line is drawn above."""

    words: str
    amount: str
    note: str = ""
    is_total: bool = False


@dataclass(frozen=True, slots=True)
class KeyFigure:
    """One of the large figures; `waits` says what for where it cannot be told yet.

    `rows` are the sum it is made of, `steps` how each part came about.
    """

    key: str
    label: str
    value: str = ""
    unit: str = ""
    line: str = ""
    steps: tuple[Step, ...] = ()
    waits: str = ""
    rows: tuple[SumRow, ...] = ()


@dataclass(frozen=True, slots=True)
class MissingItem:
    """One thing not yet asked, and where it is filled in; '' where that is not on this page."""

    words: str
    href: str = ""


@dataclass(frozen=True, slots=True)
class MissingList:
    """What is missing for one purpose; it `holds_up` where the next step waits for it."""

    heading: str
    items: tuple[MissingItem, ...]
    holds_up: bool = False

    @property
    def is_long(self) -> bool:
        """Whether it runs on in one paragraph, since line by line it would not have room."""
        return len(self.items) > 2

    @property
    def shown(self) -> tuple[MissingItem, ...]:
        """The items as they stand: in one paragraph all but the first begin small."""
        if not self.is_long:
            return self.items
        first, *others = self.items
        small = (MissingItem(item.words[:1].lower() + item.words[1:], item.href) for item in others)
        return (first, *small)


@dataclass(frozen=True, slots=True)
class MissingPart:
    """The lists of what is missing, and the fields of the page at which something holds up the quote."""

    lists: tuple[MissingList, ...] = ()
    fields: frozenset[str] = frozenset()

    def at(self, name: str) -> bool:
        """Whether the quote waits for the field `name`."""
        return name in self.fields


@dataclass(frozen=True, slots=True)
class SizeCell:
    """The size in one system."""

    system: str
    label: str
    line: str


@dataclass(frozen=True, slots=True)
class Warned:
    """A warning beside its group. `asks` is the label of the field for the reason it wants, or ''.

    It `is_open` while it waits for that reason.
    """

    sentence: str
    is_open: bool
    asks: str = ""
    reason_name: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Notes:
    """What the reckoning says beside one group of fields."""

    sentence: str = ""
    warnings: tuple[Warned, ...] = ()


DATE_NOTES = "date-notes"
"""The place of what is said of the order's days, on its page told with each ring."""


@dataclass(frozen=True, slots=True)
class Reckoned:
    """Everything on the page that hangs on the ring's figures: the same live and after a submit.

    `last` is the last ring that could be reckoned, as typed, so that it can be drawn while the next waits.
    `said` is the one sentence for those who listen.
    """

    wide: Svg
    narrow: Svg
    slim: Svg
    figures: tuple[KeyFigure, ...]
    sizes: tuple[SizeCell, ...]
    finger_notes: Notes
    ring_notes: Notes
    metal_notes: Notes
    pattern_notes: Notes
    date_notes: Notes
    work_notes: Notes
    finish: str
    hallmark: str
    last: str
    said: str
    missing: MissingPart = MissingPart()
    is_new_customer: bool = False

    @property
    def metals_href(self) -> str:
        """Where the last ring that could be reckoned stands in every metal."""
        return f"/counter/metals?{self.last}"

    @property
    def came_about_href(self) -> str:
        """Where every figure of that ring says how it came about."""
        return f"/counter/came-about?{self.last}"

    @property
    def notes(self) -> tuple[tuple[str, Notes], ...]:
        """The notes with the ids of their places."""
        return (
            ("finger-notes", self.finger_notes),
            ("ring-notes", self.ring_notes),
            ("metal-notes", self.metal_notes),
            ("pattern-notes", self.pattern_notes),
            ("work-notes", self.work_notes),
            (DATE_NOTES, self.date_notes),
        )


@dataclass(frozen=True, slots=True)
class ErrorLine:
    """One line of what is to put right, and the field it leads to."""

    href: str
    text: str


@dataclass(frozen=True, slots=True)
class TwoVersions:
    """One field that was typed here and changed elsewhere: both ways side by side."""

    name: str
    typed: str
    stands: str


@dataclass(frozen=True, slots=True)
class StonePlace:
    """One kind of stone on the page: how its fields begin, its heading, whether it is unfolded."""

    start: str
    heading: str
    is_open: bool


@dataclass(frozen=True, slots=True)
class CounterPage:
    """The whole page. With `save_words` it shows a ring kept beside one that stands.

    `fixed_finger` is the finger in words where it is not asked.
    """

    title: str
    heading: str
    heading_note: str
    action: str
    home_href: str
    form_key: str
    draft_key: str
    version: str
    customer: CustomerPart
    choices: Choices
    reckoned: Reckoned
    values: Mapping[str, str]
    errors: Mapping[str, str] = field(default_factory=dict)
    error_heading: str = ""
    error_lines: tuple[ErrorLine, ...] = ()
    error_note: str = "Nothing you typed is lost."
    error_sentences: tuple[str, ...] = ()
    versions: tuple[TwoVersions, ...] = ()
    state_word: str = ""
    state_mark: Svg | None = None
    profile_name: str = ""
    is_wanted_hard: bool = False
    is_finger_more: bool = False
    is_pattern_more: bool = False
    is_work_more: bool = False
    is_read_back: bool = False
    stone_places: tuple[StonePlace, ...] = ()
    is_dates_more: bool = False
    save_words: str = ""
    fixed_finger: str = ""
    saved: str = ""
    is_unsaved: bool = False
    figures_href: str = "/counter/figures"
    drafts_href: str = "/counter/drafts"
    customers_href: str = "/counter/customers"
    keys: tuple[AccessKey, ...] = KEYS

    def value(self, name: str) -> str:
        """What stands in the field `name`, as it was typed."""
        return self.values.get(name, "")

    def error(self, name: str) -> str:
        """The sentence beside the field `name`, or ''."""
        return self.errors.get(name, "")
