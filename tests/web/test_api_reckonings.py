"""Sizes, alloys and reckonings over the API, and the description of it."""

import math
from typing import Any

import pytest
from fastapi.routing import APIRoute

from studio.craft.alloys import ALLOYS
from studio.craft.roles import Role
from studio.web.app import ROUTERS
from studio.web.description import is_for_programs
from tests.web.house import House, a_ring


def reckoned(house: House, **changes: Any) -> dict[str, Any]:
    answer = house.ask("POST", "/api/reckonings", Role.MAKER, json=a_ring(**changes))
    assert answer.status_code == 200, answer.text
    figures: dict[str, Any] = answer.json()
    return figures


def test_a_reckoning_gives_the_worked_figures(house: House) -> None:
    # ISO 57, flat 6 x 1.4 mm: 57 + pi x 1.4 = 61.398; half a millimetre of trim at each end.
    figures = reckoned(house, finger={"system": "iso", "size": "57"}, thickness=1.4, pattern="plain")
    assert figures["blank"]["true_length_mm"] == round(57 + math.pi * 1.4, 3)
    assert figures["blank"]["mark_mm"] == round(58 + math.pi * 1.4, 3)
    assert figures["ring"]["circumference_mm"] == 57
    assert figures["ring"]["diameter_mm"] == round(57 / math.pi, 3)
    assert figures["stretch"] == {
        "mean_percent": 0, "low_percent": 0, "high_percent": 0, "used_percent": 0, "records": 0,
    }  # fmt: skip


def test_a_reckoning_has_just_the_fields_it_is_known_for(house: House) -> None:
    figures = reckoned(house)
    assert set(figures) == {"ring", "blank", "mass", "stretch", "hallmark", "working", "warnings"}
    assert set(figures["ring"]) == {
        "circumference_mm", "diameter_mm", "sizes", "doubt_mm", "chance", "finished_width_mm",
    }  # fmt: skip
    assert set(figures["blank"]) == {
        "true_length_mm", "mark_mm", "width_mm", "thickness_mm", "neutral_mm", "section_mm2",
    }  # fmt: skip
    assert set(figures["mass"]) == {"blank_g", "issue_g", "ring_g", "finished_g"}
    assert set(figures["ring"]["sizes"]) == {"iso", "us", "uk", "jp", "ch", "de", "hk", "in"}
    assert set(figures["hallmark"]) == {"rule", "limit_g", "low_g", "high_g", "verdict"}


def test_every_figure_tells_how_it_came_about(house: House) -> None:
    figures = reckoned(house)
    workings = {step["figure"]: step for step in figures["working"]}
    for group in ("ring", "blank", "mass"):
        for name, value in figures[group].items():
            if isinstance(value, int | float):
                assert workings[f"{group}.{name}"]["value"] == pytest.approx(value, abs=0.0011), name
    for step in figures["working"]:
        assert set(step) == {"figure", "formula", "inputs", "value", "unit", "source"}
        assert all(set(one) == {"name", "value", "unit"} for one in step["inputs"])


def test_figures_are_rounded_to_a_thousandth_on_the_way_out(house: House) -> None:
    def numbers(value: object) -> list[float]:
        if isinstance(value, dict):
            return [number for inner in value.values() for number in numbers(inner)]
        if isinstance(value, list):
            return [number for inner in value for number in numbers(inner)]
        return [float(value)] if isinstance(value, int | float) else []

    found = numbers(reckoned(house))
    assert len(found) > 50
    assert all(number == round(number, 3) for number in found)


@pytest.mark.parametrize("typed", [6, 6.0, "6", "6 mm", "6,0", "0.6 cm", "６", " 6 "])
def test_a_length_is_a_number_in_mm_or_text_with_a_unit(house: House, typed: object) -> None:
    assert reckoned(house, width=typed)["blank"]["width_mm"] == 6


def test_a_gauge_of_sheet_is_brown_and_sharpes(house: House) -> None:
    # ASTM B258: 18 gauge is 1.0237 mm.
    assert reckoned(house, thickness="18 ga")["blank"]["thickness_mm"] == 1.024


