"""Handing a letter to a real mail server: taken, put off, refused, and never in the open."""

import base64
import time
from dataclasses import replace
from pathlib import Path

import pytest
import trustme

from studio.smtp import LONGEST_ANSWER, MailServer, NotHandedOver, Security, Talk, hand_over
from tests.mail_server import PASSWORD, USER, Box, a_mail_server, a_scripted_server

LETTER = b"Subject: Quote\r\nMessage-ID: <1@wrenfold.example>\r\n\r\nDear Ines,\r\n.\r\nyours\r\n"
SENDER, TO = "book@wrenfold.example", "ines@radley.example"
HELLO = ("220 mail.example", "250 mail.example")


def handed(server: MailServer, to: str = TO, talk: Talk | None = None) -> str:
    return hand_over(server, LETTER, sender=SENDER, to=to, talk=talk)


def refusal(server: MailServer, to: str = TO, talk: Talk | None = None) -> NotHandedOver:
    with pytest.raises(NotHandedOver) as told:
        handed(server, to, talk)
    return told.value


@pytest.fixture(scope="module")
def authority() -> trustme.CA:
    return trustme.CA()


@pytest.fixture
def trusted(authority: trustme.CA, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> trustme.CA:
    """The machine trusts the authority."""
    authority.cert_pem.write_to_path(str(tmp_path / "authority.pem"))
    monkeypatch.setenv("SSL_CERT_FILE", str(tmp_path / "authority.pem"))
    return authority


def test_a_letter_is_taken_as_it_is() -> None:
    with a_mail_server(Box()) as box:
        assert handed(box.server()) == "250 queued as 4711"
    assert (box.letters, box.senders, box.addresses) == ([LETTER], [SENDER], [TO])


@pytest.mark.parametrize(
    ("where", "answer"),
    [
        ("to_rcpt", "450 4.2.1 try later"),
        ("to_rcpt", "550 5.1.1 no such box"),
        ("to_data", "452 4.3.1 full"),
        ("to_data", "554 5.7.1 not wanted"),
    ],
)
def test_the_first_figure_says_whether_to_try_again(where: str, answer: str) -> None:
    with a_mail_server(Box()) as box:
        setattr(box, where, answer)
        told = refusal(box.server())
    assert (told.answer, told.is_final) == (answer, answer.startswith("5"))


@pytest.mark.parametrize(
    ("script", "then"),
    [
        ((), "silence"),
        (HELLO, "silence"),
        ((*HELLO, "250 OK", "250 OK", "354 go on"), "silence"),
        ((), "cut"),
        (HELLO, "cut"),
        ((*HELLO, "250 OK", "250 OK", "354 go on"), "cut"),
    ],
)
def test_silence_and_a_cut_line_are_tried_again(script: tuple[str, ...], then: str) -> None:
    with a_scripted_server(script, then=then) as server:
        told = refusal(server)
    assert not told.is_final
    words = "did not answer in time." if then == "silence" else "ended the talk before it had the letter."
    assert told.answer == f"127.0.0.1 {words}"


def test_a_server_that_never_comes_to_an_end_is_cut() -> None:
    with a_scripted_server((*HELLO, "250 OK"), then="dribble") as server:
        began = time.monotonic()
        told = refusal(replace(server, whole_talk_s=0.5))
        assert time.monotonic() - began < 4
    assert (told.answer, told.is_final) == ("127.0.0.1 did not answer in time.", False)


def test_a_talk_that_was_cut_before_is_not_begun() -> None:
    talk = Talk()
    talk.cut()
    with a_mail_server(Box()) as box:
        assert not refusal(box.server(), talk=talk).is_final
    assert box.letters == []


def test_nobody_at_the_port_is_tried_again() -> None:
    with a_scripted_server(()) as server:
        pass
    told = refusal(server)
    assert (told.answer, told.is_final) == ("127.0.0.1 cannot be reached: Connection refused", False)


def test_a_farewell_that_goes_wrong_takes_nothing_back() -> None:
    """The line is cut behind the words that take the letter, in the place of an answer to the good-bye."""
    script = (*HELLO, "250 OK", "250 OK", "354 go on")
    with a_scripted_server(script, to_letter="250 queued") as server:
        assert handed(server) == "250 queued"


def test_a_certificate_that_is_not_trusted_is_refused_and_nothing_is_said(authority: trustme.CA) -> None:
    with a_mail_server(Box(), authority, asks_who=True) as box:
        told = refusal(box.server(Security.STARTTLS, user=USER, password=PASSWORD))
    assert told.is_final
    assert told.answer.startswith("The certificate of 127.0.0.1 is not trusted: ")
    assert (box.letters, box.signed_in) == ([], [])


def test_a_certificate_of_another_name_is_refused(trusted: trustme.CA) -> None:
    with a_mail_server(Box(), trusted) as box:
        told = refusal(replace(box.server(Security.STARTTLS), host="127.0.0.2"))
    assert told.is_final or "cannot be reached" in told.answer
    assert box.letters == []


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost"])
def test_a_certificate_that_is_trusted_lets_the_letter_go_encrypted(trusted: trustme.CA, host: str) -> None:
    with a_mail_server(Box(host=host), trusted, asks_who=True) as box:
        assert handed(box.server(Security.STARTTLS, user=USER, password=PASSWORD)) == "250 queued as 4711"
    assert (box.letters, box.were_encrypted, box.signed_in) == ([LETTER], [True], ["yes"])


def test_a_server_without_encryption_gets_neither_letter_nor_password() -> None:
    with a_mail_server(Box(), asks_who=True) as box:
        told = refusal(box.server(Security.STARTTLS, user=USER, password=PASSWORD))
    assert (told.answer, told.is_final) == ("The mail server offers no encryption (STARTTLS).", True)
    assert (box.letters, box.signed_in) == ([], [])


def test_a_wrong_password_is_refused_at_once() -> None:
    with a_mail_server(Box(), asks_who=True) as box:
        told = refusal(box.server(user=USER, password="not-that-one"))
    assert told.is_final
    assert told.answer.startswith("535 ")
    assert box.letters == []


@pytest.mark.parametrize(
    "repeated",
    [
        PASSWORD,
        base64.b64encode(f"\0{USER}\0{PASSWORD}".encode()).decode(),
        base64.b64encode(PASSWORD.encode()).decode(),
    ],
)
def test_a_server_that_says_the_password_back_is_not_repeated(repeated: str) -> None:
    with a_scripted_server(
        ("220 hello", "250-mail.example\r\n250 AUTH PLAIN", f"535 {repeated} is wrong")
    ) as found:
        server = replace(found, user=USER, password=PASSWORD)
        told = refusal(server)
    assert told.answer == "535 … is wrong"
    assert PASSWORD not in repr(server) + str(told) + repr(told)
    assert told.__cause__ is None


def test_what_a_server_says_is_kept_as_one_short_line() -> None:
    with a_scripted_server((*HELLO, "250 OK", "550-<b>no\x07\r\n550 " + "x" * 400)) as server:
        told = refusal(server)
    assert told.answer.startswith("550 <b>no x")
    assert (len(told.answer), told.answer[-1]) == (LONGEST_ANSWER, "…")


def test_an_address_beyond_ascii_goes_to_a_server_that_takes_such() -> None:
    with a_mail_server(Box()) as box:
        handed(box.server(), "jörn@müller.example")
    assert box.addresses == ["jörn@müller.example"]
    with a_scripted_server(HELLO) as server:
        told = refusal(server, "jörn@müller.example")
    assert (told.answer, told.is_final) == ("The mail server takes no address with such letters.", True)


def test_a_line_break_in_an_address_says_nothing_of_its_own() -> None:
    with a_mail_server(Box()) as box:
        told = refusal(box.server(), "ines@radley.example>\r\nRCPT TO:<all@customers.example")
    assert (told.answer, told.is_final) == ("This cannot be said to a mail server.", True)
    assert box.letters == []
