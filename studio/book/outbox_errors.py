"""What the book refuses of letters, as facts."""

from datetime import date, datetime

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


class NothingToRemind(BookError):
    """The order `number` owes no answer, deposit or balance, whatever the reminder was `about`."""

    def __init__(self, number: str, about: str) -> None:
        super().__init__(f"{number} needs no reminder of its {about}")
        self.number = number
        self.about = about


class RemindedLately(BookError):
    """The customer was reminded of the same at `at`, less than a day ago."""

    def __init__(self, number: str, at: datetime) -> None:
        super().__init__(f"the customer of {number} was reminded at {at.isoformat()}")
        self.number = number
        self.at = at


class QuoteRunOut(BookError):
    """The quote's last day, `valid_until`, is over: it goes to nobody any more."""

    def __init__(self, number: str, valid_until: date) -> None:
        super().__init__(f"quote {number} was good until {valid_until.isoformat()}")
        self.number = number
        self.valid_until = valid_until
