"""The server falls under load and comes up again: no answered save is lost, and the program goes on."""

from pathlib import Path

import httpx

from studio.craft.roles import Role
from tests.faults.kills import half_saved, lost_of
from tests.faults.load import Ledger, clients, two_rings
from tests.postgresql.server import a_server
from tests.postgresql.test_gone import HEADING, NOT_THERE, UNSURE
from tests.running import a_served_book
from tests.web.house import make_book

CLIENTS = ("c1", "c2", "c3")
SAVES = 12


def test_what_was_answered_outlives_the_fall_of_the_server_and_work_goes_on(tmp_path: Path) -> None:
    with a_server(keeps_commits=True) as server:
        url = server.make("book")
        tokens, keys = make_book(tmp_path, url)
        token = tokens[Role.OWNER]
        with a_served_book(tmp_path, url) as served:
            ledger = Ledger()
            with clients(dict.fromkeys(CLIENTS, token), served.base_url, ledger):
                ledger.wait_for(SAVES)
                server.stop()
            # Each client was told so, and none was left without an answer.
            assert ledger.unanswered == []
            assert {said.partition(" ")[0] for said in ledger.refused} == {"503"}
            assert all(NOT_THERE in said or UNSURE in said for said in ledger.refused)

            with httpx.Client(
                base_url=served.base_url, headers={"cookie": f"shankwright={keys[Role.OWNER]}"}, timeout=60
            ) as desk:
                page = desk.get("/orders")
                assert page.status_code == 503
                assert HEADING in page.text
                assert NOT_THERE in page.text
                assert desk.get("/health").status_code == 200
                server.start()
                assert desk.get("/orders").status_code == 200

            assert lost_of(url, ledger.orders) == ()
            assert half_saved(url) == ()
            signed = {"authorization": f"Bearer {token}"}
            taken = httpx.post(
                f"{served.base_url}/api/orders", json=two_rings("after"), headers=signed, timeout=60
            )
            assert taken.status_code == 201
            assert half_saved(url) == ()
