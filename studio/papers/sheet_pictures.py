"""The pictures on a bench sheet: what is handed over for them, and how they stand there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from studio.papers.paper import Asset

_FEW = 2
"""So many have room for their notes beside them."""


@dataclass(frozen=True, slots=True)
class PrintedPicture:
    """A picture as a sheet shows it: the small JPEG, the hash that names it, and its note, '' for none."""

    jpeg: bytes
    sha256: str
    note: str


@dataclass(frozen=True, slots=True)
class SheetPicture:
    """A picture on the sheet: the name of its asset, what is read aloud in its place, its note."""

    asset: str
    words: str
    note: str


def sheet_pictures(pictures: Sequence[PrintedPicture]) -> tuple[SheetPicture, ...]:
    """The pictures in a row, as the template shows them."""
    return tuple(
        SheetPicture(_name(one), one.note or f"Picture {place}, without a note", one.note)
        for place, one in enumerate(pictures, start=1)
    )


def sheet_assets(pictures: Sequence[PrintedPicture]) -> Mapping[str, Asset]:
    """What the printer may read for them, and nothing else."""
    return {_name(one): Asset("image/jpeg", one.jpeg) for one in pictures}


def where_notes_stand(pictures: Sequence[PrintedPicture]) -> str:
    """Whether the notes stand 'beside' their pictures or 'below' them: the class of the row."""
    return "beside" if len(pictures) <= _FEW else "below"


def _name(picture: PrintedPicture) -> str:
    """Where the printer finds a picture; the same points have the same name, whichever sheet they are on."""
    return f"pictures/{picture.sha256}.jpg"
