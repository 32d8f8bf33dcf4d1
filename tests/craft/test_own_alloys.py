"""Alloys of the studio's own: what they weigh, what they are priced by, and what cannot stand."""

from dataclasses import replace

import pytest

from studio.craft.alloys import ALLOYS, density_g_cm3
from studio.craft.avoiding import check_avoided, read_avoid
from studio.craft.designs import Profile, System, design
from studio.craft.errors import Refused, Why
from studio.craft.hallmark import HallmarkRule, density_sd_percent, foresight
from studio.craft.metals import Alloy, Metal
from studio.craft.own_alloys import OwnAlloy, Part, alloy_of, check_own_alloys, own_key, short_name, spread
from studio.craft.practice import COMMON_PRACTICE
from studio.craft.pricing import metals_priced
from studio.craft.reckonings import reckon
from tests.builders import a_finger

PARTS = (Part("Au", 750), Part("Ag", 125), Part("Cu", 125))
KNOWN = OwnAlloy("own-leaf-750", "Leaf 750", "gold-750-yellow", 750, PARTS)
CARAT = OwnAlloy("own-old-18-ct", "Old 18 ct", "gold-750-yellow", 750)
TYPED = OwnAlloy("own-makers", "Maker's 585", "gold-585-rose", 585, density=13.22, note="maker's sheet")


def test_an_alloy_of_known_parts_weighs_as_their_mixture() -> None:
    # 1000/(750/19.32 + 125/10.49 + 125/8.96), the inverse rule of mixtures by hand
    assert density_g_cm3(alloy_of(KNOWN)) == pytest.approx(15.459, abs=0.001)
    assert alloy_of(KNOWN).knows_parts


def test_the_makers_density_goes_before_everything() -> None:
    assert density_g_cm3(alloy_of(TYPED)) == 13.22
    assert density_g_cm3(alloy_of(replace(KNOWN, density=15.6))) == 15.6
    assert alloy_of(TYPED).source == "maker's sheet"


@pytest.mark.parametrize(
    ("metal", "fineness", "low", "high"),
    [
        # UK bullion reference on densities: 9 carat 10.9 to 12.7, 14 carat 12.9 to 14.6, 18 carat yellow and
        # white 14.7 to 16.9, 22 carat 17.7 to 17.8, sterling 10.2 to 10.3; white alloys with nickel of other
        # pages are lighter
        (Metal.GOLD, 375, 10.7, 12.7),
        (Metal.GOLD, 585, 12.6, 14.6),
        (Metal.GOLD, 750, 14.6, 16.9),
        (Metal.GOLD, 916, 17.7, 17.8),
        (Metal.SILVER, 925, 10.2, 10.4),
        # by hand: 1000/(800/19.32 + 200/8.96) = 15.69 and 1000/(800/19.32 + 200/10.49) = 16.54
        (Metal.GOLD, 800, 15.6, 16.6),
    ],
)
def test_where_only_the_fineness_is_known_there_is_a_spread(
    metal: Metal, fineness: int, low: float, high: float
) -> None:
    assert spread(metal, fineness)[0] == pytest.approx((low, high), abs=0.006)


@pytest.mark.parametrize(
    "alloy", [one for one in ALLOYS.values() if one.is_precious], ids=lambda one: one.key
)
def test_every_listed_alloy_lies_within_the_spread_of_its_fineness(alloy: Alloy) -> None:
    (low, high), _ = spread(alloy.metal, alloy.fineness)
    assert low <= density_g_cm3(alloy) <= high


def test_a_spread_is_said_and_widens_the_hallmark() -> None:
    practice = replace(COMMON_PRACTICE, own_alloys=(CARAT, KNOWN))
    ring = design(Profile.FLAT, 4, 1.5, CARAT.key, alloys=practice.alloys)
    told = reckon(a_finger("M", System.UK), ring, practice)
    (caveat,) = [one for one in told.caveats if one.code == "density-spread"]
    assert "14.6 to 16.9" in caveat.message
    assert "7.3 % more or less" in caveat.message  # 1.15 of 15.75
    terms = practice.hallmark
    assert density_sd_percent(told.alloy, terms) == pytest.approx(100 * 2.3 / 12**0.5 / 15.75)
    wide, narrow = (
        foresight(reckon(a_finger("M", System.UK), replace(ring, alloy=key), practice), HallmarkRule.UK)
        for key in (CARAT.key, KNOWN.key)
    )
    assert wide is not None
    assert narrow is not None
    assert wide.high_g - wide.low_g > 1.5 * (narrow.high_g - narrow.low_g)


