"""What operations say: courses, settings, marks, pairs, cautions, minutes, and the lines of a sheet."""

import pytest

from studio.craft.alloys import ALLOYS
from studio.craft.cautions import LOCAL_RULES, SENTENCES, Caution, in_full
from studio.craft.designs import Pattern, PatternWhen
from studio.craft.form import Form, FormKind
from studio.craft.hallmark import HallmarkRule
from studio.craft.minutes import (
    MinutesRecord,
    PlannedStep,
    median_minutes,
    minute_rows,
    planned_minutes,
    with_minutes,
)
from studio.craft.operations import Operation, lines_of_sheet
from studio.craft.particulars import (
    NOT_ASKED,
    Inscription,
    MarkPlace,
    Marks,
    MarkWish,
    Particulars,
    Setting,
    Stone,
    Surface,
)
from studio.craft.reckonings import Reckoning
from studio.craft.route import route
from studio.craft.route_forming import courses_of
from studio.craft.stones import is_delicate
from tests.craft.drawn import a_reckoning

FLARED = a_reckoning(width_mm=8.0, thickness_mm=0.8, form=Form(FormKind.ANTICLASTIC, radius_mm=12.4))
MINUTES = dict.fromkeys(minute_rows(), 10)


def named(operations: tuple[Operation, ...], key: str) -> Operation:
    return next(one for one in operations if one.key == key)


def told(operation: Operation) -> dict[str, object]:
    return {figure.name: figure.value for figure in operation.figures}


def keys(
    reckoning: Reckoning, asked: Particulars = NOT_ASKED, rule: HallmarkRule = HallmarkRule.NONE
) -> list[str]:
    return [one.key for one in route(reckoning, asked, rule)]


@pytest.mark.parametrize(("strain", "courses"), [(0.4, 3), (7.3, 3), (9.1, 4), (15.0, 5), (30.5, 6)])
def test_the_edges_are_sunk_in_three_to_six_courses(strain: float, courses: int) -> None:
    # 3 to 6 rounds for a ring, about 3 % in each: common practice, no source
    assert courses_of(strain) == courses


def test_an_anticlastic_band_is_annealed_before_each_course_and_rises_evenly() -> None:
    assert FLARED.form is not None
    operations = route(FLARED)
    way = [one.key for one in operations]
    wanted = ["anneal-form", "form", "anneal-form-2", "form-2", "anneal-form-3", "form-3", "size", "finish"]
    assert way[-len(wanted) :] == wanted
    rises = [told(one)["rise after this course"] for one in operations if one.row == "form"]
    assert rises == pytest.approx([0.220, 0.440, 0.661], abs=0.0006)
    assert "in 3 courses, annealed before each: radius 12.4" in named(operations, "form").text
    assert "away from the seam" in named(operations, "anneal-form-3").text
    assert way[0] == "trial", "its waist may move by more than a quarter US size"
    gentle = a_reckoning(width_mm=8.0, thickness_mm=0.8, form=Form(FormKind.ANTICLASTIC, radius_mm=40.0))
    assert keys(gentle)[0] == "weigh"


def test_a_patterned_band_is_sunk_without_flattening_its_pattern() -> None:
    patterned = a_reckoning(
        width_mm=8.0,
        thickness_mm=0.8,
        form=Form(FormKind.ANTICLASTIC, radius_mm=12.4),
        pattern=Pattern.STAMPED,
        pattern_when=PatternWhen.FLAT,
    )
    course = named(route(patterned), "form")
    assert "plastic mallet" in course.tools
    assert course.check.endswith("The pattern is not flattened.")


def test_the_minutes_of_courses_are_shared_and_add_up_to_their_row() -> None:
    operations = with_minutes(route(FLARED), FLARED.design, MINUTES)
    assert sum(one.minutes or 0 for one in operations if one.row == "form") == pytest.approx(10)
    planned = planned_minutes(route(FLARED), FLARED.design, MINUTES)
    assert [step.row for step in planned].count("form") == 1
    assert sum(step.minutes for step in planned) == pytest.approx(sum(one.minutes or 0 for one in operations))


