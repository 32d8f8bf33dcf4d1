"""How telephone numbers are spelled: one table of what is typed and what it ends in."""

import pytest

from studio.book.folding import digits, looks_like_phone, phone_endings

BRITISH, DANISH, GERMAN = "01632 960 715", "+45 32 12 34 56", "+49 (0)30 901820"


@pytest.mark.parametrize(
    ("kept", "typed"),
    [
        (BRITISH, "01632 960 715"),
        (BRITISH, "01632960715"),
        (BRITISH, "+44 1632 960715"),
        (BRITISH, "+44 (0)1632 960-715"),
        (BRITISH, "0044 1632 960 715"),
        (BRITISH, "(01632) 960.715"),
        (BRITISH, "01632\N{NO-BREAK SPACE}960\N{EN DASH}715"),
        (BRITISH, "\uff10\uff11\uff16\uff13\uff12 960715"),
        (BRITISH, "960 715"),
        (BRITISH, "0715"),
        ("+44 1632 960715", "01632 960715"),
        (DANISH, "32123456"),
        (DANISH, "0045 32123456"),
        ("32 12 34 56", "+45 32123456"),
        ("32 12 34 56", "0045 3212 3456"),
        (GERMAN, "030 901820"),
        ("030 901820", "+49 (0)30 901820"),
        ("030 901820", "+49 30 901820"),
    ],
)
def test_a_number_is_found_however_it_is_spelled(kept: str, typed: str) -> None:
    assert looks_like_phone(typed)
    assert any(digits(kept.replace("(0)", "")).endswith(ending) for ending in phone_endings(typed))


@pytest.mark.parametrize("typed", ["01632 960 716", "+44 1632 960 714", "9607150", "+45 96 07 15 00"])
def test_another_number_is_not_found(typed: str) -> None:
    assert not any(digits(BRITISH).endswith(ending) for ending in phone_endings(typed))


@pytest.mark.parametrize("typed", ["715", "Müller", "2026-118a", "", "tray 2"])
def test_what_is_no_number_is_none(typed: str) -> None:
    assert not looks_like_phone(typed)
