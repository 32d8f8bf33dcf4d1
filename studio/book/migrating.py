"""Running the migrations. Alembic is loaded with this file, and so only where a book is behind."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection


def upgrade(connection: Connection, folder: Path) -> None:
    """Run what is missing of the migrations in `folder`, in the transaction of `connection`."""
    config = configuration(folder)
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


def configuration(folder: Path) -> Config:
    """Alembic's configuration, built here: an installed wheel carries no pyproject.toml to read it from."""
    config = Config()
    config.set_main_option("script_location", str(folder).replace("%", "%%"))
    return config
