"""Sizes of Hong Kong and India, which go by a table."""

from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Let a finger be measured by them."""
    with op.batch_alter_table("fingers") as fingers:
        fingers.drop_constraint("ck_fingers_system", type_="check")
        fingers.create_check_constraint(
            "ck_fingers_system", "system IN ('uk', 'us', 'iso', 'jp', 'ch', 'de', 'hk', 'in')"
        )
