"""The ring's drawing and figures at the counter: one way to them, while typing and after a submit."""

from collections.abc import Mapping
from dataclasses import replace

from studio.book.ring_practices import Workshop
from studio.craft.alloys import ALLOYS, Alloy
from studio.craft.designs import Finger, Measured, System
from studio.craft.drawing import Cut, Svg, counter_drawing, first_day_ring
from studio.craft.hallmark import HallmarkRule, foresight
from studio.craft.inscriptions import room_of
from studio.craft.open_days import StudioDays, Work
from studio.craft.reckonings import Reckoning
from studio.craft.ring_work import work_of
from studio.craft.size_tables import TABLES
from studio.craft.sizes import SYSTEM_NAMES, NearestSize, all_sizes
from studio.papers.hallmark_words import hallmark_line
from studio.papers.particulars_words import read_back_words, room_sentences
from studio.web.counter_days import Counted, day_notes
from studio.web.counter_form import (
    CounterForm,
    RingRead,
    particulars_on,
    read_counter_ring,
    read_written,
    ring_object,
    written,
)
from studio.web.counter_notes import finish_line, fit_words, gauge_words, notes_of, signed, stretch_words
from studio.web.counter_page import KeyFigure, Notes, Reckoned, SizeCell, Warned
from studio.web.counter_steps import step_of, steps_of
from studio.web.errors import Findings
from studio.web.finger_reading import read_finger
from studio.web.forms import Calendar

_NO_MATTER = frozenset(
    {"finger.knuckle", "finger.place", "finger.warm", "finger.taken_by", "finger.taken_at"}
)
"""Fields that no figure hangs on."""

_OF_THE_SIZE = frozenset({"finger.system", "finger.size", "finger.size_to", "fit_mm"})
_AWAITED = {
    "finger.system": "for the system",
    "finger.size": "for the size",
    "finger.size_to": "for the size",
    "finger.measured": "for the gauge",
    "finger.gauge_width_mm": "for the gauge",
    "fit_mm": "for the fit",
    "profile": "for the section",
    "width": "for the width",
    "thickness": "for the thickness",
    "from": "for the stock",
    "alloy": "for the metal",
    "pattern": "for the pattern",
    "pattern_when": "for the pattern",
    "stretch_percent": "for the stretch",
    "form.by": "for the form",
    "form.mm": "for the groove",
}
_HOW = {Measured.TOLD: "as told", Measured.RING: "as read from a ring"}
_NEAR_ENOUGH = {System.UK: "half a size", System.US: "a quarter size"}


def reckoned(
    form: CounterForm, calendar: Calendar, workshop: Workshop, rule: HallmarkRule
) -> tuple[Reckoned, RingRead]:
    """What the page shows of the ring on `form`, and the ring as read, reckoned where its figures stand.

    A figure that hangs on a field which is empty or to be put right waits for it; the others stand.
    """
    read = read_counter_ring(form, calendar, workshop)
    waiting = tuple(error.field or "" for error in read.errors if error.field not in _NO_MATTER)
    full = read.reckoning
    if full is None and set(waiting) <= {"alloy"}:
        full = _without(form, waiting, calendar, workshop)
    shown = None if waiting else full
    wide, narrow, slim = _drawings(form, shown, calendar, workshop)
    size, sizes = _size(form, full, waiting, workshop)
    figures = (size, _mark(full, waiting), _issue(form, shown, waiting, workshop.practice.alloys, rule))
    caveats = () if full is None else full.caveats
    return (
        Reckoned(
            wide=wide,
            narrow=narrow,
            slim=slim,
            figures=figures,
            sizes=sizes,
            finger_notes=notes_of(form, caveats, ("finger", "fit_mm"), fit_words(full)),
            ring_notes=notes_of(
                form, caveats, ("profile", "width", "thickness", "from"), gauge_words(form, full)
            ),
            metal_notes=notes_of(form, () if shown is None else caveats, ("alloy",), ""),
            pattern_notes=notes_of(
                form, caveats, ("pattern", "pattern_when", "stretch_percent", "form"), stretch_words(full)
            ),
            date_notes=_day_notes(form, calendar, workshop.days, _work(form, shown, rule)),
            work_notes=_work_notes(form, full),
            finish=finish_line(full),
            hallmark="" if shown is None else hallmark_line(shown, rule, is_short=True),
            last=written(form.ring) if shown is not None else form.value("last"),
            said=said_of(figures),
        ),
        replace(read, reckoning=shown),
    )


