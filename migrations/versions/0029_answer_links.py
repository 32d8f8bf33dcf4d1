"""Links by which customers answer a quote, only their hash kept, and what was answered."""

import sqlalchemy as sa
from alembic import op

revision = "0029"
down_revision = "0028"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "answer_links",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("quote_id", sa.Integer, nullable=False),
        sa.Column("key_hash", sa.Text, nullable=False),
        sa.Column("made_at", MOMENT, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("ended_at", MOMENT),
        sa.Column("reply", sa.Text),
        sa.Column("answered_at", MOMENT),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("words", sa.Text, nullable=False),
        sa.Column("address", sa.Text, nullable=False),
        sa.Column("sha256", sa.Text),
        sa.PrimaryKeyConstraint("id", name="pk_answer_links"),
        sa.UniqueConstraint("key_hash", name="uq_answer_links_key_hash"),
        sa.ForeignKeyConstraint(["quote_id"], ["quotes.id"], name="fk_answer_links_quote_id_quotes"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_answer_links_user_id_users"),
        sa.CheckConstraint("reply IS NULL OR reply IN ('yes', 'no')", name="ck_answer_links_reply"),
        sa.CheckConstraint("(reply IS NULL) = (answered_at IS NULL)", name="ck_answer_links_answered_at"),
    )
    op.create_index("ix_answer_links_quote_id", "answer_links", ["quote_id"])
    op.create_index("ix_answer_links_user_id", "answer_links", ["user_id"])
