"""The studio's printers: what a bar of 100 mm measures on each, and which one sheets are drawn for."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import PrinterUnknown, VersionStale
from studio.book.printer_tables import PrinterRow
from studio.book.row_ids import row_by_id
from studio.book.transaction import transaction
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.printers import BAR_MM, FOR_ANY, MEASURED_MM, Drawn, PaperSize
from studio.craft.units import from_micrometres, shown_length, to_micrometres

LONGEST_NAME = 24
"""Signs of a printer's name: it stands in the foot of every sheet that is drawn for it."""


@dataclass(frozen=True, slots=True)
class PrinterDraft:
    """A printer as it is put in; its bars in mm, 100 where nothing is to be corrected."""

    name: str
    paper: PaperSize = PaperSize.A4
    across_mm: float = BAR_MM
    down_mm: float = BAR_MM
    is_usual: bool = False


@dataclass(frozen=True, slots=True)
class StudioPrinter:
    """A printer of the studio: what its sheets are drawn for, and whether it is the usual one."""

    id: int
    drawn: Drawn
    is_usual: bool
    version: int


def printers(session: Session) -> tuple[StudioPrinter, ...]:
    """All printers, the usual one first, then by name."""
    found = session.exec(
        select(PrinterRow).order_by(col(PrinterRow.is_usual).desc(), col(PrinterRow.name), col(PrinterRow.id))
    )
    return tuple(_printer(row) for row in found)


def drawn_for(session: Session, printer_id: int | None = None) -> Drawn:
    """What a sheet for this printer is drawn for; None: for the usual one, or for any where none is usual.

    Raises `PrinterUnknown`.
    """
    if printer_id is not None:
        known = row_by_id(session, PrinterRow, printer_id)
        if known is None:
            raise PrinterUnknown(printer_id)
        return _printer(known).drawn
    row = session.exec(select(PrinterRow).where(col(PrinterRow.is_usual)).limit(1)).one_or_none()
    return FOR_ANY if row is None else _printer(row).drawn


def put_printer(
    session: Session,
    *,
    printer: PrinterDraft,
    printer_id: int | None = None,
    version: int | None = None,
    actor: Actor,
    now: datetime,
) -> StudioPrinter:
    """Put in a new printer, or let the one of `printer_id` be as `printer` says. At most one is usual.

    Saying again what stands writes nothing. Raises `Refused` with all that cannot stand, `PrinterUnknown`,
    and `VersionStale` where somebody else changed it since `version`.
    """
    with transaction(session):
        known = None if printer_id is None else row_by_id(session, PrinterRow, printer_id)
        if printer_id is not None and known is None:
            raise PrinterUnknown(printer_id)
        _check(session, printer, printer_id)
        if known is None:
            row, old = PrinterRow(version=0, **_columns(printer), changed_at=now), {}
        else:
            if version is not None and version != known.version:
                raise VersionStale(f"printer {printer_id}", version, known.version)
            row, old = known, _shown(known)
            for name, value in _columns(printer).items():
                setattr(row, name, value)
        new = _shown(row)
        changed = [name for name in new if old.get(name) != new[name]]
        if not changed:
            return _printer(row)
        row.version += 1
        row.changed_at = now
        session.add(row)
        session.flush()
        if printer.is_usual:
            _only_usual(session, row.id)
        note(
            session,
            actor=actor,
            now=now,
            verb="change a printer" if old else "add a printer",
            old={"printer": row.id} | {name: old[name] for name in changed} if old else None,
            new={"printer": row.id} | {name: new[name] for name in changed},
        )
        return _printer(row)


def _only_usual(session: Session, printer_id: int) -> None:
    others = select(PrinterRow).where(col(PrinterRow.is_usual), col(PrinterRow.id) != printer_id)
    for other in session.exec(others):
        other.is_usual = False
        session.add(other)


def _check(session: Session, printer: PrinterDraft, printer_id: int | None) -> None:
    found: list[Refusal] = []
    name = " ".join(printer.name.split())
    if not name:
        found.append(Refusal("name", Why.EMPTY))
    elif len(name) > LONGEST_NAME:
        found.append(Refusal("name", Why.TOO_LONG))
    elif any(
        known.casefold() == name.casefold() and number != printer_id
        for number, known in session.exec(select(PrinterRow.id, PrinterRow.name)).all()
    ):
        found.append(Refusal("name", Why.NAME_TAKEN, name))
    low, high = MEASURED_MM.low, MEASURED_MM.high
    for field, value in (("across_mm", printer.across_mm), ("down_mm", printer.down_mm)):
        if not low <= value <= high:
            why = Why.TOO_LARGE if value > high else Why.TOO_SMALL
            found.append(Refusal(field, why, shown_length(value), low, high, "mm"))
    if found:
        raise Refused(*found)


def _columns(printer: PrinterDraft) -> dict[str, Any]:
    return {
        "name": " ".join(printer.name.split()),
        "paper": printer.paper,
        "across_um": to_micrometres(printer.across_mm),
        "down_um": to_micrometres(printer.down_mm),
        "is_usual": printer.is_usual,
    }


def _shown(row: PrinterRow) -> dict[str, Any]:
    """The printer as plain JSON values, for the history."""
    return {
        "name": row.name,
        "paper": str(row.paper),
        "across_mm": from_micrometres(row.across_um),
        "down_mm": from_micrometres(row.down_um),
        "is_usual": row.is_usual,
    }


def _printer(row: PrinterRow) -> StudioPrinter:
    drawn = Drawn(
        row.name, PaperSize(row.paper), from_micrometres(row.across_um), from_micrometres(row.down_um)
    )
    return StudioPrinter(row.id, drawn, row.is_usual, row.version)
