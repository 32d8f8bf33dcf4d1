"""A picture written anew: its points are decoded, set upright, made smaller, and nothing else comes along.

Whatever else a file carries, the place a photo was taken, a comment, a colour profile, a second file behind
its end, is left behind, because the result is made of the points alone. It runs where papers are printed: in
a process with a limit of memory and of time.
"""

import io
import struct
import warnings
import zlib
from collections.abc import Iterator
from contextlib import contextmanager

from PIL import Image, ImageCms, ImageFile, PngImagePlugin

from studio.papers.pictures import (
    LONGEST_SIDE_PX,
    MOST_KEPT_BYTES,
    MOST_POINTS,
    SMALL_SIDE_PX,
    Drawn,
    PictureRefused,
    TakenIn,
    WhyNoPicture,
    check_points,
    read_head,
)

# The library's own guards, set where ours are: it looks at them whoever opens a picture in this process.
Image.MAX_IMAGE_PIXELS = MOST_POINTS
PngImagePlugin.MAX_TEXT_CHUNK = 1_000_000
PngImagePlugin.MAX_TEXT_MEMORY = 4_000_000

_FAULTS = (
    ArithmeticError, AttributeError, EOFError, LookupError, OSError, RuntimeError, SyntaxError, TypeError,
    ValueError, struct.error, zlib.error, ImageCms.PyCMSError,
)  # fmt: skip
"""What the library raises for bytes that are no whole picture; memory it may not have is not among it."""
_SIDES = (LONGEST_SIDE_PX, 1280, 1024, 800)
_QUALITIES = (86, 80, 74, 68, 60, 52, 44, 36, 28)
_SMALL_QUALITY = 80
_WHITE = (255, 255, 255)
_ORIENTATION = 0x0112
_TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""What sets a picture upright again, by how the camera was held (Exif 2.3, 4.6.4, tag 274)."""


def reencoded(raw: bytes) -> TakenIn:
    """A JPEG, PNG or WebP file written anew as JPEG: upright, in sRGB, on white, and nothing but its points.

    Longest side at most 1600 px, at most 400,000 bytes; a smaller picture keeps its size. Raises
    `PictureRefused` with why: nothing, too large, another kind, too many points, damaged.
    """
    kind = read_head(raw)
    with _refusing_faults():
        opened = Image.open(io.BytesIO(raw), formats=(kind,))
        check_points(*opened.size)
        image = _in_rgb(_decoded(opened))
        return TakenIn(_drawn(image), _written(_fitted(image, SMALL_SIDE_PX), _SMALL_QUALITY))


@contextmanager
def _refusing_faults() -> Iterator[None]:
    # The printer of papers, in the same process, lets the library make up what is missing of a picture.
    lenient, ImageFile.LOAD_TRUNCATED_IMAGES = ImageFile.LOAD_TRUNCATED_IMAGES, False
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of a file that is mended while it is read
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        try:
            yield
        except PictureRefused:
            raise
        except (Image.DecompressionBombError, Image.DecompressionBombWarning):
            raise PictureRefused(WhyNoPicture.TOO_MANY_POINTS) from None
        except _FAULTS:
            raise PictureRefused(WhyNoPicture.DAMAGED) from None
        finally:
            ImageFile.LOAD_TRUNCATED_IMAGES = lenient


def _decoded(image: Image.Image) -> Image.Image:
    """The picture made small enough and set upright; a photo is made smaller while it is decoded."""
    turn = _turn(image)
    profile = image.info.get("icc_profile")
    image.draft(None, (2 * LONGEST_SIDE_PX, 2 * LONGEST_SIDE_PX))
    image.load()
    image = _fitted(_narrowed(image), LONGEST_SIDE_PX)
    image = _in_srgb(image, profile) if profile else image
    return image if turn is None else image.transpose(turn)


def _turn(image: Image.Image) -> Image.Transpose | None:
    """What sets the picture upright; None where the camera's notes say nothing, or cannot be read."""
    try:
        held = image.getexif().get(_ORIENTATION)
    except _FAULTS:
        return None
    return _TURNS.get(held) if isinstance(held, int) else None


def _narrowed(image: Image.Image) -> Image.Image:
    """Palettes as colours, and 16 bits a point as eight: the library would cut these off, not scale them."""
    if image.mode.startswith("I"):
        return image.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    if image.mode == "P" or "transparency" in image.info:
        return image.convert("RGBA")
    return image


def _fitted(image: Image.Image, longest_px: int) -> Image.Image:
    """The picture with no side longer than that."""
    scale = longest_px / max(image.size)
    if scale >= 1:
        return image
    width, height = (max(1, round(side * scale)) for side in image.size)
    return image.resize((width, height), Image.Resampling.LANCZOS, reducing_gap=3.0)


def _in_srgb(image: Image.Image, profile: bytes) -> Image.Image:
    """Its colours by its own profile; a profile that cannot be read is passed over."""
    alpha = image.getchannel("A") if image.mode in {"RGBA", "LA"} else None
    plain = image.convert(image.mode.removesuffix("A")) if alpha else image
    try:
        read = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        made = ImageCms.profileToProfile(plain, read, ImageCms.createProfile("sRGB"), outputMode="RGB")
    except _FAULTS:
        return image
    if made is None:
        return image
    if alpha:
        made.putalpha(alpha)
    return made


def _in_rgb(image: Image.Image) -> Image.Image:
    """Three colours on white, in a picture of its own: what the file said beside its points stays behind."""
    bare = Image.new("RGB", image.size, _WHITE)
    if image.mode in {"RGBA", "LA", "PA", "La", "RGBa"}:
        shown = image.convert("RGBA")
        bare.paste(shown, mask=shown.getchannel("A"))
    else:
        bare.paste(image.convert("RGB"))
    return bare


def _drawn(image: Image.Image) -> Drawn:
    """As good as 400 kB allow: first less quality, then fewer points."""
    for side in _SIDES:
        fitted = _fitted(image, side)
        for quality in _QUALITIES:
            drawn = _written(fitted, quality)
            if len(drawn.jpeg) <= MOST_KEPT_BYTES:
                return drawn
    return drawn


def _written(image: Image.Image, quality: int) -> Drawn:
    file = io.BytesIO()
    image.save(file, "JPEG", quality=quality, optimize=True)
    return Drawn(file.getvalue(), *image.size)
