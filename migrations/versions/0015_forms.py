"""The form of a ring: anticlastic, by the radius of its groove or by its rise. Without one it is a band."""

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns; every ring so far is a band."""
    with op.batch_alter_table("rings") as rings:
        rings.add_column(sa.Column("form", sa.Text))
        rings.add_column(sa.Column("radius_um", sa.Integer))
        rings.add_column(sa.Column("rise_um", sa.Integer))
        rings.create_check_constraint("ck_rings_form", "form IS NULL OR form IN ('anticlastic')")
        rings.create_check_constraint(
            "ck_rings_groove",
            "(form IS NULL AND radius_um IS NULL AND rise_um IS NULL)"
            " OR (form IS NOT NULL AND (radius_um IS NULL) <> (rise_um IS NULL)"
            " AND (radius_um IS NULL OR radius_um > 0) AND (rise_um IS NULL OR rise_um > 0))",
        )
