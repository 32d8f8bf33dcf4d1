"""Up to three variants on one quote, and amendments to what was agreed."""

import sqlalchemy as sa
from alembic import op

revision = "0024"
down_revision = "0023"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns: until now every quote had one way to make the order, and none was an amendment."""
    with op.batch_alter_table("orders") as orders:
        orders.add_column(sa.Column("variants", sa.Text))
        orders.add_column(sa.Column("amending", sa.Text))
    with op.batch_alter_table("agreements") as agreements:
        agreements.add_column(sa.Column("variant", sa.Text))
    op.drop_index("ix_quotes_standing", "quotes")
    with op.batch_alter_table("quotes") as quotes:
        quotes.add_column(sa.Column("kind", sa.Text, nullable=False, server_default="quote"))
        quotes.add_column(sa.Column("variants", sa.Text, nullable=False, server_default="[]"))
        quotes.create_check_constraint("ck_quotes_kind", "kind IN ('quote', 'amendment')")
        quotes.drop_constraint("uq_quotes_order_id_revision", type_="unique")
        quotes.create_unique_constraint("uq_quotes_order_id_kind_revision", ["order_id", "kind", "revision"])
    stands = sa.text("state <> 'superseded'")
    op.create_index(
        "ix_quotes_standing",
        "quotes",
        ["order_id", "state"],
        unique=True,
        sqlite_where=stands,
        postgresql_where=stands,
    )
