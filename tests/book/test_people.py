"""Who gets in, how, and how somebody who may not is kept out."""

from datetime import timedelta

import pytest
from argon2 import PasswordHasher, extract_parameters
from argon2.low_level import Type
from sqlmodel import Session, col, select

from studio.book.audit import AuditRow
from studio.book.errors import (
    LinkSpent,
    NameTaken,
    PassphraseRefused,
    SignInRefused,
    SignInWaits,
    UserUnknown,
    WhyWeak,
)
from studio.book.first_start import prepare
from studio.book.leaving import end_user
from studio.book.links import LASTS, LinkRow, enter_by_link, look_at_link, make_link
from studio.book.passphrases import LONGEST, refuse_weak, set_passphrase
from studio.book.people import PROGRAM, Actor, UserRow, add_user, rename_user, user_named, users
from studio.book.sign_in import IDLE, SignInRow, end_sign_ins, sign_in, sign_out, who
from studio.book.sign_in import LONGEST as LONGEST_SIGN_IN
from studio.book.studio import studio
from studio.book.throttle import wait_after
from studio.book.tokens import TokenRow, actor_by_token, end_token, make_token, tokens
from studio.craft.roles import Role
from tests.builders import NOW, PASSPHRASE

HERE, ELSEWHERE = "192.0.2.7", "198.51.100.9"
SECOND = timedelta(seconds=1)


@pytest.fixture
def maren(session: Session, people: dict[Role, Actor]) -> Actor:
    """The owner, with a passphrase."""
    owner = people[Role.OWNER]
    assert owner.id is not None
    set_passphrase(session, user_id=owner.id, passphrase=PASSPHRASE, actor=owner, now=NOW)
    return owner


def key_of(session: Session, name: str = "Maren", passphrase: str = PASSPHRASE, address: str = HERE) -> str:
    return sign_in(session, name=name, passphrase=passphrase, address=address, now=NOW).key


def wrong(session: Session, times: int, address: str, name: str = "Maren") -> None:
    for turn in range(times):
        with pytest.raises((SignInRefused, SignInWaits)):
            sign_in(session, name=name, passphrase=f"guess {turn} at it", address=address, now=NOW)


def test_a_right_passphrase_opens_and_each_time_another_key(session: Session, maren: Actor) -> None:
    first, second = key_of(session), key_of(session, name=" MAREN ")
    assert first != second
    assert who(session, key=first, now=NOW) == who(session, key=second, now=NOW) == maren


@pytest.mark.usefixtures("maren")
def test_only_a_hash_is_kept_of_keys_and_passphrases(session: Session) -> None:
    key = key_of(session)
    token = make_token(session, name="till", role=Role.MAKER, actor=PROGRAM, now=NOW)
    link = make_link(session, user_name="Ivo", actor=PROGRAM, now=NOW)
    kept = " ".join(
        str(row)
        for table in (UserRow, SignInRow, TokenRow, LinkRow, AuditRow)
        for row in session.exec(select(table)).all()
    )
    for secret in (key, token, link, PASSPHRASE):
        assert len(secret) >= 20
        assert secret not in kept


def test_passphrases_are_hashed_as_owasp_advises(session: Session, maren: Actor) -> None:
    # OWASP Password Storage Cheat Sheet: Argon2id, m = 19456 KiB, t = 2, p = 1.
    hashed = session.exec(select(UserRow.passphrase_hash).where(col(UserRow.id) == maren.id)).one()
    assert hashed is not None
    found = extract_parameters(hashed)
    assert (found.type, found.memory_cost, found.time_cost, found.parallelism) == (Type.ID, 19_456, 2, 1)


def test_a_hash_of_older_parameters_is_made_anew_on_signing_in(session: Session, maren: Actor) -> None:
    row = session.get_one(UserRow, maren.id)
    row.passphrase_hash = PasswordHasher(time_cost=1, memory_cost=8_192).hash(PASSPHRASE)
    session.add(row)
    session.commit()
    key_of(session)
    session.expire_all()
    fresh = session.get_one(UserRow, maren.id).passphrase_hash
    assert fresh is not None
    assert extract_parameters(fresh).memory_cost == 19_456


