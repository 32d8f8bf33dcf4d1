"""PINs at the bench: who may set one, what it opens, and how guessing is slowed down."""

from datetime import timedelta

import pytest
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import AuditRow
from studio.book.bench_devices import (
    IDLE,
    LASTS,
    add_device,
    at_device,
    bench_devices,
    end_device,
    step_away,
    take_over,
)
from studio.book.errors import SignInRefused, SignInWaits, UserUnknown
from studio.book.leaving import end_user
from studio.book.passphrases import set_passphrase
from studio.book.pin_errors import DeviceUnknown, PinRefused, PinWrong, WhyNoPin
from studio.book.pin_tables import PinRow
from studio.book.pins import pin_holders, set_own_pin, set_pin
from studio.book.sign_in import sign_in, who
from studio.craft.roles import Role
from tests.builders import NOW, PASSPHRASE

HERE = "192.0.2.7"
SECOND = timedelta(seconds=1)


@pytest.fixture
def owner(people: dict[Role, Actor]) -> Actor:
    return people[Role.OWNER]


@pytest.fixture
def maker(session: Session, people: dict[Role, Actor], owner: Actor) -> Actor:
    """Somebody with the PIN 4711."""
    maker = people[Role.MAKER]
    assert maker.id is not None
    set_pin(session, user_id=maker.id, pin="4711", actor=owner, now=NOW)
    return maker


@pytest.fixture
def device(session: Session, owner: Actor) -> str:
    """The key of a tablet."""
    return add_device(session, name="Tablet", sign_in_key=None, actor=owner, now=NOW)


def id_of(actor: Actor) -> int:
    assert actor.id is not None
    return actor.id


def wrong(session: Session, device: str, maker: Actor, times: int) -> None:
    for _ in range(times):
        with pytest.raises((PinWrong, SignInWaits)):
            take_over(session, key=device, user_id=id_of(maker), pin="0815", now=NOW)


def test_a_maker_takes_over_by_pin_and_another_after_them(
    session: Session, people: dict[Role, Actor], owner: Actor, maker: Actor, device: str
) -> None:
    ivo = people[Role.COUNTER]
    set_pin(session, user_id=id_of(ivo), pin="290388", actor=owner, now=NOW)
    assert take_over(session, key=device, user_id=id_of(maker), pin="4711", now=NOW) == maker
    found = at_device(session, key=device, now=NOW)
    assert found is not None
    assert found.maker == maker
    assert take_over(session, key=device, user_id=id_of(ivo), pin="290388", now=NOW) == ivo
    found = at_device(session, key=device, now=NOW)
    assert found is not None
    assert found.maker == ivo


def test_only_the_hash_of_a_pin_is_kept_and_the_history_does_not_tell_it(
    session: Session, maker: Actor
) -> None:
    row = session.exec(select(PinRow)).one()
    assert row.pin_hash.startswith("$argon2id$")
    entry = session.exec(select(AuditRow).where(col(AuditRow.verb) == "set a PIN")).one()
    assert entry.new == {"user": maker.name}


@pytest.mark.parametrize(
    ("pin", "why"),
    [
        ("471", WhyNoPin.NOT_DIGITS),
        ("471147114", WhyNoPin.NOT_DIGITS),
        ("47a1", WhyNoPin.NOT_DIGITS),
        ("٤٧١١", WhyNoPin.NOT_DIGITS),
        ("", WhyNoPin.NOT_DIGITS),
        ("7777", WhyNoPin.COMMON),
        ("1234", WhyNoPin.COMMON),
        ("87654321", WhyNoPin.COMMON),
    ],
)
def test_what_is_no_pin_is_refused(session: Session, owner: Actor, pin: str, why: WhyNoPin) -> None:
    with pytest.raises(PinRefused) as refused:
        set_pin(session, user_id=id_of(owner), pin=pin, actor=owner, now=NOW)
    assert refused.value.why is why


def test_ones_own_pin_takes_ones_passphrase(session: Session, owner: Actor) -> None:
    set_passphrase(session, user_id=id_of(owner), passphrase=PASSPHRASE, actor=owner, now=NOW)
    with pytest.raises(SignInRefused):
        set_own_pin(session, pin="4711", passphrase="not it at all", address=HERE, actor=owner, now=NOW)
    assert not any(one.has_pin for one in pin_holders(session))
    set_own_pin(session, pin="4711", passphrase=PASSPHRASE, address=HERE, actor=owner, now=NOW)
    assert [one.name for one in pin_holders(session) if one.has_pin] == [owner.name]


def test_wrong_passphrases_at_the_pin_are_slowed_down_like_any(session: Session, owner: Actor) -> None:
    set_passphrase(session, user_id=id_of(owner), passphrase=PASSPHRASE, actor=owner, now=NOW)
    for _ in range(6):
        with pytest.raises(SignInRefused):
            set_own_pin(session, pin="4711", passphrase="not it", address=HERE, actor=owner, now=NOW)
    with pytest.raises(SignInWaits):
        set_own_pin(session, pin="4711", passphrase=PASSPHRASE, address=HERE, actor=owner, now=NOW)


