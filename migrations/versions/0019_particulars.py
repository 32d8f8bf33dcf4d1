"""A ring's finish and inscription, and what a letter and plating cost."""

import sqlalchemy as sa
from alembic import op

revision = "0019"
down_revision = "0018"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns; of no ring so far was anything asked, and nothing was charged."""
    with op.batch_alter_table("rings") as rings:
        rings.add_column(sa.Column("particulars", sa.Text))
    for name in ("letter_minor", "plating_minor"):
        with op.batch_alter_table("rates") as rates:
            rates.add_column(sa.Column(name, sa.BigInteger, nullable=False, server_default="0"))
