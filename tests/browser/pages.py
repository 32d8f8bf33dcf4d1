"""Every page that is looked at, by what stands on it, and every address that is none, with the reason."""

from collections.abc import Callable

from studio.clock import now as this_moment
from tests.browser.demo_orders import Demo, first

A_RING = (
    "finger.system=uk&finger.size=O&finger.measured=ring&profile=flat&width=6&thickness=1.4&alloy=silver-925"
)
PAGES: dict[str, tuple[str, str | Callable[[Demo], str]]] = {
    "in hand": ("/", "/"),
    "orders": ("/orders", "/orders"),
    "orders found by name": ("/orders", "/orders?q=an&state=agreed"),
    "orders, none found": ("/orders", "/orders?q=nobody+of+this+name"),
    "a new order": ("/orders/new", "/orders/new"),
    "an order in draft": ("/orders/{number}", first("draft")),
    "an order quoted": ("/orders/{number}", first("quoted")),
    "an order agreed": ("/orders/{number}", first("agreed")),
    "a paper that holds no more": (
        "/orders/{number}",
        lambda demo: f"/orders/{demo.amended('agreed').rpartition('-')[0]}?sheet=q1",
    ),
    "an order at the bench": ("/orders/{number}", first("at the bench")),
    "an order with pictures": ("/orders/{number}", lambda demo: demo.with_pictures()),
    "an order with papers": ("/orders/{number}", lambda demo: demo.with_papers()),
    "an order ready": ("/orders/{number}", first("ready")),
    "an order handed over": ("/orders/{number}", first("handed over")),
    "an order called off": ("/orders/{number}", first("called off")),
    "a ring at the counter": (
        "/orders/{number}/rings/{position}", lambda demo: f"{first('draft')(demo)}/rings/1",
    ),
    "read back": ("/orders/{number}/read-back", lambda demo: f"{first('draft')(demo)}/read-back"),
    "another way to make a ring": (
        "/orders/{number}/variants/{key}/rings/{position}",
        lambda demo: f"/orders/{demo.with_a_choice()}/variants/b/rings/1",
    ),
    "a quote with a choice": ("/quotes/{number}", lambda demo: f"/quotes/{demo.with_a_choice()}-q1"),
    "an open quote": ("/quotes/{number}", lambda demo: f"/quotes/{demo.numbers('quoted')[0]}-q1"),
    "an amendment": ("/quotes/{number}", lambda demo: f"/quotes/{demo.amended('open')}"),
    "an amendment being put together": ("/orders/{number}/amendment", lambda demo: demo.amending()),
    "a ring of an amendment": (
        "/orders/{number}/amendment/rings/{position}",
        lambda demo: f"{demo.amending()}/rings/1",
    ),
    "an agreed quote": ("/quotes/{number}", lambda demo: f"/quotes/{demo.numbers('agreed')[0]}-q1"),
    "reminders": ("/reminders", "/reminders"),
    "a reminder of a quote": (
        "/orders/{number}/reminders/{kind}", lambda demo: f"/orders/{demo.with_a_choice()}/reminders/quote",
    ),
    "customers": ("/customers", "/customers"),
    "a customer": ("/customers/{customer_id}", "/customers/1"),
    "the week": ("/week", "/week"),
    "the load of the bench": ("/week/load", "/week/load"),
    "some weeks": ("/week", "/week?from=2026-12-07&to=2027-01-31"),
    "the studio": ("/studio", "/studio"),
    "the books of a month": ("/studio/months/{month}", f"/studio/months/{this_moment():%Y-%m}"),
    "the practice": ("/studio/practice", "/studio/practice"),
    "whole repeats": (
        "/orders/{number}/rings/{position}/repeats",
        lambda demo: f"{demo.with_a_pattern()}/rings/1/repeats?pitch=2.5",
    ),
    "the printers": ("/printers", "/printers"),
    "the gauges": ("/studio/gauges", "/studio/gauges"),
    "a ring in other metals": (
        "/orders/{number}/rings/{position}/metals", lambda demo: f"{first('agreed')(demo)}/rings/1/metals",
    ),
    "a strip found thicker": (
        "/orders/{number}/rings/{position}/thickness",
        lambda demo: f"{first('agreed')(demo)}/rings/1/thickness?measured=1.6",
    ),
    "how a ring came about": (
        "/orders/{number}/rings/{position}/came-about",
        lambda demo: f"{first('agreed')(demo)}/rings/1/came-about",
    ),
    "what the bench measured on a ring": (
        "/orders/{number}/rings/{position}/bench-record",
        lambda demo: f"{first('ready')(demo)}/rings/1/bench-record",
    ),
    "the way over the bench": (
        "/orders/{number}/rings/{position}/route",
        lambda demo: f"{first('agreed')(demo)}/rings/1/route",
    ),
    "handing an order over": (
        "/orders/{number}/hand-over",
        lambda demo: f"{first('ready')(demo)}/hand-over",
    ),
    "how the rings of an order fit": (
        "/orders/{number}/fit",
        lambda demo: f"{first('handed over')(demo)}/fit",
    ),
    "what customers said of the fit": ("/studio/practice/fit", "/studio/practice/fit"),
    "the rings at the bench": ("/bench", "/bench"),
    "a ring half way over the bench": (
        "/bench/{number}/{position}", lambda demo: f"/bench/{demo.with_pictures().rpartition('/')[2]}/1",
    ),
    "PINs and devices at the bench": ("/bench/people", "/bench/people"),
    "a step out of order": (
        "/bench/{number}/{position}",
        lambda demo: f"/bench/{demo.with_pictures().rpartition('/')[2]}/1?step=solder",
    ),
    "all that the bench measured": ("/bench-records", "/bench-records"),
    "what really happened": ("/what-happened", "/what-happened"),
    "what really happened of an order": (
        "/orders/{number}/what-happened",
        lambda demo: f"{first('ready')(demo)}/what-happened",
    ),
    "alloys of their own": ("/studio/alloys", "/studio/alloys"),
    "fine metal and master alloy": ("/alloying", "/alloying?wanted=750&grams=20&fine=1000&other=0"),
    "the drawer": ("/metal", "/metal"),
    "where every gram went": ("/metal/ledger/{period}", f"/metal/ledger/{this_moment():%Y-%m}"),
    "where every gram of a year went": ("/metal/ledger/{period}", f"/metal/ledger/{this_moment():%Y}"),
    "what the work takes": ("/metal/losses", f"/metal/losses?of={this_moment():%Y}"),
    "metal over time": ("/metal/over-time", "/metal/over-time"),
    "the stock-take": ("/metal/count", "/metal/count"),
    "the way of a piece": ("/metal/pieces/{piece_id}", "/metal/pieces/1"),
    "the refiner": ("/metal/refiner", "/metal/refiner"),
    "old gold": ("/metal/old-gold", "/metal/old-gold"),
    "held for customers": ("/custody", "/custody"),
    "what to buy": ("/metal/buying", "/metal/buying"),
    "where things lie": ("/whereabouts", "/whereabouts"),
    "where the things of a telephone lie": ("/whereabouts", "/whereabouts?q=01632+960+101"),
    "places and outside workers": ("/whereabouts/lists", "/whereabouts/lists"),
    "outside work": ("/outwork", "/outwork"),
    "a slip being written": ("/outwork", lambda demo: f"/outwork?order={demo.numbers('agreed')[0]}"),
    "what suppliers sell": ("/metal/suppliers", "/metal/suppliers"),
    "when metal moves": ("/metal/moves", "/metal/moves"),
    "how a ring at the counter came about": ("/counter/came-about", f"/counter/came-about?{A_RING}"),
    "a ring at the counter in other metals": ("/counter/metals", f"/counter/metals?{A_RING}"),
    "no such order": ("/orders/{number}", "/orders/1999-1"),
}  # fmt: skip
WITHOUT_SIGN_IN = {"/sign-in", "/enter/{key}", "/answer/{key}", "/bench/hands"}
"""Looked at by a browser of their own, in the test of the ways in."""
NO_PAGES = {
    "/counter/customers": "rows under a field of the counter, whose page is looked at",
    "/health": "one word for a program",
    "/static/{path:path}": "files that belong to the pages",
    "/orders/{number}/bench-sheet.pdf": "a paper; its tags are tested with the papers",
    "/week/papers.pdf": "papers, as above",
    "/orders/{number}/rings/{position}/repeats.pdf": "a paper, as above",
    "/printers/check-sheet.pdf": "a paper, as above",
    "/orders/{number}/label.pdf": "a paper, as above",
    "/week/labels.pdf": "papers, as above",
    "/orders/{number}/rings/{position}/inscription.pdf": "a paper, as above",
    "/orders/{number}/pictures/{picture}.jpg": "a picture; the order's page says what it shows",
    "/orders/{number}/pictures/{picture}/small.jpg": "a picture, as above",
    "/metal/purchases/{purchase_id}.pdf": "a paper, as above",
    "/metal/buying.csv": "a file for a table program",
    "/metal/ledger": "the page of the month that runs, which is looked at",
    "/metal/ledger/{period}.csv": "a file for a table program",
    "/bench-records.csv": "a file for a table program",
    "/week/cutting.pdf": "a paper, as below",
    "/week/plan": "a part of the week's page, which is looked at",
    "/quotes/{number}.pdf": "a paper, as above",
    "/answer/{key}/quote.pdf": "the same paper, for the customer",
    "/documents/{number}.pdf": "a paper, as above",
    "/invoices/{number}.pdf": "a paper, as above",
    "/outwork/{number}.pdf": "a paper, as above",
    "/metal/old-gold/{number}.pdf": "a paper, as above",
    "/metal/old-gold.csv": "a file for a table program",
    "/studio/months/{month}.csv": "a file for a table program",
    "/quotes/{number}/letter.eml": "a letter for a mail program",
}
"""What a browser gets that is no page, each with what it is instead; under /api/ all is for programs."""
