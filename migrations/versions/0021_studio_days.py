"""The studio's closed days, and the days its rings take."""

import sqlalchemy as sa
from alembic import op

revision = "0021"
down_revision = "0020"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns; a studio so far has said nothing of them."""
    with op.batch_alter_table("studio") as studio:
        for name in ("closed_weekdays", "closed_on"):
            studio.add_column(sa.Column(name, sa.Text, nullable=False, server_default=""))
        for name in ("making_days", "assay_days", "finishing_days"):
            studio.add_column(sa.Column(name, sa.Integer, nullable=False, server_default="0"))
