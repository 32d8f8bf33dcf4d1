"""The sentences and warnings below each group of the counter's fields."""

from dataclasses import replace

from studio.craft.designs import Pattern
from studio.craft.reckonings import Reckoning
from studio.craft.sheet_gauges import SCALE_NAMES, GaugeScale, by_each
from studio.craft.stretch import expected_words
from studio.craft.units import bare_gauge_number
from studio.craft.working import Caveat
from studio.web.counter_form import CounterForm
from studio.web.counter_page import Notes, Warned
from studio.web.stock_words import doubt_words, finish_words, form_words, lengths_words

_REASON_LABELS = {"narrow-gauge": "Why this gauge"}


def notes_of(form: CounterForm, caveats: tuple[Caveat, ...], fields: tuple[str, ...], sentence: str) -> Notes:
    """The sentence and warnings of one group; a warning that wants a reason takes the sentence's place."""
    warnings = tuple(_warned(form, caveat) for caveat in caveats if caveat.field.startswith(fields))
    return Notes("" if any(warned.asks for warned in warnings) else sentence, warnings)


def _warned(form: CounterForm, caveat: Caveat) -> Warned:
    plain = Warned(caveat.message, is_open=False)
    if not caveat.needs_reason:
        return plain
    name = f"reasons.{caveat.code}"
    reason = form.value(name)
    asks = _REASON_LABELS.get(caveat.code, "Why all the same")
    return replace(plain, is_open=not reason.strip(), asks=asks, reason_name=name, reason=reason)


def fit_words(full: Reckoning | None) -> str:
    """How the fit came about, what the gauge was corrected by, and how sure the size is."""
    if full is None:
        return ""
    gauge = full.finger.gauge
    corrected = f" {gauge.name} {signed(gauge.correction_mm, 2)}." if gauge and gauge.correction_mm else ""
    return f"Fit {signed(full.fit_mm, 2)}: {full.fit_reason}.{corrected} {doubt_words(full)}".strip()


def gauge_words(form: CounterForm, full: Reckoning | None) -> str:
    """What a gauge without its scale was read as, and what it is by the others."""
    number = bare_gauge_number(form.value("thickness"))
    if full is None or number is None:
        return ""
    scale = full.practice.reading.gauge
    return f"{number} ga is read as {SCALE_NAMES[GaugeScale(scale)]}. It is {by_each(number)}."


def finish_line(full: Reckoning | None) -> str:
    """Stock and finished thickness, what cleaning up adds to the size, the lengths by other rules."""
    if full is None:
        return ""
    return " ".join(part for part in (finish_words(full), lengths_words(full), form_words(full)) if part)


def stretch_words(full: Reckoning | None) -> str:
    """The stretch to expect, nine times in ten, and where it comes from; nothing for a plain ring."""
    if full is None or full.design.pattern is Pattern.PLAIN:
        return ""
    return f"Stretch {expected_words(full.design, full.stretch, full.practice)}."


def signed(value: float, decimals: int) -> str:
    """A figure with its sign: '+0.07', '−0.12', and '0.0' for nothing."""
    text = f"{abs(value):.{decimals}f}"
    if float(text) == 0:
        return "0.0"
    return f"{'+' if value > 0 else '−'}{text}"
