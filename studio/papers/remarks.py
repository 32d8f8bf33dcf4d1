"""The lines under a sheet's key figures: how the finger was measured, what to heed, the order's note."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from studio.craft.designs import Finger, FingerName, Measured
from studio.craft.directions import apart
from studio.craft.doubt import STRETCH
from studio.craft.hallmark import HallmarkRule
from studio.craft.particulars import NOT_ASKED, Particulars, finish_words
from studio.craft.reckonings import Reckoning
from studio.craft.resizing import resizing
from studio.craft.stones import stone_line
from studio.craft.units import figure_words
from studio.craft.worth_repeating import worth_repeating
from studio.papers.days import day_words
from studio.papers.hallmark_words import hallmark_line
from studio.papers.particulars_words import inscription_line, kept_apart
from studio.papers.resizing_words import resizing_line

_NOT_FOR_THE_BENCH = frozenset({"din-length", "density-differs", "density-computed", "density-spread"})
"""The length by DIN stands under the mark already; what a density rests on changes nothing the maker does."""

_FINGERS = {
    FingerName.THUMB: "thumb",
    FingerName.INDEX: "index finger",
    FingerName.MIDDLE: "middle finger",
    FingerName.RING: "ring finger",
    FingerName.LITTLE: "little finger",
}


@dataclass(frozen=True, slots=True)
class Remark:
    """A line under the key figures: its word in bold, then the sentence."""

    word: str
    text: str


def remarks(
    reckoning: Reckoning,
    *,
    taken_by: str | None,
    taken_on: date | None,
    reasons: Mapping[str, str],
    note: str,
    avoid: str | None,
    rule: HallmarkRule,
    particulars: Particulars = NOT_ASKED,
    amended_by: str = "",
    unfit: Sequence[str] = (),
    proof_signed_by: str = "",
) -> tuple[Remark, ...]:
    """How the finger was measured, what the fit adds, what to heed with the reason given, and the note.

    `reasons` are those given for warnings, by the warning's code. `avoid` are metals to do without. A ring
    that is `amended_by` a number says so first: sheets from before are void. `unfit` is what the studio had
    changed in its route and does not fit it any more. Words whose proof nobody signed are not to be cut.
    """
    told = [Remark("Amended", f"{amended_by}. Sheets printed before are void.")] if amended_by else []
    told += [Remark("Route", sentence) for sentence in unfit]
    told += [Remark("Finger", _measured(reckoning.finger, taken_by, taken_on)), *_fit(reckoning)]
    told.append(Remark("Size", _unsure(reckoning)))
    for caveat in reckoning.caveats:
        if caveat.code not in _NOT_FOR_THE_BENCH:
            reason = reasons.get(caveat.code, "").strip()
            if reason:
                told.append(Remark("Heed", f"{caveat.message} Reason: {_ended(apart(reason))}"))
            else:
                asked = " No reason is noted." if caveat.needs_reason else ""
                told.append(Remark("Heed", caveat.message + asked))
    hallmark = hallmark_line(reckoning, rule, is_short=True)
    if hallmark:
        head, _, rest = hallmark.removeprefix("Hallmark ").partition(": ")
        told.append(Remark("Hallmark", f"{head}: {rest}"))
    told.append(Remark("Resizing", resizing_line(resizing(reckoning, particulars), reckoning.finger.system)))
    if finish := finish_words(particulars):
        told.append(Remark("Finish", f"{finish}."))
    words = particulars.words_to_cut
    if words is not None:
        signed = (
            f"Proof signed by {apart(proof_signed_by)}."
            if proof_signed_by
            else "Proof not signed: do not cut."
        )
        told.append(Remark("Inscription", f"{inscription_line(words, reckoning)} {signed}"))
    told += [Remark("Stone", f"{stone_line(kept_apart(stone))}.") for stone in particulars.stones or ()]
    if particulars.marks is not None:
        told.append(Remark("Marks", f"{particulars.marks.line}."))
    if avoid:
        told.append(Remark("Avoid", f"{avoid}, in solder and plating too."))
    if note.strip():
        told.append(Remark("Note", note.strip()))
    return tuple(told)


def _unsure(reckoning: Reckoning) -> str:
    """How sure the size is, what cleaning up the inside adds to it, and what to measure again.

    '± 0.9, 76 in 100 within half a size. Finished 1.5 thick, 0.31 larger. Measure the finger again.'
    """
    unsure = reckoning.doubt
    thick = figure_words(reckoning.finished_thickness_mm)
    # what the pattern stretches is measured in its step, before and after
    is_asked = unsure.largest.cause == STRETCH
    again = "" if is_asked else worth_repeating(unsure, reckoning.finger, reckoning.design)
    return (
        f"± {unsure.plus_minus_mm:.1f}, {100 * unsure.chance:.0f} in 100 within half a size. "
        f"Finished {thick} thick, {reckoning.opening_mm:.2f} larger. {again}"
    ).strip()


def _ended(sentence: str) -> str:
    return sentence if sentence[-1] in ".!?" else f"{sentence}."


def _fit(reckoning: Reckoning) -> list[Remark]:
    """What was added to the finger and why, and how far the ring is from the label that names it."""
    words = []
    if abs(reckoning.fit_mm) >= 0.005:
        words.append(_ended(f"{reckoning.fit_mm:+.2f} mm round, {reckoning.fit_reason}"))
    size = reckoning.sizes[reckoning.finger.system]
    if size is not None and abs(size.error_mm) >= 0.05:
        way = "larger" if size.error_mm > 0 else "smaller"
        words.append(f"The label {size.label} is {abs(size.error_mm):.2f} mm {way} round than the ring.")
    return [Remark("Fit", " ".join(words))] if words else []


def _measured(finger: Finger, taken_by: str | None, taken_on: date | None) -> str:
    """'left ring finger, O½, gauge 6 wide, hands warm, measured 26 Nov by Maren'."""
    words = []
    if finger.name is not None:
        hand = "" if finger.hand is None else f"{finger.hand} "
        words.append(hand + _FINGERS[finger.name])
    elif finger.hand is not None:
        words.append(f"{finger.hand} hand")
    words.append(
        finger.label
        if finger.to_label is None
        else f"{finger.label} to {finger.to_label}, made for {finger.to_label}"
    )
    if finger.knuckle_label is not None:
        words.append(f"knuckle {finger.knuckle_label}")
    words.append(_gauge(finger))
    if finger.is_on_two_days:
        words.append("on two days")
    if finger.is_warm is not None:
        words.append("hands warm" if finger.is_warm else "hands cold")
    taken = ""
    if taken_on is not None:
        taken += f" {taken_on.day} {day_words(taken_on).split()[-1]}"
    if taken_by:
        taken += f" by {apart(taken_by)}"
    if taken:
        words.append(("noted" if finger.measured is Measured.TOLD else "measured") + taken)
    return ", ".join(words)


def _gauge(finger: Finger) -> str:
    width = "" if finger.gauge_width_mm is None else f" {figure_words(finger.gauge_width_mm)} wide"
    if finger.gauge is not None:
        correction = finger.gauge.correction_mm
        corrected = f", corrected by {correction:+.2f}".replace("-", "−") if correction else ""
        thing = "ring" if finger.measured is Measured.RING else "gauge"
        return f"{thing}{width} by {apart(finger.gauge.name)}{corrected}"
    if finger.measured is Measured.TOLD:
        return "told, not measured"
    if finger.measured is Measured.RING:
        return f"from a ring{width} that fits"
    if width:
        return f"gauge{width}"
    return "gauge, its width not noted" if finger.measured is Measured.GAUGE else "not noted how measured"
