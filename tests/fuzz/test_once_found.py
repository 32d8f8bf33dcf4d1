"""What playing the description against the app has found, each once by itself."""

from studio.craft.roles import Role
from tests.web.house import House, a_ring


def test_a_day_that_is_none_in_a_change_is_told_beside_what_else_is_wrong(house: House) -> None:
    number = house.take_order()
    change = {"version": 1, "wanted_on": "31 February", "rings": [a_ring(width=-1)]}
    answer = house.ask("PATCH", f"/api/orders/{number}", json=change)
    assert answer.status_code == 422
    assert [error["field"] for error in answer.json()["errors"]] == ["wanted_on", "rings.0.width"]


def test_the_papers_of_a_week_say_that_they_take_a_day(house: House) -> None:
    told = house.ask("GET", "/api/openapi.json", Role.MAKER).json()
    day, printer = told["paths"]["/week/papers.pdf"]["get"]["parameters"]
    assert (day["name"], day["in"], day["required"]) == ("from", "query", False)
    assert (printer["name"], printer["in"], printer["required"]) == ("printer", "query", False)
