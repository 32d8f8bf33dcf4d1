"""What the API gives of a ring as it was made."""

from dataclasses import asdict

from studio.craft.as_made import AsMade
from studio.web.api_order_models import AsMadeOut


def as_made_out(made: AsMade) -> AsMadeOut:
    """A ring as it was handed over."""
    return AsMadeOut(
        ring=made.position,
        size=made.label,
        ordered_mm=made.ordered_mm,
        makers=made.makers,
        handed_over_at=made.handed_over_at,
        **asdict(made.figures),
    )
