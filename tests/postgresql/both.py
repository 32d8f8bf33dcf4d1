"""Which tests run on both databases: a part always, all of them when asked."""

import os

SQLITE, POSTGRESQL = "sqlite", "postgresql"
ALWAYS = frozenset(f"tests.{module}" for module in ("book.test_finding",))
"""What every run does on both: finding orders and customers, so far."""
OF_THE_FILE = frozenset({"tests.book.test_finding.test_a_list_is_read_from_its_index_alone"})
"""Tests of SQLite itself: its plan of a query, its pragmas, its copies. A server has nothing of the kind."""
ASKED = os.environ.get("STUDIO_TEST_DATABASE", SQLITE)  # read before the tests clear the settings


def databases_of(module: str, test: str) -> tuple[str, ...]:
    """The databases that a test with a book runs on."""
    if f"{module}.{test}" in OF_THE_FILE or module in OF_THE_FILE:
        return (SQLITE,)
    if ASKED == POSTGRESQL:
        return (POSTGRESQL,)
    return (SQLITE, POSTGRESQL) if module in ALWAYS else (SQLITE,)
