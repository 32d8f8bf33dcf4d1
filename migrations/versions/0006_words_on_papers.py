"""What a studio's quotes say in its own words."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None

RETURNS = "What is made to your order cannot be returned because of a change of mind. Faults we put right."


def upgrade() -> None:
    """Give the studio a name for its tax, a sentence on returns, and room for small print."""
    for name in ("tax_name", "returns", "small_print"):
        op.add_column("studio", sa.Column(name, sa.Text))
    op.execute(
        sa.text("UPDATE studio SET tax_name = 'VAT', returns = :returns, small_print = ''").bindparams(
            returns=RETURNS
        )
    )
    with op.batch_alter_table("studio") as studio:
        for name in ("tax_name", "returns", "small_print"):
            studio.alter_column(name, existing_type=sa.Text, nullable=False)
