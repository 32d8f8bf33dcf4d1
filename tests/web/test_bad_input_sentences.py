"""The sentences beside wrong fields, word for word."""

import pytest

from tests.web.house import House, a_ring, an_order, put

MOMENT = "Which moment is meant? Write it with its Z, like 2026-12-11T10:00:00Z."
SENTENCES = [
    ("width", 60, "60 mm is wider than a ring we can make, 0.8 to 40. Did you mean 6?"),
    ("width", "0.5 mm", "0.5 mm is narrower than a ring we can make, 0.8 to 40. Did you mean 5?"),
    ("thickness", "16", "16 mm is thicker than a ring we can make, 0.3 to 6. Did you mean 1.6?"),
    ("width", "1,234", "1,234 could be a thousand or a fraction. Write a point, or no comma."),
    ("width", "6 ft", "We do not know the unit in 6 ft. Use mm, cm, in, ga, swg or bwg."),
    ("width", "wide", "We cannot read 'wide' as a width. Type it like 6 or 6.5."),
    ("width", "", "The width is not given yet."),
    ("finger.size", "QQ", "UK has no size QQ. Look at the gauge again, or choose another system."),
    ("finger.size", "", "The size is not given yet."),
    ("finger.size", True, "We cannot read this as a size. Type it like N½ or 54."),
    ("finger.knuckle", [], "We cannot read this as a size. Type it like N½ or 54."),
    ("finger", None, "The finger is not given yet."),
    ("finger.system", None, "The size system is not given yet."),
    ("finger.system", "", "The size system is not given yet."),
    ("finger", {"system": "us", "size": 21}, "US 21 is larger than any finger we know, 30 to 90 mm round."),
    ("width", 1e30, "That is far wider than a ring we can make, 0.8 to 40 mm."),
    ("width", 1e-9, "That is far narrower than a ring we can make, 0.8 to 40 mm."),
    (
        "finger.gauge_width_mm",
        1e9,
        "That is far more than we can use for the width of the gauge, 0.5 to 40 mm.",
    ),
    ("fit_mm", -1e30, "That is far less than we can use for the fit, -5 to 5 mm."),
    ("fit_mm", "18 ga", "The fit is not given as a sheet gauge. Use mm, cm or in."),
    ("reasons.narrow", "so", "We have no warning of this name."),
    ("finger.taken_at", "2027-03-26T16:30:00", MOMENT),
    ("finger.taken_at", "Fri 11 Dec 10:00", MOMENT),
    ("finger.taken_at", "2027-02-30T16:30:00Z", MOMENT),
    ("finger.size_to", "J", "The largest size lies below the smallest. Change them over."),
    ("profile", "oval", "We have no section called oval. Choose one from the list."),
    ("profile", "", "The section is not chosen yet."),
    ("alloy", "", "The metal is not chosen yet."),
    ("form", {"kind": "spiral"}, "We have no form called spiral. Choose one from the list."),
    ("finger.warm", "perhaps", "This has to be yes or no."),
]


@pytest.mark.parametrize(("field", "typed", "sentence"), SENTENCES)
def test_the_sentence_beside_a_field_says_what_a_colleague_would(
    house: House, field: str, typed: object, sentence: str
) -> None:
    is_ordered = field.startswith("reasons.")
    path, start = ("/api/orders", "rings.0.") if is_ordered else ("/api/reckonings", "")
    raw = an_order() if is_ordered else a_ring()
    answer = house.ask("POST", path, json=put(raw, start + field, typed))
    where = {"form": "form.kind", "finger": "finger" if typed is None else "finger.size"}.get(field, field)
    assert answer.json()["errors"] == [{"field": start + where, "message": sentence}]


def test_a_finger_left_out_is_told_at_the_finger(house: House) -> None:
    answer = house.ask("POST", "/api/reckonings", json=a_ring() | {"finger": None})
    ring = a_ring()
    del ring["finger"]
    assert answer.json() == house.ask("POST", "/api/reckonings", json=ring).json()
    assert answer.json()["errors"] == [{"field": "finger", "message": "The finger is not given yet."}]


def test_a_system_left_out_is_asked_for_and_never_guessed(house: House) -> None:
    ring = a_ring()
    del ring["finger"]["system"]
    for path, body in (("/api/reckonings", ring), ("/api/orders", an_order(rings=[ring]))):
        (error,) = house.ask("POST", path, json=body).json()["errors"]
        assert error["field"].endswith("finger.system")


def test_a_reason_for_a_warning_there_is_none_of_is_told_without_its_own_words(house: House) -> None:
    order = an_order(rings=[a_ring(reasons={"narrow-gauge": "tried on", "<script>": "x"})])
    answer = house.ask("POST", "/api/orders", json=order)
    message = "We have no warning of this name."
    assert answer.json()["errors"] == [{"field": "rings.0.reasons.script", "message": message}]
