"""The web app: its routes, its threshold, and what it holds for as long as it runs."""

import gc
from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager, nullcontext

from anyio.to_thread import current_default_thread_limiter
from fastapi import APIRouter, FastAPI
from sqlalchemy import Engine
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import PROCESS_CONNECTIONS
from studio.papers.pool import PaperPool
from studio.papers.printing import HousePrinter
from studio.settings import Settings
from studio.web import (
    alloying,
    answer,
    answer_links,
    api,
    api_amendments,
    api_calling_off,
    api_cutting,
    api_documents,
    api_gauges,
    api_invoices,
    api_orders,
    api_payments,
    api_prices,
    api_purchases,
    api_quotes,
    api_reminders,
    api_variants,
    api_week,
    bench,
    bench_hands,
    bench_list,
    bench_load,
    bench_people,
    bench_pictures,
    bench_record,
    bench_records,
    buying,
    buying_papers,
    came_about,
    counter,
    custody,
    customers,
    cutting_papers,
    documents,
    drawer,
    fits,
    fits_heard,
    gauges,
    hand_over,
    in_hand,
    inscription_proofs,
    invoices,
    labels,
    ledger,
    mails,
    marks,
    mends,
    metal_losses,
    metal_moves,
    metal_over_time,
    metals,
    money,
    months,
    old_gold,
    order_amendment,
    order_rings,
    order_variants,
    orders,
    outwork,
    own_alloys,
    papers,
    pictures,
    practice,
    printers,
    quotes,
    refiners,
    reminders,
    repeats,
    ring_thickness,
    route,
    settling_up,
    sign_in,
    stock_take,
    studio,
    suppliers,
    week,
    week_cuts,
    what_happened,
    whereabouts,
)
from studio.web.answers import add_answers
from studio.web.plan_board import PlanBoard
from studio.web.planner import Planner
from studio.web.postman import Postman
from studio.web.render import templates
from studio.web.security import unguarded
from studio.web.static_files import StaticFiles, read_static_files
from studio.web.threshold import Threshold
from studio.web.uploads import Uploads

SQLITE_THREADS = 2
"""More threads than this only wait for each other at a SQLite book, and take time from the papers."""

open_doors = APIRouter()

ROUTERS: tuple[APIRouter, ...] = (
    open_doors,
    sign_in.router,
    api.router,
    api_gauges.router,
    api_orders.router,
    api_quotes.router,
    api_variants.router,
    api_amendments.router,
    api_calling_off.router,
    api_documents.router,
    api_invoices.router,
    api_payments.router,
    api_prices.router,
    api_purchases.router,
    api_cutting.router,
    api_week.router,
    papers.router,
    labels.router,
    inscription_proofs.router,
    documents.router,
    invoices.router,
    money.router,
    quotes.router,
    mails.router,
    mails.api_router,
    reminders.router,
    api_reminders.router,
    in_hand.router,
    metals.router,
    came_about.router,
    bench_list.router,
    bench_load.router,
    bench_hands.router,
    bench_people.router,
    bench_pictures.router,
    bench.router,
    bench_record.router,
    bench_records.router,
    route.router,
    own_alloys.router,
    alloying.router,
    counter.router,
    answer.router,
    answer_links.router,
    order_amendment.router,
    settling_up.router,
    order_rings.router,
    order_variants.router,
    orders.router,
    pictures.router,
    ring_thickness.router,
    mends.router,
    marks.router,
    customers.router,
    week.router,
    week_cuts.router,
    what_happened.router,
    cutting_papers.router,
    buying.router,
    buying_papers.router,
    suppliers.router,
    ledger.router,
    old_gold.router,
    custody.router,
    refiners.router,
    stock_take.router,
    drawer.router,
    metal_losses.router,
    metal_moves.router,
    metal_over_time.router,
    months.router,
    studio.router,
    practice.router,
    fits.router,
    fits_heard.router,
    gauges.router,
    hand_over.router,
    printers.router,
    whereabouts.router,
    outwork.router,
    repeats.router,
)
"""All routes. Of two that fit an address the earlier wins: /orders/new stands before /orders/{number}."""


@open_doors.get("/health")
async def health() -> dict[str, str]:
    """That the app answers, and nothing else."""
    return {"status": "ok"}


@open_doors.get("/static/{path:path}")
async def static_file(request: Request, path: str) -> Response:
    """A static file; they are few and held in memory."""
    static: StaticFiles = request.app.state.static
    return static.answer(path)


def create_app(settings: Settings, engine: Engine, *, links_open_at_once: bool = False) -> FastAPI:
    """The app for the book behind `engine`. While it is served, papers are printed by a pool of processes.

    `links_open_at_once` is the demo's way: its one-time link signs in on opening, without a passphrase.
    Raises ValueError if a route neither names a right nor stands among the open ones.
    """
    app = FastAPI(
        title="Shankwright",
        openapi_url=None,
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,
        lifespan=_running,
    )
    static = read_static_files()
    app.state.settings = settings
    app.state.engine = engine
    app.state.printer = HousePrinter()
    app.state.planner = Planner()
    app.state.plan_board = PlanBoard(app.state.planner)
    app.state.uploads = Uploads()
    server = settings.mail_server
    app.state.postman = (
        None
        if server is None
        else Postman(engine, server, lambda: app.state.printer, base_url=settings.base_url)
    )
    app.state.links_open_at_once = links_open_at_once
    app.state.static = static
    app.state.templates = templates(static)
    add_routers(app, ROUTERS)
    add_answers(app)
    app.add_middleware(Threshold, has_tls=settings.tls is not None)
    return app


def add_routers(app: FastAPI, routers: Iterable[APIRouter]) -> None:
    """Take the routes in as they are; raises ValueError for one that anybody could open unawares."""
    for router in routers:
        app.router.routes.extend(router.routes)
    if open_to_all := unguarded(app.router.routes):
        raise ValueError(f"These routes name no right: {', '.join(open_to_all)}")


@asynccontextmanager
async def _running(app: FastAPI) -> AsyncIterator[None]:
    engine: Engine = app.state.engine
    is_file = engine.url.get_backend_name() == "sqlite"
    # A thread holds one connection at most: with as many threads as connections none waits for one in vain.
    current_default_thread_limiter().total_tokens = SQLITE_THREADS if is_file else PROCESS_CONNECTIONS
    # What is loaded by now stays for good; the collector need not look at it on every round.
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)
    settings: Settings = app.state.settings
    before = app.state.printer
    async with PaperPool(settings.paper_workers) as pool:
        app.state.printer = pool
        postman: Postman | None = app.state.postman
        async with nullcontext() if postman is None else postman.at_work():
            yield
        await app.state.plan_board.close()
    app.state.printer = before
    gc.unfreeze()
