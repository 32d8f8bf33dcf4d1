"""Requests as a program means them: the ones that are made by chance seldom come so far."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from hypothesis import strategies as st
from schemathesis import Case

from studio.craft.alloys import ALLOYS
from studio.craft.orders import State
from studio.craft.rates import WeightUnit
from tests.craft.test_buying import STRIP
from tests.fuzz.book import Known
from tests.fuzz.description import Operation
from tests.web.house import a_ring, an_order

MOST_STRANGE_FIELDS = 2


@dataclass(frozen=True, slots=True)
class Meant:
    """What stands in the path, after the question mark, and in the body."""

    path: Mapping[str, str] = field(default_factory=dict)
    query: Mapping[str, Any] = field(default_factory=dict)
    body: Mapping[str, Any] | None = None


def meant(operation: Operation, known: Known) -> Sequence[Meant]:
    """Requests for an operation; an owner is answered the first of them as asked."""
    listed = {
        ("/api/sizes", "get"): [
            Meant(query={"system": system, "size": size})
            for system, size in _SIZES
        ],
        ("/api/alloys", "get"): [Meant(), Meant(query={"limit": 1})],
        ("/api/gauges", "get"): [Meant()],
        ("/api/openapi.json", "get"): [Meant()],
        ("/api/reckonings", "post"): [
            Meant(body=a_ring(alloy=alloy, profile=profile))
            for alloy, profile in zip(sorted(ALLOYS), _PROFILES * len(ALLOYS), strict=False)
        ],
        ("/api/orders", "post"): [
            Meant(body=an_order()),
            Meant(body=an_order(customer={"id": known.customers[0]}, rings=[a_ring(), a_ring(width=8)])),
            Meant(body=an_order(customer={"name": "Ned"}, wanted_on=None, note="by the door")),
        ],
        ("/api/orders", "get"): [
            Meant(),
            Meant(query={"q": "Ottilie"}),
            Meant(query={"q": "0487"}),
            Meant(query={"after": known.orders[-1], "limit": 2}),
            *(Meant(query={"state": state.value}) for state in State),
        ],
        ("/api/orders/{number}", "get"): [Meant({"number": number}) for number in known.orders],
        ("/api/orders/{number}", "patch"): [
            Meant({"number": number}, body={"version": version, **change})
            for change in _CHANGES
            for number, version in known.versions.items()
        ],
        ("/api/orders/{number}/moves", "post"): [
            *_may_be_ready(known) * 12,
            *(
                Meant({"number": number}, body={"to": to, "version": version, "reason": "asked for"})
                for to in State
                for number, version in reversed([*known.versions.items()])
            ),
        ],
        ("/api/orders/{number}/quotes", "post"): [
            Meant({"number": number}, body=terms)
            for terms in ({}, {"valid_days": 3, "deposit_percent": "12.5"})
            for number in known.orders[1:]  # the first is called off
        ],
        ("/api/orders/{number}/variants", "post"): [
            Meant({"number": number}, body={"version": version, "rings": [a_ring(width=5)] * count})
            for number, version in [*known.versions.items()][2:]  # called off, and with a variant already
            for count in (1, 2)
        ],
        ("/api/orders/{number}/variants/{key}", "delete"): [
            Meant({"number": number, "key": key}, query={"version": version})
            for key in ("b", "c")
            for number, version in [*known.versions.items()][1:]
        ],
        ("/api/orders/{number}/amendments", "post"): [
            Meant({"number": number}, body={"words": "As told on the telephone.", **change})
            for change in ({"charge_text": "The blank", "charge_minor": 2600}, {"rings": [a_ring(width=5)]})
            for number in reversed(known.orders)
        ],
        ("/api/orders/{number}/settlement", "post"): [
            Meant({"number": number}, body={"owed_minor": owed, "version": version})
            for owed in (5_000, 0)
            for number, version in known.versions.items()
        ],
        ("/api/orders/{number}/payments", "post"): [
            Meant({"number": number}, body={"amount_minor": amount, "method": "card", **more})
            for amount, more in ((100, {"reference": "slip 7"}), (50, {"refund": True}))
            for number in reversed(known.orders)
        ],
        ("/api/orders/{number}/invoices", "get"): [Meant({"number": number}) for number in known.orders],
        ("/api/orders/{number}/invoices", "post"): [
            *(
                Meant({"number": number}, body={"kind": "invoice", **more})
                for more in ({}, {"address": "12 Saltmarsh Row"})
                for number in known.to_invoice
            ),
            *(
                Meant({"number": payment.rpartition("-")[0]}, body={"kind": "on account", "payment": payment})
                for payment in known.on_account
            ),
        ],
        ("/api/invoices/{number}/credit-notes", "post"): [
            Meant({"number": number}, body={"why": "A mistake", **more})
            for more in ({}, {"amount_minor": 100})
            for number in known.invoices
        ],
        ("/api/payments/{number}/undoing", "post"): [
            Meant({"number": f"{number}-p{count}"}, body={"why": "of another order"})
            for count in (1, 2)
            for number in reversed(known.orders)
        ],
        ("/api/orders/{number}/documents", "post"): [
            Meant({"number": number}, body=body)
            for body in _DOCUMENTS
            for number in reversed(known.orders)
        ],
        ("/api/quotes/{number}/withdrawal", "post"): [
            Meant({"number": number}) for number in reversed(known.quotes) if "-a" in number
        ],
        ("/api/quotes/{number}/agreement", "post"): [
            Meant({"number": number}, body={"name": "Ottilie Marchbanks", **deposit})
            for deposit in _DEPOSITS
            for number in known.open_quotes[2::-2]  # those that were not answered or superseded since
        ],
        ("/api/quotes/{number}/mails", "post"): [
            Meant({"number": number}, body=body)
            for body in ({}, {"to": "ines@radley.example"})
            for number in reversed(known.open_quotes)
        ],
        ("/api/reminders", "get"): [
            Meant(),
            Meant(query={"kind": "balance"}),
            Meant(query={"kind": "quote", "after": known.orders[0], "limit": 1}),
        ],
        ("/api/orders/{number}/reminders", "post"): [
            Meant({"number": known.open_quotes[place].rpartition("-")[0]}, body={"kind": kind, **more})
            for place, kind in ((0, "quote"), (1, "quote"), (3, "deposit"))
            for more in ({}, {"words": "A word: [link]" if kind == "quote" else "A word.", "again": True})
        ],
        ("/api/metal-prices", "post"): [
            Meant(body=_PRICE | {"unit": unit})
            for unit in WeightUnit
        ],
        ("/api/cutting-plans", "post"): [
            Meant(
                body={
                    "kerf": "0.31 mm",
                    "stock": [{"id": "S-1", "length": 198, "width": 24}],
                    "blanks": [{"id": number, "length": 61.4, "width": 6} for number in known.orders[:4]],
                }
            )
        ],
        ("/api/supplies", "get"): [Meant()],
        ("/api/buying", "get"): [Meant()],
        ("/api/purchases", "get"): [Meant()],
        ("/api/purchases/{purchase_id}", "get"): [Meant({"purchase_id": "1"})],
        ("/api/purchases", "post"): [
            Meant(body={"supplier": STRIP.supplier, "lines": [{"supply": 1, "length": length, "width": 6}]})
            for length in (130, "14 cm")
        ],
        ("/api/purchases/{purchase_id}/lines/{line_id}/arrival", "post"): [
            Meant({"purchase_id": "1", "line_id": str(line)}, body={"lot": "B-9", "place": "tray 2"})
            for line in (1, 2)
        ],
        ("/api/purchases/{purchase_id}/calling-off", "post"): [
            Meant({"purchase_id": "2"}, body={"version": 1})
        ],
        ("/metal/purchases/{purchase_id}.pdf", "get"): [Meant({"purchase_id": "1"})],
        ("/api/week", "get"): [Meant(), Meant(query={"from": "2026-11-02"})],
        ("/orders/{number}/bench-sheet.pdf", "get"): [
            Meant({"number": number}) for number in reversed(known.orders)
        ],
        ("/orders/{number}/rings/{position}/repeats.pdf", "get"): [
            Meant({"number": number, "position": "1"}, query={"pitch": "2.5"}) for number in known.orders
        ],
        ("/printers/check-sheet.pdf", "get"): [Meant(), Meant(query={"printer": "none"})],
        ("/week/papers.pdf", "get"): [Meant(), Meant(query={"from": "2026-11-02"})],
        ("/orders/{number}/label.pdf", "get"): [
            Meant({"number": number}) for number in reversed(known.orders)
        ],
        ("/week/labels.pdf", "get"): [Meant(), Meant(query={"from": "2026-11-02"})],
        ("/orders/{number}/rings/{position}/inscription.pdf", "get"): [
            Meant({"number": known.inscribed, "position": place}) for place in ("1", "2")
        ],
        ("/week/cutting.pdf", "get"): [Meant(), Meant(query={"from": "2026-11-02"})],
        ("/quotes/{number}.pdf", "get"): [Meant({"number": number}) for number in known.quotes],
        ("/invoices/{number}.pdf", "get"): [Meant({"number": number}) for number in known.invoices],
        ("/metal/old-gold/{number}.pdf", "get"): [Meant({"number": "1"})],
        ("/outwork/{number}.pdf", "get"): [Meant({"number": number}) for number in known.slips],
        ("/documents/{number}.pdf", "get"): [Meant({"number": number}) for number in known.documents],
    }  # fmt: skip
    return listed[operation]


def _may_be_ready(known: Known) -> list[Meant]:
    """What every role may say: that an order at the bench, the last but one in the book, is ready."""
    number, version = [*known.versions.items()][-2]
    return [Meant({"number": number}, body={"to": State.READY, "version": version})]


@st.composite
def nearly_as_meant(
    draw: st.DrawFn, cases: st.SearchStrategy[Case[Any]], choices: Sequence[Meant]
) -> Case[Any]:
    """A request as it is meant, with at most two fields of one that was made from the description."""
    case, chosen = draw(cases), draw(st.sampled_from(choices))
    case.path_parameters = dict(chosen.path)
    case.query = dict(chosen.query)
    if chosen.body is not None:
        body = dict(chosen.body)
        strange = case.body if isinstance(case.body, dict) else {}
        if strange:
            names = st.lists(st.sampled_from(sorted(strange)), max_size=MOST_STRANGE_FIELDS, unique=True)
            body |= {name: strange[name] for name in draw(names)}
        case.body = body
    return case


_SIZES = (("uk", "O½"), ("us", "7.25"), ("iso", "54"), ("jp", "14"), ("ch", "14"), ("de", "17.25"))
_PRICE = {"metal": "gold", "price": "65.20", "on": "2026-11-02", "source": "a list"}
_PROFILES = ["flat", "half-round", "low-dome", "court", "flat-court", "knife-edge"]
_CHANGES: Sequence[Mapping[str, Any]] = (
    {"note": "by the door"},
    {"mends": None},
    {"rings": [a_ring(width="8 mm"), a_ring(finger={"size": "N"})]},
    {"customer": {"phone": "01632 960 412"}, "bench_on": "2027-01-04"},
)
_DOCUMENTS: Sequence[Mapping[str, Any]] = (
    {"kind": "confirmation"},
    {"kind": "receipt", "goods": "An old ring, for its gold", "weight_g": "2.14 g", "bag": "A-17"},
    {"kind": "return"},
)
_DEPOSITS: Sequence[Mapping[str, Any]] = (
    {"without_deposit": "an old customer"},
    {"deposit_minor": 1},
    {"reason": "the same price"},
)
