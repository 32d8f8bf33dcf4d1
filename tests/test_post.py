import hashlib
import re
from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from email import message_from_bytes
from email.header import decode_header, make_header
from email.message import EmailMessage
from email.policy import compat32, default
from html import unescape
from typing import Any

import pytest

from studio.post import AddressRefused, LineBreakRefused, QuoteLetter, quote_mail
from tests.hostile import PAYLOADS
from tests.papers.quotes import quote

NOW = datetime(2026, 11, 26, 14, 5, tzinfo=UTC)
LETTER = QuoteLetter(
    number="2026-118-q1",
    studio="Wrenfold, goldsmiths",
    studio_email="book@wrenfold.example",
    address="7 Cooper's Stair",
    phone="01632 960 715",
    customer="Ines Radley",
    email="ines@radley.example",
    rings=("A flat band, 6 mm wide and 1.6 mm thick, in 18 carat yellow gold (750).",),
    ready="Friday, 11 December 2026, from 10:00",
    total="£1,680.00",
    tax="£280.00 VAT",
    deposit="£672.00",
    holds="This price holds until Thursday, 10 December 2026, since the price of gold moves.",
)
HEAD = Counter(["From", "To", "Subject", "Date", "Message-ID", "X-Unsent", "MIME-Version", "Content-Type"])
"""The lines of its head, each once."""
BREAKS = ["\r\n", "\n", "\r", "\x0b", "\x0c", "\x00", "\x1c", "\x85", "\N{LINE SEPARATOR}", "\udcff"]


def read(mail: bytes) -> EmailMessage:
    message = message_from_bytes(mail, policy=default)
    assert isinstance(message, EmailMessage)
    assert message.defects == []
    return message


def text_of(message: EmailMessage) -> str:
    body = message.get_body(("plain",))
    assert body is not None
    words = body.get_content()
    assert isinstance(words, str)
    return words.replace("\r\n", "\n")


def html_of(message: EmailMessage) -> str:
    body = message.get_body(("html",))
    assert body is not None
    return str(body.get_content())


def test_the_letter_reads_back_with_its_head() -> None:
    message = read(quote_mail(LETTER, b"%PDF-", now=NOW))
    assert message["From"].addresses[0].display_name == "Wrenfold, goldsmiths"
    assert message["From"].addresses[0].addr_spec == "book@wrenfold.example"
    assert str(message["To"]) == "Ines Radley <ines@radley.example>"
    assert message["Subject"] == "Quote 2026-118-q1 from Wrenfold, goldsmiths"
    assert message["Date"].datetime == NOW
    assert message["Message-ID"].endswith("@wrenfold.example>")
    assert message["X-Unsent"] == "1"


def test_the_quote_is_attached_byte_for_byte() -> None:
    pdf = quote("hammered-flat")
    message = read(quote_mail(LETTER, pdf, now=NOW))
    (attached,) = message.iter_attachments()
    content = attached.get_payload(decode=True)
    assert isinstance(content, bytes)
    assert hashlib.sha256(content).hexdigest() == hashlib.sha256(pdf).hexdigest()
    assert attached.get_content_type() == "application/pdf"
    assert attached.get_filename() == "quote-2026-118-q1.pdf"


def test_the_text_is_ready_to_read() -> None:
    assert text_of(read(quote_mail(LETTER, b"%PDF-", now=NOW))) == (
        "Dear Ines Radley,\n"
        "\n"
        "with this comes our quote 2026-118-q1 for your ring, drawn to scale.\n"
        "\n"
        "A flat band, 6 mm wide and 1.6 mm thick, in 18 carat yellow gold (750).\n"
        "\n"
        "Price: £1,680.00, with £280.00 VAT\n"
        "To begin: £672.00, the rest when you collect\n"
        "Ready: Friday, 11 December 2026, from 10:00\n"
        "\n"
        "This price holds until Thursday, 10 December 2026, since the price of gold moves.\n"
        "\n"
        "If all is right, say yes at our counter, or sign the paper and send it back.\n"
        "If anything is not, tell us, and we write it anew.\n"
        "\n"
        "Wrenfold, goldsmiths\n"
        "7 Cooper's Stair\n"
        "01632 960 715\n"
    )


LINK = "https://book.wrenfold.example/answer/4s6Kk0CzQF1PdEwsN0"


def test_with_a_link_the_letter_leads_to_the_customer_s_own_page() -> None:
    message = read(quote_mail(replace(LETTER, link=LINK), b"%PDF-", now=NOW))
    assert (
        "Say yes, or tell us what is not right, on your own page:\n"
        f"{LINK}\n"
        "\n"
        "Whoever has this link can answer in your place, so keep it to yourself.\n"
        "\n"
        "Or say yes at our counter, or sign the paper and send it back.\n"
        "If anything is not, tell us, and we write it anew.\n"
    ) in text_of(message)
    assert f'<a href="{LINK}">{LINK}</a>' in html_of(message)
    choice = replace(LETTER, link=LINK, variants=("Variant A, £450.00: A ring.", "Variant B, £1: A ring."))
    words = text_of(read(quote_mail(choice, b"", now=NOW)))
    assert "Say which you choose, or tell us what is not right, on your own page:" in words
    assert "Or say which you choose at our counter" in words
    assert LINK not in repr(choice)


def test_what_stands_in_the_place_of_a_link_leads_nowhere() -> None:
    html = html_of(read(quote_mail(replace(LETTER, is_test=True, link="(the link)"), b"", now=NOW)))
    assert "(the link)" in html
    assert "<a" not in html