def _work_notes(form: CounterForm, full: Reckoning | None) -> Notes:
    """What the inscription takes of its room, and its signs one by one to be read back."""
    words = particulars_on(form).words_to_cut
    if words is None or full is None:
        return Notes()
    said, *heeds = room_sentences(words, full)
    is_open = room_of(words, full).is_too_long
    warned = tuple(Warned(heed, is_open=False) for heed in heeds)
    spelt = read_back_words(words)
    if is_open:
        return Notes(spelt, (Warned(said, is_open=True), *warned))
    return Notes(f"{said} {spelt}", warned)


def _without(
    form: CounterForm, waiting: tuple[str, ...], calendar: Calendar, workshop: Workshop
) -> Reckoning | None:
    """The ring reckoned without the fields that the wanted figures do not hang on.

    Lengths are the same in every metal, so where only the metal is not chosen yet any one will do for them.
    """
    emptied = {name.replace(".", "__"): "" for name in _NO_MATTER}
    metal = {"alloy": next(iter(ALLOYS))} if "alloy" in waiting else {}
    return read_counter_ring(form.with_values(**emptied, **metal), calendar, workshop).reckoning


def _drawings(
    form: CounterForm, shown: Reckoning | None, calendar: Calendar, workshop: Workshop
) -> tuple[Svg, Svg, Svg]:
    """The ring in its three cuts; while it waits, the last good one in thin line, or one not begun yet."""
    drawn = shown or read_counter_ring(read_written(form.value("last")), calendar, workshop).reckoning
    if drawn is None:
        return first_day_ring(), first_day_ring(), first_day_ring()
    wide, narrow, slim = (counter_drawing(drawn, cut, is_waiting=shown is None) for cut in Cut)
    return wide, narrow, slim


def _size(
    form: CounterForm, full: Reckoning | None, waiting: tuple[str, ...], workshop: Workshop
) -> tuple[KeyFigure, tuple[SizeCell, ...]]:
    """The size: of the ring where it is reckoned, else of the finger alone."""
    if full is not None:
        cells = tuple(_cell(system, full.sizes[system], full) for system in _shown_with(full.finger.system))
        around = f"{_round(full.circumference_mm)} ± {full.doubt.plus_minus_mm:.1f}"
        return KeyFigure("size", "Size", _label(full), around, _chance(full), steps_of(full, "ring.")), cells
    finger = None if set(waiting) & _OF_THE_SIZE else _finger_alone(form, workshop)
    if finger is None:
        awaits = "for the fit" if "fit_mm" in waiting else "for the finger"
        nothing = tuple(SizeCell(SYSTEM_NAMES[system], "–", "waits") for system in _shown_with(None))
        return KeyFigure("size", "Size", waits=awaits), nothing
    bare = all_sizes(finger.reckoned_circumference_mm, workshop.practice.reading.beyond_z)
    cells = tuple(
        _as_given(finger) if system is finger.system else _near(system, bare[system])
        for system in _shown_with(finger.system)
    )
    label = finger.to_label or finger.label
    line = f"{_how(finger)}, the fit waits"
    return KeyFigure("size", "Size", label, _round(finger.reckoned_circumference_mm), line), cells


def _shown_with(own: System | None) -> tuple[System, ...]:
    """The systems that go by a rule, and the finger's own; of a table nobody else has need."""
    return tuple(system for system in System if system is own or system not in TABLES)


def _label(full: Reckoning) -> str:
    """The ring's size in the finger's own system."""
    finger = full.finger
    near = full.sizes[finger.system]
    if _is_as_given(full):
        return finger.to_label or finger.label
    return near.label if near is not None else "–"


def _chance(full: Reckoning) -> str:
    """How many rings in a hundred come out near enough, in the words of the finger's own system."""
    near = _NEAR_ENOUGH.get(full.finger.system, "half a UK size")
    return f"{100 * full.doubt.chance:.0f} in 100 fall within {near}"


