"""Mail, one function per message. A message is made here; it is saved as a file, or handed over by `smtp`."""

import re
import unicodedata
from dataclasses import dataclass, field
from datetime import datetime
from email.header import Header
from email.message import EmailMessage
from email.policy import SMTP, SMTPUTF8
from email.utils import format_datetime, quote
from functools import cache
from textwrap import wrap

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from studio.resources import templates_dir

_PLAIN = SMTP.clone(cte_type="7bit")
_END = "\r\n"
_LINE = 76
"""Signs of a line in a head, at most."""
_AS_IT_IS = re.compile(r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+(?: [A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+)*")
"""Words that need no quotes in a mailbox (RFC 5322, atoms)."""


class LineBreakRefused(ValueError):
    """A name, an address or a number that would begin a new line in a message's head."""

    def __init__(self, name: str) -> None:
        super().__init__(f"{name}: no line may break here")
        self.field = name


class AddressRefused(ValueError):
    """Something that is no mail address stands where one is needed."""

    def __init__(self, name: str) -> None:
        super().__init__(f"{name}: no mail address")
        self.field = name


@dataclass(frozen=True, slots=True)
class QuoteLetter:
    """What the letter with a quote says, as plain words ready to read.

    `studio` is the full name ('Wrenfold, goldsmiths'), `studio_email` where answers go; `email` is empty for
    a customer without one: the letter then has no address yet. `tax` and `deposit` are amounts in words,
    empty where there is none. `variants` are the ways to choose from, a line each with its price. `kind` is
    what the paper is called, 'Quote' or 'Amendment'. A test goes to the studio itself and says so.
    `link` is the address of the customer's own page, in a test words that stand in its place; '' for none.
    """

    number: str
    studio: str
    studio_email: str
    address: str
    phone: str
    customer: str
    email: str
    rings: tuple[str, ...]
    ready: str
    total: str
    tax: str
    deposit: str
    holds: str
    variants: tuple[str, ...] = ()
    kind: str = "Quote"
    is_test: bool = False
    link: str = field(default="", repr=False)


@dataclass(frozen=True, slots=True)
class ReminderLetter:
    """What a letter that reminds somebody says: `words` as they were read and changed, with line ends.

    `number` is that of the quote it goes with, `link` as in a `QuoteLetter`, somewhere in the words.
    """

    number: str
    subject: str
    words: str
    studio: str
    studio_email: str
    customer: str
    email: str
    link: str = field(default="", repr=False)


def quote_mail(letter: QuoteLetter, pdf: bytes, *, now: datetime, message_id: str = "") -> bytes:
    """The letter with the quote attached (RFC 5322), as text and as HTML that says the same.

    With its `message_id` it is ready to be handed to a mail server, all of it ASCII but for an address that
    is not; without one it is a file that a mail program opens ready to send. Raises `LineBreakRefused` where
    a name, number or address would break a line of its head, and `AddressRefused` for what is no mail
    address. `now` carries its zone.
    """
    subject = f"{'Test: ' if letter.is_test else ''}{letter.kind} {letter.number} from {letter.studio}"
    whose = letter.studio if letter.is_test else letter.customer
    paper = (f"{letter.kind.lower()}-{letter.number}.pdf", pdf)
    return _message(letter, subject, _paragraphs(letter), whose, paper, now=now, message_id=message_id)


def quote_words(letter: QuoteLetter) -> str:
    """The text of the letter with a quote, to be copied into a letter of one's own."""
    return _text(_paragraphs(letter))


def reminder_mail(letter: ReminderLetter, pdf: bytes | None, *, now: datetime, message_id: str = "") -> bytes:
    """A letter that reminds somebody, with the quote attached where there is a `pdf`.

    Written and refused as by `quote_mail`, the subject being a line too.
    """
    paper = None if pdf is None else (f"quote-{letter.number}.pdf", pdf)
    paragraphs = [part.split("\n") for part in letter.words.split("\n\n") if part.strip()]
    return _message(
        letter, letter.subject, paragraphs, letter.customer, paper, now=now, message_id=message_id
    )


def _message(
    letter: QuoteLetter | ReminderLetter,
    subject: str,
    paragraphs: list[list[str]],
    whose: str,
    paper: tuple[str, bytes] | None,
    *,
    now: datetime,
    message_id: str,
) -> bytes:
    """The letter to the mailbox of `whose`; an address that is empty is left for its reader to fill in."""
    for name in ("number", "studio", "studio_email", "customer", "email"):
        _check_one_line(getattr(letter, name), name)
    _check_one_line(subject, "subject")
    domain = _checked_address(letter.studio_email, "studio_email").rpartition("@")[2]
    head = [_mailbox("From", letter.studio, letter.studio_email)]
    if letter.email:
        head.append(_mailbox("To", whose, _checked_address(letter.email, "email")))
    head.append(_line("Subject", subject))
    message = EmailMessage(_PLAIN)
    message["Date"] = format_datetime(now)
    message["Message-ID"] = message_id or f"<quote-{letter.number}.{now:%Y%m%d%H%M%S}@{domain}>"
    if not message_id:
        message["X-Unsent"] = "1"  # mail programs that know the mark open the file as a draft to send
    message.set_content(_text(paragraphs))
    html = _environment().get_template("mail/letter.html")
    href = letter.link if letter.link.startswith(("http://", "https://")) else ""
    message.add_alternative(html.render(subject=subject, paragraphs=paragraphs, href=href), subtype="html")
    if paper is not None:
        message.add_attachment(paper[1], maintype="application", subtype="pdf", filename=paper[0])
    # An address with letters beyond ASCII has no other way into a head (RFC 6532); names are encoded.
    written = message.as_bytes(policy=_PLAIN if domain.isascii() else SMTPUTF8)
    return "".join(line + _END for line in head).encode() + written


def _text(paragraphs: list[list[str]]) -> str:
    return "\n\n".join("\n".join(lines) for lines in paragraphs) + "\n"


@cache
def _environment() -> Environment:
    return Environment(
        loader=FileSystemLoader(templates_dir()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def _paragraphs(letter: QuoteLetter) -> list[list[str]]:
    """The words of the letter, by paragraphs and lines."""
    rings = "rings" if len(letter.rings) > 1 else "ring"
    tax = f", with {letter.tax}" if letter.tax else ""
    price = [f"Price: {letter.total}{tax}"]
    if letter.deposit:
        price.append(f"To begin: {letter.deposit}, the rest when you collect")
    first = "Or" if letter.link else "If all is right,"
    say = "say which you choose" if letter.variants else "say yes"
    own_page = [
        [f"{say.capitalize()}, or tell us what is not right, on your own page:", letter.link],
        ["Whoever has this link can answer in your place, so keep it to yourself."],
    ]
    test = (
        [[f"A test: the {letter.kind.lower()} as {letter.customer} would get it."]] if letter.is_test else []
    )
    return [
        *test,
        [f"Dear {letter.customer},"],
        [f"with this comes our {letter.kind.lower()} {letter.number} for your {rings}, drawn to scale."],
        [*(letter.variants or letter.rings)],
        [*([] if letter.variants else price), f"Ready: {letter.ready}"],
        [letter.holds],
        *(own_page if letter.link else []),
        [
            f"{first} {say} at our counter, or sign the paper and send it back.",
            "If anything is not, tell us, and we write it anew.",
        ],
        [line for line in (letter.studio, letter.address, letter.phone) if line],
    ]


def _check_one_line(words: str, name: str) -> None:
    """Refuses whatever some reader of a head might take for the end of a line."""
    if any(unicodedata.category(sign) in {"Cc", "Zl", "Zp", "Cs"} for sign in words):
        raise LineBreakRefused(name)


def _checked_address(address: str, name: str) -> str:
    user, _, domain = address.rpartition("@")
    if not user or not domain or any(sign.isspace() or sign in '<>(),;:"[]\\@' for sign in user + domain):
        raise AddressRefused(name)
    return address


def _mailbox(head: str, name: str, address: str) -> str:
    """A line with one mailbox: `To: Ines Radley <ines@radley.example>`.

    Written here, since the standard library loses the quotes of a name that is longer than a line, and what
    stands in it between angle brackets would then be an address of its own.
    """
    if _AS_IT_IS.fullmatch(name) and "=?" not in name:
        return _folded(f"{head}: {name} <{address}>")
    quoted = f'{head}: "{quote(name)}" <{address}>'
    if quoted.isascii() and len(quoted) <= _LINE and "=?" not in name:
        return quoted
    return f"{_encoded(head, name)}{_END} <{address}>"


def _line(head: str, words: str) -> str:
    """A line of words alone, as `Subject`."""
    return _folded(f"{head}: {words}") if words.isascii() and "=?" not in words else _encoded(head, words)


def _folded(line: str) -> str:
    """The line as several, each but the first beginning with a space."""
    parts = wrap(line, _LINE, break_long_words=False, break_on_hyphens=False)
    return f"{_END} ".join(parts)


def _encoded(head: str, words: str) -> str:
    """Words of any script and length as encoded words (RFC 2047), of which none is read as anything else."""
    encoded = Header(words, "utf-8", maxlinelen=_LINE, header_name=head)
    return f"{head}: {encoded.encode(linesep=_END)}"
