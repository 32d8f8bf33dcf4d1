"""Joining papers that were printed apart into one that is tagged as if it had been printed at once.

The libraries that merge PDF files leave the structure tree behind, or copy it for the first file alone, and
a program that reads aloud then finds a heap of words. So the printer hands over its objects as they are
before they are written, a `Sheaf`, and here they are numbered on and hung into one catalogue, one list of
pages, one structure tree and one outline. What stays apart are the fonts: each sheaf brings the glyphs it
uses.

The structure tree of PDF (ISO 32000-1, 14.7): an element names its page; a mark in the page's content has a
number that counts from 0 on every page; the page has a key, `StructParents`, under which the parent tree
lists the element of each mark. Only these keys count through the whole file, and so do the names by which the
cells of a table know their headings; WeasyPrint makes these names of the table's number, row and column.
"""

import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import pydyf  # type: ignore[import-untyped]  # the package carries no types

_REFERENCE = re.compile(rb"(\d+) 0 R")
_COUNTED = re.compile(
    rb"""
    /StructParents?\ (?P<key>\d+)
    | /ID\ \((?P<table>\d+)-
    | /Headers\ \[(?P<headers>[^\]]*)\]
    | \((?:[^()\\]|\\.)*\)
    | \b(?P<number>\d+)\ 0\ R\b
    """,
    re.DOTALL | re.VERBOSE,
)
"""What counts through the whole file. Any other text in brackets is passed over: '5 0 R' in it is text."""
_HEADER = re.compile(rb"\((\d+)-")
_VERSION = b"1.7"
_STREAM = b"\nstream\n"
_HUNG_ANEW = frozenset({"Type", "Pages", "Outlines", "StructTreeRoot", "Metadata"})
_THE_SAME = frozenset({"Lang", "ViewerPreferences", "MarkInfo"})


class NotAlike(ValueError):
    """Papers that say different things of the whole, or more than is known here, cannot be joined."""


@dataclass(frozen=True, slots=True)
class Headings:
    """The outline of a paper: the objects of its first and last heading, and how many it shows."""

    first: int
    last: int
    count: int


@dataclass(frozen=True, slots=True)
class Sheaf:
    """A printed paper before it is written to a file: its objects in the printer's order, number 1 first.

    `claims` is what the catalogue says of the whole paper, `information` its title. `pages`, `elements` (the
    top of its structure tree) and `headings` name objects; `parents` are the keys of the parent tree with
    what stands under each. `once` are the objects that a joined paper has a single one of, by their part.
    """

    objects: tuple[bytes, ...]
    claims: tuple[tuple[str, bytes], ...]
    information: tuple[tuple[str, bytes], ...]
    pages: tuple[int, ...]
    elements: tuple[int, ...]
    parents: tuple[tuple[int, bytes], ...]
    headings: Headings | None
    once: tuple[tuple[str, int], ...]


def sheaf(pdf: pydyf.PDF) -> Sheaf:
    """The objects of a paper that the printer has finished and not yet written. Raises `NotAlike`."""
    catalogue = pdf.catalog
    if unknown := set(catalogue) - _HUNG_ANEW - _THE_SAME:
        raise NotAlike(f"a paper with {', '.join(sorted(unknown))} cannot be joined")
    structure = pdf.objects[_named(catalogue["StructTreeRoot"])]
    parents = pdf.objects[_named(structure["ParentTree"])]
    (top,) = structure["K"]
    document = pdf.objects[_named(top)]
    once = {
        "catalogue": catalogue.number,
        "pages": pdf.pages.number,
        "metadata": _named(catalogue["Metadata"]),
        "structure": structure.number,
        "document": document.number,
        "parents": parents.number,
    }
    headings = None
    if "Outlines" in catalogue:
        outline = pdf.objects[_named(catalogue["Outlines"])]
        once["outline"] = outline.number
        headings = Headings(_named(outline["First"]), _named(outline["Last"]), int(outline["Count"]))
    return Sheaf(
        objects=tuple(one.data for one in pdf.objects[1:]),
        claims=tuple((name, pydyf.Array([catalogue[name]]).data[1:-1]) for name in sorted(_THE_SAME)),
        information=tuple((name, value.data) for name, value in pdf.info.items()),
        pages=tuple(_named(page) for page in pdf.page_references),
        elements=tuple(_named(element) for element in document["K"]),
        parents=tuple(
            (int(key), pydyf.Array([value]).data[1:-1])
            for key, value in zip(parents["Nums"][::2], parents["Nums"][1::2], strict=True)
        ),
        headings=headings,
        once=tuple(once.items()),
    )


def joined(sheaves: Sequence[Sheaf]) -> bytes:
    """One PDF of all pages in turn, with one structure tree. At least one sheaf.

    The same sheaves give the same bytes. Raises `NotAlike` where their titles or languages differ.
    """
    first = sheaves[0]
    if any((one.claims, one.information) != (first.claims, first.information) for one in sheaves):
        raise NotAlike("papers of different titles or languages cannot be joined")
    whole = _Whole(first)
    for one in sheaves:
        whole.take(one)
    return whole.written()


