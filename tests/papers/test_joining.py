import io
import re
import subprocess
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject

from studio.papers.bench_sheet import bench_sheets
from studio.papers.joining import NotAlike, joined
from studio.papers.paper import PARTS_AT_ONCE, Paper
from studio.papers.printing import at_once, printed, to_join
from tests.papers.parts import weeks
from tests.papers.printed import catalogue, pixels, reader, structure, text_of
from tests.papers.sheets import SHEETS, a_ring

RINGS = [
    SHEETS["plain"],
    replace(SHEETS["wide-band"], customer="Ada (5 0 R) \\ 12 0 R /StructParents 7"),
    SHEETS["half-round-wire"],
    a_ring(customer="Пётр 5 0 R"),
]


@pytest.fixture(scope="module")
def single() -> bytes:
    """Four sheets printed in one go."""
    return at_once(bench_sheets(RINGS, title="Four sheets"))


@pytest.fixture(scope="module")
def whole() -> bytes:
    """The same sheets printed in three goes and joined."""
    goes = [RINGS[:1], RINGS[1:3], RINGS[3:]]
    return joined([to_join(bench_sheets(go, title="Four sheets")) for go in goes])


def number(reference: Any) -> int:
    assert isinstance(reference, IndirectObject)
    return reference.idnum


def shape(node: Any, page_numbers: dict[int, int]) -> Any:
    """An element of the structure tree with all below it: its kind, its words, its page, its marks."""
    node = node.get_object()
    if not isinstance(node, DictionaryObject):
        return int(node)
    page = node.raw_get("/Pg") if "/Pg" in node else None
    kids = node.get("/K", ArrayObject())
    return (
        str(node.get("/S", node.get("/Type"))),
        str(node.get("/Alt", "")),
        None if page is None else page_numbers[number(page)],
        [shape(kid, page_numbers) for kid in (kids if isinstance(kids, ArrayObject) else [kids])],
    )


def tree(pdf: bytes) -> Any:
    found = reader(pdf)
    pages = {number(page.indirect_reference): at for at, page in enumerate(found.pages)}
    root: Any = found.root_object["/StructTreeRoot"]
    return [shape(kid, pages) for kid in root["/K"]]


def outline(pdf: bytes) -> list[tuple[str, int | None]]:
    found = reader(pdf)
    flat: list[Any] = []

    def walk(some: list[Any]) -> None:
        for one in some:
            if isinstance(one, list):
                walk(one)
            else:
                flat.append(one)

    walk(found.outline)
    return [(one.title, found.get_destination_page_number(one)) for one in flat]


def test_a_joined_paper_has_the_structure_tree_of_one_printed_in_one_go(single: bytes, whole: bytes) -> None:
    assert tree(whole) == tree(single)
    assert [kind for kind, *_ in tree(whole)] == ["/Document"]


def test_a_joined_paper_reads_and_looks_like_one_printed_in_one_go(single: bytes, whole: bytes) -> None:
    assert len(reader(whole).pages) == len(reader(single).pages) >= len(RINGS)
    for page in range(1, len(reader(single).pages) + 1):
        assert text_of(whole, page) == text_of(single, page)
    assert (pixels(whole) == pixels(single)).all()


def test_every_mark_of_a_page_is_listed_under_the_pages_key(whole: bytes) -> None:
    found: Any = reader(whole)
    root = found.root_object["/StructTreeRoot"]
    flat = root["/ParentTree"]["/Nums"]
    keys = [int(key) for key in flat[::2]]
    assert keys == list(range(len(keys)))
    listed = dict(zip(keys, flat[1::2], strict=True))
    used = [int(page["/StructParents"]) for page in found.pages]
    assert used == list(range(len(found.pages)))
    for page, key in zip(found.pages, used, strict=True):
        content = page.get_contents()
        assert content is not None
        marks = content.get_data().count(b"/MCID")
        elements = listed[key].get_object()
        assert len(elements) == marks > 0
        for mark, element in enumerate(elements):
            kids = element.get_object()["/K"]
            assert number(element.get_object().raw_get("/Pg")) == number(page.indirect_reference)
            assert mark in [kid.get_object() for kid in kids]


