"""A form of the counter beside the order as it stands by now, field by field."""

from collections.abc import Iterable, Mapping

from studio.craft.alloys import ALLOYS
from studio.craft.designs import Pattern, Profile
from studio.craft.own_alloys import short_name
from studio.craft.profiles import PROFILE_NAMES
from studio.web.counter_choices import gauge_choice
from studio.web.counter_form import LABELS, CounterForm
from studio.web.counter_page import TwoVersions
from studio.web.counter_standing import Standing
from studio.web.counter_stored import ring_form
from studio.web.sent_back import both_versions
from studio.web.wording import opened

_SAID = {"yes": "warm", "no": "cold"}


def versions_of(form: CounterForm, now: Standing, zone: str) -> tuple[TwoVersions, ...]:
    """What was typed beside what stands in the order, for each field where the two differ."""
    there = ring_form(now.order, now.ring, zone)
    names = {name: words for name, words in LABELS.items() if not name.startswith("customer.")}
    gauges = {
        gauge_choice(ring.finger.gauge): ring.finger.gauge.name
        for ring in now.order.rings
        if ring.finger.gauge is not None
    }
    return both_versions(names, _all_said(form, names, gauges), _all_said(there, names, gauges))


def _all_said(form: CounterForm, names: Iterable[str], gauges: Mapping[str, str]) -> dict[str, str]:
    if form.value("pattern") == Pattern.PLAIN:
        form = form.with_values(pattern_when="")  # the list beside 'plain' always holds something
    if not form.value("inscription.text"):
        form = form.with_values(inscription__lettering="")  # and so does the one beside no words
    names = tuple(names)
    for name in names:  # the list beside a stone nobody spoke of always holds something
        stone = name.removesuffix("whose")
        others = (one for one in names if one.startswith(stone) and one != name)
        if name != stone and not any(map(form.value, others)):
            form = form.with_values(**{name.replace(".", "__"): ""})
    said = {name: _said(name, form.value(name)) for name in names}
    measured = said["finger.measured"]
    return said | {"finger.measured": gauges.get(measured, measured)}


def _said(name: str, value: str) -> str:
    """A field's value as its list says it: 'gold-750-yellow' is '750 yellow gold'."""
    value = value.strip()
    if name == "alloy" and value:
        return ALLOYS[value].name if value in ALLOYS else short_name(value)
    if name == "profile" and value in set(Profile):
        return PROFILE_NAMES[Profile(value)]
    if name == "finger.system":
        return value.upper()
    if name == "finger.warm":
        return opened(_SAID.get(value, value))
    return value
