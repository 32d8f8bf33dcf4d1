"""Reminders in the outbox: what they are about, their subject and their words; two more ends of a letter."""

import sqlalchemy as sa
from alembic import op

revision = "0033"
down_revision = "0032"
branch_labels = None
depends_on = None

STATES = "('queued', 'handed over', 'refused', 'taken along', 'not needed')"


def upgrade() -> None:
    """Add the columns: no letter until now reminded anybody."""
    for name in ("waiting", "refused"):
        op.drop_index(f"ix_outbox_{name}", "outbox")
    with op.batch_alter_table("outbox") as outbox:
        outbox.add_column(sa.Column("about", sa.Text))
        outbox.add_column(sa.Column("subject", sa.Text, nullable=False, server_default=""))
        outbox.add_column(sa.Column("words", sa.Text, nullable=False, server_default=""))
        outbox.drop_constraint("ck_outbox_kind", type_="check")
        outbox.drop_constraint("ck_outbox_state", type_="check")
        outbox.create_check_constraint("ck_outbox_kind", "kind IN ('quote', 'test', 'reminder')")
        outbox.create_check_constraint("ck_outbox_state", f"state IN {STATES}")
        outbox.create_check_constraint(
            "ck_outbox_about", "about IS NULL OR about IN ('quote', 'deposit', 'balance')"
        )
        outbox.create_check_constraint("ck_outbox_reminder", "(kind = 'reminder') = (about IS NOT NULL)")
    for name, column, state in (("waiting", "next_try_at", "queued"), ("refused", "quote_id", "refused")):
        holds = sa.text(f"state = '{state}'")
        op.create_index(f"ix_outbox_{name}", "outbox", [column], sqlite_where=holds, postgresql_where=holds)