def test_the_studios_own_median_goes_before_what_it_planned() -> None:
    medians = median_minutes({"solder": [12, 15, 40], "bend": [5, 6], "saw": []})
    assert medians == {"solder": MinutesRecord(15, 3)}
    ring = a_reckoning()
    operations = with_minutes(route(ring), ring.design, {"solder": 20, "bend": 8}, medians)
    assert named(operations, "solder").minutes == 15
    assert named(operations, "bend").minutes == 8
    assert named(operations, "saw").minutes is None
    face = median_minutes({"finish:plain": [30, 31, 32, 90]})
    assert named(with_minutes(route(ring), ring.design, {}, face), "finish").minutes == 31.5


def test_a_price_counts_the_minutes_of_the_record_and_says_of_how_many_rings() -> None:
    ring = a_reckoning()
    records = {"solder": MinutesRecord(31.5, 4)}
    table = {row: minutes for row, minutes in MINUTES.items() if row != "solder"}
    planned = {step.row: step for step in planned_minutes(route(ring), ring.design, table, records)}
    assert planned["solder"] == PlannedStep("solder", 32, 4), "half up, and no table is needed for it"
    assert planned["bend"] == PlannedStep("bend", MINUTES["bend"])


def test_what_is_priced_by_the_piece_has_no_minutes_and_holds_up_no_price() -> None:
    ring = a_reckoning()
    asked = Particulars(Surface.PLATED, None, Inscription("Ada"), (Stone(setting=Setting.BEZEL),), Marks())
    operations = route(ring, asked, HallmarkRule.UK)
    rows = [step.row for step in planned_minutes(operations, ring.design, MINUTES)]
    assert rows == [step.row for step in planned_minutes(route(ring), ring.design, MINUTES)]
    free = {one.key for one in with_minutes(operations, ring.design, MINUTES) if one.minutes is None}
    assert free == {"sponsor", "setting", "solder-setting", "hallmark", "inscribe", "set", "plate"} & {
        one.key for one in operations
    }


@pytest.mark.parametrize(
    ("settings", "names"),
    [
        ([Setting.BEZEL], ["Make the bezel", "Solder the bezel on"]),
        ([Setting.CLAW], ["Make the claw setting", "Solder the claw setting on"]),
        ([Setting.BEZEL, Setting.CLAW], ["Make the settings", "Solder the settings on"]),
        ([Setting.FLUSH], ["Drill and cut the seats"]),
        (
            [Setting.CHANNEL, Setting.BEZEL],
            ["Make the bezel", "Solder the bezel on", "Drill and cut the seats"],
        ),
        ([None], []),
    ],
)
def test_a_setting_brings_the_work_that_it_needs(settings: list[Setting | None], names: list[str]) -> None:
    asked = Particulars(stones=tuple(Stone(stated="ruby", setting=setting) for setting in settings))
    ring = a_reckoning(alloy="silver-925")
    added = [one for one in route(ring, asked) if one.key in {"setting", "solder-setting", "seats"}]
    assert [one.name for one in added] == names
    assert all(one.text.startswith("with medium silver") for one in added if one.key == "solder-setting")


@pytest.mark.parametrize(
    ("words", "is_one"),
    [
        ("opal", True), ("two Pearls", True), ("mother of pearl", True), ("jet", True),
        ("ruby", False), ("objet", False), ("", False),
    ],
)  # fmt: skip
def test_stones_that_stand_neither_fire_nor_acid_are_known_by_their_names(words: str, is_one: bool) -> None:  # noqa: FBT001  what the row says
    assert is_delicate(Stone(stated=words)) is is_one
    assert is_delicate(Stone(tested=words)) is is_one


def test_the_hallmark_says_why_it_is_sent_or_that_it_is_weighed_first() -> None:
    silver = a_reckoning(thickness_mm=1.97, alloy="silver-925", circumference_mm=60.0)
    weighed = named(route(silver, rule=HallmarkRule.UK), "hallmark")
    assert (weighed.name, weighed.text) == (
        "Weigh for the hallmark:", "from 7.78 g on it is sent and marked before the last polish.",
    )  # fmt: skip
    assert weighed.measure is not None
    assert weighed.keep
    gold = named(route(a_reckoning(), rule=HallmarkRule.UK), "hallmark")
    assert gold.text == "before the last polish: gold from 1 g."
    abroad = named(route(silver, rule=HallmarkRule.CONVENTION), "hallmark")
    assert abroad.text == "before the last polish: no weight is exempt."
    light = a_reckoning(width_mm=2.0, alloy="silver-925")
    assert "hallmark" not in keys(light, Particulars(), HallmarkRule.UK)
    wished = Particulars(marks=Marks(MarkWish.THOUGH_EXEMPT))
    assert named(route(light, wished, HallmarkRule.UK), "hallmark").text.endswith("marked though exempt.")
    assert "hallmark" not in keys(a_reckoning(alloy="copper"), wished, HallmarkRule.CONVENTION)