@pytest.mark.parametrize(
    ("name", "passphrase"),
    [("Maren", "seven wrens on a wal"), ("Maren", ""), ("Nobody", PASSPHRASE), ("Ivo", PASSPHRASE), ("", "")],
    ids=["wrong passphrase", "none", "unknown name", "no passphrase set yet", "nothing at all"],
)
@pytest.mark.usefixtures("maren")
def test_a_wrong_sign_in_does_not_tell_what_was_wrong(session: Session, name: str, passphrase: str) -> None:
    with pytest.raises(SignInRefused) as told:
        key_of(session, name, passphrase)
    assert str(told.value) == "name and passphrase do not match"


@pytest.mark.usefixtures("maren")
def test_wrong_tries_cost_more_and_more_time(session: Session) -> None:
    assert [wait_after("pair", wrong).seconds for wrong in (1, 5, 6, 7, 9)] == [0, 0, 2, 4, 16]
    assert wait_after("pair", 50) == timedelta(minutes=15)
    wrong(session, 6, HERE)
    with pytest.raises(SignInWaits) as told:
        key_of(session)
    assert told.value.until == NOW + 2 * SECOND
    assert sign_in(session, name="Maren", passphrase=PASSPHRASE, address=HERE, now=told.value.until).key


@pytest.mark.usefixtures("maren")
def test_a_right_passphrase_forgets_the_wrong_ones(session: Session) -> None:
    wrong(session, 5, HERE)
    key_of(session)
    wrong(session, 5, HERE)
    assert key_of(session)


@pytest.mark.usefixtures("maren")
def test_a_strangers_fifty_tries_do_not_lock_the_owner_out(session: Session) -> None:
    key_of(session)
    later = NOW
    for turn in range(50):
        with pytest.raises((SignInRefused, SignInWaits)):
            sign_in(session, name="Maren", passphrase=f"guess {turn}", address=f"203.0.113.{turn}", now=later)
        later += timedelta(minutes=16)
    assert sign_in(session, name="Maren", passphrase=PASSPHRASE, address=HERE, now=NOW + 4 * IDLE).key


@pytest.mark.usefixtures("maren")
def test_many_strangers_who_try_one_name_wait_together(session: Session) -> None:
    for turn in range(21):
        wrong(session, 1, f"203.0.113.{turn}")
    with pytest.raises(SignInWaits):
        key_of(session, address=ELSEWHERE)


@pytest.mark.usefixtures("maren")
def test_one_address_that_tries_many_names_waits(session: Session) -> None:
    for turn in range(21):
        wrong(session, 1, ELSEWHERE, name=f"name {turn}")
    with pytest.raises(SignInWaits):
        key_of(session, address=ELSEWHERE)
    assert key_of(session, address=HERE)


def test_a_sign_in_ends_when_idle_and_at_last_in_any_case(session: Session, maren: Actor) -> None:
    key = key_of(session)
    assert who(session, key=key, now=NOW + IDLE - SECOND) == maren
    assert who(session, key=key, now=NOW + 2 * IDLE - 2 * SECOND) == maren
    assert who(session, key=key, now=NOW + 3 * IDLE) is None
    busy = key_of(session)
    moment = NOW
    while moment < NOW + LONGEST_SIGN_IN - IDLE:
        moment += IDLE / 2
        assert who(session, key=busy, now=moment) == maren
    assert who(session, key=busy, now=NOW + LONGEST_SIGN_IN) is None


def test_signing_out_ends_this_place_only(session: Session, maren: Actor) -> None:
    first, second = key_of(session), key_of(session)
    sign_out(session, key=first)
    sign_out(session, key="never was")
    assert who(session, key=first, now=NOW) is None
    assert who(session, key=second, now=NOW) == maren
    assert maren.id is not None
    end_sign_ins(session, user_id=maren.id)
    assert who(session, key=second, now=NOW) is None


@pytest.mark.usefixtures("maren")
def test_an_unknown_key_is_nobody(session: Session) -> None:
    assert who(session, key="", now=NOW) is None
    assert who(session, key="x" * 5000, now=NOW) is None


def test_a_link_opens_once(session: Session, people: dict[Role, Actor]) -> None:
    link = make_link(session, user_name="ivo", actor=PROGRAM, now=NOW)
    assert look_at_link(session, key=link, now=NOW).user.name == "Ivo"
    entered = enter_by_link(session, key=link, now=NOW, passphrase=PASSPHRASE)
    assert who(session, key=entered.key, now=NOW) == people[Role.COUNTER]
    assert key_of(session, name="Ivo")
    for use in (look_at_link, enter_by_link):
        with pytest.raises(LinkSpent):
            use(session, key=link, now=NOW)


