"""Orders over the API: taking, reading, listing, changing; and the week."""

from datetime import date, timedelta

from studio.craft.roles import Role
from tests.web.asking import an_agreed_order, change, shown
from tests.web.house import House, a_ring, an_order
from tests.web.priced import say_yes

NICE = ["promised day", "finish of ring 1", "inscription of ring 1", "stones of ring 1", "marks of ring 1"]


def test_an_order_is_taken_as_a_draft_that_says_what_it_misses(house: House) -> None:
    answer = house.ask("POST", "/api/orders", Role.COUNTER, json=an_order())
    assert answer.status_code == 201
    taken = answer.json()
    assert taken["missing"] == {"quote": [], "bench": ["bench date", "deposit"], "nice": NICE}
    assert (taken["state"], taken["version"]) == ("draft", 1)
    assert answer.headers["location"] == f"/api/orders/{taken['number']}"
    assert set(taken) == {"number", "state", "version", "missing"}


def test_an_order_without_phone_and_day_misses_them_for_a_quote(house: House) -> None:
    bare = {"customer": {"name": "Ned Hallow"}, "rings": [a_ring(finger={"measured": "told"})]}
    missing = house.ask("POST", "/api/orders", json=bare).json()["missing"]
    assert missing["quote"] == ["phone", "wanted day", "measured finger of ring 1"]


def test_an_order_is_read_as_it_was_taken(house: House) -> None:
    promised = "2027-03-26T16:30:00Z"
    number = house.take_order(
        promised_at=promised, wanted_hard=True, note="Two lines,\nas told.", rings=[a_ring(), a_ring(width=4)]
    )
    order = shown(house, number)
    assert order["customer"] == {
        "id": 1, "name": "Ottilie Marchbanks", "phone": "01632 960 411", "email": "ottilie@march.example",
        "address": "",
    }  # fmt: skip
    assert (order["promised_at"], order["wanted_hard"]) == (promised, True)
    assert order["note"] == "Two lines,\nas told."
    assert [ring["ring"] for ring in order["rings"]] == [1, 2]
    assert order["rings"][1]["reckoning"]["blank"]["width_mm"] == 4
    assert order["rings"][0]["finger"]["size"] == "O½"
    assert order["quotes"] == []


def test_a_ring_as_read_can_be_sent_back_as_it_is(house: House) -> None:
    number = house.take_order()
    order = shown(house, number)
    rings = [
        {name: ring[name] for name in ring if name not in {"ring", "reckoning"}} for ring in order["rings"]
    ]
    answer = change(house, number, rings=rings)
    assert answer.status_code == 200, answer.text
    assert answer.json()["rings"] == order["rings"]


def test_a_known_customer_is_named_by_id(house: House) -> None:
    first = shown(house, house.take_order())
    second = shown(house, house.take_order(customer={"id": first["customer"]["id"]}))
    assert second["customer"] == first["customer"]
    unknown = house.ask("POST", "/api/orders", json=an_order(customer={"id": 77}))
    assert unknown.status_code == 422
    (error,) = unknown.json()["errors"]
    assert error == {"field": "customer.id", "message": "There is no customer with this id."}
    both = house.ask("POST", "/api/orders", json=an_order(customer={"id": 1, "name": "Ned"}))
    assert both.json()["errors"][0]["field"] == "customer.id"


def test_a_maker_sees_whose_order_it_is_but_no_contact(house: House) -> None:
    number = house.take_order()
    assert set(shown(house, number, Role.MAKER)["customer"]) == {"id", "name"}
    for path in (f"/api/orders/{number}", "/api/orders", f"/api/orders?q={number}"):
        told = house.ask("GET", path, Role.MAKER).text
        assert "411" not in told
        assert "march.example" not in told


