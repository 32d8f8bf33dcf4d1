"""What the demo's studio measures with. All invented."""

from datetime import date, timedelta

from studio.book.gauges import GaugeDraft
from studio.craft.designs import GaugeKind, System


def demo_gauges(opened: date) -> tuple[GaugeDraft, ...]:
    """A wide set and a narrow one, held against each other shortly before `opened`, and a stick."""
    checked = opened - timedelta(days=9)
    return (
        GaugeDraft(
            "Wide set", GaugeKind.SET, System.UK, 6.0, 0.625, 0.12, checked, "reads small beside the stick"
        ),
        GaugeDraft("Narrow set", GaugeKind.SET, System.UK, 2.5, 0.625, 0.0, checked),
        GaugeDraft("Steel stick", GaugeKind.STICK, System.UK, None, 0.625, 0.0, checked, "the master"),
    )