def _named(reference: bytes) -> int:
    """The number of the object that a reference names."""
    found = _REFERENCE.fullmatch(reference)
    if found is None:
        raise NotAlike("an object was expected to be named, not to stand in its place")
    return int(found[1])


def _renumbered(data: bytes, numbers: Mapping[int, int], keys_before: int) -> bytes:
    """An object, not its stream, with every reference and key as it is in the whole paper."""

    def header(found: re.Match[bytes]) -> bytes:
        return b"(%d-" % numbers[int(found[1])]

    def moved(found: re.Match[bytes]) -> bytes:
        if found["number"] is not None:
            return b"%d 0 R" % numbers[int(found["number"])]
        if found["key"] is not None:
            return found[0].removesuffix(found["key"]) + b"%d" % (int(found["key"]) + keys_before)
        if found["table"] is not None or found["headers"] is not None:
            return _HEADER.sub(header, found[0])
        return found[0]

    return _COUNTED.sub(moved, data)


class _Copied(pydyf.Object):  # type: ignore[misc]  # its base has no types
    """An object as it stands in the file."""

    def __init__(self) -> None:
        super().__init__()
        self.content = b""

    @property
    def data(self) -> bytes:
        """What the file says of it."""
        return self.content

    @property
    def compressible(self) -> bool:
        """Whether it can be packed with others, which a stream cannot."""
        return _STREAM not in self.content

    def add(self, entry: bytes) -> None:
        """Put one more entry at the end of the dictionary that it is."""
        self.content = self.content.removesuffix(b">>") + entry + b">>"


class _Whole:
    """The paper that grows while one sheaf after the other is taken in."""

    def __init__(self, first: Sheaf) -> None:
        pdf = self.pdf = pydyf.PDF()
        self.once = {
            "catalogue": pdf.catalog,
            "pages": pdf.pages,
            "metadata": _Copied(),
            "structure": pydyf.Dictionary({"Type": "/StructTreeRoot"}),
            "document": pydyf.Dictionary({"Type": "/StructElem", "S": "/Document", "K": pydyf.Array()}),
            "parents": pydyf.Dictionary({"Nums": pydyf.Array()}),
        }
        if first.headings is not None:
            self.once["outline"] = pydyf.Dictionary({"Count": 0})
        for one in list(self.once.values())[2:]:
            pdf.add_object(one)
        structure, document = self.once["structure"], self.once["document"]
        structure["ParentTree"] = self.once["parents"].reference
        structure["K"] = pydyf.Array([document.reference])
        document["P"] = structure.reference
        self.once["metadata"].content = first.objects[dict(first.once)["metadata"] - 1]
        pdf.catalog.update(first.claims)
        pdf.catalog["StructTreeRoot"] = structure.reference
        pdf.catalog["Metadata"] = self.once["metadata"].reference
        if "outline" in self.once:
            pdf.catalog["Outlines"] = self.once["outline"].reference
        pdf.info.update(first.information)
        self.keys = 0
        self.last_heading: _Copied | None = None

    def take(self, sheaf: Sheaf) -> None:
        """Number the sheaf's objects on; hang its pages, elements and headings behind those that are here."""
        if {part for part, _ in sheaf.once} != set(self.once):
            raise NotAlike("papers with headings and papers without cannot be joined")
        new = {number: self.once[part] for part, number in sheaf.once}
        copied = {}
        for number in range(1, len(sheaf.objects) + 1):
            if number not in new:
                copied[number] = new[number] = _Copied()
                self.pdf.add_object(new[number])
        numbers = {number: one.number for number, one in new.items()}
        for number, copy in copied.items():
            head, mark, stream = sheaf.objects[number - 1].partition(_STREAM)
            copy.content = _renumbered(head, numbers, self.keys) + mark + stream
        for page in sheaf.pages:
            self.pdf.pages["Kids"].extend([numbers[page], 0, "R"])
        self.pdf.pages["Count"] += len(sheaf.pages)
        self.once["document"]["K"].extend(new[element].reference for element in sheaf.elements)
        for key, value in sheaf.parents:
            self.once["parents"]["Nums"].extend([self.keys + key, _renumbered(value, numbers, self.keys)])
        self.keys += len(sheaf.parents)
        if sheaf.headings is not None:
            self._take_headings(sheaf.headings, copied)

    def _take_headings(self, headings: Headings, copied: Mapping[int, _Copied]) -> None:
        outline, first, last = self.once["outline"], copied[headings.first], copied[headings.last]
        outline["Count"] += headings.count
        outline["Last"] = last.reference
        if self.last_heading is None:
            outline["First"] = first.reference
        else:
            self.last_heading.add(b"/Next " + first.reference)
            first.add(b"/Prev " + self.last_heading.reference)
        self.last_heading = last

    def written(self) -> bytes:
        """The file."""
        file = io.BytesIO()
        self.pdf.write(file, version=_VERSION, compress=True)
        return file.getvalue()
