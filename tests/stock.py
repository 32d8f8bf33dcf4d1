"""A blank that is needed and a sheet that lies in the drawer, to be changed by each test."""

from studio.craft.designs import Profile
from studio.craft.designs import Stock as From
from studio.craft.drawer import PieceKind
from studio.craft.needs import LyingPiece, NeededBlank

BLANK = NeededBlank("2026-1/1", "2026-1", 1, "silver-925", Profile.FLAT, From.STRIP, 1500, 6000, 62_400, 5600)
SHEET = LyingPiece(
    id=1,
    mark="S-001",
    kind=PieceKind.SHEET,
    alloy="silver-925",
    profile=None,
    length_um=198_000,
    width_um=24_000,
    thickness_um=1500,
    mass_mg=73_800,
    is_offcut=False,
    owner_id=None,
    order=None,
    version=1,
)
