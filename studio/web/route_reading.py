"""Reading one change of a ring's route: which button was pressed, and what was typed beside it."""

from collections.abc import Callable, Mapping

from studio.craft.operations import Does
from studio.craft.route_changes import ChangedRoute
from studio.craft.route_edits import (
    MINUTES,
    AddStep,
    AsTheRules,
    LeaveOut,
    MoveStep,
    PutBack,
    Reword,
    RouteEdit,
)
from studio.craft.route_order import LONGEST_NAME, LONGEST_TEXT, MOST_OPERATIONS
from studio.craft.solders import Grade
from studio.web.amounts import read_count
from studio.web.errors import Declined
from studio.web.reading import Reading, sure
from studio.web.texts import read_text

OWN_DOES = (
    Does.HEATS, Does.ANNEALS, Does.SOLDERS, Does.PICKLES, Does.HARDENS, Does.RESIZES, Does.CHECKS_SIZE,
    Does.FILES_OUTSIDE, Does.WHEELS_OUTSIDE, Does.ENGRAVES, Does.POLISHES, Does.PLATES,
)  # fmt: skip
"""What an operation of the studio's own may be said to do; the rules of order then hold it to that."""
EDIT_WORDS = {
    "to": "Step",
    "name": "What is done",
    "text": "How",
    "minutes": "Minutes",
    "at": "As step",
    "solder": "Solder",
}


def does_field(does: Does) -> str:
    """The name of the box that says a step does this: 'does_heats'."""
    return f"does_{does.name.lower()}"


FIELDS = (*EDIT_WORDS, *(does_field(does) for does in OWN_DOES))


def step_asked(raw: object) -> str:
    """The step that a button is about: 'move:bend' gives 'bend', 'add' gives ''."""
    return raw.partition(":")[2] if isinstance(raw, str) else ""


def read_edit(raw: Mapping[str, object], route: ChangedRoute) -> RouteEdit:
    """The change asked for. Raises `FieldErrors` and `Refused` beside its fields, 422 for no known button."""
    pressed = raw.get("do")
    what, _, key = pressed.partition(":") if isinstance(pressed, str) else ("", "", "")
    if what in {"earlier", "later"}:
        place = next((place for place, one in enumerate(route.operations, 1) if one.key == key), 0)
        return MoveStep(key, place + (1 if what == "later" else -1))
    reader = _READERS.get(what)
    if reader is None:
        raise Declined(422, "We do not know this change of a route.")
    asked = Reading(raw, "")
    edit = reader(asked, key)
    asked.stop()
    return edit


def _move(asked: Reading, key: str) -> RouteEdit:
    to = asked.needed("to", read_count(1, MOST_OPERATIONS, "step", "steps"), "step")
    asked.stop()
    return MoveStep(key, sure(to))


def _reword(asked: Reading, key: str) -> RouteEdit:
    name, text, minutes = _words(asked)
    return Reword(key, name, text, minutes)


def _addition(asked: Reading, _: str) -> RouteEdit:
    name, text, minutes = _words(asked)
    at = asked.needed("at", read_count(1, MOST_OPERATIONS + 1, "step", "steps"), "step")
    does = frozenset(does for does in OWN_DOES if asked.raw.get(does_field(does)) == "yes")
    solder = asked.choice("solder", Grade)
    if Does.SOLDERS in does and solder is None and not asked.is_wrong("solder"):
        asked.add("solder", "Say with which solder, so that it is no harder than the one before.")
    asked.stop()
    return AddStep(name, text, sure(at), does, solder, minutes)


def _words(asked: Reading) -> tuple[str, str, float | None]:
    name = asked.needed("name", _text(LONGEST_NAME), "name of the step")
    text = asked.read("text", _text(LONGEST_TEXT))
    minutes = asked.number("minutes", MINUTES, "min")
    return name or "", text or "", minutes


def _text(longest: int) -> Callable[[object, str], str]:
    return lambda value, field: read_text(value, field, longest=longest)


_READERS: Mapping[str, Callable[[Reading, str], RouteEdit]] = {
    "move": _move,
    "leave-out": lambda _, key: LeaveOut(key),
    "put-back": lambda _, key: PutBack(key),
    "reword": _reword,
    "rules": lambda _, __: AsTheRules(),
    "add": _addition,
}
"""What each button asks for, by the first word of its value; the step's key follows after a colon."""
