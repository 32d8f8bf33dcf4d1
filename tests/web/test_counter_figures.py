import re

import pytest

from studio.craft.roles import Role
from tests.web.counter_desk import figures, key_figures, part, send, typed, value_of, words
from tests.web.house import House

PARTS = ("reckoned", "finger-notes", "ring-notes", "metal-notes", "pattern-notes", "date-notes")


def drawings(html: str) -> list[str]:
    return re.findall(r"<svg.*?</svg>", part(html, "reckoned"), flags=re.DOTALL)


def the_page_worked_out(house: House, **changed: str) -> str:
    answer = send(house, typed(act="work out", **changed))
    assert answer.status_code == 200
    return answer.text


@pytest.mark.parametrize(
    "changed",
    [
        {},
        {"profile": "half-round", "width": "4", "thickness": "1.7", "pattern": "plain", "from": "wire"},
        {"finger__system": "iso", "finger__size": "57", "finger__gauge_width_mm": "3", "width": "8"},
        {"finger__measured": "told", "pattern": "stamped", "pattern_when": "closed"},
        {"finger__size_to": "Q", "finger__knuckle": "R", "fit_mm": "0.4", "stretch_percent": "1.2"},
        {"width": "60"},
        {"alloy": ""},
    ],
    ids=["hammered", "half-round", "narrow gauge", "told", "all of more", "too wide", "no metal"],
)
def test_the_figures_while_typing_are_those_of_a_plain_submit(house: House, changed: dict[str, str]) -> None:
    page = the_page_worked_out(house, **changed)
    while_typing = figures(house, typed(**changed))
    assert while_typing.status_code == 200
    for element_id in PARTS:
        assert words(part(page, element_id)) == words(part(while_typing.text, element_id))
    assert drawings(page) == drawings(while_typing.text)


def test_the_figures_are_those_of_the_reckoning(house: House) -> None:
    asked = {
        "finger": {"system": "uk", "size": "O½", "measured": "gauge", "gauge_width_mm": 6},
        "profile": "flat",
        "width": 6,
        "thickness": 1.6,
        "alloy": "gold-750-yellow",
        "pattern": "hammered",
    }
    told = house.ask("POST", "/api/reckonings", json=asked).json()
    shown = key_figures(figures(house, typed()).text)
    in_figures = {
        key: [float(number) for number in re.findall(r"\d+\.\d+", line)] for key, line in shown.items()
    }
    # The page rounds the reckoning to tenths and hundredths, the API to thousandths.
    ring = told["ring"]
    assert in_figures["size"] == pytest.approx([ring["circumference_mm"], ring["doubt_mm"]], abs=0.051)
    assert f"{100 * ring['chance']:.0f} in 100 fall within half a size" in shown["size"]
    assert in_figures["mark"] == [
        pytest.approx(told["blank"]["mark_mm"], abs=0.051),
        pytest.approx(told["blank"]["true_length_mm"], abs=0.0051),
    ]
    assert in_figures["issue"] == [
        pytest.approx(told["mass"]["issue_g"], abs=0.0051),
        pytest.approx(told["mass"]["finished_g"], abs=0.051),
    ]


def test_every_system_is_named_with_what_it_is_off_by(house: House) -> None:
    sizes = words(figures(house, typed()).text.partition('class="sizes"')[2].partition("</dl>")[0])
    assert sizes.removeprefix("> ") == (
        "UK O½ as measured US 7½ +0.07 mm ISO 56 +0.38 mm JP 15 −0.12 mm CH 15½ −0.12 mm DE 17¾ +0.14 mm"
    )


def test_each_figure_says_how_it_came_about(house: House) -> None:
    page = figures(house, typed()).text
    told = words(page.partition('id="working-mark"')[2].partition("</section>")[0])
    assert "= true length ÷ (1 + stretch ÷ 100) + trim" in told
    assert "true length 60.652 mm" in told
    assert "Pappus" in told
    for key in ("size", "mark", "issue"):
        assert f'popovertarget="working-{key}"' in page
        assert f'id="working-{key}"' in page


def test_what_hangs_on_a_wrong_width_waits_and_the_size_stands(house: House) -> None:
    shown = key_figures(figures(house, typed(width="60")).text)
    assert shown["size"] == "Size O½ 55.6 mm as measured, the fit waits"
    assert shown["mark"] == "Mark waits for the width"
    assert shown["issue"] == "Gold to issue waits for the width"


def test_without_a_metal_only_the_weight_waits(house: House) -> None:
    with_metal = key_figures(figures(house, typed()).text)
    without = key_figures(figures(house, typed(alloy="")).text)
    assert without["mark"] == with_metal["mark"]
    assert without["size"] == with_metal["size"]
    assert without["issue"] == "Metal to issue waits for the metal"