def test_only_what_is_given_changes(house: House) -> None:
    number = house.take_order(note="keep me", bench_on="2027-03-01")
    before = shown(house, number)
    after = change(house, number, wanted_on=None, customer={"phone": "01632 960 500"}).json()
    assert after["wanted_on"] is None
    assert after["customer"]["phone"] == "01632 960 500"
    assert after["version"] == before["version"] + 1
    for name in ("note", "bench_on", "rings", "promised_at"):
        assert after[name] == before[name]
    assert after["customer"]["email"] == before["customer"]["email"]


def test_rings_replace_the_whole_list(house: House) -> None:
    number = house.take_order(rings=[a_ring(), a_ring(width=4)])
    after = change(house, number, rings=[a_ring(width=5)]).json()
    assert [ring["width"] for ring in after["rings"]] == [5]
    assert change(house, number, rings=[]).status_code == 422


def test_a_stale_version_is_a_conflict_that_says_how_things_stand(house: House) -> None:
    number = house.take_order()
    assert change(house, number, note="first").status_code == 200
    answer = change(house, number, version=1, note="second")
    assert answer.status_code == 409
    assert answer.json()["current"] == {"number": number, "state": "draft", "version": 2}
    assert shown(house, number)["note"] == "first"


def test_a_change_without_a_version_is_asked_for_it(house: House) -> None:
    number = house.take_order()
    answer = house.ask("PATCH", f"/api/orders/{number}", json={"note": "x"})
    assert answer.json() == {"errors": [{"field": "version", "message": "The version is not given yet."}]}


def test_the_customer_of_an_order_stays_who_it_is(house: House) -> None:
    number = house.take_order()
    other = shown(house, house.take_order())["customer"]["id"]
    for customer in ({"id": other}, {"id": other, "name": "Ned"}, {"id": "first"}):
        assert change(house, number, customer=customer).json()["errors"][0]["field"] == "customer.id"
    stands = shown(house, number)["customer"]
    assert change(house, number, customer={"id": stands["id"]}).json()["customer"] == stands
    changed = change(house, number, customer=stands | {"phone": "01632 960 500"})
    assert changed.json()["customer"] == stands | {"phone": "01632 960 500"}


def test_from_the_yes_on_rings_and_days_stand_and_the_rest_stays_free(house: House) -> None:
    number = an_agreed_order(house)
    for fixed in (
        {"rings": [a_ring(width=5)]},
        {"wanted_on": "2027-05-01"},
        {"promised_at": "2027-05-01T10:00:00Z"},
    ):
        answer = change(house, number, **fixed)
        assert answer.status_code == 409
        assert answer.json()["current"]["state"] == "agreed"
    free = change(
        house, number, note="engraving inside", bench_on="2027-03-02", customer={"phone": "01632 960 777"}
    )
    assert free.status_code == 200
    assert (free.json()["bench_on"], free.json()["note"]) == ("2027-03-02", "engraving inside")


def test_a_wanted_day_that_is_past_warns(house: House) -> None:
    past = (date.today() - timedelta(days=3)).isoformat()  # noqa: DTZ011  any past day will do
    (warning,) = shown(house, house.take_order(wanted_on=past))["warnings"]
    assert warning["code"] == "wanted-past"
    assert warning["message"].endswith("is past.")
    assert shown(house, house.take_order())["warnings"] == []


def test_the_list_goes_on_page_by_page(house: House) -> None:
    numbers = [house.take_order() for _ in range(5)]
    found, after = [], ""
    while after is not None:
        page = house.ask(
            "GET", "/api/orders", params={"limit": 2} | ({"after": after} if after else {})
        ).json()
        assert len(page["items"]) <= 2
        found += [line["number"] for line in page["items"]]
        after = page["next"]
    assert found == numbers[::-1]


def test_the_list_is_found_by_state_name_number_and_phone(house: House) -> None:
    muller = house.take_order(customer={"name": "Jörg Müller", "phone": "01632 960 123"})
    other = an_agreed_order(house)

    def numbers(**asked: str) -> list[str]:
        answer = house.ask("GET", "/api/orders", params=asked)
        return [line["number"] for line in answer.json()["items"]]

    assert numbers(q="muller") == numbers(q="0 1 23") == numbers(q=muller) == [muller]
    assert numbers(state="agreed") == [other]
    assert numbers(state="", q="") == [other, muller]
    assert numbers(q="nobody") == []


