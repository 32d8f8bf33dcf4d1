"""How to look after a ring, in sentences for the customer; common practice, no source."""

from collections.abc import Iterable

from studio.craft.metals import Metal
from studio.craft.particulars import Surface
from studio.papers.quote_facts import QuotedRing

_WEAR = "Take the ring off for heavy work, and keep it from bleach and the water of a swimming pool."
_WASH = "Wash it in warm water with mild soap and a soft brush, and dry it with a soft cloth."
_TARNISH = "Silver darkens in air: rub it with a polishing cloth for silver."
_OF_SURFACE = {
    Surface.MATT: "A matt surface turns brighter where it rubs, and can be made matt again.",
    Surface.OXIDISED: "The dark of an oxidised surface wears off where it rubs: polish it with nothing.",
    Surface.PLATED: "Plating wears through in time and can be renewed: polish it with nothing.",
}
_STONES = "Have the settings looked at once a year, and keep the stones from knocks and ultrasonic cleaners."
_NOT_POLISHED = frozenset({Surface.OXIDISED, Surface.PLATED})


def care_sentences(rings: Iterable[QuotedRing]) -> tuple[str, ...]:
    """What these rings ask of their wearer, each thing said once.

    Of a plain gold band two sentences; silver, a surface that wears and stones add one each.
    """
    found = list(rings)
    surfaces = {face for ring in found for face in _faces(ring)}
    told = [_WEAR, _WASH]
    if any(ring.reckoning.alloy.metal is Metal.SILVER and not _NOT_POLISHED & _faces(ring) for ring in found):
        told.append(_TARNISH)
    told += [words for surface, words in _OF_SURFACE.items() if surface in surfaces]
    if any(ring.particulars.stone_count for ring in found):
        told.append(_STONES)
    return tuple(told)


def _faces(ring: QuotedRing) -> set[Surface | None]:
    return {ring.particulars.inside, ring.particulars.outside}
