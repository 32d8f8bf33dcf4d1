"""The form of a ring: a band as it is closed, or one whose edges flare over a groove."""

from dataclasses import dataclass
from enum import StrEnum

from studio.craft.anticlastic import Groove, groove_of_radius, groove_of_rise
from studio.craft.errors import Refusal, Refused, Why


class FormKind(StrEnum):
    """How the closed ring is formed: a band, or sunk over a groove so that its edges flare."""

    BAND = "band"
    ANTICLASTIC = "anticlastic"


@dataclass(frozen=True, slots=True)
class Form:
    """The ring's form. An anticlastic one is told by its groove's radius or by its rise, never by both."""

    kind: FormKind = FormKind.BAND
    radius_mm: float | None = None
    rise_mm: float | None = None

    def groove(self, width_mm: float, thickness_mm: float) -> Groove | None:
        """The arc across a strip of these sides; None for a band. `Refused` where it cannot be sunk so."""
        if self.kind is FormKind.BAND:
            return None
        if self.radius_mm is not None and self.rise_mm is not None:
            raise Refused(Refusal("form.rise", Why.RADIUS_AND_RISE))
        if self.radius_mm is not None:
            return groove_of_radius(width_mm, thickness_mm, self.radius_mm)
        if self.rise_mm is not None:
            return groove_of_rise(width_mm, thickness_mm, self.rise_mm)
        raise Refused(Refusal("form.radius", Why.NO_GROOVE))


BAND = Form()
