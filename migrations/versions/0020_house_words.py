"""The studio's country, and its notes on hallmark, allergy and resizing."""

import sqlalchemy as sa
from alembic import op

revision = "0020"
down_revision = "0019"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns; a studio so far has said nothing of them."""
    for name in ("country", "hallmark_note", "allergy_note", "resizing_note"):
        with op.batch_alter_table("studio") as studio:
            studio.add_column(sa.Column(name, sa.Text, nullable=False, server_default=""))
