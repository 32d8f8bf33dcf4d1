"""Every figure with a unit that a page or a paper shows says somewhere how it came about."""

import re
from collections.abc import Iterator
from dataclasses import asdict
from datetime import date
from html import unescape
from urllib.parse import urlencode

import httpx
import pytest
from sqlalchemy import Engine

from studio.book import engine as engines
from studio.book.bench_work import ring_at_bench
from studio.book.demo import OWNER, write_demo
from studio.book.demo_people import STUDIO
from studio.book.links import enter_by_link, make_link
from studio.book.metal_aside import metal_aside
from studio.book.order_reads import order, orders_page
from studio.book.order_values import Order
from studio.book.people import PROGRAM
from studio.book.rates import rates_on
from studio.book.schema import bring_up_to_date
from studio.clock import now as this_moment
from studio.craft.stones import stone_line
from studio.settings import Settings
from studio.web.app import create_app
from tests.asgi import InProcess
from tests.builders import PASSPHRASE
from tests.papers.printed import text_of

SHOWN = re.compile(r"(?<![\w.,/])(\d[\d,]*(?:\.\d+)?) ?(mm²|mm|g/cm³|g|%)(?![\w²/])")
NUMBER = re.compile(r"\d+(?:\.\d+)?")
KEPT = {
    percent_bp / 100
    for percent_bp in (STUDIO.kept_agreed_bp, STUDIO.kept_cut_bp, STUDIO.kept_bench_bp, STUDIO.kept_ready_bp)
    if percent_bp is not None
}
"""What is owed of an order that is called off, in percent: the studio's own table, as it was typed."""


