"""What an order called off after the yes is when read: frozen values, never rows."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from studio.craft.calling_off import MetalTo, Settlement, Stage


@dataclass(frozen=True, slots=True)
class MetalBack:
    """Where the metal of one ring went; `piece` is its number in the drawer, None for scrap. Mass in mg."""

    ring: int
    to: MetalTo
    mass_mg: int
    piece: str | None = None


@dataclass(frozen=True, slots=True)
class CallingOff:
    """An order called off after the yes. `settlement` is None while nobody said what is owed.

    `percent` is what the studio's table said, None where the amount was typed.
    """

    stage: Stage
    currency: str
    total_minor: int
    paid_minor: int
    percent: Decimal | None
    settlement: Settlement | None
    metal: tuple[MetalBack, ...]
    called_off_at: datetime
    actor: str
