"""The history of what was done, and the answers kept so that nothing is done twice."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the tables of the history and of the answers kept."""
    op.create_table(
        "audit_entries",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("at", MOMENT, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("verb", sa.Text, nullable=False),
        sa.Column("order_id", sa.Integer),
        sa.Column("customer_id", sa.Integer),
        sa.Column("old", sa.Text),
        sa.Column("new", sa.Text),
        sa.Column("reason", sa.Text),
        sa.PrimaryKeyConstraint("id", name="pk_audit_entries"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_audit_entries_user_id_users"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_audit_entries_order_id_orders"),
        sa.ForeignKeyConstraint(
            ["customer_id"], ["customers.id"], name="fk_audit_entries_customer_id_customers"
        ),
    )
    op.create_index("ix_audit_entries_user_id", "audit_entries", ["user_id"])
    op.create_index("ix_audit_entries_order_id_id", "audit_entries", ["order_id", "id"])
    op.create_index("ix_audit_entries_customer_id_id", "audit_entries", ["customer_id", "id"])
    op.create_table(
        "answers",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("key", sa.Text, nullable=False),
        sa.Column("fingerprint", sa.Text, nullable=False),
        sa.Column("status", sa.Integer, nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sa.Column("location", sa.Text),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_answers"),
        sa.UniqueConstraint("actor", "key", name="uq_answers_actor_key"),
    )
    op.create_index("ix_answers_created_at", "answers", ["created_at"])