def test_nobody_without_a_pin_takes_over(session: Session, people: dict[Role, Actor], device: str) -> None:
    with pytest.raises(PinWrong):
        take_over(session, key=device, user_id=id_of(people[Role.COUNTER]), pin="4711", now=NOW)
    with pytest.raises(PinWrong):
        take_over(session, key=device, user_id=999, pin="4711", now=NOW)


def test_guessing_is_slowed_down_for_that_maker_alone(
    session: Session, owner: Actor, maker: Actor, device: str
) -> None:
    set_pin(session, user_id=id_of(owner), pin="290388", actor=owner, now=NOW)
    wrong(session, device, maker, 6)
    with pytest.raises(SignInWaits) as waits:
        take_over(session, key=device, user_id=id_of(maker), pin="4711", now=NOW)
    assert take_over(session, key=device, user_id=id_of(owner), pin="290388", now=NOW) == owner
    with pytest.raises(SignInWaits):  # somebody else's right PIN does not make guessing at hers free again
        take_over(session, key=device, user_id=id_of(maker), pin="4711", now=NOW)
    assert take_over(session, key=device, user_id=id_of(maker), pin="4711", now=waits.value.until) == maker


def test_slips_of_a_day_do_not_add_up_to_a_wait_for_the_whole_bench(
    session: Session, maker: Actor, device: str
) -> None:
    for _ in range(30):
        with pytest.raises(PinWrong):
            take_over(session, key=device, user_id=id_of(maker), pin="0815", now=NOW)
        assert take_over(session, key=device, user_id=id_of(maker), pin="4711", now=NOW) == maker


def test_wrong_pins_keep_nobody_from_the_passphrase(
    session: Session, owner: Actor, maker: Actor, device: str
) -> None:
    set_passphrase(session, user_id=id_of(maker), passphrase=PASSPHRASE, actor=owner, now=NOW)
    wrong(session, device, maker, 12)
    assert sign_in(session, name=maker.name, passphrase=PASSPHRASE, address=HERE, now=NOW).actor == maker


def test_after_two_idle_hours_the_pin_is_asked_again(session: Session, maker: Actor, device: str) -> None:
    take_over(session, key=device, user_id=id_of(maker), pin="4711", now=NOW)
    for now, is_there in (
        (NOW + IDLE - SECOND, True),  # which is a touch
        (NOW + IDLE + timedelta(hours=1), True),
        (NOW + 3 * IDLE, False),
    ):
        found = at_device(session, key=device, now=now)
        assert found is not None
        assert (found.maker == maker) == is_there


def test_who_steps_away_leaves_the_device_to_the_next(session: Session, maker: Actor, device: str) -> None:
    take_over(session, key=device, user_id=id_of(maker), pin="4711", now=NOW)
    step_away(session, key=device, actor=maker, now=NOW)
    found = at_device(session, key=device, now=NOW)
    assert found is not None
    assert found.maker is None


def test_setting_a_device_up_signs_its_person_out(session: Session, owner: Actor) -> None:
    set_passphrase(session, user_id=id_of(owner), passphrase=PASSPHRASE, actor=owner, now=NOW)
    key = sign_in(session, name=owner.name, passphrase=PASSPHRASE, address=HERE, now=NOW).key
    add_device(session, name="Tablet", sign_in_key=key, actor=owner, now=NOW)
    assert who(session, key=key, now=NOW) is None
    assert [one.name for one in bench_devices(session, now=NOW)] == ["Tablet"]


def test_a_device_ends_by_the_owner_s_hand_or_with_time(
    session: Session, owner: Actor, maker: Actor, device: str
) -> None:
    assert at_device(session, key=device, now=NOW + LASTS) is None
    [known] = bench_devices(session, now=NOW)
    end_device(session, device_id=known.id, actor=owner, now=NOW)
    assert at_device(session, key=device, now=NOW) is None
    assert bench_devices(session, now=NOW) == ()
    with pytest.raises(DeviceUnknown):
        end_device(session, device_id=known.id, actor=owner, now=NOW)
    with pytest.raises(DeviceUnknown):
        take_over(session, key=device, user_id=id_of(maker), pin="4711", now=NOW)


def test_who_leaves_the_studio_works_on_no_device(
    session: Session, owner: Actor, maker: Actor, device: str
) -> None:
    own = add_device(session, name="Her own", sign_in_key=None, actor=maker, now=NOW)
    take_over(session, key=device, user_id=id_of(maker), pin="4711", now=NOW)
    end_user(session, user_id=id_of(maker), actor=owner, now=NOW)
    found = at_device(session, key=device, now=NOW)
    assert found is not None
    assert found.maker is None
    assert at_device(session, key=own, now=NOW) is None
    with pytest.raises(PinWrong):
        take_over(session, key=device, user_id=id_of(maker), pin="4711", now=NOW)
    with pytest.raises(UserUnknown):
        set_pin(session, user_id=id_of(maker), pin="4711", actor=owner, now=NOW)
    assert maker.name not in {one.name for one in pin_holders(session)}