def test_an_empty_start_or_length_of_the_list_is_one_left_out(house: House) -> None:
    numbers = [house.take_order() for _ in range(3)][::-1]
    for asked in ("after=&limit=50", "after=&limit=", "limit="):
        answer = house.ask("GET", f"/api/orders?{asked}")
        assert [line["number"] for line in answer.json()["items"]] == numbers, answer.text
    (error,) = house.ask("GET", "/api/orders?after=first").json()["errors"]
    assert error == {"field": "after", "message": "This is not the number of an order, such as 2026-118."}


def test_who_may_not_see_a_telephone_number_does_not_find_by_it(house: House) -> None:
    number = house.take_order()
    for role, found in ((Role.OWNER, [number]), (Role.COUNTER, [number]), (Role.MAKER, [])):
        answer = house.ask("GET", "/api/orders?q=960 411", role)
        assert [line["number"] for line in answer.json()["items"]] == found
    by_name = house.ask("GET", "/api/orders?q=marchbanks", Role.MAKER)
    assert [line["number"] for line in by_name.json()["items"]] == [number]


def test_a_line_of_the_list_names_rings_and_the_next_day(house: House) -> None:
    number = house.take_order(wanted_on="2027-05-01")
    (line,) = house.ask("GET", "/api/orders").json()["items"]
    assert line["number"] == number
    assert line["next_day"] == {"kind": "wanted", "on": "2027-05-01", "at": None}
    assert line["rings"] == [
        {
            "ring": 1, "system": "uk", "size": "O½", "profile": "flat", "width_mm": 6, "thickness_mm": 1.6,
            "pattern": "hammered", "alloy": "silver-925",
        }
    ]  # fmt: skip


def test_the_week_adds_up_the_marks_of_its_rings(house: House) -> None:
    pair = [a_ring(), a_ring(finger={"size": "L"})]
    first = an_agreed_order(house, rings=pair, bench_on="2027-03-03")
    second = an_agreed_order(house, rings=[a_ring()], bench_on="2027-03-07")
    an_agreed_order(house, bench_on="2027-03-08")  # the Monday after
    house.take_order(bench_on="2027-03-03")  # not agreed
    week = house.ask("GET", "/api/week", Role.MAKER, params={"from": "2027-03-04"}).json()
    assert (week["from"], week["to"]) == ("2027-03-01", "2027-03-07")
    assert sum(one["blanks"] for one in week["buy"]) == sum(line["blanks"] for line in week["need"])
    (line,) = week["need"]
    assert (line["alloy"], line["profile"], line["from"], line["blanks"]) == (
        "silver-925",
        "flat",
        "strip",
        3,
    )
    assert [(ring["number"], ring["ring"]) for ring in line["orders"]] == [
        (first, 1),
        (first, 2),
        (second, 1),
    ]
    rings = [ring for number in (first, second) for ring in shown(house, number)["rings"]]
    marks = [ring["reckoning"]["blank"]["mark_mm"] for ring in rings]
    assert [ring["length_mm"] for ring in line["orders"]] == marks
    assert line["length_mm"] == round(sum(marks), 3)
    assert line["mass_g"] == round(sum(ring["reckoning"]["mass"]["issue_g"] for ring in rings), 3)


def test_a_bearer_token_opens_the_bench_sheet(house: House) -> None:
    number = house.take_order()
    early = house.ask("GET", f"/orders/{number}/bench-sheet.pdf", Role.MAKER)
    assert (early.status_code, early.json()["current"]["state"]) == (409, "draft")
    say_yes(house, number)
    paper = house.ask("GET", f"/orders/{number}/bench-sheet.pdf", Role.MAKER)
    assert paper.headers["content-type"] == "application/pdf"
    assert paper.content.startswith(b"%PDF-")
