"""What is typed about the deposit of an agreed order."""

from collections.abc import Mapping

from studio.book.quotes import Agreement
from studio.web.amounts import read_amount
from studio.web.quotes_reading import LONGEST_REASON
from studio.web.reading import Reading
from studio.web.texts import read_text


def read_deposit(raw: Mapping[str, object], agreement: Agreement) -> tuple[int | None, str | None]:
    """What was paid, in minor units, and why the work begins without all of it; one of the two, or both.

    0 says that nothing was paid after all, where something was noted. Raises `FieldErrors` at `deposit` and
    `without_deposit`.
    """
    asked = Reading(raw, "")
    read = read_amount(agreement.currency)
    paid = asked.read("deposit", read) if asked.has("deposit") else None
    without = asked.read(
        "without_deposit", lambda value, field: read_text(value, field, longest=LONGEST_REASON)
    )
    if paid == 0 and agreement.deposit_minor is None:
        asked.add("deposit", "Nothing was paid? Leave it empty, or say below why the work begins without.")
    if paid is None and not without and not asked.is_wrong("deposit", "without_deposit"):
        asked.add("deposit", "What was paid? Or say below why the work begins without.")
    asked.stop()
    return paid, without or None
