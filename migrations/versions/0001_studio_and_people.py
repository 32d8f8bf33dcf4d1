"""The studio, its people, and their ways in."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)
ROLES = "role IN ('owner', 'counter', 'maker')"


def upgrade() -> None:
    """Make the tables of the studio, its people, and their ways in."""
    op.create_table(
        "studio",
        sa.Column("id", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("subtitle", sa.Text, nullable=False),
        sa.Column("address", sa.Text, nullable=False),
        sa.Column("phone", sa.Text, nullable=False),
        sa.Column("email", sa.Text, nullable=False),
        sa.Column("hallmark_rule", sa.Text, nullable=False),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("time_zone", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_studio"),
        sa.CheckConstraint("id = 1", name="ck_studio_one_row"),
        sa.CheckConstraint("hallmark_rule IN ('uk', 'convention', 'none')", name="ck_studio_hallmark_rule"),
        sa.CheckConstraint("length(currency) = 3", name="ck_studio_currency"),
    )
    op.create_table(
        "users",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("name_folded", sa.Text, nullable=False),
        sa.Column("role", sa.Text, nullable=False),
        sa.Column("passphrase_hash", sa.Text),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.Column("ended_at", MOMENT),
        sa.PrimaryKeyConstraint("id", name="pk_users"),
        sa.UniqueConstraint("name_folded", name="uq_users_name_folded"),
        sa.CheckConstraint(ROLES, name="ck_users_role"),
    )
    op.create_table(
        "one_time_links",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("user_id", sa.Integer, nullable=False),
        sa.Column("key_hash", sa.Text, nullable=False),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.Column("expires_at", MOMENT, nullable=False),
        sa.Column("used_at", MOMENT),
        sa.PrimaryKeyConstraint("id", name="pk_one_time_links"),
        sa.UniqueConstraint("key_hash", name="uq_one_time_links_key_hash"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_one_time_links_user_id_users"),
    )
    op.create_index("ix_one_time_links_user_id", "one_time_links", ["user_id"])
    op.create_table(
        "sign_ins",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("user_id", sa.Integer, nullable=False),
        sa.Column("key_hash", sa.Text, nullable=False),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.Column("seen_at", MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_sign_ins"),
        sa.UniqueConstraint("key_hash", name="uq_sign_ins_key_hash"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_sign_ins_user_id_users"),
    )
    op.create_index("ix_sign_ins_user_id", "sign_ins", ["user_id"])
    op.create_table(
        "sign_in_tries",
        sa.Column("subject", sa.Text, nullable=False),
        sa.Column("wrong", sa.Integer, nullable=False),
        sa.Column("last_at", MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("subject", name="pk_sign_in_tries"),
    )
    op.create_index("ix_sign_in_tries_last_at", "sign_in_tries", ["last_at"])
    op.create_table(
        "known_addresses",
        sa.Column("name_folded", sa.Text, nullable=False),
        sa.Column("address", sa.Text, nullable=False),
        sa.Column("seen_at", MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("name_folded", "address", name="pk_known_addresses"),
    )
    op.create_table(
        "api_tokens",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("role", sa.Text, nullable=False),
        sa.Column("token_hash", sa.Text, nullable=False),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.Column("ended_at", MOMENT),
        sa.PrimaryKeyConstraint("id", name="pk_api_tokens"),
        sa.UniqueConstraint("token_hash", name="uq_api_tokens_token_hash"),
        sa.CheckConstraint(ROLES, name="ck_api_tokens_role"),
    )
