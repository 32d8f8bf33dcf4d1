"""The studio's figures: rates and metal prices, each entry dated."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the tables of the rates and the metal prices."""
    op.create_table(
        "rates",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("since", sa.Date, nullable=False),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("labour_hour_minor", sa.BigInteger, nullable=False),
        sa.Column("overhead_bp", sa.Integer, nullable=False),
        sa.Column("consumables_minor", sa.BigInteger, nullable=False),
        sa.Column("premium_bp", sa.Integer, nullable=False),
        sa.Column("waste_bp", sa.Integer, nullable=False),
        sa.Column("margin_bp", sa.Integer, nullable=False),
        sa.Column("extra_margins_bp", sa.Text, nullable=False),
        sa.Column("assay_minor", sa.BigInteger, nullable=False),
        sa.Column("tax_bp", sa.Integer, nullable=False),
        sa.Column("step_minor", sa.BigInteger, nullable=False),
        sa.Column("deposit_bp", sa.Integer, nullable=False),
        sa.Column("valid_days", sa.Integer, nullable=False),
        sa.Column("stale_after_days", sa.Integer, nullable=False),
        sa.Column("minutes", sa.Text, nullable=False),
        sa.Column("entered_at", MOMENT, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_rates"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_rates_user_id_users"),
        sa.CheckConstraint("length(currency) = 3", name="ck_rates_currency"),
        sa.CheckConstraint("margin_bp >= 0 AND margin_bp < 9500", name="ck_rates_margin_bp"),
        sa.CheckConstraint("valid_days > 0", name="ck_rates_valid_days"),
    )
    op.create_index("ix_rates_since_id", "rates", ["since", "id"])
    op.create_index("ix_rates_user_id", "rates", ["user_id"])
    op.create_table(
        "metal_prices",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("metal", sa.Text, nullable=False),
        sa.Column("price", sa.Text, nullable=False),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("unit", sa.Text, nullable=False),
        sa.Column("on_day", sa.Date, nullable=False),
        sa.Column("source", sa.Text, nullable=False),
        sa.Column("entered_at", MOMENT, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_metal_prices"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_metal_prices_user_id_users"),
        sa.CheckConstraint("unit IN ('g', 'kg', 'ozt')", name="ck_metal_prices_unit"),
        sa.CheckConstraint("length(currency) = 3", name="ck_metal_prices_currency"),
    )
    op.create_index("ix_metal_prices_metal_on_day_id", "metal_prices", ["metal", "on_day", "id"])
    op.create_index("ix_metal_prices_user_id", "metal_prices", ["user_id"])
