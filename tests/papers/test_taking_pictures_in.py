import io
import zipfile
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageCms, ImageFile

from studio.papers.pictures import (
    MOST_BYTES,
    MOST_KEPT_BYTES,
    LeftOut,
    PictureRefused,
    TakenIn,
    WhyNoPicture,
    take_in,
)
from studio.papers.pool import Cause, Limits, PaperNotMade, PaperPool
from studio.papers.reencoding import reencoded
from tests import photos
from tests.papers import parts
from tests.papers.printed import text_of
from tests.papers.test_pool import with_pool
from tests.photos import SECRET, a_located_photo, a_photo, segments

PLAIN_JPEG = {0xE0, 0xDB, 0xC0, 0xC4, 0xDA}
"""JFIF's own mark, tables, size, codes, and the points: a JPEG with no place for anything else."""


def made_of(raw: bytes) -> TakenIn:
    made = take_in(raw)
    assert isinstance(made, TakenIn), made
    return made


def opened(jpeg: bytes) -> Image.Image:
    image = Image.open(io.BytesIO(jpeg), formats=["JPEG"])
    image.load()
    return image


def is_red(image: Image.Image, x: float, y: float) -> bool:
    found = image.getpixel((round(x * (image.width - 1)), round(y * (image.height - 1))))
    assert isinstance(found, tuple)
    return found[0] > 200 and found[1] < 90 and found[2] < 90


def a_packed_file() -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as packed:
        packed.writestr("index.html", SECRET)
    return file.getvalue()


def test_neither_place_nor_owner_nor_any_word_of_a_photo_is_kept() -> None:
    raw = a_located_photo()
    assert Image.open(io.BytesIO(raw)).getexif().get_ifd(0x8825)[2] == photos.GPS_DEGREES
    made = made_of(raw)
    for jpeg in (made.picture.jpeg, made.small.jpeg):
        assert set(segments(jpeg)) <= PLAIN_JPEG
        assert SECRET not in jpeg
        assert b"Radley" not in jpeg
        assert dict(opened(jpeg).getexif()) == {}


@pytest.mark.parametrize(
    ("held", "corner"),
    [(1, (0, 0)), (2, (1, 0)), (3, (1, 1)), (4, (0, 1)), (5, (0, 0)), (6, (1, 0)), (7, (1, 1)), (8, (0, 1))],
)
def test_a_photo_is_upright_however_the_camera_was_held(held: int, corner: tuple[int, int]) -> None:
    made = made_of(a_located_photo(held))
    for drawn, size in ((made.picture, (640, 480)), (made.small, (520, 390))):
        image = opened(drawn.jpeg)
        assert image.size == (drawn.width_px, drawn.height_px) == (size if held < 5 else size[::-1])
        assert is_red(image, *(0.1 + 0.8 * side for side in corner))
        assert not is_red(image, *(0.9 - 0.8 * side for side in corner))


def test_notes_of_a_camera_that_nobody_can_read_spoil_no_picture() -> None:
    spoilt = a_located_photo(6).replace(b"Exif\0\0MM", b"Exif\0\0XX").replace(b"Exif\0\0II", b"Exif\0\0XX")
    assert made_of(spoilt).picture.width_px == 640


@pytest.mark.parametrize(
    ("kind", "mode"),
    [
        *((kind, mode) for kind in ("JPEG", "PNG", "WEBP") for mode in ("RGB", "L")),
        ("JPEG", "CMYK"),
        *(("PNG", mode) for mode in ("RGBA", "LA", "P", "1")),
        ("WEBP", "RGBA"),
    ],
)
def test_every_way_to_write_points_down_is_read(kind: str, mode: str) -> None:
    image = opened(made_of(a_photo(kind, mode=mode)).picture.jpeg)
    assert image.mode == "RGB"
    assert is_red(image, 0.1, 0.1) is (mode not in {"L", "LA", "1"})
    assert not is_red(image, 0.9, 0.9)


def test_of_a_photo_that_a_telephone_keeps_with_a_second_one_the_first_is_taken() -> None:
    file = io.BytesIO()
    first, second = (opened(a_photo(size=size)) for size in ((640, 480), (64, 48)))
    first.save(file, "MPO", save_all=True, append_images=[second])
    assert Image.open(io.BytesIO(file.getvalue())).format == "MPO"
    made = made_of(file.getvalue())
    assert (made.picture.width_px, set(segments(made.picture.jpeg)) <= PLAIN_JPEG) == (640, True)


