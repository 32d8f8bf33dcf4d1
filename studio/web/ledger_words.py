"""The metal ledger in words and as CSV: one row the same wherever it stands."""

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass

from studio.book.chaining import HeadRow
from studio.book.ledger_reads import LedgerLine
from studio.craft.chain import head_words
from studio.craft.directions import apart
from studio.craft.ledger import fine_mg
from studio.craft.metals import Alloy
from studio.craft.own_alloys import short_name
from studio.web.days import day_words, moment_words
from studio.web.month_csv import BOM, cell
from studio.web.security import Seat

HEAD = (
    "number", "day", "what", "metal", "whose", "g", "fine g", "from", "to", "ring", "operation", "from piece",
    "to piece", "lot", "corrects", "note", "by", "hash",
)  # fmt: skip
OPERATION_WORDS: Mapping[str, str] = {
    "saw": "sawing",
    "file": "filing",
    "roll": "rolling",
    "forge": "forging",
    "solder": "soldering",
    "polish": "polishing",
    "set": "setting",
    "cast": "casting",
    "making": "making, by weight",
}


@dataclass(frozen=True, slots=True)
class LedgerEntry:
    """One row of the ledger as a page shows it."""

    number: str
    day: str
    what: str
    metal: str
    grams: str
    way: str
    about: str
    note: str
    is_corrected: bool


@dataclass(frozen=True, slots=True)
class HeadWords:
    """The head of the ledger's chain as it is printed: the last row, when it was written, its hash."""

    number: str
    at: str
    hash: str


def head_of_chain(head: HeadRow, zone: str) -> HeadWords:
    """The head as pages print it, its moment in the studio's time."""
    return HeadWords(str(head.number), moment_words(head.at, zone), head_words(head.hash))


def grams(mass_mg: int) -> str:
    """A mass as tables of the ledger show it, to the milligram: 5600 gives '5.600'."""
    sign = "-" if mass_mg < 0 else ""
    whole, rest = divmod(abs(mass_mg), 1000)
    return f"{sign}{whole}.{rest:03d}"


def percent_of(bp: int | None) -> str:
    """Hundredths of a percent as a table shows them; '' where there is no share."""
    return "" if bp is None else f"{bp / 100:.2f}"


def alloy_name(alloys: Mapping[str, Alloy], key: str) -> str:
    """An alloy by its name, by its key where nobody knows it any more."""
    return alloys[key].short_name if key in alloys else short_name(key)


def entry(line: LedgerLine, alloys: Mapping[str, Alloy], seat: Seat) -> LedgerEntry:
    """A row as the page shows it."""
    moved = line.moved
    pieces = " to ".join(mark for mark in (line.from_mark, line.to_mark) if mark)
    work = OPERATION_WORDS.get(moved.operation, moved.operation)
    lot = f"lot {line.lot_id}" if line.lot_id else ""
    notes = [line.note, f"takes back {line.corrects}" if line.corrects else ""]
    notes.append(f"taken back by {line.corrected_by}" if line.corrected_by else "")
    whose = f", {apart(line.owner)}'s" if line.owner else ""
    return LedgerEntry(
        number=str(line.number),
        day=day_words(line.on, today=seat.today),
        what=str(moved.what).capitalize(),
        metal=f"{alloy_name(alloys, moved.alloy)}{whose}",
        grams=grams(moved.mass_mg),
        way=f"{moved.source} to {moved.target}",
        about=", ".join(part for part in (moved.ring, pieces, lot, work) if part),
        note="; ".join(part for part in notes if part),
        is_corrected=line.corrected_by is not None,
    )


def ledger_csv(lines: tuple[LedgerLine, ...], alloys: Mapping[str, Alloy]) -> bytes:
    """The rows in UTF-8, with the mark by which spreadsheets tell that it is."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(HEAD)
    for line in lines:
        moved = line.moved
        alloy = alloys.get(moved.alloy)
        row = (
            str(line.number),
            line.on.isoformat(),
            str(moved.what),
            moved.alloy,
            line.owner,
            grams(moved.mass_mg),
            "" if alloy is None else grams(fine_mg(moved.mass_mg, alloy.fineness)),
            str(moved.source),
            str(moved.target),
            moved.ring,
            moved.operation,
            line.from_mark,
            line.to_mark,
            str(line.lot_id or ""),
            str(line.corrects or ""),
            line.note,
            line.actor,
            line.hash,
        )
        writer.writerow([cell(value) for value in row])
    return f"{BOM}{text.getvalue()}".encode()
