"""Money of an order: its account, and card numbers that are kept nowhere."""

import pytest

from studio.craft.payments import Account, holds_card_number


def test_an_account_says_what_is_left_or_what_goes_back() -> None:
    assert Account(150000, 63260).left_minor == 86740
    assert Account(150000, 63260).back_minor == 0
    assert (Account(13680, 54720).left_minor, Account(13680, 54720).back_minor) == (0, 41040)


def test_nothing_is_left_while_nobody_said_what_is_owed() -> None:
    assert (Account(None, 500).left_minor, Account(None, 500).back_minor) == (0, 0)


@pytest.mark.parametrize(
    "words",
    # The test numbers that card schemes publish for trying out, from memory.
    ["4111 1111 1111 1111", "card 5555-5555-5555-4444", "378282246310005", "6011000990139424"],
)
def test_a_card_s_number_is_known(words: str) -> None:
    assert holds_card_number(words)


@pytest.mark.parametrize(
    "words",
    [
        "", "HB 0481", "slip 2026-118", "4111 1111 1111 1112", "12 34 56 12345678",
        "GB29 NWBK 6016 1331 9268 19",  # an account, from memory the usual example of ISO 13616
        "00000000000000000000000",
    ],
)  # fmt: skip
def test_what_is_no_card_s_number_may_stand(words: str) -> None:
    assert not holds_card_number(words)