def test_of_a_picture_that_moves_the_first_is_taken() -> None:
    for kind in ("PNG", "WEBP"):
        file = io.BytesIO()
        first, second = (Image.new("RGB", (40, 30), colour) for colour in ("red", "white"))
        first.save(file, kind, save_all=True, append_images=[second], duration=100)
        assert is_red(opened(made_of(file.getvalue()).picture.jpeg), 0.9, 0.9)


def test_sixteen_bits_a_point_become_eight_and_keep_their_shade() -> None:
    file = io.BytesIO()
    Image.new("I;16", (40, 30), 0x8000).save(file, "PNG")
    assert opened(made_of(file.getvalue()).picture.jpeg).getpixel((20, 15)) == (128, 128, 128)


def test_what_is_clear_lies_on_white() -> None:
    file = io.BytesIO()
    Image.new("RGBA", (40, 30), (0, 0, 0, 0)).save(file, "PNG")
    assert opened(made_of(file.getvalue()).picture.jpeg).getpixel((20, 15)) == (255, 255, 255)


def test_colours_of_another_profile_are_those_of_a_screen_afterwards() -> None:
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    as_before = opened(made_of(a_photo(icc_profile=lab)).picture.jpeg)
    assert is_red(as_before, 0.1, 0.1)
    assert "icc_profile" not in as_before.info
    assert made_of(a_photo(icc_profile=b"no profile at all" * 20)).picture.width_px == 640


@pytest.mark.parametrize(
    ("size", "kept"), [((4000, 3000), (1600, 1200)), ((900, 3200), (450, 1600)), ((9000, 2), (1600, 1))]
)
def test_no_side_is_longer_than_1600_points(size: tuple[int, int], kept: tuple[int, int]) -> None:
    made = made_of(a_photo(size=size))
    assert (made.picture.width_px, made.picture.height_px) == kept == opened(made.picture.jpeg).size
    assert max(opened(made.small.jpeg).size) == 520


def test_a_small_picture_keeps_its_size() -> None:
    made = made_of(a_photo(size=(31, 17)))
    assert opened(made.picture.jpeg).size == opened(made.small.jpeg).size == (31, 17)


def test_a_picture_that_cannot_be_made_small_keeps_within_400_kb_all_the_same() -> None:
    made = made_of(photos.noise((2400, 2000)))
    assert len(made.picture.jpeg) <= MOST_KEPT_BYTES
    assert max(made.picture.width_px, made.picture.height_px) >= 800


