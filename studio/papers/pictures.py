"""Pictures that are taken in: what may come, what is made of it, and what is read before anything is decoded.

A photo from a telephone says where it was taken, a file from elsewhere may be two files at once, and a small
one may unfold to gigabytes. So nothing that is sent is kept as it came: the head is read here, by its bytes
and by nothing it is called; then the points are decoded and written anew (`reencoding.py`).
"""

import struct
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

MOST_BYTES = 12_000_000
"""The largest file that is read."""
MOST_POINTS = 50_000_000
"""The most points a picture may have, by its own head; a telephone's largest photos have 48.8 million."""
LONGEST_SIDE_PX = 1600
MOST_KEPT_BYTES = 400_000
SMALL_SIDE_PX = 520
"""The longest side of the small one for lists and papers: 30 mm on paper at 300 points an inch, and room."""

_JPEG, _PNG = b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"


class Kind(StrEnum):
    """What is taken in."""

    JPEG = "JPEG"
    PNG = "PNG"
    WEBP = "WEBP"


class WhyNoPicture(StrEnum):
    """Why a file is not taken in as a picture."""

    EMPTY = "empty"
    TOO_LARGE = "too large"
    OTHER_KIND = "other kind"
    TOO_MANY_POINTS = "too many points"
    DAMAGED = "damaged"


class PictureRefused(ValueError):
    """The file is not taken in. `kind` is what it seems to be instead ('HEIC'), '' where nobody knows."""

    def __init__(self, why: WhyNoPicture, kind: str = "") -> None:
        super().__init__(f"no picture: {why} {kind}".rstrip())
        self.why = why
        self.kind = kind


@dataclass(frozen=True, slots=True)
class Drawn:
    """One picture as it is kept: a JPEG of nothing but its points, and its size."""

    jpeg: bytes
    width_px: int
    height_px: int


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What is made of a file: the picture, at most 1600 px and 400 kB, and a small one for lists."""

    picture: Drawn
    small: Drawn


@dataclass(frozen=True, slots=True)
class LeftOut:
    """That a file is not taken in, as a value: it crosses from one process to another."""

    why: WhyNoPicture
    kind: str = ""


def take_in(raw: bytes) -> TakenIn | LeftOut:
    """The file written anew, or why not. Takes tenths of a second and some hundred megabytes."""
    from studio.papers.reencoding import reencoded  # noqa: PLC0415  it loads a library: only who decodes waits

    try:
        return reencoded(raw)
    except PictureRefused as refused:
        return LeftOut(refused.why, refused.kind)


def taken_in(made: TakenIn | LeftOut) -> TakenIn:
    """What was made of a file. Raises `PictureRefused` where it was left out."""
    if isinstance(made, LeftOut):
        raise PictureRefused(made.why, made.kind)
    return made


def read_head(raw: bytes) -> Kind:
    """The kind of a file by its first bytes, once its size is bearable; nothing is decoded.

    Raises `PictureRefused` for a file that is empty, too large, of another kind, or, as far as its head says
    so (PNG and WebP do at once, a JPEG when it is opened), of too many points.
    """
    if not raw:
        raise PictureRefused(WhyNoPicture.EMPTY)
    if len(raw) > MOST_BYTES:
        raise PictureRefused(WhyNoPicture.TOO_LARGE)
    if raw.startswith(_JPEG):
        return Kind.JPEG
    if raw.startswith(_PNG):
        check_points(*_read(raw, _png_size))
        return Kind.PNG
    if raw[:4] == b"RIFF" and raw[8:12] == b"WEBP":
        check_points(*_read(raw, _webp_size))
        return Kind.WEBP
    raise PictureRefused(WhyNoPicture.OTHER_KIND, _other_kind(raw))


def check_points(width_px: int, height_px: int) -> None:
    """Raises `PictureRefused` for sides that no picture has, or that multiply to too many points."""
    if width_px < 1 or height_px < 1:
        raise PictureRefused(WhyNoPicture.DAMAGED)
    if width_px * height_px > MOST_POINTS:
        raise PictureRefused(WhyNoPicture.TOO_MANY_POINTS)


def _read(raw: bytes, size: Callable[[bytes], tuple[int, int]]) -> tuple[int, int]:
    try:
        return size(raw)
    except (struct.error, IndexError):
        raise PictureRefused(WhyNoPicture.DAMAGED) from None


def _png_size(raw: bytes) -> tuple[int, int]:
    """Width and height out of the first chunk, which has to be IHDR (PNG, third edition, 5.6 and 11.2.1)."""
    if raw[12:16] != b"IHDR":
        raise PictureRefused(WhyNoPicture.DAMAGED)
    width, height = struct.unpack(">II", raw[16:24])
    return width, height


def _webp_size(raw: bytes) -> tuple[int, int]:
    """The canvas out of the first chunk (RFC 9649, 2.4 to 2.7): the decoder makes room for it as it opens."""
    kind = raw[12:16]
    if kind == b"VP8X":
        return 1 + int.from_bytes(_of_length(raw[24:27], 3), "little"), 1 + int.from_bytes(
            _of_length(raw[27:30], 3), "little"
        )
    if kind == b"VP8L":
        (bits,) = struct.unpack("<I", raw[21:25])
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    if kind == b"VP8 ":
        width, height = struct.unpack("<HH", raw[26:30])
        return width & 0x3FFF, height & 0x3FFF
    raise PictureRefused(WhyNoPicture.DAMAGED)


def _of_length(part: bytes, length: int) -> bytes:
    if len(part) != length:
        raise PictureRefused(WhyNoPicture.DAMAGED)
    return part


def _other_kind(raw: bytes) -> str:
    """What a file seems to be that is none of ours, for the sentence alone; '' where nobody knows."""
    if raw[4:8] == b"ftyp":
        brand = raw[8:12]
        if brand in {b"avif", b"avis"}:
            return "AVIF"
        return "HEIC" if brand in {b"heic", b"heix", b"hevc", b"hevx", b"mif1", b"msf1"} else "film"
    beginnings = {
        b"GIF8": "GIF",
        b"II*\0": "TIFF",
        b"MM\0*": "TIFF",
        b"BM": "BMP",
        b"%PDF": "PDF",
        b"PK\x03\x04": "ZIP",
    }
    known = next((kind for start, kind in beginnings.items() if raw.startswith(start)), "")
    if known:
        return known
    return "SVG" if b"<svg" in raw[:1000].lower() else ""
