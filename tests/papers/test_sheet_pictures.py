"""The photos and sketches on a bench sheet."""

import hashlib
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from studio.craft.route import route
from studio.papers.bench_sheet import RingToMake, bench_sheets
from studio.papers.pictures import TakenIn, take_in
from studio.papers.printing import printed
from studio.papers.sheet_pictures import PrintedPicture
from tests import photos
from tests.papers.printed import catalogue, pixels, reader, structure, text_of
from tests.papers.sheets import SHEETS

NOTE = "The twig we copy, from her garden."
LONG = "Wide facets at the seam, closer and flatter towards the back, none on the edges. " * 2


@cache
def a_picture(note: str = NOTE, size: tuple[int, int] = (800, 600)) -> PrintedPicture:
    made = take_in(photos.a_photo(size=size))
    assert isinstance(made, TakenIn)
    return PrintedPicture(made.small.jpeg, hashlib.sha256(made.picture.jpeg).hexdigest(), note)


PICTURES = tuple(a_picture(f"{NOTE} {place}", (800 - 50 * place, 600)) for place in range(6))


@cache
def sheet_with(kind: str, *pictures: PrintedPicture) -> bytes:
    return printed(bench_sheets([replace(SHEETS[kind], pictures=pictures)], title=f"Bench sheet, {kind}"))


def pages_of(pdf: bytes) -> list[str]:
    return [text_of(pdf, page) for page in range(1, len(reader(pdf).pages) + 1)]


def images(pdf: bytes) -> list[Any]:
    """The pictures that are drawn, each as the file has it."""
    found: dict[int, Any] = {}
    for page in reader(pdf).pages:
        for image in page.images:
            assert image.indirect_reference is not None
            found[image.indirect_reference.idnum] = image
    return [found[number] for number in sorted(found)]


def test_a_picture_is_on_the_sheet_as_the_very_jpeg_that_was_handed_over() -> None:
    pdf = sheet_with("plain", PICTURES[0])
    (image,) = images(pdf)
    assert image.indirect_reference.get_object()._data == PICTURES[0].jpeg
    assert image.image.size == (520, 390)
    assert PICTURES[0].note in text_of(pdf)


@pytest.mark.parametrize("count", [1, 2, 3, 6])
def test_every_picture_has_its_note_beside_it_and_is_read_aloud_by_it(count: int) -> None:
    shown = PICTURES[:count]
    pdf = sheet_with("plain", *shown)
    assert len(images(pdf)) == count
    words = text_of(pdf)
    for place in range(count):
        assert f"garden. {place}" in words
    alts = [str(part["/Alt"]) for part in structure(pdf) if part["/S"] == "/Figure"]
    assert [alt for alt in alts if alt.startswith(NOTE)] == [picture.note for picture in shown]
    cautions = [step for step in route(SHEETS["plain"].reckoning) if step.caution]
    assert len(alts) == 7 + len(cautions) + count
    assert 'pdfuaid:part="1"' in catalogue(pdf)["/Metadata"].get_object().get_data().decode()


def test_a_picture_without_a_note_is_still_named_to_who_cannot_see_it() -> None:
    pdf = sheet_with("plain", a_picture(""))
    alts = [str(part["/Alt"]) for part in structure(pdf) if part["/S"] == "/Figure"]
    assert "Picture 1, without a note" in alts


@pytest.mark.parametrize("kind", ["plain", "half-round-wire"])
@pytest.mark.parametrize("count", [1, 2])
def test_the_sheet_of_a_plain_ring_with_one_or_two_pictures_is_still_one_page(kind: str, count: int) -> None:
    assert len(reader(sheet_with(kind, *PICTURES[:count])).pages) == 1


@pytest.mark.parametrize("kind", ["plain", "hammered-flat", "hammered-closed", "square-wire", "wide-band"])
@pytest.mark.parametrize("pictures", [PICTURES[:1], PICTURES, (a_picture(LONG), a_picture(LONG, (300, 600)))])
def test_pictures_without_room_go_overleaf_and_push_nothing_of_the_sheet_there(
    kind: str, pictures: tuple[PrintedPicture, ...]
) -> None:
    ring = SHEETS[kind]
    first, *overleaf = pages_of(sheet_with(kind, *pictures))
    assert len(overleaf) <= 1
    for number, step in enumerate(route(ring.reckoning), start=1):
        assert f"{number} {step.name} {step.text}" in first
    assert "made by minutes in all seen by" in first
    rest = overleaf[0] if overleaf else first
    for picture in pictures:
        assert picture.note.split()[-1] in rest
    if overleaf:
        assert "2026-118, ring 1 of 1" in rest


def test_a_picture_is_about_thirty_millimetres_high() -> None:
    made = take_in(photos.noise((800, 600)))
    assert isinstance(made, TakenIn)
    filled = PrintedPicture(made.small.jpeg, "noise", "")
    bare, ink = pixels(sheet_with("plain")), pixels(sheet_with("plain", filled))
    rows = (ink - bare).max(axis=1).nonzero()[0]
    assert 28.0 <= (rows[-1] - rows[0]) * 25.4 / 300 <= 31.0


def test_the_same_sheet_is_the_same_bytes_with_pictures_too() -> None:
    ring = replace(SHEETS["plain"], pictures=PICTURES[:2])
    paper = bench_sheets([ring], title="Bench sheet, plain")
    assert printed(paper) == sheet_with("plain", *PICTURES[:2])


def test_pictures_of_many_sheets_are_all_there_when_they_are_printed_in_tens_and_joined() -> None:
    rings: list[RingToMake] = [
        replace(SHEETS["plain"], number=f"2026-{place}", pictures=(PICTURES[place % 6],))
        for place in range(23)
    ]
    pdf = printed(bench_sheets(rings, title="Bench sheets"))
    pages = pages_of(pdf)
    assert len(pages) == 23
    for place, words in enumerate(pages):
        assert f"garden. {place % 6}" in words
    assert {image.indirect_reference.get_object()._data for image in images(pdf)} == {
        picture.jpeg for picture in PICTURES
    }
    alts = [str(part.get("/Alt", "")) for part in structure(pdf) if part["/S"] == "/Figure"]
    assert len([alt for alt in alts if alt.startswith(NOTE)]) == 23