@pytest.mark.parametrize("payload", PAYLOADS)
def test_html_shows_every_sign_as_it_was_typed(payload: str) -> None:
    letter = replace(LETTER, customer=payload, rings=(payload,), link=f'https://a.example/"><b>{payload}')
    html = html_of(read(quote_mail(letter, b"", now=NOW)))
    assert re.findall("<(?!/?(?:html|head|meta|title|body|p|br|a)[ >]|!DOCTYPE)", html) == []
    (href,) = re.findall('href="([^"]*)"', html)
    assert unescape(href) == letter.link


def test_what_there_is_not_is_not_mentioned() -> None:
    bare = replace(LETTER, tax="", deposit="", address="", rings=("A ring.", "Another."))
    words = text_of(read(quote_mail(bare, b"%PDF-", now=NOW)))
    assert "for your rings, drawn to scale.\n\nA ring.\nAnother.\n\nPrice: £1,680.00\nReady: " in words
    assert words.endswith("\n\nWrenfold, goldsmiths\n01632 960 715\n")


def test_a_customer_without_an_address_gets_a_letter_without_one() -> None:
    message = read(quote_mail(replace(LETTER, email=""), b"%PDF-", now=NOW))
    assert message["To"] is None
    assert "Dear Ines Radley," in text_of(message)


@pytest.mark.parametrize("broken", BREAKS, ids=ascii)
@pytest.mark.parametrize("field", ["number", "studio", "studio_email", "customer", "email"])
def test_no_name_or_address_begins_a_line_of_its_own_in_the_head(field: str, broken: str) -> None:
    typed: dict[str, Any] = {field: f"{getattr(LETTER, field)}{broken}Bcc: all@customers.example"}
    with pytest.raises(LineBreakRefused) as refused:
        quote_mail(replace(LETTER, **typed), b"%PDF-", now=NOW)
    assert refused.value.field == field


@pytest.mark.parametrize(
    "typed",
    [
        "nobody",
        "@wrenfold.example",
        "a@",
        "a b@c.example",
        "a@b@c.example",
        "a@c.example, d@e.example",
        "<a@b>",
    ],
)
def test_what_is_no_address_is_refused(typed: str) -> None:
    for field, letter in (
        ("studio_email", replace(LETTER, studio_email=typed)),
        ("email", replace(LETTER, email=typed)),
    ):
        with pytest.raises(AddressRefused) as refused:
            quote_mail(letter, b"%PDF-", now=NOW)
        assert refused.value.field == field


def test_a_studio_without_an_address_cannot_write() -> None:
    with pytest.raises(AddressRefused):
        quote_mail(replace(LETTER, studio_email=""), b"%PDF-", now=NOW)


@pytest.mark.parametrize(
    "name",
    [
        "Jörn Müller-Łukasiewicz",
        'Ines "Nessie" Radley, née O\'Dell',
        "Пётр Иванов",
        "山田 花子",
        "Konstantina Papadimitriou-Featherstonehaugh and Bartholomew Wolfeschlegelstein " * 3,
    ],
)
def test_every_name_reads_back_as_it_is(name: str) -> None:
    name = name.strip()
    mail = quote_mail(replace(LETTER, customer=name, studio=f"{name} & Co"), b"%PDF-", now=NOW)
    message = read(mail)
    assert message["To"].addresses[0].display_name == name
    assert message["Subject"] == f"Quote 2026-118-q1 from {name} & Co"
    assert mail.partition(b"\r\n\r\n")[0].isascii()


HEAD_OF_ITS_OWN = (
    *PAYLOADS,
    "Ines <all@customers.example>, Ines",
    "Ines <all@customers.example>, née Radley <all@customers.example>;",
    'Ines" <all@customers.example>, "',
    "all: Ines, <all@customers.example>;",
    "=?utf-8?q?Ines=0D=0ABcc:all@customers.example?=",
    '(Ines) [Radley] \\\\ "',
)


@pytest.mark.parametrize("long", [1, 40], ids=["in a line", "longer than a line"])
@pytest.mark.parametrize("name", HEAD_OF_ITS_OWN)
def test_a_name_is_one_name_whatever_signs_it_has_and_however_long_it_is(name: str, long: int) -> None:
    """Between angle brackets stands one address: that of who gets the letter."""
    name = " ".join([name] * long)[:240].strip()
    message = read(quote_mail(replace(LETTER, customer=name, studio=name), b"%PDF-", now=NOW))
    assert [one.addr_spec for one in message["To"].addresses] == ["ines@radley.example"]
    assert [one.addr_spec for one in message["From"].addresses] == ["book@wrenfold.example"]
    assert Counter(message.keys()) == HEAD
    raw = message_from_bytes(quote_mail(replace(LETTER, customer=name), b"", now=NOW), policy=compat32)["To"]
    written = raw.rpartition("<")[0].replace("\r\n", "").strip()
    if "=?" in written:
        assert str(make_header(decode_header(written))) == name
    else:
        assert message["To"].addresses[0].display_name == name


def test_an_address_beyond_ascii_reads_back_as_it_is() -> None:
    mail = quote_mail(replace(LETTER, email="jörn@müller.example"), b"%PDF-", now=NOW)
    found = read(mail)["To"].addresses[0].addr_spec
    # The reader hands bytes beyond ASCII on as they came.
    assert found.encode("utf-8", "surrogateescape").decode() == "jörn@müller.example"


def test_lines_end_as_mail_asks_and_the_hour_keeps_its_zone() -> None:
    there = datetime(2026, 7, 1, 0, 30, tzinfo=timezone(timedelta(hours=1)))
    mail = quote_mail(LETTER, b"%PDF-", now=there)
    assert mail.count(b"\n") == mail.count(b"\r\n") == mail.count(b"\r")
    assert max(map(len, mail.split(b"\r\n"))) <= 998  # RFC 5322, 2.1.1
    assert b"Date: Wed, 01 Jul 2026 00:30:00 +0100\r\n" in mail
