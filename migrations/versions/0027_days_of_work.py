"""The days that setting, engraving and plating take."""

import sqlalchemy as sa
from alembic import op

revision = "0027"
down_revision = "0026"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns; a studio so far has said nothing of them."""
    with op.batch_alter_table("studio") as studio:
        for name in ("setting_days", "engraving_days", "plating_days"):
            studio.add_column(sa.Column(name, sa.Integer, nullable=False, server_default="0"))