def test_an_own_alloy_is_worked_and_priced_like_the_one_it_is_alike() -> None:
    made = alloy_of(KNOWN)
    assert (made.anneal, made.solder, made.metal) == (
        ALLOYS["gold-750-yellow"].anneal, ALLOYS["gold-750-yellow"].solder, Metal.GOLD,
    )  # fmt: skip
    assert metals_priced(made) == ("gold", "silver")
    assert metals_priced(alloy_of(CARAT)) == ("gold",)
    red = OwnAlloy("own-red", "Red metal", "brass", 0, (Part("Cu", 900), Part("Zn", 100)))
    assert metals_priced(alloy_of(red)) == ("brass",)


def test_a_ring_of_an_own_alloy_is_refused_where_the_practice_has_none() -> None:
    ring = design(Profile.FLAT, 4, 1.5, KNOWN.key, alloys={KNOWN.key})
    with pytest.raises(Refused):
        reckon(a_finger(), ring, COMMON_PRACTICE)


@pytest.mark.parametrize(
    ("alloy", "field", "why"),
    [
        (replace(KNOWN, name=" "), "name", Why.EMPTY),
        (replace(KNOWN, name="925 silver"), "name", Why.NAME_TAKEN),
        (replace(KNOWN, alike="gold-1"), "alike", Why.UNKNOWN_CHOICE),
        (replace(KNOWN, fineness=0), "fineness", Why.TOO_SMALL),
        (replace(KNOWN, fineness=1001), "fineness", Why.TOO_LARGE),
        (replace(KNOWN, fineness=751), "parts", Why.TOO_SMALL),
        (replace(KNOWN, parts=PARTS[:2]), "parts", Why.NOT_WHOLE),
        (replace(KNOWN, parts=(Part("Au", 750), Part("Xx", 250))), "parts", Why.UNKNOWN_CHOICE),
        (replace(KNOWN, parts=(Part("Au", 500), Part("Au", 500))), "parts", Why.UNKNOWN_CHOICE),
        (replace(KNOWN, density=154.0), "density", Why.TOO_LARGE),
        (OwnAlloy("own-red", "Red metal", "brass", 0), "density", Why.EMPTY),
    ],
)
def test_what_cannot_be_an_alloy_is_refused(alloy: OwnAlloy, field: str, why: Why) -> None:
    assert (f"own_alloys.0.{field}", why) in [(one.field, one.why) for one in check_own_alloys((alloy,))]


def test_two_alloys_have_two_names() -> None:
    twice = (KNOWN, replace(CARAT, name="LEAF 750"))
    assert [one.field for one in check_own_alloys(twice)] == ["own_alloys.1.name"]
    assert check_own_alloys((KNOWN, CARAT, TYPED)) == []


def test_a_key_is_made_of_the_name() -> None:
    assert own_key("Pale 750 rosé") == "own-pale-750-rose"
    assert own_key("Leaf 750", frozenset({"own-leaf-750"})) == "own-leaf-750-2"
    assert own_key("金") == "own-alloy"
    assert short_name("own-pale-750-rose") == "pale 750 rose"
    assert short_name("gold-750-yellow") == "750 yellow"


def test_one_that_is_put_away_is_offered_no_more_and_still_reckoned_with() -> None:
    practice = replace(COMMON_PRACTICE, own_alloys=(replace(KNOWN, is_put_away=True),))
    assert KNOWN.key not in {alloy.key for alloy in practice.offered_alloys}
    assert KNOWN.key in practice.alloys


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("Nickel", "nickel"),
        ("co, NI", "nickel, cobalt"),
        ("cobalt and nickel", "nickel, cobalt"),
        (" ", None),
    ],
)
def test_metals_to_avoid_are_read_by_name_or_symbol(typed: str, read: str | None) -> None:
    assert read_avoid(typed) == read


@pytest.mark.parametrize("typed", ["pollen", "nickel, dust", "x" * 130])
def test_what_is_no_metal_cannot_be_avoided(typed: str) -> None:
    with pytest.raises(Refused):
        read_avoid(typed)


def test_nickel_white_gold_is_refused_to_who_avoids_nickel() -> None:
    with pytest.raises(Refused) as refused:
        check_avoided(ALLOYS["gold-750-white-ni"], "nickel")
    assert [one.why for one in refused.value.refusals] == [Why.AVOIDED]
    check_avoided(ALLOYS["gold-750-white-pd"], "nickel, cobalt")
    check_avoided(ALLOYS["gold-750-white-ni"], None)


def test_an_alloy_of_unknown_parts_is_promised_to_nobody_who_avoids_a_metal() -> None:
    with pytest.raises(Refused) as refused:
        check_avoided(alloy_of(CARAT), "nickel")
    assert [one.why for one in refused.value.refusals] == [Why.PARTS_UNKNOWN]
    check_avoided(alloy_of(KNOWN), "nickel")
