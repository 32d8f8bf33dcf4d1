"""What is ordered in the demo: rings of every section and many metals, on fingers measured in six systems."""

from random import Random

from studio.book.order_values import RingDraft
from studio.craft.designs import (
    WIRE_PROFILES,
    Design,
    Finger,
    FingerName,
    Hand,
    Measured,
    Pattern,
    PatternWhen,
    Profile,
    Stock,
    System,
)
from studio.craft.form import Form, FormKind
from studio.craft.particulars import (
    NOT_ASKED,
    Inscription,
    Lettering,
    Particulars,
    Risk,
    Setting,
    Stone,
    Surface,
    Whose,
)
from studio.craft.sizes import read_size

_FLAT, _CLOSED = PatternWhen.FLAT, PatternWhen.CLOSED
_RINGS: tuple[tuple[Profile, float, float, str, Pattern, PatternWhen | None], ...] = (
    (Profile.FLAT, 6, 1.6, "gold-750-yellow", Pattern.HAMMERED, _FLAT),
    (Profile.HALF_ROUND, 4, 1.7, "silver-925", Pattern.PLAIN, None),
    (Profile.COURT, 3.5, 1.6, "platinum-950-ru", Pattern.PLAIN, None),
    (Profile.LOW_DOME, 5, 1.6, "gold-585-rose", Pattern.PLAIN, None),
    (Profile.FLAT, 8, 1.5, "silver-925", Pattern.STAMPED, _FLAT),
    (Profile.KNIFE_EDGE, 5, 2, "gold-750-white-pd", Pattern.PLAIN, None),
    (Profile.FLAT_COURT, 4, 1.5, "gold-375-yellow", Pattern.PLAIN, None),
    (Profile.ROUND, 2, 2, "silver-935", Pattern.PLAIN, None),
    (Profile.SQUARE, 2, 2, "gold-375-yellow", Pattern.HAMMERED, _CLOSED),
    (Profile.FLAT, 5, 1.5, "silver-925", Pattern.HAMMERED, _CLOSED),
    (Profile.HALF_ROUND, 3, 1.5, "gold-750-yellow", Pattern.PLAIN, None),
    (Profile.COURT, 5, 1.8, "gold-585-yellow", Pattern.PLAIN, None),
    (Profile.FLAT, 6, 1.5, "silver-925", Pattern.ROLLED, _FLAT),
    (Profile.LOW_DOME, 4, 1.5, "palladium-950-ru", Pattern.PLAIN, None),
    (Profile.FLAT, 10, 1.2, "silver-958", Pattern.HAMMERED, _FLAT),
    (Profile.FLAT, 4, 1.6, "gold-750-rose", Pattern.PLAIN, None),
    (Profile.FLAT_COURT, 6, 1.8, "platinum-950-ru", Pattern.PLAIN, None),
    (Profile.FLAT, 6, 1.4, "copper", Pattern.STAMPED, _CLOSED),
)
_GAUGES_MM = (3.0, 6.0, 8.0)
_FINGERS = (*[FingerName.RING] * 6, FingerName.MIDDLE, FingerName.INDEX, FingerName.LITTLE, FingerName.THUMB)
_SYSTEMS = (
    *[System.UK] * 11,
    *[System.US] * 3,
    *[System.ISO] * 3,
    *[System.JP] * 2,
    *[System.CH] * 2,
    System.DE,
)
NARROW_GAUGE_REASON = "Only the narrow gauge was at hand. She tried the wide copper ring as well."

_POLISHED, _MATT = Surface.POLISHED, Surface.MATT
_GARNET = Stone(shape="round", size="2 mm", tested="garnet", setting=Setting.FLUSH)
_HEIRLOOM = Stone(
    whose=Whose.CUSTOMER,
    shape="oval",
    size="5 x 3 mm",
    stated="sapphire, out of an old ring of the family",
    tested="sapphire",
    condition="a small chip at the girdle",
    value="£400",
    setting=Setting.BEZEL,
    risk=Risk.CUSTOMER,
)
_WORK = (
    Particulars(_POLISHED, _POLISHED, Inscription(), ()),
    Particulars(
        _POLISHED, _MATT, Inscription("12. IX. 2026", lettering=Lettering.ROMAN, is_read_back=True), ()
    ),
    Particulars(_POLISHED, Surface.OXIDISED, Inscription(), (_GARNET,)),
    NOT_ASKED,
    Particulars(_POLISHED, _POLISHED, Inscription(), ()),
    Particulars(
        _POLISHED, _MATT, Inscription("12. IX. 2026", lettering=Lettering.ROMAN, is_read_back=True), ()
    ),
    Particulars(_POLISHED, _POLISHED, Inscription(), (_HEIRLOOM,)),
    NOT_ASKED,
)
_OF_A_PAIR = tuple(
    Particulars(_POLISHED, _POLISHED, Inscription(name, lettering=Lettering.SCRIPT, is_read_back=True))
    for name in ("Imke", "Tomas")
)
"""A ring carries the other's name."""