def test_a_narrow_gauge_warns_and_asks_for_a_reason(house: House) -> None:
    warnings = reckoned(house, finger={"gauge_width_mm": 2.5})["warnings"]
    assert [(one["code"], one["needs_reason"]) for one in warnings] == [("narrow-gauge", True)]
    assert set(warnings[0]) == {"code", "message", "needs_reason"}


def test_a_stretch_and_a_fit_that_are_typed_are_taken_as_they_are(house: House) -> None:
    figures = reckoned(house, stretch_percent="2 %", fit_mm=-0.5)
    assert figures["stretch"]["used_percent"] == 2
    assert figures["ring"]["circumference_mm"] == 55.125


@pytest.mark.parametrize(
    "kind", [{}, {"form": {"kind": "band"}}, {"form": None}, {"pattern_when": "flat"}, {"from": "strip"}]
)
def test_what_is_left_out_is_the_usual(house: House, kind: dict[str, object]) -> None:
    assert reckoned(house, **kind) == reckoned(house)


def test_a_field_given_as_null_is_left_out(house: House) -> None:
    assert reckoned(house, fit_mm=None, stretch_percent=None) == reckoned(house)


def test_a_size_is_told_in_every_system(house: House) -> None:
    answer = house.ask("GET", "/api/sizes", params={"system": "uk", "size": "n 1/2"}).json()
    assert (answer["circumference_mm"], answer["diameter_mm"]) == (54.375, 17.308)
    assert answer["sizes"]["uk"] == {"label": "N½", "error_mm": 0}
    assert answer["sizes"]["us"] == {"label": "7", "error_mm": 0.046}
    small = house.ask("GET", "/api/sizes", params={"system": "iso", "size": "31"}).json()
    assert small["sizes"]["us"] is None


def test_all_alloys_come_in_one_page(house: House) -> None:
    answer = house.ask("GET", "/api/alloys").json()
    assert answer["next"] is None
    assert [alloy["key"] for alloy in answer["items"]] == list(ALLOYS)
    silver = next(alloy for alloy in answer["items"] if alloy["key"] == "silver-925")
    assert (silver["metal"], silver["fineness"], silver["composition"]["Ag"]) == ("silver", 925, 925)
    assert set(silver) == {"key", "name", "metal", "fineness", "density_g_cm3", "composition", "source"}


def test_the_description_tells_of_every_route_for_programs(house: House) -> None:
    told = house.ask("GET", "/api/openapi.json", Role.MAKER).json()
    described = {(method.upper(), path) for path, item in told["paths"].items() for method in item}
    routes = [route for router in ROUTERS for route in router.routes if isinstance(route, APIRoute)]
    expected = {(m, route.path) for route in routes if is_for_programs(route) for m in route.methods or ()}
    assert described == expected
    assert {path for _, path in described} >= {
        "/health",
        "/orders/{number}/bench-sheet.pdf",
        "/week/papers.pdf",
    }


def test_the_description_names_errors_bodies_and_keys(house: House) -> None:
    told = house.ask("GET", "/api/openapi.json").json()
    take = told["paths"]["/api/orders"]["post"]
    assert {"201", "401", "403", "409", "413", "422", "429"} <= set(take["responses"])
    assert take["security"] == [{"bearer": []}]
    assert [one["name"] for one in take["parameters"]] == ["Idempotency-Key"]
    body = take["requestBody"]["content"]["application/json"]["schema"]["$ref"].rpartition("/")[2]
    assert set(told["components"]["schemas"][body]["properties"]) == {
        "customer", "wanted_on", "wanted_hard", "promised_at", "bench_on", "note", "avoid", "collects",
        "mends", "rings",
    }  # fmt: skip
    assert "from" in told["components"]["schemas"]["ReckoningIn"]["properties"]
    paper = told["paths"]["/week/papers.pdf"]["get"]["responses"]["200"]
    assert list(paper["content"]) == ["application/pdf"]
    names = str(told)
    assert "HTTPValidationError" not in names
    referred = {part.split("'")[0] for part in names.split("#/components/schemas/")[1:]}
    assert referred <= set(told["components"]["schemas"])
