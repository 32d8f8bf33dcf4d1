"""Which tests run on which database: those of the book on both, those of the pages on one or the other."""

import os
from zlib import crc32

SQLITE, POSTGRESQL = "sqlite", "postgresql"
ROOMS = frozenset({"tests.book", "tests.web", "tests.migrations", "tests.faults"})
"""Where a test with a book is a test of both databases. The other rooms have it in a file."""
PAGES = "tests.web"
"""The room whose tests run on one database each: a page reads and writes by the verbs of the book alone."""
PAGES_ON_BOTH = {
    "tests.web.test_strange": "a server refuses numbers and signs that a file takes",
    "tests.web.test_api_once": "what is sent twice at once is settled by the database",
    "tests.web.test_on_the_wire": "requests that end half way leave connections behind",
}
"""The modules of pages that run on both all the same, each with its reason."""
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
    """The databases that a test with a book runs on: both in the four rooms, or the one asked for.

    A test of pages runs on one of them, half of the tests here and half there, always the same.
    """
    if f"{module}.{test}" in OF_THE_FILE or module in OF_THE_FILE:
        return (SQLITE,)
    if ONLY:
        return (ONLY,)
    if module.rpartition(".")[0] == PAGES and module not in PAGES_ON_BOTH:
        return ((SQLITE, POSTGRESQL)[crc32(f"{module}.{test}".encode()) % 2],)
    return (SQLITE, POSTGRESQL) if module.rpartition(".")[0] in ROOMS else (SQLITE,)