def test_a_link_runs_out_and_a_newer_one_ends_it(session: Session) -> None:
    old = make_link(session, user_name="Ivo", actor=PROGRAM, now=NOW)
    new = make_link(session, user_name="Ivo", actor=PROGRAM, now=NOW)
    for key, moment in ((old, NOW), (new, NOW + LASTS), ("never was", NOW)):
        with pytest.raises(LinkSpent):
            look_at_link(session, key=key, now=moment)
    assert look_at_link(session, key=new, now=NOW + LASTS - SECOND).user.name == "Ivo"


def test_a_weak_passphrase_does_not_use_the_link_up(session: Session) -> None:
    link = make_link(session, user_name="Ivo", actor=PROGRAM, now=NOW)
    with pytest.raises(PassphraseRefused):
        enter_by_link(session, key=link, now=NOW, passphrase="short")
    assert enter_by_link(session, key=link, now=NOW, passphrase=PASSPHRASE).actor.name == "Ivo"


@pytest.mark.parametrize(
    ("passphrase", "why"),
    [
        ("elevensigns", WhyWeak.TOO_SHORT),
        ("", WhyWeak.TOO_SHORT),
        ("x" * (LONGEST + 1), WhyWeak.TOO_LONG),
        ("password1234", WhyWeak.COMMON),
        ("PassWord 1234", WhyWeak.COMMON),
        ("aaaaaaaaaaaa", WhyWeak.COMMON),
        ("abababababab", WhyWeak.COMMON),
        ("Maren-Maren-12", WhyWeak.OWN_NAME),
        ("wrenfold 2026", WhyWeak.OWN_NAME),
        ("seven wrens on a wall", None),
        ("кольцо на палец", None),
        ("🪙🪙🪙🪙🪙🪙🪙🪙🪙💍💎🔥", None),
        ("correct 4 horses", None),
    ],
)
def test_what_would_be_guessed_is_not_taken(passphrase: str, why: WhyWeak | None) -> None:
    if why is None:
        refuse_weak(passphrase, "Maren", "Wrenfold")
    else:
        with pytest.raises(PassphraseRefused) as told:
            refuse_weak(passphrase, "Maren", "Wrenfold")
        assert told.value.why is why


def test_a_token_speaks_for_its_role_until_it_ends(session: Session) -> None:
    token = make_token(session, name="till", role=Role.MAKER, actor=PROGRAM, now=NOW)
    found = actor_by_token(session, token=token)
    assert found is not None
    assert (found.id, found.name, found.role) == (None, "till", Role.MAKER)
    (listed,) = tokens(session)
    end_token(session, token_id=listed.id, actor=PROGRAM, now=NOW)
    assert actor_by_token(session, token=token) is None
    assert actor_by_token(session, token="") is None
    assert tokens(session) == []
    with pytest.raises(UserUnknown):
        end_token(session, token_id=listed.id, actor=PROGRAM, now=NOW)


def test_whoever_leaves_is_out_everywhere_at_once(session: Session, maren: Actor) -> None:
    key = key_of(session)
    link = make_link(session, user_name="Maren", actor=PROGRAM, now=NOW)
    assert maren.id is not None
    end_user(session, user_id=maren.id, actor=PROGRAM, now=NOW)
    assert who(session, key=key, now=NOW) is None
    with pytest.raises(LinkSpent):
        enter_by_link(session, key=link, now=NOW)
    with pytest.raises(SignInRefused):
        key_of(session)
    assert "Maren" not in [user.name for user in users(session)]
    assert add_user(session, name="Maren", role=Role.MAKER, actor=PROGRAM, now=NOW).id != maren.id


def test_two_people_cannot_share_a_name(session: Session) -> None:
    for name in ("Maren", " máren "):
        with pytest.raises(NameTaken):
            add_user(session, name=name, role=Role.MAKER, actor=PROGRAM, now=NOW)
    ivo = user_named(session, "Ivo")
    with pytest.raises(NameTaken):
        rename_user(session, user_id=ivo.id, name="maren", actor=PROGRAM, now=NOW)
    assert rename_user(session, user_id=ivo.id, name="Ívo", actor=PROGRAM, now=NOW).name == "Ívo"


@pytest.mark.usefixtures("maren")
def test_a_studio_that_is_there_keeps_its_owner_and_follows_the_time_zone(session: Session) -> None:
    assert prepare(session, time_zone="Europe/Berlin", now=NOW) is None
    assert (studio(session).name, studio(session).time_zone) == ("Wrenfold", "Europe/Berlin")
