from collections.abc import Iterator
from pathlib import Path

import pytest

from studio.craft.roles import Role
from tests.web.house import House, a_house, make_book

Made = tuple[Path, dict[Role, str], dict[Role, str]]


@pytest.fixture(scope="session")
def made_for_faults(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """A book made once; every test works on its own copy."""
    home = tmp_path_factory.mktemp("made-for-faults")
    return home, *make_book(home)


@pytest.fixture
def house(made_for_faults: Made, tmp_path: Path) -> Iterator[House]:
    """A studio to put to the test: its own book and its own app."""
    with a_house(tmp_path, *made_for_faults) as opened:
        yield opened
