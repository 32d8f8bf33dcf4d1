from tests.web.house import House, a_ring


def test_a_reckoning_gives_the_worked_figures(house: House) -> None:
    ring = a_ring(finger={"system": "iso", "size": "57"}, thickness=1.4, pattern="plain")
    answer = house.ask("POST", "/api/reckonings", json=ring)
    assert answer.status_code == 200, answer.text
    figures = answer.json()
    assert figures["blank"]["true_length_mm"] == 61.398
