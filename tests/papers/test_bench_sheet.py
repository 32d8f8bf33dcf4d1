import logging
from dataclasses import replace
from datetime import date

import pytest

from studio.craft.designs import Gauge, GaugeKind, Measured, Pattern, Profile, Stock, System
from studio.craft.route import route
from studio.papers.bench_sheet import RingToMake, bench_sheet, bench_sheets, empty_week
from studio.papers.days import full_day_words
from studio.papers.printing import printed
from tests.builders import a_finger
from tests.papers.printed import lines_of, reader, sheet, structure, text_of
from tests.papers.sheets import SHEETS, WIDE_REASON, a_reckoning, a_ring

KINDS = sorted(SHEETS)
ONE_PAGE = ["plain", "hammered-flat", "hammered-closed", "half-round-wire", "square-wire", "wide-band"]


@pytest.mark.parametrize("kind", ONE_PAGE)
def test_a_ring_takes_one_page(kind: str) -> None:
    assert len(reader(sheet(kind)).pages) == 1


def test_a_ring_that_does_not_fit_goes_on_overleaf_with_nothing_lost() -> None:
    pdf = sheet("widest-band")
    assert len(reader(pdf).pages) == 2
    assert "page 2 of 2" in text_of(pdf, page=2)
    assert "2026-118, ring 2 of 2" in text_of(pdf, page=2)


@pytest.mark.parametrize("kind", KINDS)
def test_every_figure_of_the_ring_stands_on_its_sheet(kind: str) -> None:
    ring = SHEETS[kind]
    words = text_of(sheet(kind))
    reckoning = ring.reckoning
    paper = bench_sheet(ring)
    shown = [
        ring.number,
        f"ring {ring.position} of {ring.count}",
        "At the bench Tue 1 Dec 2026",
        "promised Fri 11 Dec, 10:00",
        f"{reckoning.mark_mm:.1f} mm",
        f"true {reckoning.true_length_mm:.2f}",
        f"{reckoning.circumference_mm:.2f} round, {reckoning.diameter_mm:.2f} across",
        f"{reckoning.issue_g:.2f} g",
        f"finished {reckoning.finished_g:.1f} g",
        *(f"{remark.word} {remark.text}" for remark in paper.remarks),
        *(" ".join((row.thickness, *(cell.text for cell in row.cells))) for row in paper.marks.rows),
        "Measures 100 mm across? If not, mark nothing from this sheet.",
        "100 mm down?",
        "made by minutes in all seen by",
        "Local rules and trained supervision come first.",
        "version 3, Mon 30 Nov 2026, page 1 of",
    ]
    assert [line for line in shown if line not in words] == []
    assert ring.customer in words.replace("- ", "-")


@pytest.mark.parametrize("kind", KINDS)
def test_every_step_stands_on_the_sheet_in_order_with_its_caution_and_its_measure(kind: str) -> None:
    ring = SHEETS[kind]
    words = text_of(sheet(kind))
    place = 0
    for number, step in enumerate(route(ring.reckoning), start=1):
        place = words.index(f"{number} {step.name} {step.text}", place)
        if step.caution:
            assert step.caution in words[place:]
        if step.measure:
            assert step.measure.label in words[place:]
    assert words.index("made by") > place


@pytest.mark.parametrize("kind", KINDS)
def test_a_reader_that_reads_aloud_finds_every_drawing_in_words(kind: str) -> None:
    pdf = sheet(kind)
    figures = [element for element in structure(pdf) if element["/S"] == "/Figure"]
    cautions = [step for step in route(SHEETS[kind].reckoning) if step.caution]
    squared = bench_sheet(SHEETS[kind]).squared
    assert len(figures) == 6 + (squared is not None) + len(cautions)
    assert all(str(figure.get("/Alt", "")).strip() for figure in figures)
    spoken = [str(figure["/Alt"]) for figure in figures]
    assert any(f"{SHEETS[kind].reckoning.mark_mm:.1f} mm long" in words for words in spoken)
    assert any("opens order 2026-118" in words for words in spoken)


def test_the_sheet_is_read_in_order_with_its_table_and_its_list() -> None:
    kinds = [str(element["/S"]) for element in structure(sheet("plain"))]
    assert kinds.count("/H1") == 1
    assert kinds.count("/L") == 1
    assert kinds.count("/LI") == len(route(SHEETS["plain"].reckoning))
    assert kinds.index("/H1") < kinds.index("/Table") < kinds.index("/L")
    heads = [element for element in structure(sheet("plain")) if element["/S"] == "/TH"]
    assert len(heads) == 1 + 5 + 3  # the corner, five sizes, three thicknesses


