"""Forms that nobody has finished: the verbs that keep, find and end them."""

from datetime import timedelta

import pytest
from sqlmodel import Session

from studio.book.drafts import MOST_LISTED, draft, drafts, finish_draft, keep_draft
from studio.book.errors import DraftUnknown
from studio.book.people import PROGRAM
from tests.builders import NOW, an_order

KEY = "a-key-of-twenty-signs"


def keep(session: Session, key: str = KEY, minutes: int = 0, **facts: object) -> None:
    typed = {"customer.name": "Oda Wrenlow", "width": "6"}
    now = NOW + timedelta(minutes=minutes)
    keep_draft(session, key=key, typed=typed, actor=PROGRAM, now=now, **facts)  # type: ignore[arg-type]  # handed on as they are


def test_a_form_is_found_by_its_key_as_it_was_kept(session: Session) -> None:
    keep(session)
    kept = draft(session, KEY)
    assert kept.typed == {"customer.name": "Oda Wrenlow", "width": "6"}
    assert (kept.person, kept.saved_at, kept.number, kept.is_done) == ("shankwright", NOW, None, False)


def test_a_form_of_an_order_knows_whose_ring_it_shows(session: Session) -> None:
    number = an_order(session).number
    keep(session, number=number, ring=1)
    assert (draft(session, KEY).number, draft(session, KEY).ring) == (number, 1)


def test_an_order_that_is_not_there_leaves_the_form_without_one(session: Session) -> None:
    keep(session, number="2026-999", ring=1)
    assert draft(session, KEY).number is None


def test_the_list_holds_the_latest_and_none_that_is_done(session: Session) -> None:
    for place in range(MOST_LISTED + 3):
        keep(session, f"key-number-{place:04d}-of-some", minutes=place)
    finish_draft(session, key=f"key-number-{MOST_LISTED + 2:04d}-of-some", number=None, now=NOW)
    listed = drafts(session)
    assert len(listed) == MOST_LISTED
    assert listed[0].key == f"key-number-{MOST_LISTED + 1:04d}-of-some"


def test_a_form_that_is_done_forgets_what_was_typed_and_stays_done(session: Session) -> None:
    number = an_order(session).number
    keep(session)
    finish_draft(session, key=KEY, number=number, now=NOW)
    keep(session, minutes=1)
    done = draft(session, KEY)
    assert (done.is_done, done.number, done.typed) == (True, number, {})


def test_ending_a_form_nobody_kept_is_no_fault(session: Session) -> None:
    finish_draft(session, key="never-kept-anywhere", number=None, now=NOW)
    with pytest.raises(DraftUnknown):
        draft(session, "never-kept-anywhere")
