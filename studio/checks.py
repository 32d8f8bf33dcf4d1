"""What `shankwright check` looks at: the machine the program runs on, and the book it keeps."""

import ctypes.util
import shutil
import sys
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Engine

from studio.book.custody import custody_amiss, custody_head
from studio.book.engine import session
from studio.book.ledger_reads import ledger_amiss, ledger_head
from studio.book.restoring import papers_amiss
from studio.book.schema import faults, head_revision, journal, revision
from studio.craft.chain import head_words
from studio.resources import font_files

_LIBRARIES = {
    "pango-1.0": ("lays out the papers", "libpango-1.0-0", True),
    "pangoft2-1.0": ("lays out the papers", "libpangoft2-1.0-0", True),
    "harfbuzz-subset": ("makes papers three times as fast", "libharfbuzz-subset0", False),
}
LEAST_FREE = 0.1
"""The share of the disk that should be free: a full disk takes no more orders."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing looked at: whether it is as it should be, and what there is to say of it."""

    is_well: bool
    says: str
    must: bool = True


def machine() -> list[Finding]:
    """Python, the system's libraries and the fonts."""
    found = [Finding(is_well=True, says=f"Python {sys.version.split()[0]}")]
    for library, (use, package, must) in _LIBRARIES.items():
        is_there = ctypes.util.find_library(library) is not None
        advice = "" if is_there else f" is missing; on Debian: apt-get install {package}"
        found.append(Finding(is_there, f"{library}, which {use}{advice}", must))
    missing = [path.name for path in font_files() if not path.is_file()]
    says = f"fonts missing from their packages: {', '.join(missing)}" if missing else "fonts are there"
    return [*found, Finding(not missing, says)]


def book(engine: Engine, home: Path) -> list[Finding]:
    """The book's database, its revision, its soundness, and for a file the room left on its disk."""
    at, head = revision(engine), head_revision()
    wrong = faults(engine)
    found = [
        Finding(is_well=True, says=journal(engine)),
        Finding(at == head, f"revision {at or 'none'}, the program's is {head}"),
        Finding(not wrong, "; ".join(wrong) or "pages and references are sound"),
    ]
    if at == head and not wrong:
        with session(engine) as opened:
            amiss, of_metal, last = papers_amiss(opened), ledger_amiss(opened), ledger_head(opened)
            of_goods, goods_head = custody_amiss(opened), custody_head(opened)
        found.append(Finding(not amiss, "; ".join(amiss) or "every paper is as it was issued"))
        chained = "no metal was moved yet" if last is None else f"{last[0]} rows, head {head_words(last[1])}"
        found.append(Finding(not of_metal, "; ".join(of_metal) or f"the metal ledger is whole: {chained}"))
        kept = (
            "no goods were taken in yet"
            if goods_head is None
            else f"{goods_head.number} rows, head {head_words(goods_head.hash)}"
        )
        found.append(Finding(not of_goods, "; ".join(of_goods) or f"the custody of goods is whole: {kept}"))
    if engine.url.get_backend_name() == "sqlite":
        usage = shutil.disk_usage(home)
        free = usage.free / usage.total
        found.append(Finding(free >= LEAST_FREE, f"{free:.0%} of the disk is free", must=False))
    return found
