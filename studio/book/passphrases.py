"""Passphrases: what is taken, and how it is kept."""

from datetime import datetime
from functools import cache

from argon2 import PasswordHasher
from argon2.exceptions import VerifyMismatchError
from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import PassphraseRefused, WhyWeak
from studio.book.folding import folded
from studio.book.people import UserRow
from studio.book.studio import studio
from studio.book.transaction import transaction

SHORTEST, LONGEST = 12, 256
"""Signs. Twelve because the lists of common passwords thin out there; no rule asks for digits or signs."""

HASHER = PasswordHasher(time_cost=2, memory_cost=19_456, parallelism=1)
"""Argon2id with 19 MiB, two passes, one lane: the first choice of the OWASP Password Storage Cheat Sheet."""

_COMMON = frozenset(
    [
        "123456789012",
        "1234567890123",
        "12345678901234",
        "123456789123",
        "111111111111",
        "000000000000",
        "passwordpassword",
        "password1234",
        "password12345",
        "password123456",
        "qwertyuiopas",
        "qwertyuiop12",
        "qwertyuiop123",
        "qwerty123456",
        "1q2w3e4r5t6y",
        "1qaz2wsx3edc",
        "abcdefghijkl",
        "abc123456789",
        "iloveyou1234",
        "iloveyouforever",
        "letmeinletmein",
        "administrator",
        "adminadminadmin",
        "administrator1",
        "changemenow123",
        "welcome12345",
        "trustno1trustno1",
        "correcthorsebatterystaple",
        "goldsmithgoldsmith",
        "silversilver",
        "goldgoldgold",
    ]
)


def refuse_weak(passphrase: str, *own_words: str) -> None:
    """Raise `PassphraseRefused` where it would be guessed: too short, common, one sign over and over, a name.

    'ring ring ring' is long enough and passes; 'aaaaaaaaaaaa' and the studio's own name do not.
    """
    if len(passphrase) < SHORTEST:
        raise PassphraseRefused(WhyWeak.TOO_SHORT)
    if len(passphrase) > LONGEST:
        raise PassphraseRefused(WhyWeak.TOO_LONG)
    bare = folded(passphrase).replace(" ", "")
    if bare in _COMMON or len(set(bare)) < 3:
        raise PassphraseRefused(WhyWeak.COMMON)
    rest = bare
    for word in own_words:
        rest = rest.replace(folded(word).replace(" ", "") or bare[:0] or "\0", "")
    if len(rest.strip("0123456789")) < 4:
        raise PassphraseRefused(WhyWeak.OWN_NAME)


def set_passphrase(session: Session, *, user_id: int, passphrase: str, actor: Actor, now: datetime) -> None:
    """Keep a new passphrase for a person; only its hash is stored. Raises `PassphraseRefused`."""
    known = session.get_one(UserRow, user_id)
    refuse_weak(passphrase, known.name, studio(session).name)
    hashed = HASHER.hash(passphrase)  # before the lock is taken: it takes some 30 ms
    with transaction(session):
        row = session.get_one(UserRow, user_id)
        row.passphrase_hash = hashed
        session.add(row)
        note(session, actor=actor, now=now, verb="set a passphrase", new={"user": row.name})


def matches(hashed: str | None, passphrase: str) -> bool:
    """Whether `passphrase` is the one behind `hashed`. Without a hash it takes as long, and says no."""
    try:
        HASHER.verify(hashed or _hash_of_nobody(), passphrase[: LONGEST + 1])
    except VerifyMismatchError:
        return False
    return hashed is not None


@cache
def _hash_of_nobody() -> str:
    return HASHER.hash("nobody's passphrase, hashed so that an unknown name takes as long as a known one")
