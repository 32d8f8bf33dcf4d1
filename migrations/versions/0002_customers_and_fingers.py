"""Customers, and what their fingers measured."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the tables of customers and of the fingers measured."""
    op.create_table(
        "customers",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("name_folded", sa.Text, nullable=False),
        sa.Column("phone", sa.Text),
        sa.Column("phone_reversed", sa.Text, nullable=False),
        sa.Column("email", sa.Text),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_customers"),
        sa.CheckConstraint("length(name) > 0", name="ck_customers_name"),
    )
    op.create_index("ix_customers_name_folded_id", "customers", ["name_folded", "id"])
    op.create_index("ix_customers_phone_reversed", "customers", ["phone_reversed"])
    op.create_table(
        "fingers",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("customer_id", sa.Integer, nullable=False),
        sa.Column("hand", sa.Text),
        sa.Column("finger", sa.Text),
        sa.Column("system", sa.Text, nullable=False),
        sa.Column("label", sa.Text, nullable=False),
        sa.Column("circumference_um", sa.Integer, nullable=False),
        sa.Column("knuckle_label", sa.Text),
        sa.Column("knuckle_circumference_um", sa.Integer),
        sa.Column("to_label", sa.Text),
        sa.Column("to_circumference_um", sa.Integer),
        sa.Column("measured", sa.Text),
        sa.Column("gauge_width_um", sa.Integer),
        sa.Column("is_warm", sa.Boolean),
        sa.Column("taken_at", MOMENT, nullable=False),
        sa.Column("taken_by", sa.Text),
        sa.PrimaryKeyConstraint("id", name="pk_fingers"),
        sa.ForeignKeyConstraint(["customer_id"], ["customers.id"], name="fk_fingers_customer_id_customers"),
        sa.CheckConstraint("system IN ('uk', 'us', 'iso', 'jp', 'ch', 'de')", name="ck_fingers_system"),
        sa.CheckConstraint(
            "measured IS NULL OR measured IN ('gauge', 'ring', 'told')", name="ck_fingers_measured"
        ),
        sa.CheckConstraint("hand IS NULL OR hand IN ('left', 'right')", name="ck_fingers_hand"),
        sa.CheckConstraint(
            "finger IS NULL OR finger IN ('thumb', 'index', 'middle', 'ring', 'little')",
            name="ck_fingers_finger",
        ),
        sa.CheckConstraint("circumference_um > 0", name="ck_fingers_circumference"),
    )
    op.create_index("ix_fingers_customer_id_taken_at", "fingers", ["customer_id", "taken_at"])