class RingMaker:
    """Rings one after the other, the same ones for the same seed."""

    def __init__(self, chance: Random) -> None:
        self._chance = chance
        self._made = 0

    def one(self) -> RingDraft:
        """The next ring, for the next finger."""
        ring = self._design()
        return RingDraft(self.finger(ring.width_mm), ring, particulars=_WORK[self._made % len(_WORK)])

    def pair(self) -> tuple[RingDraft, RingDraft]:
        """Two rings alike but for the size, for a left and a right hand."""
        ring = self._design()
        return tuple(  # type: ignore[return-value]  # two hands, two rings
            RingDraft(self.finger(ring.width_mm, hand=hand), ring, particulars=work)
            for hand, work in zip((Hand.LEFT, Hand.RIGHT), _OF_A_PAIR, strict=True)
        )

    def narrowly_measured(self, *, has_reason: bool) -> RingDraft:
        """A ring far wider than the gauge, with the reason why or still without."""
        design = _made(_RINGS[4])
        finger = self.finger(design.width_mm, gauge_width_mm=_GAUGES_MM[0])
        reasons = {"narrow-gauge": NARROW_GAUGE_REASON} if has_reason else {}
        return RingDraft(finger, design, reasons=reasons)

    def flaring(self) -> RingDraft:
        """An anticlastic band: a wide strip of silver whose edges are sunk outward."""
        form = Form(FormKind.ANTICLASTIC, radius_mm=14.0)
        strip = Design(Profile.FLAT, 9, 0.9, "silver-925", Stock.STRIP, Pattern.HAMMERED, _FLAT, form=form)
        return RingDraft(self.finger(strip.width_mm), strip)

    def told(self) -> RingDraft:
        """A ring whose size somebody said and nobody measured."""
        return RingDraft(self.finger(4, measured=Measured.TOLD), _made(_RINGS[1]))

    def between(self) -> RingDraft:
        """A ring whose size lies somewhere between two."""
        low, high = (read_size(System.UK, label) for label in ("L", "N"))
        finger = Finger(
            System.UK,
            low.label,
            low.circumference_mm,
            Measured.TOLD,
            to_label=high.label,
            to_circumference_mm=high.circumference_mm,
            hand=Hand.LEFT,
            name=FingerName.RING,
        )
        return RingDraft(finger, _made(_RINGS[10]))

    def finger(
        self,
        width_mm: float,
        *,
        hand: Hand | None = None,
        measured: Measured | None = None,
        gauge_width_mm: float | None = None,
    ) -> Finger:
        """The next finger, measured with the gauge nearest to a ring `width_mm` wide."""
        system = self._chance.choice(_SYSTEMS)
        read = read_size(system, self._label(system))
        how = measured or (Measured.RING if self._chance.random() < 0.12 else Measured.GAUGE)
        nearest = min(_GAUGES_MM, key=lambda gauge: abs(gauge - width_mm))
        return Finger(
            system,
            read.label,
            read.circumference_mm,
            how,
            gauge_width_mm=None if how is Measured.TOLD else gauge_width_mm or nearest,
            hand=hand or self._chance.choice((Hand.LEFT, Hand.LEFT, Hand.RIGHT)),
            name=self._chance.choice(_FINGERS),
            is_warm=self._chance.random() < 0.7,
        )

    def _design(self) -> Design:
        self._made += 1
        return _made(_RINGS[(self._made - 1) % len(_RINGS)])

    def _label(self, system: System) -> str:
        pick = self._chance
        if system is System.UK:
            return f"{pick.choice('HIJKLMNOPQRSTUVW')}{pick.choice(('', '', '½'))}"
        if system is System.US:
            return str(pick.randrange(16, 48) / 4)
        low, high = {System.ISO: (47, 66), System.JP: (6, 24), System.CH: (8, 26), System.DE: (15, 21)}[
            system
        ]
        return str(pick.randint(low, high))


def _made(ring: tuple[Profile, float, float, str, Pattern, PatternWhen | None]) -> Design:
    profile, width_mm, thickness_mm, alloy, pattern, when = ring
    # Round, square and half-round come as wire in this studio; everything else is filed from strip.
    is_wire = profile in WIRE_PROFILES or profile is Profile.HALF_ROUND
    return Design(
        profile, width_mm, thickness_mm, alloy, Stock.WIRE if is_wire else Stock.STRIP, pattern, when
    )