def _finger_alone(form: CounterForm, workshop: Workshop) -> Finger | None:
    raw = ring_object(form)["finger"]
    told = dict(raw) if isinstance(raw, dict) else {}
    kept = {name: told[name] for name in ("system", "size", "size_to", "measured", "gauge") if name in told}
    return Findings().take(lambda: read_finger(kept, "finger", workshop=workshop))


def _cell(system: System, near: NearestSize | None, full: Reckoning) -> SizeCell:
    if system is full.finger.system and _is_as_given(full):
        return _as_given(full.finger)
    return _near(system, near)


def _is_as_given(full: Reckoning) -> bool:
    """Whether the ring is as large as the finger's label says: no fit, and nothing to correct."""
    return not full.fit_mm and not full.finger.correction_mm


def _as_given(finger: Finger) -> SizeCell:
    return SizeCell(SYSTEM_NAMES[finger.system], finger.to_label or finger.label, _how(finger))


def _near(system: System, near: NearestSize | None) -> SizeCell:
    if near is None:
        return SizeCell(SYSTEM_NAMES[system], "–", "beyond its list")
    return SizeCell(SYSTEM_NAMES[system], near.label, f"{signed(near.error_mm, 2)} mm")


def _mark(full: Reckoning | None, waiting: tuple[str, ...]) -> KeyFigure:
    if full is None:
        return KeyFigure("mark", "Mark", waits=_awaited(waiting))
    line = f"true length {full.true_length_mm:.2f}"
    return KeyFigure("mark", "Mark", f"{full.mark_mm:.1f}", "mm", line, steps_of(full, "blank.", "stretch."))


def _issue(
    form: CounterForm,
    shown: Reckoning | None,
    waiting: tuple[str, ...],
    alloys: Mapping[str, Alloy],
    rule: HallmarkRule,
) -> KeyFigure:
    alloy = alloys.get(form.value("alloy"))
    label = f"{str(alloy.metal).capitalize()} to issue" if alloy else "Metal to issue"
    if shown is None:
        return KeyFigure("issue", label, waits=_awaited(waiting))
    line = f"ring {shown.finished_g:.1f} g, finished"
    foreseen = foresight(shown, rule)
    steps = (*steps_of(shown, "mass."), *(map(step_of, foreseen.working) if foreseen else ()))
    return KeyFigure("issue", label, f"{shown.issue_g:.2f}", "g", line, steps)


def _awaited(waiting: tuple[str, ...]) -> str:
    return next((_AWAITED[name] for name in waiting if name in _AWAITED), "for the ring")


def _work(form: CounterForm, shown: Reckoning | None, rule: HallmarkRule) -> Work:
    """What the ring on the page goes through; nothing beyond making is known of one that is not whole."""
    return Work() if shown is None else work_of([(shown, particulars_on(form))], rule)


def _day_notes(form: CounterForm, calendar: Calendar, days: StudioDays, work: Work) -> Notes:
    promised = form.value("promised_on"), form.value("promised_hour")
    return day_notes(
        form.value("wanted_on"),
        promised,
        form.value("bench_on"),
        calendar,
        is_fixed=bool(form.value("wanted_hard")),
        counted=Counted(days, work),
    )


def said_of(figures: tuple[KeyFigure, ...]) -> str:
    """The figures in one sentence; those that wait are told once."""
    told = [f"{one.label} {one.value} {one.unit}".strip() for one in figures if not one.waits]
    waiting = [one for one in figures if one.waits]
    if waiting:
        who = waiting[0].label.partition(",")[0].lower() if len(waiting) == 1 else "the rest"
        told.append(f"{who} waits {waiting[0].waits}")
    plain = f"{', '.join(told)}.".replace(" mm ± ", " millimetres, give or take ")
    return plain.replace(" mm, ", " millimetres, ")


def _how(finger: Finger) -> str:
    return _HOW.get(finger.measured, "as measured") if finger.measured else "as measured"


def _round(circumference_mm: float) -> str:
    return f"{circumference_mm:.1f} mm"
