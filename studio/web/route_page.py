"""The page of a ring's way over the bench: each step with its reason, cautions and check, and its forms."""

from collections.abc import Mapping
from dataclasses import dataclass

from studio.book.order_values import Order, OrderRing
from studio.book.routes import ROUTE_IS_OPEN
from studio.craft.operations import Operation
from studio.craft.route_changes import ChangedRoute
from studio.craft.solders import Grade
from studio.craft.units import figure_words
from studio.web.counter_choices import Choice
from studio.web.counter_page import ErrorLine
from studio.web.counter_steps import with_unit
from studio.web.order_words import size_of
from studio.web.route_reading import EDIT_WORDS, OWN_DOES, does_field
from studio.web.sent_back import Said
from studio.web.wording import counted, design_words, opened

GRADES = (Choice("", "none"), *(Choice(grade, grade) for grade in Grade))
_NAME_ENDS = " :"


@dataclass(frozen=True, slots=True)
class Told:
    """One line beside a step: 'Why', 'It hardens the strip'."""

    word: str
    text: str


@dataclass(frozen=True, slots=True)
class StepPart:
    """One step; `is_asked` while its form stands open, `is_first` and `is_last` have nowhere to go."""

    key: str
    number: int
    name: str
    text: str
    minutes: str
    cautions: tuple[str, ...]
    told: tuple[Told, ...]
    is_own: bool
    is_asked: bool
    is_first: bool
    is_last: bool
    may_leave_out: bool
    leave_out: str
    texts: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class DoesBox:
    """A box that says what an own step does."""

    name: str
    words: str
    is_checked: bool


@dataclass(frozen=True, slots=True)
class RoutePage:
    """The page. `sums` says how many steps there are and how long they take."""

    title: str
    ring: str
    sums: str
    order_href: str
    order: str
    sheet_href: str
    label_href: str
    action: str
    steps: tuple[StepPart, ...]
    left_out: tuple[Choice, ...]
    unfit: tuple[str, ...]
    is_changed: bool
    may_change: bool
    said: Said
    error_lines: tuple[ErrorLine, ...]
    adding: bool
    texts: Mapping[str, str]
    places: tuple[Choice, ...]
    grades: tuple[Choice, ...]
    does: tuple[DoesBox, ...]
    words: Mapping[str, str]
    version: int
    form_key: str


def route_page(
    order: Order, ring: OrderRing, route: ChangedRoute, said: Said, *, step: str, form_key: str
) -> RoutePage:
    """The page; `step` is the key of the step whose form stands open, 'add' for the one that adds."""
    href = f"/orders/{order.number}"
    here = f"{href}/rings/{ring.position}/route"
    design = ring.design
    what = design_words(design.profile, design.width_mm, design.thickness_mm, design.pattern, design.alloy)
    may_change = order.state in ROUTE_IS_OPEN
    adding = step == "add"
    return RoutePage(
        title=f"The way over the bench, {order.number}",
        ring=f"{opened(what)}, {size_of(ring.finger)}",
        sums=_sums(route),
        order_href=f"{href}#ring-{ring.position}",
        order=f"Order {order.number}",
        sheet_href=f"{href}/bench-sheet.pdf" if may_change else "",
        label_href=f"{href}/label.pdf" if may_change else "",
        action=here,
        steps=tuple(
            _step(one, number, len(route.operations), said, is_asked=may_change and one.key == step)
            for number, one in enumerate(route.operations, 1)
        ),
        left_out=tuple(Choice(one.key, one.name.rstrip(_NAME_ENDS)) for one in route.left_out),
        unfit=route.unfit,
        is_changed=route.is_changed,
        may_change=may_change,
        said=said,
        error_lines=_lines(said),
        adding=adding,
        texts=said.typed if adding else {},
        places=tuple(
            Choice(str(number), _place_words(number, route.operations))
            for number in range(1, len(route.operations) + 2)
        ),
        grades=GRADES,
        does=tuple(
            DoesBox(does_field(does), does, adding and said.typed.get(does_field(does)) == "yes")
            for does in OWN_DOES
        ),
        words=EDIT_WORDS,
        version=order.version,
        form_key=form_key,
    )


def _step(one: Operation, number: int, count: int, said: Said, *, is_asked: bool) -> StepPart:
    stands = {
        "to": str(number),
        "name": one.name,
        "text": one.text,
        "minutes": "" if one.minutes is None else figure_words(one.minutes),
    }
    figures = ", ".join(f"{each.name} {with_unit(each.value, each.unit)}" for each in one.figures)
    told = [Told("Why", one.why), Told("Figures", figures), Told("With", ", ".join(one.tools))]
    told += [Told("Check", one.check)]
    told += (
        [Told("Write down", ", ".join(filter(None, (one.measure.label, one.measure.unit))))]
        if one.measure
        else []
    )
    return StepPart(
        key=one.key,
        number=number,
        name=one.name,
        text=one.text,
        minutes="" if one.minutes is None else f"{figure_words(one.minutes)} min",
        cautions=one.cautions_in_full,
        told=tuple(line for line in told if line.text),
        is_own=one.is_own,
        is_asked=is_asked,
        is_first=number == 1,
        is_last=number == count,
        may_leave_out=not one.keep,
        leave_out="Take it out" if one.is_own else "Leave it out",
        texts={**stands, **said.typed} if is_asked else stands,
    )


def _sums(route: ChangedRoute) -> str:
    known = [one.minutes for one in route.operations if one.minutes is not None]
    steps = counted(len(route.operations), "step", "steps")
    return f"{opened(steps)}, {figure_words(sum(known))} min planned" if known else opened(steps)


def _place_words(number: int, operations: tuple[Operation, ...]) -> str:
    """'4, before “Bend”', and at the end 'the last'."""
    if number > len(operations):
        return f"{number}, the last"
    return f"{number}, before “{operations[number - 1].name.rstrip(_NAME_ENDS)}”"


def _lines(said: Said) -> tuple[ErrorLine, ...]:
    return tuple(
        ErrorLine(line.href, f"{EDIT_WORDS.get(error.field or '', 'Step')}: {line.text}")
        for line, error in zip(said.lines, said.errors, strict=True)
    )
