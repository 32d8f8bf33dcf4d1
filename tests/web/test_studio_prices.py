"""The Studio page's metal prices: what counts, what is old, one more, a list of them, and all there were."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from studio.book.people import PROGRAM
from studio.book.price_history import metal_price_history
from studio.book.rates import add_metal_prices, metal_prices, put_rates
from studio.craft.rates import MetalPrice, WeightUnit
from tests.builders import NOW, TODAY
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.priced import RATES
from tests.web.shown import Shown

DAY = timedelta(days=1)
HEAD = "metal,price,unit,on,source"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    return a_morning(house, monkeypatch)


def put_in(morning: Morning, *prices: MetalPrice) -> None:
    with morning.book() as book:
        add_metal_prices(book, prices=prices, actor=PROGRAM, now=NOW)


def silver(price: str = "31.50", on: date = TODAY) -> MetalPrice:
    return MetalPrice("silver", Decimal(price), WeightUnit.TROY_OUNCE, on, "refiner's list")


def put_in_rates(morning: Morning) -> None:
    with morning.book() as book:
        put_rates(book, rates=RATES, actor=PROGRAM, now=NOW)


def send(morning: Morning, **typed: str) -> tuple[int, str, Shown]:
    form = morning.see("/studio").form("/studio/prices")
    price = {"metal": "silver", "price": "31.50", "unit": "ozt", "on": "today", "source": "refiner's list"}
    price["on"] = "25 Nov"
    return morning.send("/studio/prices", form.fields | price | typed)


def send_list(morning: Morning, text: str) -> tuple[int, str, Shown]:
    form = morning.see("/studio").form("/studio/prices/list")
    return morning.send("/studio/prices/list", form.fields | {"list": text})


def kept(morning: Morning) -> list[MetalPrice]:
    with morning.book() as book:
        return [entry.price for entry in metal_price_history(book, limit=200).items]


def test_a_price_is_put_in_and_stands_with_its_day_and_source(morning: Morning) -> None:
    assert send(morning, price="31,50")[:2] == (303, "/studio#prices")
    page = morning.see("/studio")
    assert "Silver 31.50 GBP troy ounce Wed 25 Nov refiner's list" in page.words
    assert "Wed 25 Nov, 10:00, Maren" in page.words
    assert "No price yet for gold, platinum, palladium, copper," in page.words
    assert page.form("/studio/prices").fields["source"] == "refiner's list"


def test_every_digit_that_was_typed_is_shown(morning: Morning) -> None:
    send(morning, price="1020.5000", metal="palladium")
    send(morning, price="0.000980", metal="copper", unit="g")
    words = morning.see("/studio").words
    assert "Palladium 1,020.5000" in words
    assert "0.000980" in words


def test_the_latest_day_not_after_today_counts_and_on_one_day_the_last_entry(morning: Morning) -> None:
    put_in(morning, silver("30"), silver("99", TODAY + DAY), silver("88", TODAY - DAY), silver("31"))
    table = morning.see("/studio").words
    assert "Silver 31 GBP troy ounce Wed 25 Nov" in table
    with morning.book() as book:
        assert metal_prices(book, TODAY)["silver"].price == 31


def test_a_price_older_than_the_studios_limit_is_flagged_with_the_word(morning: Morning) -> None:
    put_in_rates(morning)
    put_in(morning, silver(on=TODAY - (RATES.stale_after_days + 1) * DAY))
    assert "refiner's list Old 8 days" in morning.see("/studio").words
    put_in(morning, silver(on=TODAY - RATES.stale_after_days * DAY))
    assert "Old" not in morning.see("/studio").words


def test_what_is_wrong_stands_beside_its_field_and_the_typing_stays(morning: Morning) -> None:
    status, _, page = send(morning, price="1,234", on="31 Feb", source="")
    assert (status, len(kept(morning))) == (422, 0)
    assert page.described["f-price-wrong"].startswith("1,234 could be a thousand")
    assert page.described["f-on-wrong"].startswith("February 2027 ends on")
    assert page.described["f-source-wrong"] == "The source is not given yet."
    fields = page.form("/studio/prices").fields
    assert (fields["price"], fields["on"]) == ("1,234", "31 Feb")


@pytest.mark.parametrize("source", ["<script>alert(1)</script>", "{{ 7 * 7 }}", "ünïcode – “quoted”"])
def test_a_source_is_shown_as_it_was_typed_and_never_run(morning: Morning, source: str) -> None:
    send(morning, source=source)
    assert source in morning.see("/studio").words


def test_a_list_is_put_in_whole(morning: Morning) -> None:
    copper = 'copper,9.80,kg,2026-11-25,"Merchant, by post"'
    text = f"{HEAD}\r\nsilver,30.9,ozt,2026-11-16,Refiner\r\n\r\n{copper}\r\n"
    assert send_list(morning, text)[:2] == (303, "/studio#prices")
    assert [(price.metal, str(price.price), price.source) for price in kept(morning)] == [
        ("copper", "9.80", "Merchant, by post"),
        ("silver", "30.9", "Refiner"),
    ]


def test_what_is_wrong_in_a_list_is_said_by_its_line_and_nothing_is_put_in(morning: Morning) -> None:
    text = f"{HEAD}\nsilver,30.9,ozt,2026-11-16,Refiner\n\ntin,1,kg,2026-11-25,x\nbrass,1.2345678,lb,1 Dec,"
    status, _, page = send_list(morning, text)
    assert (status, kept(morning)) == (422, [])
    told = [words for words, href in page.links if href == "#f-list"]
    assert told == [
        "Line 4: We have no metal called tin. Choose one from the list.",
        "Line 5: A price has at most 6 places after the point.",
        "Line 5: Which day is meant? Write it like 2026-11-25.",
        "Line 5: The unit is g, kg or ozt.",
        "Line 5: The source is not given yet.",
    ]
    assert page.form("/studio/prices/list").fields["list"].strip() == text
    assert page.described["f-list-wrong"] == told[0]
    assert all(words in page.words for words in told)


def test_a_list_of_one_price_of_a_day_to_come_names_its_line(morning: Morning) -> None:
    status, _, page = send_list(morning, f"{HEAD}\n\nsilver,30.9,ozt,2027-11-16,Refiner")
    words = "Line 3: A price of a day to come? Put it in at most a week before its day."
    assert (status, page.described["f-list-wrong"], kept(morning)) == (422, words, [])


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", f"The first line names the columns: {HEAD}."),
        ("silver,30.9,ozt,2026-11-16,Refiner", f"The first line names the columns: {HEAD}."),
        (HEAD, "There is no price in the list yet."),
        (f'{HEAD}\n"silver', "The quotation marks in the list do not close."),
        (
            HEAD + "\nsilver,1,g,2026-11-16,x" * 2000,
            "This list is longer than we can read at once. Paste it in parts.",
        ),
    ],
)
def test_a_list_that_is_none_is_said(morning: Morning, text: str, words: str) -> None:
    status, _, page = send_list(morning, text)
    assert (status, page.described["f-list-wrong"]) == (422, words)


def test_all_prices_are_listed_the_last_first_and_the_list_goes_on(morning: Morning) -> None:
    put_in(morning, *(silver(f"{n}.01", TODAY - (70 - n) * DAY) for n in range(1, 65)))
    page = morning.see("/studio")
    seen: list[str] = []
    for _ in range(3):
        table = page.words.split("Put in ", 1)[1]
        seen += [word for word in table.split("Older prices")[0].split() if word.endswith(".01")]
        if any(words == "Older prices" for words, _ in page.links):
            page = morning.see(page.link("Older prices").partition("#")[0])
    assert seen[:64] == [f"{n}.01" for n in range(64, 0, -1)]


@pytest.mark.parametrize("asked", ["", "x", "-1", "9" * 40, "1%20OR%201"])
def test_a_place_in_the_list_that_is_none_is_its_beginning(morning: Morning, asked: str) -> None:
    put_in(morning, silver())
    assert "refiner's list" in morning.see(f"/studio?prices={asked}").words


def test_the_same_form_sent_twice_puts_in_one_price(morning: Morning) -> None:
    fields = morning.see("/studio").form("/studio/prices").fields
    sent = fields | {"metal": "silver", "price": "1", "unit": "g", "on": "25/11", "source": "x"}
    assert [morning.send("/studio/prices", sent)[0] for _ in range(2)] == [303, 303]
    assert len(kept(morning)) == 1
