"""Whatever is typed is text: on every page, on both papers, in the letter, by the forms and by the API."""

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from email import message_from_bytes
from email.message import EmailMessage
from email.policy import default
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests.full_studio import must_go, sent, write_the_orders, write_the_studio
from tests.hostile import PAYLOADS, SPLITTING, harmless, hostile
from tests.long_texts import Writer, a_full_order
from tests.papers.laid_out import acts
from tests.papers.printed import text_of
from tests.test_post import HEAD
from tests.web.house import Fresh, House, a_house, file_url, make_book, put

LEADING = frozenset({"href", "src", "action", "formaction"})
ADDRESSES = LEADING | {"style", "srcdoc", "http-equiv", "content", "type"}
"""Attributes whose value a browser acts upon; what is typed changes none of them."""


class Structure(HTMLParser):
    """A page as its elements and their attributes, and all of its text."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, tuple[str, ...]]] = []
        self.texts: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = [f"{name}={_leads_to(value)}" if name in ADDRESSES else name for name, value in attrs]
        self.elements.append((tag, tuple(told)))
        self.texts += [value for _, value in attrs if value]

    def handle_endtag(self, tag: str) -> None:
        self.elements.append((f"/{tag}", ()))

    def handle_comment(self, data: str) -> None:
        self.elements.append(("comment", (data,)))

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def _leads_to(address: str | None) -> str:
    """Where it leads, without the form as typed behind the question mark and the key of an alloy."""
    return re.sub(r"/own-[a-z0-9-]+$", "/own", (address or "").partition("?")[0])


@dataclass(frozen=True, slots=True)
class Written:
    """What a studio in which one writer wrote every text shows of itself."""

    pages: Mapping[str, str]
    quote: bytes
    amendment: bytes
    sheet: bytes
    letter: bytes
    confirmation: bytes
    receipt: bytes
    back: bytes
    money: bytes
    invoice: bytes
    credit: bytes


def read_all(home: Path, write: Writer) -> Written:
    tokens, keys = make_book(home)
    with a_house(home, Fresh(file_url(home), tokens, keys)) as house:
        write_the_studio(house, write)
        must_go(sent(house, "/studio", "/studio/facts", {"email": "book@wrenfold.example"}))
        orders = write_the_orders(house, write)
        pages = {}
        for path in (*orders.pages, "/counter/customers?q=411"):
            answer = house.browse("GET", path)
            assert answer.status_code == 200, path
            pages[path] = answer.text
        papers = tuple(
            house.browse("GET", path).content
            for path in (
                f"/quotes/{orders.quoted}-q1.pdf",
                f"/quotes/{orders.amended}-a1.pdf",
                f"/orders/{orders.agreed}/bench-sheet.pdf",
                f"/quotes/{orders.quoted}-q1/letter.eml",
                *orders.documents,
                *orders.invoices,
            )
        )
    return Written(pages, *papers)


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Written:
    return read_all(tmp_path_factory.mktemp("hostile"), hostile())


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Written:
    return read_all(tmp_path_factory.mktemp("harmless"), harmless(hostile()))


def closed(text: str) -> str:
    return "".join(text.split())


def must_act_on_nothing(found: Structure) -> None:
    """No handler, no script or style of the page's own, no address that is a program."""
    for tag, attributes in found.elements:
        assert not [one for one in attributes if one.startswith(("on", "style=", "srcdoc"))]
        assert tag not in {"iframe", "base", "object", "embed", "style"}, (tag, attributes)
        assert tag != "img" or "src=/orders/" in " ".join(attributes), attributes
        assert tag != "script" or any(one.startswith("src=/static/") for one in attributes)
        for one in attributes:
            name, _, value = one.partition("=")
            assert name not in LEADING or value.startswith(("/", "#", "?", "tel:", "mailto:"))


@pytest.mark.parametrize("payload", ["<script>alert(1)</script>", "<svg/onload=alert(1)>", "<base/href=/x>"])
def test_a_page_that_took_text_for_more_would_be_found(payload: str) -> None:
    with pytest.raises(AssertionError):
        must_act_on_nothing(Structure(f"<p>{payload}</p>"))
    with pytest.raises(AssertionError):
        must_act_on_nothing(Structure('<a href="javascript:alert(1)">a</a>'))
    with pytest.raises(AssertionError):
        must_act_on_nothing(Structure('<input value=""/onfocus=alert(1)/autofocus="">'))


