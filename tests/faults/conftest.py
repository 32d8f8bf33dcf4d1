from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.web.house import Fresh, House, a_house


@pytest.fixture
def house(fresh: Fresh, tmp_path: Path) -> Iterator[House]:
    """A studio to put to the test: its own book and its own app."""
    with a_house(tmp_path, fresh) as opened:
        yield opened