@pytest.mark.parametrize("kind", KINDS)
def test_no_sheet_makes_the_printer_warn(kind: str, caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.WARNING):
        printed(bench_sheets([SHEETS[kind]], title="A sheet"))
    assert [record.getMessage() for record in caplog.records] == []


def test_rings_follow_each_other_each_on_a_page_of_its_own() -> None:
    pair = [replace(a_ring(), position=position, count=2) for position in (1, 2)]
    pdf = printed(bench_sheets(pair, title="A pair"))
    assert len(reader(pdf).pages) == 2
    assert "ring 1 of 2" in text_of(pdf, page=1)
    assert "ring 2 of 2" in text_of(pdf, page=2)
    assert text_of(pdf).count("page 1 of 1") == 2


def test_an_empty_week_says_so_on_one_page() -> None:
    pdf = printed(empty_week(date(2026, 11, 30), date(2026, 12, 6), date(2026, 11, 25)))
    assert len(reader(pdf).pages) == 1
    words = text_of(pdf)
    assert "No bench sheets this week" in words
    assert "Mon 30 Nov to Sun 6 Dec 2026" in words


def remarks(ring: RingToMake) -> dict[str, str]:
    return {remark.word: remark.text for remark in bench_sheet(ring).remarks}


def test_the_gauge_that_measured_is_named_with_its_correction() -> None:
    gauge = Gauge(1, "Wide set", GaugeKind.SET, System.UK, 6.0, 0.625, -0.12)
    ring = a_ring(a_reckoning(finger=a_finger(gauge=gauge)))
    assert "gauge 6 wide by Wide set, corrected by −0.12" in remarks(ring)["Finger"]
    stick = Gauge(2, "Stick", GaugeKind.STICK, System.UK, None, 0.625)
    read = a_finger(gauge=stick, measured=Measured.RING, gauge_width_mm=3.0)
    assert "ring 3 wide by Stick," in remarks(a_ring(a_reckoning(finger=read)))["Finger"]


def test_the_finger_is_told_with_how_it_was_measured() -> None:
    assert remarks(a_ring())["Finger"] == (
        "left ring finger, O½, gauge 6 wide, hands warm, measured 26 Nov by Maren"
    )


def test_a_size_that_was_only_told_is_not_called_measured() -> None:
    finger = a_finger(measured=Measured.TOLD, gauge_width_mm=None, is_warm=None)
    said = remarks(a_ring(a_reckoning(finger=finger)))["Finger"]
    assert said == "left ring finger, O½, told, not measured, noted 26 Nov by Maren"


def test_a_size_not_settled_yet_says_what_it_is_made_for() -> None:
    finger = a_finger("J", to_label="M", to_circumference_mm=52.5, knuckle_label="N", is_warm=False)
    said = remarks(a_ring(a_reckoning(finger=finger)))["Finger"]
    assert said.startswith("left ring finger, J to M, made for M, knuckle N, gauge 6 wide, hands cold")


def test_a_warning_stands_with_the_reason_given_for_it() -> None:
    said = remarks(SHEETS["wide-band"])["Heed"]
    assert said.endswith(f"Reason: {WIDE_REASON}.")
    assert remarks(replace(SHEETS["wide-band"], reasons={}))["Heed"].endswith("No reason is noted.")


def test_a_fit_is_told_with_how_far_the_label_is_from_the_ring() -> None:
    finger = a_finger(gauge_width_mm=3.0)
    assert remarks(a_ring(a_reckoning(finger=finger)))["Fit"] == (
        "+0.50 mm round, 6 mm wide, from a 3 mm gauge. The label P is 0.12 mm larger round than the ring."
    )
    assert "Fit" not in remarks(a_ring())


def test_the_length_by_din_stands_beside_the_true_length() -> None:
    thick = a_reckoning(Profile.SQUARE, 4.0, None)
    assert thick.din_length_mm is not None
    mark = bench_sheet(a_ring(thick)).figures[0]
    assert mark.sense == f"true {thick.true_length_mm:.2f}, DIN 6935 {thick.din_length_mm:.2f}"


