"""The outbox: letters with quotes that go out by mail, and what the mail server said to them."""

import sqlalchemy as sa
from alembic import op

revision = "0031"
down_revision = "0030"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the table; what left before by hand stands among the sendings."""
    op.create_table(
        "outbox",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("quote_id", sa.Integer, nullable=False),
        sa.Column("to_address", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("state", sa.Text, nullable=False),
        sa.Column("tries", sa.Integer, nullable=False),
        sa.Column("next_try_at", MOMENT),
        sa.Column("taken_until", MOMENT),
        sa.Column("last_answer", sa.Text, nullable=False),
        sa.Column("message_id", sa.Text, nullable=False),
        sa.Column("queued_at", MOMENT, nullable=False),
        sa.Column("settled_at", MOMENT),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_outbox"),
        sa.UniqueConstraint("message_id", name="uq_outbox_message_id"),
        sa.ForeignKeyConstraint(["quote_id"], ["quotes.id"], name="fk_outbox_quote_id_quotes"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_outbox_user_id_users"),
        sa.CheckConstraint("kind IN ('quote', 'test')", name="ck_outbox_kind"),
        sa.CheckConstraint("state IN ('queued', 'handed over', 'refused')", name="ck_outbox_state"),
        sa.CheckConstraint("(state = 'queued') = (settled_at IS NULL)", name="ck_outbox_settled_at"),
        sa.CheckConstraint("(state = 'queued') = (next_try_at IS NOT NULL)", name="ck_outbox_next_try_at"),
    )
    op.create_index("ix_outbox_quote_id_id", "outbox", ["quote_id", "id"])
    op.create_index("ix_outbox_user_id", "outbox", ["user_id"])
    for name, column, state in (("waiting", "next_try_at", "queued"), ("refused", "quote_id", "refused")):
        holds = sa.text(f"state = '{state}'")
        op.create_index(f"ix_outbox_{name}", "outbox", [column], sqlite_where=holds, postgresql_where=holds)
