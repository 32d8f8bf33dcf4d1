import math
from itertools import product

import pytest

from studio.craft.alloys import ALLOYS, Metal
from studio.craft.designs import WIRE_PROFILES, Pattern, PatternWhen, Profile, Stock
from studio.craft.operations import Operation
from studio.craft.profiles import neutral_mm
from studio.craft.reckonings import Reckoning
from studio.craft.route import route
from tests.craft.drawn import a_reckoning

WAYS = [
    (Pattern.PLAIN, None),
    (Pattern.HAMMERED, PatternWhen.FLAT),
    (Pattern.HAMMERED, PatternWhen.CLOSED),
    (Pattern.STAMPED, PatternWhen.FLAT),
    (Pattern.STAMPED, PatternWhen.CLOSED),
    (Pattern.ROLLED, PatternWhen.FLAT),
]
FAMILIES = list({(alloy.metal, alloy.anneal.quench): key for key, alloy in ALLOYS.items()}.values())
"""One alloy for each metal and way of cooling."""
RINGS = [
    a_reckoning(profile, 3.0, 3.0, alloy=alloy, stock=stock, pattern=pattern, pattern_when=when)
    for profile, (pattern, when), alloy, stock in product(Profile, WAYS, FAMILIES, Stock)
]


def keys(ring: Reckoning) -> list[str]:
    return [step.key for step in route(ring)]


def step(ring: Reckoning, key: str) -> Operation:
    return next(step for step in route(ring) if step.key == key)


def is_patterned_flat(ring: Reckoning) -> bool:
    return ring.design.pattern_when is PatternWhen.FLAT


def test_plain_half_round_patterned_rolled_and_wire_rings_go_different_ways() -> None:
    rings = [
        a_reckoning(),
        a_reckoning(Profile.HALF_ROUND, 4, 1.7, stock=Stock.STRIP),
        a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT),
        a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.CLOSED),
        a_reckoning(pattern=Pattern.ROLLED, pattern_when=PatternWhen.FLAT),
        a_reckoning(Profile.ROUND, 2, 2),
    ]
    lists = [tuple((step.name, step.text) for step in route(ring)) for ring in rings]
    assert len(set(lists)) == len(rings)
    assert len({tuple(keys(ring)) for ring in rings[:5]}) == 5


def test_every_ring_begins_at_the_scales_and_ends_with_the_finish() -> None:
    for ring in RINGS:
        way = keys(ring)
        assert (way[0], way[-1]) == ("weigh", "finish")
        assert len(set(way)) == len(way)


@pytest.mark.parametrize(
    ("earlier", "later"),
    [
        ("weigh", "saw"), ("roll", "saw"), ("profile", "square"), ("square", "bend"),
        ("anneal", "bend"), ("bend", "solder"), ("solder", "round"), ("round", "sides"), ("sides", "size"),
        ("seam-pattern", "size"), ("size", "finish"),
    ],
)  # fmt: skip
def test_the_order_of_two_steps_holds_for_every_ring(earlier: str, later: str) -> None:
    ways = [way for ring in RINGS if {earlier, later} <= set(way := keys(ring))]
    assert ways
    assert all(way.index(earlier) < way.index(later) for way in ways)


def test_a_section_is_filed_on_the_sawn_blank_but_before_a_pattern_that_is_rolled() -> None:
    for ring in RINGS:
        way = keys(ring)
        if "profile" in way:
            filed = way.index("profile")
            assert filed < way.index("roll") if "roll" in way else filed > way.index("saw")


def test_a_pattern_on_the_flat_strip_comes_before_its_ends_are_squared_and_before_annealing() -> None:
    for ring in RINGS:
        if is_patterned_flat(ring):
            way = keys(ring)
            cold = way.index("roll" if ring.design.pattern is Pattern.ROLLED else "pattern")
            assert cold < way.index("square") < way.index("anneal")


def test_a_pattern_after_closing_comes_after_the_seam_is_filed_and_before_the_size_is_checked() -> None:
    for ring in RINGS:
        if ring.design.pattern_when is PatternWhen.CLOSED:
            way = keys(ring)
            assert way.index("sides") < way.index("pattern") < way.index("size")
            assert "seam-pattern" not in way


def test_a_patterned_outside_is_soldered_from_the_inside_and_spared_by_file_and_wheel() -> None:
    for ring in RINGS:
        assert ("from the inside" in step(ring, "solder").text) == is_patterned_flat(ring)
        assert ("Not the outside" in step(ring, "sides").text) == is_patterned_flat(ring)
        assert ("seam-pattern" in keys(ring)) == is_patterned_flat(ring)
        has_pattern = ring.design.pattern is not Pattern.PLAIN
        assert ("No wheel on the pattern." in step(ring, "finish").cautions) == has_pattern