@pytest.mark.parametrize(
    ("profile", "stock", "label", "value"),
    [
        (Profile.FLAT, Stock.STRIP, "Strip", "4 × 1.75"),
        (Profile.FLAT, Stock.WIRE, "Flat wire", "4 × 1.75"),
        (Profile.HALF_ROUND, Stock.STRIP, "Strip, filed half-round", "4 × 1.75"),
        (Profile.HALF_ROUND, Stock.WIRE, "Half-round wire", "4 × 1.75"),
        (Profile.ROUND, Stock.WIRE, "Round wire", "Ø 1.75"),
        (Profile.SQUARE, Stock.WIRE, "Square wire", "1.75 × 1.75"),
    ],
)
def test_the_stock_is_named_as_it_lies_in_the_drawer(
    profile: Profile, stock: Stock, label: str, value: str
) -> None:
    width_mm = None if profile in {Profile.ROUND, Profile.SQUARE} else 4.0
    figure = bench_sheet(a_ring(a_reckoning(profile, width_mm, 1.75, stock=stock))).figures[1]
    assert (figure.label, figure.value, figure.unit, figure.sense) == (label, value, "mm", "750 yellow gold")


TOLD = a_finger("N", measured=Measured.TOLD, gauge_width_mm=None, is_warm=None)
FITTED = {
    "told": a_reckoning(width_mm=8.0, finger=TOLD, pattern=Pattern.HAMMERED),
    "narrow-gauge": a_reckoning(width_mm=8.0, finger=a_finger("7", System.US, gauge_width_mm=3.0)),
    "typed": a_reckoning(fit_mm=-0.8),
    "beyond the list": a_reckoning(finger=a_finger("85", System.ISO)),
}


@pytest.mark.parametrize("kind", FITTED)
def test_the_bold_column_of_the_marks_is_the_size_and_the_mark_at_the_head(kind: str) -> None:
    paper = bench_sheet(a_ring(FITTED[kind]))
    mark, _, size, _ = paper.figures
    (column,) = (cell.text for cell in paper.marks.sizes if cell.is_own)
    (own,) = (cell.text for row in paper.marks.rows for cell in row.cells if cell.is_own)
    assert column == " ".join(filter(None, (size.value, size.unit)))
    assert own == mark.value


def test_a_band_told_as_n_is_made_o_and_says_so_in_its_marks() -> None:
    paper = bench_sheet(a_ring(FITTED["told"]))
    assert [cell.text for cell in paper.marks.sizes] == ["N", "N½", "O", "O½", "P"]
    assert (paper.figures[2].label, paper.figures[2].value) == ("Size, UK", "O")


@pytest.mark.parametrize("alloy", ["gold-750-yellow", "silver-925", "gold-750-red", "platinum-950-ru"])
def test_the_cautions_at_the_fire_stand_on_one_line(alloy: str) -> None:
    lines = lines_of(printed(bench_sheets([a_ring(a_reckoning(alloy=alloy))], title="A sheet")))
    for step in route(a_reckoning(alloy=alloy)):
        if step.caution:
            assert any(step.caution in line for line in lines), step.caution


def test_a_size_beyond_its_systems_list_is_given_in_millimetres() -> None:
    ring = a_ring(a_reckoning(finger=a_finger("85", System.ISO, gauge_width_mm=None)))
    size = bench_sheet(ring).figures[2]
    assert (size.label, size.unit) == ("Size, ISO", "mm")
    assert size.value == f"{ring.reckoning.circumference_mm:.1f}"


def test_days_that_are_not_set_yet_are_said_to_be_open() -> None:
    paper = bench_sheet(a_ring(bench_on=None, promised_at=None))
    assert (paper.bench_day, paper.promised) == ("no day yet", "wanted by Sat 12 Dec")
    assert bench_sheet(a_ring(promised_at=None, wanted_on=None)).promised == "no day promised"


def test_a_day_is_written_with_its_weekday() -> None:
    assert full_day_words(date(2026, 12, 1)) == "Tue 1 Dec 2026"


def test_a_worked_face_changes_the_drawings_and_the_note_is_carried_over() -> None:
    ring = SHEETS["hammered-flat"]
    assert ring.reckoning.design.pattern is Pattern.HAMMERED
    words = text_of(sheet("hammered-flat"))
    assert "hammer this face" in words
    assert "Note Matt inside, edges bright." in words
    assert "hammer this face" not in text_of(sheet("plain"))


@pytest.mark.parametrize("kind", ["plain", "half-round-wire", "widest-band"])
def test_a_sheet_that_is_not_yet_for_the_bench_says_so_across_its_head(kind: str) -> None:
    ring = replace(SHEETS[kind], waits=("size of ring 1", "deposit"))
    pdf = printed(bench_sheets([ring], title="A sheet"))
    assert next(filter(None, lines_of(pdf))) == "Not yet for the bench: size of ring 1, deposit"
    assert len(reader(pdf).pages) == len(reader(sheet(kind)).pages)
    assert "Not yet for the bench" not in text_of(sheet(kind))
