"""What the records of the bench teach: how patterns stretch, and how waists fall as they are sunk."""

from dataclasses import replace
from datetime import date
from weakref import WeakKeyDictionary

from sqlalchemy import Engine, func
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.bench_records import bench_records
from studio.book.bench_tables import BenchRecordRow
from studio.craft.forming_learning import forming_learned
from studio.craft.learned import Learned, LearnedForming
from studio.craft.practice import Practice
from studio.craft.stretch_learning import learned

_Found = tuple[tuple[Learned, ...], tuple[LearnedForming, ...]]
_SEEN = pick(func.coalesce(func.sum(col(BenchRecordRow.version)), 0))
"""Grows with every record that is put down or put right, since none is ever taken out."""
_KEPT: WeakKeyDictionary[Engine, tuple[object, _Found]] = WeakKeyDictionary()


def with_learned(session: Session, day: date, practice: Practice) -> Practice:
    """The practice with all that the records up to the end of `day` say, from its own figures on."""
    patterns, forming = _found_on(session, day, practice)
    return replace(practice, learned=patterns, learned_forming=forming)


def _found_on(session: Session, day: date, practice: Practice) -> _Found:
    """Of patterns and of forming. The counter asks while somebody types: it is kept until a record comes."""
    seen = session.connection().execute(_SEEN).scalar_one()
    if not seen:
        return (), ()
    correction_mm = practice.anticlastic.correction_mm
    asked = (seen, day, correction_mm, tuple(practice.priors.items()))
    engine = session.connection().engine
    kept = _KEPT.get(engine)
    if kept is None or kept[0] != asked:
        records = bench_records(session, until=day)
        found = [one for record in records if (one := record.of_stretch) is not None]
        formed = [fell for record in records if (fell := record.of_forming) is not None]
        kept = _KEPT[engine] = (
            asked,
            (learned(found, practice.priors), forming_learned(formed, correction_mm)),
        )
    return kept[1]