def test_every_element_knows_what_it_hangs_from(whole: bytes) -> None:
    root: Any = reader(whole).root_object["/StructTreeRoot"]

    def check(node: Any, above: int) -> None:
        element = node.get_object()
        if isinstance(element, DictionaryObject) and "/P" in element:
            assert number(element.raw_get("/P")) == above
            for kid in element.get("/K", []):
                check(kid, number(node))

    (document,) = root["/K"]
    check(document, number(catalogue(whole).raw_get("/StructTreeRoot")))


def test_the_cells_of_every_table_know_their_own_headings(single: bytes, whole: bytes) -> None:
    def headings(pdf: bytes) -> tuple[list[str], list[list[str]]]:
        elements = list(structure(pdf))
        names = [str(one["/ID"]) for one in elements if "/ID" in one]
        known = [
            [str(name) for name in one["/A"]["/Headers"]]
            for one in elements
            if "/Headers" in one.get("/A", {})
        ]
        return names, known

    names, known = headings(whole)
    assert len(set(names)) == len(names) > len(RINGS)
    of_single, known_in_single = headings(single)
    places = {name: at for at, name in enumerate(names)}
    places_in_single = {name: at for at, name in enumerate(of_single)}
    assert [[places[name] for name in cell] for cell in known] == [
        [places_in_single[name] for name in cell] for cell in known_in_single
    ]


def test_poppler_finds_the_same_words_in_the_structure(single: bytes, whole: bytes, tmp_path: Path) -> None:
    told = []
    for name, pdf in (("single", single), ("whole", whole)):
        file = tmp_path / f"{name}.pdf"
        file.write_bytes(pdf)
        done = subprocess.run(
            ["pdfinfo", "-struct-text", str(file)], check=True, capture_output=True, text=True
        )
        assert done.stderr == ""
        told.append(
            re.sub(r"(?<=[<(])\d+(?=-\d+-\d+[)>])", "", done.stdout)
        )  # the numbers of objects are each file's own
    assert told[0] == told[1]
    assert "Ada (5 0 R)" in told[1]


def test_a_joined_paper_claims_what_its_parts_claim(single: bytes, whole: bytes) -> None:
    one, other = catalogue(single), catalogue(whole)
    assert set(one) == set(other)
    for claim in ("/Lang", "/MarkInfo", "/ViewerPreferences"):
        assert one[claim] == other[claim]
    assert other["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert one["/Metadata"].get_data() == other["/Metadata"].get_data()
    assert b'pdfuaid:part="1"' in other["/Metadata"].get_data()
    assert reader(single).metadata == reader(whole).metadata
    assert outline(whole) == outline(single)
    assert len(outline(whole)) >= len(RINGS)


def test_text_that_looks_like_a_reference_stays_as_it_is(single: bytes, whole: bytes) -> None:
    spoken = [str(element.get("/Alt", "")) for element in structure(whole)]
    assert spoken == [str(element.get("/Alt", "")) for element in structure(single)]
    assert "Ada (5 0 R) \\ 12 0 R /StructParents 7" in text_of(whole)


def test_a_paper_of_many_parts_is_printed_in_tens_and_joined() -> None:
    paper = weeks(2 * PARTS_AT_ONCE + 1)
    assert [len(go.parts) for go in paper.goes] == [10, 10, 1]
    pdf = printed(paper)
    assert pdf == joined([to_join(go) for go in paper.goes])
    assert pdf == printed(paper)
    assert [text_of(pdf, page + 1).count(f"week {page}") for page in range(21)] == [1] * 21
    assert tree(pdf) == tree(at_once(paper))


def test_up_to_ten_parts_are_printed_in_one_go() -> None:
    paper = weeks(PARTS_AT_ONCE)
    assert printed(paper) == at_once(paper)


@pytest.mark.parametrize(
    "other", [weeks(1, title="Other weeks"), replace(weeks(1), language="de")], ids=["title", "language"]
)
def test_papers_that_differ_in_title_or_language_are_not_joined(other: Paper) -> None:
    with pytest.raises(NotAlike):
        joined([to_join(weeks(1)), to_join(other)])


def test_what_a_paper_has_once_a_joined_paper_has_once(whole: bytes) -> None:
    found = PdfReader(io.BytesIO(whole), strict=True)
    objects = [found.get_object(number) for number in found.xref_objStm]
    kinds = [str(one.get("/Type")) for one in objects if isinstance(one, DictionaryObject)]
    assert [kinds.count(kind) for kind in ("/Catalog", "/Pages", "/StructTreeRoot")] == [1, 1, 1]
    assert whole.count(b"/Type /Metadata") == 1
