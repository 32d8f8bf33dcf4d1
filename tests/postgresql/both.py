"""Which tests run on both databases: all of four rooms, but those of SQLite itself, which are listed here."""

import os

SQLITE, POSTGRESQL = "sqlite", "postgresql"
ROOMS = frozenset({"tests.book", "tests.web", "tests.migrations", "tests.faults"})
"""Where each test with a book runs once on each database. The other rooms have it in a file."""
OF_THE_FILE = {
    "tests.book.test_backups": "SQLite's own copying, and a file spoilt by hand",
    "tests.book.test_restoring": "a copy of a file put in a file's place",
    "tests.book.test_engine.test_a_full_disk_is_told_and_leaves_the_book_whole": "a limit of pages",
    "tests.book.test_engine.test_every_connection_is_careful": "reads pragmas back",
    "tests.book.test_finding.test_a_list_is_read_from_its_index_alone": "SQLite's plan of a query",
    "tests.faults.test_full_disk": "each database fills up in a way of its own; both are among the ways",
}
"""The modules and tests that are of SQLite itself, each with what it has that a server has not."""
ONLY = os.environ.get("STUDIO_TEST_DATABASE", "")  # read before the tests clear the settings


def databases_of(module: str, test: str) -> tuple[str, ...]:
    """The databases that a test with a book runs on: both in the four rooms, or the one asked for."""
    if f"{module}.{test}" in OF_THE_FILE or module in OF_THE_FILE:
        return (SQLITE,)
    if ONLY:
        return (ONLY,)
    return (SQLITE, POSTGRESQL) if module.rpartition(".")[0] in ROOMS else (SQLITE,)
