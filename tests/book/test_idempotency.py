"""The same request sent twice is done once."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from sqlalchemy import Engine
from sqlmodel import Session

from studio.book import engine as engines
from studio.book.errors import KeyReused, NoRings
from studio.book.idempotency import KEPT_FOR, Answer, kept, once
from studio.book.orders import state_counts
from studio.book.people import PROGRAM, Actor
from studio.craft.roles import Role
from tests.builders import NOW, an_order


def sent(session: Session, key: str = "k", fingerprint: str = "f", actor: Actor = PROGRAM) -> Answer:
    def work() -> Answer:
        number = an_order(session).number
        return Answer(201, f'{{"number":"{number}"}}', f"/orders/{number}")

    return once(session, key=key, actor=actor, fingerprint=fingerprint, now=NOW, work=work)


def orders_in(session: Session) -> int:
    return sum(state_counts(session).values())


def test_the_same_key_and_body_get_the_same_answer(session: Session) -> None:
    first = sent(session)
    assert first == Answer(201, '{"number":"2026-1"}', "/orders/2026-1")
    assert sent(session) == first
    assert orders_in(session) == 1


def test_the_same_key_with_another_body_is_refused(session: Session) -> None:
    sent(session)
    with pytest.raises(KeyReused):
        sent(session, fingerprint="other")
    assert orders_in(session) == 1


def test_an_answer_already_given_is_told_without_doing_anything(session: Session) -> None:
    assert kept(session, key="k", actor=PROGRAM, fingerprint="f") is None
    first = sent(session)
    assert kept(session, key="k", actor=PROGRAM, fingerprint="f") == first
    assert kept(session, key="k", actor=Actor(None, "Ivo", Role.COUNTER), fingerprint="f") is None
    with pytest.raises(KeyReused):
        kept(session, key="k", actor=PROGRAM, fingerprint="other")


def test_a_key_belongs_to_whoever_sent_it(session: Session, people: dict[Role, Actor]) -> None:
    assert sent(session, actor=people[Role.OWNER]) != sent(session, actor=people[Role.COUNTER])


def test_a_request_that_failed_may_be_sent_again(session: Session) -> None:
    def fail() -> Answer:
        an_order(session)
        raise NoRings

    with pytest.raises(NoRings):
        once(session, key="k", actor=PROGRAM, fingerprint="f", now=NOW, work=fail)
    assert orders_in(session) == 0
    assert sent(session).body == '{"number":"2026-1"}'


def test_many_at_once_make_one_order(engine: Engine) -> None:
    def send(_: int) -> Answer:
        with engines.session(engine) as own:
            return sent(own)

    with ThreadPoolExecutor(6) as pool:
        answers = set(pool.map(send, range(12)))
    assert len(answers) == 1
    with engines.session(engine) as session:
        assert orders_in(session) == 1


def test_answers_are_forgotten_after_a_month(session: Session) -> None:
    sent(session)
    later = NOW + KEPT_FOR + timedelta(seconds=1)
    again = once(
        session,
        key="k",
        actor=PROGRAM,
        fingerprint="other",
        now=later,
        work=lambda: Answer(200, "{}"),
    )
    assert again == Answer(200, "{}")
