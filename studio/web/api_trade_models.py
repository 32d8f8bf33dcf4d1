"""What the API gives of the trade's tables: a size in every system, and the alloys."""

from pydantic import BaseModel

from studio.craft.designs import System
from studio.web.api_models import Figure, SizeLabel


class SizesOut(BaseModel):
    """A size in every system; null where a system has no label near it."""

    circumference_mm: Figure
    diameter_mm: Figure
    sizes: dict[System, SizeLabel | None]


class AlloyOut(BaseModel):
    """An alloy. `composition` is parts per thousand."""

    key: str
    name: str
    metal: str
    fineness: int
    density_g_cm3: Figure
    composition: dict[str, int]
    source: str


class AlloysOut(BaseModel):
    """All alloys, in one page."""

    items: list[AlloyOut]
    next: None = None
