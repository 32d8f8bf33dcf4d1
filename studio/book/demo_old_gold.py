"""Old gold that the demo's studio bought over the counter, of invented sellers."""

from datetime import datetime, timedelta

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.old_gold import OldGoldDraft, Seller, buy_old_gold
from studio.craft.payments import Method

_BOUGHT = (
    (
        19,
        OldGoldDraft(
            "gold-375-yellow", 375, 8_420, "A curb chain, broken near the clasp", 17_500, Method.TRANSFER,
            Seller("Hedda Lorne", "3 Quay Lane\nHarbourtown", "passport, ends 4471"), is_theirs=True,
            marks="375, anchor", tested="acid on the stone", worth_minor=17_800,
        ),
    ),
    (
        4,
        OldGoldDraft(
            "gold-750-yellow", 748, 3_160, "A signet ring, the face worn away", 13_500, Method.TRANSFER,
            Seller("Piet Vandersloot", "12 Mill Row", "driving licence, ends 90KP"), is_theirs=True,
            marks="18ct", tested="X-ray", worth_minor=13_900,
        ),
    ),
)  # fmt: skip


def old_gold_in_demo(session: Session, *, actor: Actor, now: datetime) -> None:
    """Buy a chain and a signet ring."""
    for days, draft in _BOUGHT:
        buy_old_gold(session, draft=draft, actor=actor, now=now - timedelta(days=days))
