"""What Alembic runs to bring a book up to date.

The connection comes from the program (`studio.book.migrating`). From the command line, for writing a new
revision, it is opened from the settings. No main option is asked for: an installed program has no file with
any.
"""

from alembic import context
from sqlalchemy import Connection

from studio.book.engine import WRITES, open_book
from studio.book.migrating import loose_references
from studio.book.tables import metadata
from studio.settings import read_settings


def run(connection: Connection) -> None:
    """Run the revisions in one transaction: a book is at the new revision, or where it was."""
    context.configure(
        connection=connection.execution_options(**{WRITES: True}),
        target_metadata=metadata(),
        compare_type=True,
        transactional_ddl=True,  # SQLite can, though Alembic does not count on it
    )
    with context.begin_transaction():
        context.run_migrations()


given = context.config.attributes.get("connection")
if given is not None:
    run(given)
else:
    engine = open_book(read_settings().book_url)
    with engine.connect() as opened, loose_references(opened):
        run(opened)
    engine.dispose()
