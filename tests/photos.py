"""Photos and files that are none, as somebody may send them."""

import io
import struct
import zlib
from typing import Any

from PIL import Image, PngImagePlugin

SECRET = b"<script>alert(document.cookie)</script>"
"""What must not come out again, wherever in a file it went in."""
GPS_DEGREES = (51.0, 4.0, 12.34)


def a_photo(kind: str = "JPEG", size: tuple[int, int] = (640, 480), mode: str = "RGB", **given: Any) -> bytes:
    """A file of this kind: a white field with a red corner, up and left."""
    image = Image.new("RGB", size, "white")
    image.paste("red", (0, 0, size[0] // 2, size[1] // 2))
    file = io.BytesIO()
    image.convert(mode).save(file, kind, **given)
    return file.getvalue()


def a_located_photo(orientation: int = 1) -> bytes:
    """A photo as a telephone takes it: held somehow, with its place, its owner, and words of all kinds."""
    notes = Image.Exif()
    notes[0x0112] = orientation
    notes[0x010F] = "Telephone of M. Radley"
    notes.get_ifd(0x8825)[1] = "N"
    notes.get_ifd(0x8825)[2] = GPS_DEGREES
    return a_photo(exif=notes, comment=SECRET, xmp=b"<x:xmpmeta>" + SECRET) + SECRET


def noise(size: tuple[int, int], kind: str = "JPEG") -> bytes:
    """Points without order, which no compression makes small."""
    file = io.BytesIO()
    Image.merge("RGB", [Image.effect_noise(size, 90) for _ in range(3)]).save(file, kind, quality=90)
    return file.getvalue()


def png_of(width: int, height: int, *chunks: tuple[bytes, bytes], points: bytes = b"") -> bytes:
    """A PNG that says it is so large, with these chunks; its points are what `points` unfolds to."""
    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    parts = ((b"IHDR", head), *chunks, (b"IDAT", zlib.compress(points)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(name, data) for name, data in parts)


def png_with_words(unfolded: int) -> bytes:
    """A small PNG with a compressed text that unfolds to so many bytes."""
    words = PngImagePlugin.PngInfo()
    words.add_text("Comment", "a" * unfolded, zip=True)
    return a_photo("PNG", pnginfo=words)


def webp_of(width: int, height: int) -> bytes:
    """A WebP whose canvas is so large, as far as its first chunk says."""
    canvas = b"\0\0\0\0" + (width - 1).to_bytes(3, "little") + (height - 1).to_bytes(3, "little")
    body = b"WEBPVP8X" + struct.pack("<I", len(canvas)) + canvas
    return b"RIFF" + struct.pack("<I", len(body)) + body


def jpeg_of(width: int, height: int) -> bytes:
    """A JPEG of 16 x 16 points that says it is so large."""
    raw = a_photo(size=(16, 16))
    place = raw.index(b"\xff\xc0") + 5
    return raw[:place] + struct.pack(">HH", height, width) + raw[place + 4 :]


def segments(jpeg: bytes) -> list[int]:
    """The marks of a JPEG before its points, in turn; nothing may stand behind its end."""
    assert jpeg.startswith(b"\xff\xd8")
    assert jpeg.endswith(b"\xff\xd9")
    place = 2
    found: list[int] = []
    while found[-1:] != [0xDA]:
        assert jpeg[place] == 0xFF
        found.append(jpeg[place + 1])
        place += 2 + int.from_bytes(jpeg[place + 2 : place + 4], "big")
    assert jpeg.find(b"\xff\xd9", place) == len(jpeg) - 2
    return found


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