def test_a_rolled_pattern_is_rolled_and_measured_before_the_mark() -> None:
    ring = a_reckoning(pattern=Pattern.ROLLED, pattern_when=PatternWhen.FLAT)
    rolled = step(ring, "roll")
    assert keys(ring).index("roll") < keys(ring).index("saw")
    assert rolled.measure is not None
    assert (rolled.measure.label, rolled.measure.unit) == ("thick after", "mm")


def test_only_a_section_cut_from_strip_is_filed_to_shape() -> None:
    for ring in RINGS:
        is_filed = ring.design.stock is Stock.STRIP and ring.design.profile not in {
            Profile.FLAT,
            Profile.SQUARE,
        }
        assert ("profile" in keys(ring)) == is_filed


def test_heat_cooling_and_solder_are_those_of_the_alloy() -> None:
    for ring in RINGS:
        alloy = ALLOYS[ring.design.alloy]
        anneal, solder = step(ring, "anneal"), step(ring, "solder")
        assert f"{alloy.anneal.low_c} to {alloy.anneal.high_c} °C" in anneal.text
        assert alloy.anneal.quench in anneal.text
        assert alloy.anneal.quench in solder.text
        assert alloy.solder_hard_name in solder.text


def test_red_gold_is_quenched_and_nickel_white_never_from_red() -> None:
    assert "Quench at the last trace of red" in step(a_reckoning(alloy="gold-750-red"), "anneal").text
    assert "never from red" in step(a_reckoning(alloy="gold-750-white-ni"), "anneal").text


def test_platinum_and_palladium_meet_no_pickle_and_are_watched_through_dark_glasses() -> None:
    for ring in RINGS:
        is_of_platinum = ALLOYS[ring.design.alloy].metal in {Metal.PLATINUM, Metal.PALLADIUM}
        fire = step(ring, "anneal"), step(ring, "solder")
        assert all(("Pickle" in each.text) != is_of_platinum for each in fire)
        assert all(("no pickle" in " ".join(each.cautions_in_full)) == is_of_platinum for each in fire)
        assert ("Dark glasses." in fire[1].cautions) == is_of_platinum
        assert ("oxidising flame, clean brick" in fire[1].text) == is_of_platinum
        assert ("flux" in fire[1].tools) != is_of_platinum


def test_every_ring_is_told_of_torch_heat_acid_fume_eyes_motor_and_dust() -> None:
    for ring in RINGS:
        told = " ".join(caution for each in route(ring) for caution in each.cautions)
        wanted = [
            "Torch: hair",
            "grease near oxygen",
            "Hot looks cold",
            "Eyes covered",
            "Motor: hair",
            "Dust mask",
        ]
        if ALLOYS[ring.design.alloy].metal not in {Metal.PLATINUM, Metal.PALLADIUM}:
            wanted += ["Acid into water, lid on, copper tongs", "extraction on", "no cadmium"]
        assert [word for word in wanted if word not in told] == []


def test_the_steps_carry_the_figures_of_the_reckoning() -> None:
    ring = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)
    assert step(ring, "saw").name == f"Scribe {ring.mark_mm:.1f} and saw"
    assert step(ring, "square").name == f"Square the ends to {ring.true_length_mm:.2f}."
    assert step(ring, "weigh").text == f"{ring.issue_g:.2f} g of 750 yellow gold, strip 6 × 1.6."
    assert step(ring, "size").text == "both ways round: UK O½, 17.71 inside."


def test_a_ring_patterned_after_closing_is_rounded_up_smaller_first() -> None:
    ring = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.CLOSED)
    smaller = ring.true_length_mm / math.pi - 2 * neutral_mm(Profile.FLAT, 6, 1.6)
    assert smaller < ring.diameter_mm
    assert f"{smaller:.2f} inside" in step(ring, "round").text


def test_what_is_measured_is_asked_for_where_it_is_taken() -> None:
    ring = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)
    asked = {each.key: (each.measure.label, each.measure.unit) for each in route(ring) if each.measure}
    assert asked == {
        "weigh": ("issued", "g"),
        "saw": ("before", "mm"),
        "pattern": ("after", "mm"),
        "square": ("true", "mm"),
        "round": ("inside", "mm"),
        "size": ("inside", "mm"),
        "finish": ("finished", "g"),
    }


def test_the_cautions_of_a_step_read_as_one_line() -> None:
    assert step(a_reckoning(), "saw").caution == "Eyes covered."
    assert step(a_reckoning(), "bend").caution is None


def test_wire_is_named_as_it_lies_in_the_drawer() -> None:
    def stock(profile: Profile, width_mm: float, thickness_mm: float) -> str:
        return step(a_reckoning(profile, width_mm, thickness_mm), "weigh").text.split(", ", 1)[1]

    assert stock(Profile.HALF_ROUND, width_mm=4, thickness_mm=1.7) == "half-round wire 4 × 1.7."
    assert stock(Profile.ROUND, width_mm=2, thickness_mm=2) == "round wire 2."
    assert {Profile.ROUND, Profile.SQUARE} == WIRE_PROFILES
