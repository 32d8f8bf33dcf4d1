"""The counter's fields as a ring in the book has them: to look at it again, or to begin one like it."""

from zoneinfo import ZoneInfo

from studio.book.order_values import Order, OrderRing
from studio.craft.as_made import size_words
from studio.craft.designs import Finger, Measured
from studio.craft.fit_feedback import Verdict, verdict_words
from studio.craft.form import Form
from studio.craft.particulars import Stone
from studio.craft.sizes import nearest
from studio.craft.units import figure_words, shown_length
from studio.web.counter_choices import NO_INSCRIPTION, SOME_STONES, gauge_choice
from studio.web.counter_form import CounterForm
from studio.web.counter_particulars import MOST_STONES, STONE_FIELDS
from studio.web.counter_standing import Standing
from studio.web.days import full_day_words


def ring_form(order: Order, ring: OrderRing | None, zone: str) -> CounterForm:
    """The page of an order as it stands, with `ring` as it stands.

    None is one more ring: it begins as the last one is, for another finger, since a pair is alike.
    """
    of_order = _of_order(order, zone)
    if ring is not None:
        reasons = {f"reasons.{code}": reason for code, reason in ring.reasons.items()}
        return CounterForm(
            {
                **of_order,
                **finger_fields(ring.finger, ring.taken_by),
                **_design(ring),
                **_particulars(ring),
                **reasons,
            }
        )
    like = order.rings[-1]
    kept = ("finger.system", "finger.measured", "finger.gauge_width_mm", "finger.taken_by")
    finger = {
        name: value for name, value in finger_fields(like.finger, like.taken_by).items() if name in kept
    }
    alike = {name: value for name, value in _particulars(like).items() if name.startswith("finish.")}
    return CounterForm({**of_order, **finger, **_design(like), **alike})


def with_what_is_the_orders(form: CounterForm, standing: Standing, zone: str) -> CounterForm:
    """The form of a ring kept beside the order's, with what its page has no fields for, as the order has it.

    Its days, its note and the metals to avoid are the order's; so is the finger, but of an amendment.
    """
    if not standing.variant or standing.ring is None:
        return form
    stands = {name: value for name, value in _of_order(standing.order, zone).items() if name != "version"}
    if standing.has_finger_of_order:
        stands |= finger_fields(standing.ring.finger, standing.ring.taken_by)
        stands["fit_mm"] = _design(standing.ring)["fit_mm"]  # asked beside the finger
    return CounterForm({**form.values, **stands})


def _of_order(order: Order, zone: str) -> dict[str, str]:
    terms = order.terms
    promised = None if terms.promised_at is None else terms.promised_at.astimezone(ZoneInfo(zone))
    return {
        "wanted_on": full_day_words(terms.wanted_on) if terms.wanted_on else "",
        "wanted_hard": "yes" if terms.wanted_hard else "",
        "promised_on": full_day_words(promised.date()) if promised else "",
        "promised_hour": f"{promised:%H:%M}" if promised else "",
        "bench_on": full_day_words(terms.bench_on) if terms.bench_on else "",
        "note": terms.note,
        "avoid": terms.avoid or "",
        "collects": terms.collects,
        "version": str(order.version),
    }


def same_again_form(ring: OrderRing, customer_id: int) -> CounterForm:
    """The page of a new order for a ring like this one, for the same customer; its days are asked anew."""
    particulars = {
        name: value for name, value in _particulars(ring).items() if name != "inscription.read_back"
    }
    finger = finger_fields(ring.finger, ring.taken_by)
    return CounterForm({**finger, **_design(ring), **particulars, "customer.id": str(customer_id)})


