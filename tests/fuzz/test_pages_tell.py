"""Every page as every role sees it: no margin for the counter, no money and nobody's address for a maker.

The figures of the book are odd on purpose: an amount found on a page is one that was to be kept from it.
"""

import re
from collections import defaultdict
from collections.abc import Iterator
from itertools import product

import httpx
import pytest

from studio.craft.roles import Role
from tests.fuzz.answers import told_too_much
from tests.fuzz.book import Known
from tests.fuzz.playing import Play
from tests.web.house import BASE_URL
from tests.web.routes import GUARDED

PAGES = [
    path
    for method, path in GUARDED
    if method == "GET" and not path.startswith("/api/") and not path.endswith((".pdf", ".csv", ".jpg"))
]
LOOKED_AT = {Role.OWNER: 29, Role.COUNTER: 20, Role.MAKER: 8}
"""How many of the pages a role sees, at the least."""


@pytest.fixture(scope="module")
def play(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Play]:
    with Play(tmp_path_factory.mktemp("pages")) as opened:
        opened.studio.as_made()
        yield opened


def addresses(path: str, known: Known) -> Iterator[str]:
    """A page's address for whatever stands in the book."""
    numbers = known.quotes if path.startswith("/quotes") else known.orders
    parts = {
        "{number}": numbers,
        "{position}": ("1",),
        "{kind}": ("quote", "deposit", "balance"),
        "{key}": ("a", "b"),
        "{customer_id}": tuple(map(str, known.customers)),
        "{gauge_id}": ("1",),
        "{month}": ("2026-11",),
    }
    if path.endswith("/thickness"):
        path = f"{path}?measured=1.6"
    asked = [(name, values) for name, values in parts.items() if name in path]
    for chosen in product(*(values for _, values in asked)):
        filled = path
        for (name, _), value in zip(asked, chosen, strict=True):
            filled = filled.replace(name, value)
        yield filled


@pytest.mark.parametrize("role", list(Role))
def test_no_page_tells_a_role_what_it_has_no_right_to_see(play: Play, role: Role) -> None:
    studio = play.studio
    seen, told = defaultdict[str, int](int), dict[str, set[str]]()
    for path in PAGES:
        for address in addresses(path, studio.known):
            headers = {"authorization": f"Bearer {studio.tokens[role]}"}
            answer = studio.send(httpx.Request("GET", f"{BASE_URL}{address}", headers=headers))
            answer.read()
            seen[path] += answer.status_code == 200
            if found := told_too_much(answer, role, studio.known):
                told[address] = found
    assert told == {}
    assert sum(times > 0 for times in seen.values()) >= LOOKED_AT[role]


def test_the_owner_s_pages_tell_what_is_kept_from_the_others(play: Play) -> None:
    """What is looked for is there to be found: the amounts stand on the pages of who may see them."""
    studio = play.studio
    headers = {"authorization": f"Bearer {studio.tokens[Role.OWNER]}"}
    answers = [
        studio.send(httpx.Request("GET", f"{BASE_URL}{address}", headers=headers)).read().decode()
        for address in addresses("/quotes/{number}", studio.known)
    ]
    words = " ".join(answers)
    assert any(re.search(re.escape(amount), words) for amount in studio.known.earned)
    assert any(re.search(re.escape(amount), words) for amount in studio.known.charged)
