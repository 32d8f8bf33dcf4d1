import re

from studio.craft.roles import Role
from tests.web.counter_desk import send, typed, words
from tests.web.house import House


def the_new_page(house: House) -> str:
    answer = house.browse("GET", "/orders/new", Role.COUNTER)
    assert answer.status_code == 200
    return answer.text


def test_the_page_begins_without_a_guess(house: House) -> None:
    page = the_new_page(house)
    assert "Size waits for the finger" in words(page)
    assert "Mark waits for the size" in words(page)
    assert re.search(r'<option value=""\s+selected>Not chosen yet', page)


def test_the_fields_come_in_talking_order(house: House) -> None:
    page = the_new_page(house)
    order = [
        "customer.name", "customer.phone", "customer.email", "finger.place", "finger.system", "finger.size",
        "finger.measured", "finger.gauge_width_mm", "finger.warm", "finger.taken_by", "profile", "width",
        "thickness", "from", "alloy", "pattern", "pattern_when", "wanted_on", "promised_on", "promised_hour",
        "bench_on", "note",
    ]  # fmt: skip
    places = [page.index(f'name="{name}"') for name in order]
    assert places == sorted(places)
    assert places[-1] < page.index('id="reckoned"')


def test_every_field_has_its_label_and_none_a_placeholder(house: House) -> None:
    page = the_new_page(house)
    fields = re.findall(r"<(?:input|select|textarea)\b[^>]*>", page)
    seen = [field for field in fields if 'type="hidden"' not in field and 'type="radio"' not in field]
    for field in seen:
        field_id = re.search(r'\bid="([^"]+)"', field)
        assert field_id is not None, field
        assert f'<label for="{field_id.group(1)}"' in page or f'for="{field_id.group(1)}"' in page
    radios = [field for field in fields if 'type="radio"' in field]
    assert len(radios) == 8
    assert all("aria-label=" in radio for radio in radios)
    assert "placeholder" not in page
    assert 'type="number"' not in page


def test_figures_are_typed_as_text_with_a_keypad_for_decimals(house: House) -> None:
    page = the_new_page(house)
    for name in ("width", "thickness", "finger.gauge_width_mm", "fit_mm", "stretch_percent"):
        field = re.search(rf'<input[^>]*\bname="{re.escape(name)}"[^>]*>', page)
        assert field is not None
        assert 'type="text"' in field.group()
        assert 'inputmode="decimal"' in field.group()


def test_the_customer_s_fields_say_what_a_browser_may_fill_in(house: House) -> None:
    page = the_new_page(house)
    for name, token in (("name", "name"), ("phone", "tel"), ("email", "email")):
        assert re.search(rf'name="customer\.{name}"[^>]*autocomplete="{token}"', page)


def test_enter_in_a_field_reads_back_since_that_is_the_first_button(house: House) -> None:
    form = the_new_page(house).partition('id="counter"')[2]
    first = re.search(r"<button\b[^>]*>", form)
    assert first is not None
    assert 'name="act"' in first.group()
    assert 'value="quote"' in first.group()


def test_every_access_key_is_there_once_and_told(house: House) -> None:
    page = the_new_page(house)
    used = re.findall(r'accesskey="(\w)"', page)
    told = [key.lower() for key in re.findall(r"<dt>(\w)</dt>", page)]
    assert sorted(used) == sorted(set(told))


def test_ids_are_unique_and_every_tie_leads_somewhere(house: House) -> None:
    for page in (
        the_new_page(house),
        send(house, typed(width="60", finger__gauge_width_mm="", wanted_on="31 Feb")).text,
    ):
        ids = re.findall(r'\bid="([^"]+)"', page)
        assert len(ids) == len(set(ids))
        for tie in ("for", "aria-labelledby", "aria-describedby", "popovertarget", "aria-controls"):
            for value in re.findall(rf'\b{tie}="([^"]+)"', page):
                assert set(value.split()) <= set(ids), (tie, value)
        for fragment in re.findall(r'href="#([^"]+)"', page):
            assert fragment in ids


def test_nothing_stands_inline_that_the_content_policy_forbids(house: House) -> None:
    page = send(house, typed(act="work out")).text
    assert "style=" not in page
    assert "<style" not in page
    assert not re.search(r"\bon\w+=", page)
    assert all("src=" in script for script in re.findall(r"<script\b[^>]*>", page))


def test_the_page_stays_small(house: House) -> None:
    page = send(house, typed(act="work out")).content
    assert len(page) < 100_000


def test_a_known_customer_can_be_chosen_by_the_address(house: House) -> None:
    number = send(house, typed()).headers["location"]
    href = re.search(r'href="/customers/(\d+)"', house.browse("GET", f"{number}/rings/1", Role.COUNTER).text)
    assert href is not None
    page = house.browse("GET", f"/orders/new?customer={href.group(1)}", Role.COUNTER).text
    assert "Oda Wrenlow 01632 960 417, oda@wrenlow.example change" in words(page)