def test_a_wrong_knuckle_holds_up_no_figure(house: House) -> None:
    assert key_figures(figures(house, typed(finger__knuckle="ZZ")).text)["mark"].startswith("Mark 61.3 mm")


def test_the_last_good_ring_stays_in_thin_line_while_the_next_waits(house: House) -> None:
    good = figures(house, typed()).text
    last = value_of(good, "last")
    waiting = figures(house, typed(width="60", last=last)).text
    assert "as last drawn, 6 mm" in waiting
    assert value_of(waiting, "last") == last
    assert "as last drawn" not in figures(house, typed(width="60")).text


@pytest.mark.parametrize("last", ["width=%FF&%%%", "width=9e999&profile=flat", "a" * 30_000, "<script>"])
def test_a_last_ring_that_is_none_draws_a_ring_not_begun(house: House, last: str) -> None:
    answer = figures(house, typed(width="60", last=last))
    assert answer.status_code == 200
    assert 'width="360"' in answer.text


def test_the_sentence_for_those_who_listen_names_the_figures_once(house: House) -> None:
    said = re.search(r'data-said="([^"]*)"', figures(house, typed()).text)
    assert said is not None
    assert said.group(1) == (
        "Size O½ 55.6 millimetres, give or take 0.9, Mark 61.3 millimetres, Gold to issue 9.22 g, "
        "price waits for the rates."
    )


def test_a_wide_ring_from_a_narrow_gauge_asks_for_a_reason_beside_the_gauge(house: House) -> None:
    asking = figures(house, typed(finger__gauge_width_mm="3")).text
    notes = part(asking, "finger-notes")
    assert "The gauge is 3 mm narrower than the ring." in words(notes)
    assert 'name="reasons.narrow-gauge"' in notes
    answered = part(
        figures(house, typed(finger__gauge_width_mm="3", **{"reasons.narrow-gauge": "thin"})).text,
        "finger-notes",
    )
    assert "field-wrong" in notes
    assert "field-wrong" not in answered
    assert value_of(answered, "reasons.narrow-gauge") == "thin"


def test_the_stretch_says_where_it_comes_from(house: House) -> None:
    assert "Stretch 1.5 % (0.5 to 2.5), common practice." in words(figures(house, typed()).text)
    assert "Stretch 1.2 %, typed by us." in words(figures(house, typed(stretch_percent="1.2")).text)


def test_days_that_cannot_all_be_kept_are_named(house: House) -> None:
    told = words(
        part(
            figures(
                house,
                typed(
                    wanted_on="1 Feb 2026",
                    promised_on="3 Feb 2026",
                    promised_hour="10",
                    bench_on="4 Feb 2026",
                ),
            ).text,
            "date-notes",
        )
    )
    assert "The wanted day, Sun 1 Feb" in told
    assert "Promised Tue 3 Feb" in told
    assert "At the bench Wed 4 Feb" in told


def test_a_day_typed_short_is_said_back_with_its_weekday(house: House) -> None:
    said = words(
        part(figures(house, typed(wanted_on="19 dec 2099", promised_on="17/12/2099")).text, "date-notes")
    )
    assert said == "Wanted Sat 19 Dec 2099, promised Thu 17 Dec 2099."
    assert not words(part(figures(house, typed(wanted_on="Sat 19 Dec 2099")).text, "date-notes"))


def test_a_maker_reckons_but_takes_no_orders(house: House) -> None:
    assert house.browse("POST", "/counter/figures", Role.MAKER, data=typed()).status_code == 200
    assert house.browse("GET", "/orders/new", Role.MAKER).status_code == 403
    assert house.browse("POST", "/orders", Role.MAKER, data=typed()).status_code == 403
    assert house.browse("GET", "/counter/customers?q=oda", Role.MAKER).status_code == 403


STRANGE = [
    "",
    "-6",
    "0",
    "9" * 400,
    "NaN",
    "1e309",
    "1,234",
    "💍",
    "6" * 10_000,
    "<script>alert(1)</script>",
    "{{7*7}}",
    "six",
    "\u202e6",
    "6 furlongs",
]


@pytest.mark.parametrize(
    "name",
    [
        "width",
        "thickness",
        "finger.size",
        "finger.gauge_width_mm",
        "fit_mm",
        "stretch_percent",
        "alloy",
        "profile",
        "last",
    ],
)
def test_nothing_typed_breaks_the_figures(house: House, name: str) -> None:
    for strange in STRANGE:
        answer = figures(house, {**typed(), name: strange})
        assert answer.status_code == 200, strange[:40]
        assert "<script>alert" not in answer.text


def test_full_width_digits_are_digits(house: House) -> None:
    assert key_figures(figures(house, typed(width="６")).text) == key_figures(figures(house, typed()).text)