def read(html: str) -> str:
    """What a reader sees of a page."""
    bare = re.sub(r"<(script|style|head)\b.*?</\1>", " ", html, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", bare)).split())


class Shop:
    """The demo's orders and an owner's browser."""

    def __init__(self, engine: Engine, client: httpx.Client, orders: list[Order]) -> None:
        self.engine = engine
        self.client = client
        self.orders = orders

    def words(self, path: str) -> str:
        """What a reader sees of a page."""
        answer = self.client.get(path)
        assert answer.status_code == httpx.codes.OK, path
        return read(answer.text)

    def known(self, one: Order) -> set[float]:
        """Every number that the rings of an order say anything of: values, inputs, constants.

        What was typed of stones and of goods taken in is nobody's reckoning, and stands as it was typed;
        the mass of a piece that lies aside is the drawer's, which tells of it. What was measured at the bench
        stands as it was measured, in what the ring was made as too; what a customer said as it was said.
        """
        ways = ["", *(f"?variant={way.key}" for way in one.variants)]
        told = " ".join(
            self.words(f"/orders/{one.number}/rings/{ring.position}/came-about{way}")
            for ring in one.rings
            for way in ways
        )
        typed = [stone_line(stone) for ring in one.rings for stone in ring.particulars.stones or ()]
        told = " ".join([told, *typed, *(good.line for good in one.goods_held)])
        with engines.session(self.engine) as session:
            aside = {one.aside.aside_mg / 1000 for one in metal_aside(session, order=one.number)}
            at_bench = [ring_at_bench(session, one.number, ring.position) for ring in one.rings]
        aside |= {did.figure for ring in at_bench for did in ring.happened if did.figure is not None}
        for made in one.made.values():
            aside |= {value for value in asdict(made.figures).values() if isinstance(value, float)}
        aside |= {fit.off_mm for fit in one.fits.values() if fit.off_mm is not None}
        return {float(found) for found in NUMBER.findall(told)} | KEPT | aside


def untold(words: str, known: set[float]) -> list[str]:
    """The figures in `words` that are none of those known, rounded as they are shown."""
    found = []
    for number, unit in SHOWN.findall(words):
        plain = number.replace(",", "")
        half = 0.5 * 10 ** -len(plain.partition(".")[2]) + 1e-9
        if not any(abs(float(plain) - value) <= half for value in known):
            found.append(f"{number} {unit}")
    return found


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    home = tmp_path_factory.mktemp("figures")
    engine = engines.open_book(f"sqlite:///{home / 'book.db'}")
    now = this_moment()
    bring_up_to_date(engine, now=now)
    with engines.session(engine) as session:
        write_demo(session, now=now)
        link = make_link(session, user_name=OWNER, actor=PROGRAM, now=now)
        key = enter_by_link(session, key=link, now=now, passphrase=PASSPHRASE).key
        lines = orders_page(session, limit=200, now=now).items
        orders = [order(session, line.number) for line in lines]
    with (
        InProcess(create_app(Settings(home=home), engine)) as transport,
        httpx.Client(
            transport=transport, base_url="http://127.0.0.1:8321", cookies={"shankwright": key}
        ) as client,
    ):
        yield Shop(engine, client, orders)
    engine.dispose()


def test_every_figure_of_every_order_s_page_says_how_it_came_about(shop: Shop) -> None:
    seen = 0
    for one in shop.orders:
        words = shop.words(f"/orders/{one.number}")
        seen += len(SHOWN.findall(words))
        assert untold(words, shop.known(one)) == [], one.number
    assert seen > 20 * len(shop.orders)


def test_every_figure_of_a_bench_sheet_says_how_it_came_about(shop: Shop) -> None:
    at_work = [one for one in shop.orders if one.state in {"agreed", "at the bench"}][:8]
    seen = 0
    for one in at_work:
        answer = shop.client.get(f"/orders/{one.number}/bench-sheet.pdf")
        words = text_of(answer.content)
        seen += len(SHOWN.findall(words))
        assert untold(words, shop.known(one)) == [], one.number
    assert seen > 5 * len(at_work) > 0


def test_every_figure_of_a_quote_says_how_it_came_about(shop: Shop) -> None:
    quoted = [one for one in shop.orders if one.state == "quoted"][:6]
    seen = 0
    with engines.session(shop.engine) as session:
        found = rates_on(session, date.max)
    assert found is not None
    for one in quoted:
        answer = shop.client.get(f"/quotes/{one.quotes[-1].number}.pdf")
        words = text_of(answer.content)
        seen += len(SHOWN.findall(words))
        # the tax is a setting of the studio, and the sentence of the price names it
        assert untold(words, shop.known(one) | {float(found.tax_percent)}) == [], one.number
    assert seen > len(quoted) > 0


@pytest.mark.parametrize(
    "chosen",
    [
        {
            "finger.system": "uk",
            "finger.size": "O",
            "finger.measured": "told",
            "width": "6",
            "thickness": "1.4",
        },
        {
            "finger.system": "us",
            "finger.size": "7 1/4",
            "finger.gauge_width_mm": "3",
            "width": "9",
            "thickness": "2",
        },
        {
            "width": "5",
            "thickness": "1.7",
            "profile": "court",
            "alloy": "gold-585-rose",
            "pattern": "hammered",
        },
        {"width": "7", "thickness": "1.5", "alloy": "platinum-950-ru", "fit_mm": "0.4", "pattern": "stamped"},
    ],
)
def test_every_figure_at_the_counter_says_how_it_came_about(shop: Shop, chosen: dict[str, str]) -> None:
    form = {
        "finger.system": "iso", "finger.size": "57", "finger.measured": "gauge", "profile": "flat",
        "alloy": "silver-925", **chosen,
    }  # fmt: skip
    answer = shop.client.post("/counter/figures", data=form, headers={"Sec-Fetch-Site": "same-origin"})
    # a figure that opens has its working inside: that is what says it, not what has to be said
    shown = read(re.sub(r'<section class="working".*?</section>', " ", answer.text, flags=re.DOTALL))
    told = shop.words(f"/counter/came-about?{urlencode(form)}")
    assert len(SHOWN.findall(shown)) > 8
    assert untold(shown, {float(found) for found in NUMBER.findall(told)}) == []


def test_a_figure_from_nowhere_would_be_noticed() -> None:
    assert untold("a blank of 61.8 mm, 3.10 g", {61.75, 3.1}) == []
    assert untold("a blank of 61.8 mm, 3.11 g", {61.7, 3.1}) == ["61.8 mm", "3.11 g"]