def as_made_form(form: CounterForm, order: Order, ring: OrderRing) -> CounterForm:
    """The form of one like `ring` as it came out, where that is another size than was ordered.

    It is then the ring that is read: as wide as the new one, so that no fit is added to it again. The note
    says so in words, and how it fitted.
    """
    made, fit = order.made.get(ring.position), order.fits.get(ring.position)
    told, like = [], f"{order.number}/{ring.position}"
    if made is not None and made.is_otherwise and made.figures.size_mm is not None:
        beyond = ring.reckoning.practice.reading.beyond_z
        told.append(f"{size_words(made, beyond)}; begun as it was made")
        near = nearest(made.system, made.figures.size_mm, beyond)
        label = made.label or (near.label if near is not None else "")
        if label:
            form = form.with_values(
                finger__size=label,
                finger__size_to="",
                finger__knuckle="",
                finger__two_days="",
                finger__from="",
                finger__measured=Measured.RING,
                finger__gauge_width_mm=shown_length(ring.design.width_mm),
                fit_mm="",
            )
    if fit is not None and fit.verdict in {Verdict.TIGHT, Verdict.LOOSE}:
        told.append(f"{verdict_words(fit.verdict, fit.off_mm)} last time")
    return form.with_values(note=f"Same again as {like}: {', '.join(told)}.") if told else form


def finger_fields(finger: Finger, taken_by: str | None) -> dict[str, str]:
    """The fields of a finger as it stands in the book."""
    gauge, width_mm = finger.gauge, finger.gauge_width_mm
    is_its_own = not width_mm or (gauge is not None and gauge.width_mm is not None)
    warm = "" if finger.is_warm is None else "yes" if finger.is_warm else "no"
    return {
        "finger.place": f"{finger.hand} {finger.name}" if finger.hand and finger.name else "",
        "finger.system": finger.system,
        "finger.size": finger.label,
        "finger.measured": gauge_choice(gauge) if gauge else finger.measured or "gauge",
        "finger.gauge_width_mm": "" if is_its_own else shown_length(width_mm or 0),
        "finger.warm": warm,
        "finger.taken_by": taken_by or "",
        "finger.knuckle": finger.knuckle_label or "",
        "finger.size_to": finger.to_label or "",
        "finger.two_days": "yes" if finger.is_on_two_days else "",
    }


def _design(ring: OrderRing) -> dict[str, str]:
    design = ring.design
    return {
        "profile": design.profile,
        "width": shown_length(design.width_mm),
        "thickness": shown_length(design.thickness_mm),
        "from": design.stock,
        "alloy": design.alloy,
        "pattern": design.pattern,
        "pattern_when": design.pattern_when or "",
        "stretch_percent": "" if design.stretch_percent is None else figure_words(design.stretch_percent, 3),
        "fit_mm": "" if design.fit_mm is None else figure_words(design.fit_mm, 3),
        **_form(design.form),
    }


def _particulars(ring: OrderRing) -> dict[str, str]:
    told = ring.particulars
    shown = {"finish.inside": told.inside or "", "finish.outside": told.outside or ""}
    shown |= _stones(told.stones)
    words = told.inscription
    if words is None or not words.is_wanted:
        return shown | ({} if words is None else {"inscription.face": NO_INSCRIPTION})
    return shown | {
        "inscription.face": words.face,
        "inscription.text": words.text,
        "inscription.lettering": words.lettering,
        "inscription.letter_mm": "" if words.letter_mm is None else shown_length(words.letter_mm),
        "inscription.read_back": "yes" if words.is_read_back else "",
    }


def _form(form: Form) -> dict[str, str]:
    told = {"radius": form.radius_mm, "rise": form.rise_mm}
    by, mm = next(((name, mm) for name, mm in told.items() if mm is not None), ("band", None))
    return {"form.by": by, "form.mm": "" if mm is None else shown_length(mm)}


def _stones(stones: tuple[Stone, ...] | None) -> dict[str, str]:
    if stones is None:
        return {}
    if not stones:
        return {"stones.asked": NO_INSCRIPTION}
    return {"stones.asked": SOME_STONES} | {
        f"stones.{at}.{name}": str(getattr(stone, name) or "")
        for at, stone in enumerate(stones[:MOST_STONES])
        for name in STONE_FIELDS
    }