def test_every_page_has_the_elements_it_has_with_harmless_texts(written: Written, plain: Written) -> None:
    assert written.pages.keys() == plain.pages.keys()
    for path, html in written.pages.items():
        found, expected = Structure(html), Structure(plain.pages[path])
        must_act_on_nothing(found)
        assert found.elements == expected.elements, path


PAPERS = (
    "quote", "amendment", "sheet", "confirmation", "receipt", "back", "money", "invoice", "credit",
)  # fmt: skip
OF_FEW_WORDS = {"money": 3, "credit": 2}
"""Papers without a long text, and how many payloads have no room on them."""
SHOWING_ALL = (
    "/orders/2026-1", "/orders/2026-3", "/orders/2026-3/rings/1", "/orders/2026-4",
    "/orders/2026-4/amendment", "/quotes/2026-4-a1", "/studio", "/customers/1",
)  # fmt: skip


def test_every_payload_is_read_on_pages_as_it_was_typed(written: Written) -> None:
    """Each on the orders' pages, the amendment's and the ring at the counter."""
    for path in SHOWING_ALL:
        texts = closed("".join(Structure(written.pages[path]).texts))
        assert [payload for payload in PAYLOADS if payload not in texts] == [], path


@pytest.mark.parametrize("name", PAPERS)
def test_a_paper_prints_every_payload_and_does_nothing(written: Written, plain: Written, name: str) -> None:
    pdf, harmless_pdf = getattr(written, name), getattr(plain, name)
    assert acts(pdf) == acts(harmless_pdf) == Counter()
    read = closed(text_of(pdf))
    lost = [payload for payload in PAYLOADS if payload not in read]
    assert len(lost) <= OF_FEW_WORDS.get(name, 0)


def test_the_letter_has_the_head_of_any_letter(written: Written, plain: Written) -> None:
    for letter in (written.letter, plain.letter):
        message = message_from_bytes(letter, policy=default)
        assert isinstance(message, EmailMessage)
        assert message.defects == []
        assert Counter(message.keys()) == HEAD
        parts = ["multipart/mixed", "multipart/alternative", "text/plain", "text/html", "application/pdf"]
        assert [part.get_content_type() for part in message.walk()] == parts
        assert [one.addr_spec for one in message["From"].addresses] == ["book@wrenfold.example"]
        assert len(message["To"].addresses) == 1
        body = message.get_body(("plain",))
        assert body is not None
        said = closed(body.get_content())
        assert (sum(payload in said for payload in PAYLOADS) > 8) == (letter is written.letter)
        html = message.get_body(("html",))
        assert html is not None
        assert set(re.findall(r"<(\w+)", html.get_content())) == LETTER_TAGS


LETTER_TAGS = {"html", "head", "meta", "title", "body", "p", "br"}
ONE_LINE = (
    "customer.name", "collects", "rings.0.finger.taken_by", "rings.0.inscription.text",
    "rings.0.stones.0.shape", "rings.0.stones.0.size", "rings.0.stones.0.stated", "rings.0.stones.0.tested",
    "rings.0.stones.0.condition", "rings.0.stones.0.value",
)  # fmt: skip


@pytest.mark.parametrize("field", ONE_LINE)
def test_no_text_of_one_line_takes_the_end_of_a_line(house: House, field: str) -> None:
    for typed in (SPLITTING, "a\rb", "a\nb", "a\x0bb", "a\x85b", "a\u2028b", "a\0b"):
        order = put(a_full_order(lambda _: "a word"), field, typed)
        answer = house.ask("POST", "/api/orders", json=order)
        assert answer.status_code == 422, (field, typed)
        assert [error["field"] for error in answer.json()["errors"]] == [field]


def test_an_address_of_a_customer_is_text_too(house: House) -> None:
    """An e-mail address may hold quotes and braces: it closes no attribute, and no letter goes there."""
    email = '"/onfocus=alert(1)/autofocus="\'{{7*7}}@x.example'
    customer = {"name": "Ines Radley", "phone": "01632 960 411", "email": email}
    number = house.take_order(customer=customer)
    for path in ("/customers", "/customers/1", f"/orders/{number}", "/orders/new?customer=1"):
        found = Structure(house.browse("GET", path).text)
        must_act_on_nothing(found)
        assert email in "".join(found.texts) or path.startswith("/orders/new")