def test_the_sponsors_mark_is_struck_before_the_size_and_only_where_it_has_a_place() -> None:
    struck = keys(a_reckoning(), Particulars(marks=Marks()))
    assert struck.index("sponsor") == struck.index("size") - 1
    for marks in (None, Marks(has_sponsor=False), Marks(where=MarkPlace.NONE)):
        assert "sponsor" not in keys(a_reckoning(), Particulars(marks=marks))
    assert "sponsor" not in keys(a_reckoning(alloy="copper"), Particulars(marks=Marks()))


def test_the_rings_of_a_pair_are_laid_beside_each_other() -> None:
    ring = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)
    alike = named(route(ring, mate=ring), "match")
    assert alike.text == "lay it beside the other ring: colour, pattern, edges, finish."
    other = named(route(ring, mate=a_reckoning(alloy="silver-925")), "match")
    assert other.text == "lay it beside the other ring: edges, finish."
    assert "match" not in keys(ring)


def test_a_seam_is_told_by_what_its_solder_has_to_flow_and_how_much_is_cut() -> None:
    seam = told(named(route(a_reckoning(width_mm=5.0, thickness_mm=1.5, alloy="gold-585-yellow")), "solder"))
    assert seam["solder"] == "hard 585 yellow gold solder"
    assert seam["has to flow by"] == 790
    assert "listed to flow at up to 807 °C" in str(seam["sources differ"])
    assert seam["solder, at most"] == 1.5, "5 x 1.5 mm by a gap of 0.1, twice"
    assert "has to flow by" not in told(named(route(a_reckoning(alloy="silver-950")), "solder"))


def test_what_is_plated_is_polished_first_and_letters_are_spared_the_wheel() -> None:
    asked = Particulars(Surface.POLISHED, Surface.PLATED)
    operations = route(a_reckoning(), asked)
    assert named(operations, "finish").text == "Emery, then polished inside and outside."
    assert named(operations, "plate").text == "outside, clean and free of grease."


def test_a_caution_is_told_in_full_once_and_local_rules_come_last() -> None:
    assert in_full(()) == ()
    said = in_full((Caution.PICKLE, Caution.HOT, Caution.PICKLE))
    assert said == (SENTENCES[Caution.PICKLE], SENTENCES[Caution.HOT], LOCAL_RULES)
    assert set(SENTENCES) == set(Caution)
    for wanted in ("acid into water", "lid on", "copper, plastic or wooden tongs"):
        assert wanted in SENTENCES[Caution.PICKLE]
    assert "free of cadmium" in SENTENCES[Caution.FUME]
    assert "oil and grease" in SENTENCES[Caution.OXYGEN]
    assert "hair" in SENTENCES[Caution.MOTOR].lower()


def test_a_sheet_tells_courses_once_and_the_hallmark_in_passing() -> None:
    ring = a_reckoning()
    operations = route(ring, Particulars(marks=Marks()), HallmarkRule.UK)
    lines = lines_of_sheet(operations)
    assert [one.key for one in operations if one not in lines] == ["sides", "sponsor", "size", "hallmark"]
    sides, size = named(lines, "sides"), named(lines, "size")
    assert sides.text.endswith("no more. Strike the sponsor's mark inside shank.")
    assert sides.cautions == (Caution.FILINGS, Caution.EYES)
    assert size.text.endswith("inside. Then to the assay office, before the last polish.")
    flared = lines_of_sheet(route(FLARED))
    assert [one.key for one in flared if one.row] == ["anneal-form", "form"]
    bezel = Particulars(stones=(Stone(stated="ruby", setting=Setting.BEZEL),))
    assert "hallmark" in [one.key for one in lines_of_sheet(route(ring, bezel, HallmarkRule.UK))]


def test_every_alloy_has_a_route_with_its_own_fire() -> None:
    for key, alloy in ALLOYS.items():
        heat = told(named(route(a_reckoning(alloy=key)), "anneal"))
        assert (heat["from"], heat["to"]) == (alloy.anneal.low_c, alloy.anneal.high_c)
        assert (heat["sign"], heat["cooling"]) == (alloy.anneal.sign, alloy.anneal.cooling)