@pytest.mark.parametrize(
    ("raw", "kind"),
    [
        (b"", None),
        (a_photo("GIF"), "GIF"),
        (a_photo("TIFF"), "TIFF"),
        (a_photo("BMP"), "BMP"),
        (b"%PDF-1.7\n" + SECRET, "PDF"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(60), "HEIC"),
        (b"\0\0\0\x18ftypavif\0\0\0\0mif1avif" + bytes(60), "AVIF"),
        (b"\0\0\0\x18ftypisom\0\0\0\0isomavc1" + bytes(60), "film"),
        (b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg">' + SECRET + b"</svg>", "SVG"),
        (b"<!DOCTYPE html>" + SECRET, ""),
        (a_packed_file(), "ZIP"),
        (a_photo("GIF") + a_packed_file(), "GIF"),
    ],
)
def test_nothing_but_jpeg_png_and_webp_is_taken_in_whatever_it_is_called(
    raw: bytes, kind: str | None
) -> None:
    wanted = LeftOut(WhyNoPicture.EMPTY) if kind is None else LeftOut(WhyNoPicture.OTHER_KIND, kind)
    assert take_in(raw) == wanted


def test_a_file_of_more_than_twelve_megabytes_is_left_out() -> None:
    assert take_in(a_photo() + bytes(MOST_BYTES)) == LeftOut(WhyNoPicture.TOO_LARGE)


@pytest.mark.parametrize(
    "raw",
    [
        photos.png_of(60_000, 60_000, points=bytes(60_000)),
        photos.png_of(2**31 - 1, 2**31 - 1),
        photos.webp_of(16_383, 16_383),
        photos.webp_of(2**24, 2**24),
        photos.jpeg_of(65_500, 65_500),
        photos.jpeg_of(10_000, 5_001),
    ],
)
def test_what_unfolds_to_more_than_fifty_megapixels_is_left_out_before_a_point_is_decoded(
    raw: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    def decoding(*_: Any) -> None:
        raise AssertionError("a point was decoded")

    monkeypatch.setattr("PIL.ImageFile.ImageFile.load", decoding)
    monkeypatch.setattr("PIL.WebPImagePlugin.WebPImageFile._open", decoding)
    assert take_in(raw) == LeftOut(WhyNoPicture.TOO_MANY_POINTS)


def test_words_in_a_png_that_unfold_without_end_are_not_unfolded() -> None:
    assert take_in(photos.png_with_words(40_000_000)) == LeftOut(WhyNoPicture.DAMAGED)
    assert made_of(photos.png_with_words(1_000)).picture.width_px == 640


def test_a_png_of_no_size_or_with_another_first_part_is_damaged() -> None:
    for raw in (photos.png_of(0, 40), photos.png_of(40, 40)[:12] + b"tEXt" + bytes(40), b"\x89PNG\r\n\x1a\n"):
        assert take_in(raw) == LeftOut(WhyNoPicture.DAMAGED)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("share", [0.02, 0.3, 0.7, 0.97])
def test_a_picture_that_is_not_all_there_is_left_out(kind: str, share: float) -> None:
    raw = photos.noise((160, 120), kind)
    assert take_in(raw[: int(len(raw) * share)]) == LeftOut(WhyNoPicture.DAMAGED)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("behind", [SECRET, b"<html>" + SECRET, a_packed_file(), b"%PDF-1.7 " + SECRET])
def test_of_a_file_that_is_two_at_once_the_picture_alone_comes_out(kind: str, behind: bytes) -> None:
    made = made_of(a_photo(kind) + behind)
    for jpeg in (made.picture.jpeg, made.small.jpeg):
        assert set(segments(jpeg)) <= PLAIN_JPEG
        assert SECRET not in jpeg
        assert b"PK" + b"\x03\x04" not in jpeg
        assert b"%PDF" not in jpeg


@given(st.binary(max_size=400))
def test_no_bytes_are_a_fault_of_ours(raw: bytes) -> None:
    assert isinstance(take_in(raw), LeftOut)


@given(
    st.sampled_from([photos.noise((40, 30), kind) for kind in ("JPEG", "PNG", "WEBP")]),
    st.lists(st.tuples(st.integers(0, 4000), st.binary(min_size=1, max_size=6)), min_size=1, max_size=4),
)
def test_no_picture_with_bytes_written_over_is_a_fault_of_ours(
    raw: bytes, strokes: list[tuple[int, bytes]]
) -> None:
    spoilt = bytearray(raw)
    for place, stroke in strokes:
        start = place % len(spoilt)
        spoilt[start : start + len(stroke)] = stroke
    made = take_in(bytes(spoilt))
    if isinstance(made, TakenIn):
        assert set(segments(made.picture.jpeg)) <= PLAIN_JPEG


def test_what_the_printer_of_papers_makes_up_of_a_picture_is_not_made_up_here(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    assert take_in(photos.noise((160, 120))[:-900]) == LeftOut(WhyNoPicture.DAMAGED)
    assert ImageFile.LOAD_TRUNCATED_IMAGES is True


def test_a_worker_of_the_pool_makes_the_very_picture_that_is_made_in_this_process() -> None:
    raw = a_located_photo(6)
    assert with_pool(lambda pool: pool.picture(raw)) == reencoded(raw)


def test_a_file_that_is_left_out_costs_no_worker() -> None:
    async def twice(pool: PaperPool) -> bool:
        before = text_of(await pool.pdf(parts.a_paper(parts.telling)))
        for raw, why in (
            (photos.png_of(60_000, 60_000), WhyNoPicture.TOO_MANY_POINTS),
            (photos.noise((160, 120))[:-900], WhyNoPicture.DAMAGED),
            (photos.png_with_words(40_000_000), WhyNoPicture.DAMAGED),
        ):
            with pytest.raises(PictureRefused) as refused:
                await pool.picture(raw)
            assert refused.value.why is why
        return before == text_of(await pool.pdf(parts.a_paper(parts.telling)))

    assert with_pool(twice)


def test_a_picture_that_asks_for_more_memory_than_a_worker_has_is_told_and_the_next_is_made() -> None:
    async def both(pool: PaperPool) -> int:
        with pytest.raises(PaperNotMade) as told:
            await pool.picture(a_photo("PNG", size=(7000, 7000), mode="RGBA", compress_level=1))
        assert told.value.cause is Cause.TOO_BIG
        return (await pool.picture(a_photo())).picture.width_px

    limits = Limits(go_s=600.0, picture_s=600.0, start_s=600.0, memory_bytes=550_000_000)
    assert with_pool(both, limits=limits) == 640
