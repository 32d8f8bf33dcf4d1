"""What the book refuses of letters, as facts."""

from datetime import date

from studio.book.errors import BookError, NotFound


class MailUnknown(NotFound):
    """The quote has no such letter."""

    def __init__(self, quote: str, mail_id: int) -> None:
        super().__init__(f"no letter {mail_id} of {quote}")
        self.quote = quote
        self.mail_id = mail_id


class MailNotRefused(BookError):
    """The letter waits, or the mail server has it: there is nothing to send again."""

    def __init__(self, quote: str) -> None:
        super().__init__(f"the letter with {quote} was not refused")
        self.quote = quote


class QuoteRunOut(BookError):
    """The quote's last day, `valid_until`, is over: it goes to nobody any more."""

    def __init__(self, number: str, valid_until: date) -> None:
        super().__init__(f"quote {number} was good until {valid_until.isoformat()}")
        self.number = number
        self.valid_until = valid_until
