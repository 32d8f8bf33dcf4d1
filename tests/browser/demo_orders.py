"""The orders of the demo, as its owner's browser finds them."""

from collections.abc import Callable

from playwright.sync_api import BrowserContext


def first(state: str) -> Callable[["Demo"], str]:
    """The address of the newest order in this state."""
    return lambda demo: f"/orders/{demo.numbers(state)[0]}"


class Demo:
    """The demo as its owner's browser sees it, with the numbers of its orders."""

    def __init__(self, base_url: str, context: BrowserContext) -> None:
        self.base_url = base_url
        self.context = context

    def numbers(self, state: str) -> list[str]:
        """The orders in this state, the newest first."""
        found = self.context.request.get(f"{self.base_url}/api/orders", params={"state": state}).json()
        return [order["number"] for order in found["items"]]

    def amended(self, state: str) -> str:
        """The number of an amendment that stands like this."""
        for number in self.numbers("agreed"):
            told = self.context.request.get(f"{self.base_url}/api/orders/{number}").json()
            for quote in told["quotes"]:
                if quote["kind"] == "amendment" and quote["state"] == state:
                    return str(quote["number"])
        raise AssertionError(f"the demo has no amendment that is {state}")

    def amending(self) -> str:
        """The page of an amendment that is begun, where it is not yet, on the order's page."""
        number = self.amended("agreed").rpartition("-")[0]
        page = self.context.new_page()
        page.goto(f"{self.base_url}/orders/{number}")
        begin = page.get_by_role("button", name="Amend what was agreed")
        if begin.count():
            begin.click()
        page.close()
        return f"/orders/{number}/amendment"

    def without_a_choice(self) -> str:
        """An order that is quoted in one way, its quote still good."""
        for number in self.numbers("quoted"):
            told = self.context.request.get(f"{self.base_url}/api/orders/{number}").json()
            if not told["variants"] and told["quotes"][-1]["state"] == "open" and len(told["quotes"]) == 1:
                return number
        raise AssertionError("the demo has no quote without a choice")

    def with_a_choice(self) -> str:
        """An order that is quoted in more than one way."""
        for number in self.numbers("quoted"):
            if self.context.request.get(f"{self.base_url}/api/orders/{number}").json()["variants"]:
                return number
        raise AssertionError("the demo quotes no order in more than one way")

    def with_papers(self) -> str:
        """The address of an order that has goods of the customer's, taken in with a receipt."""
        for number in self.numbers("agreed"):
            told = self.context.request.get(f"{self.base_url}/api/orders/{number}").json()
            if any(document["kind"] == "receipt" for document in told["documents"]):
                return f"/orders/{number}"
        raise AssertionError("no order of the demo has goods of the customer's")

    def with_a_pattern(self) -> str:
        """The address of an order at the bench whose first ring has a pattern."""
        for number in self.numbers("at the bench"):
            told = self.context.request.get(f"{self.base_url}/api/orders/{number}").json()["rings"][0]
            if told["pattern"] != "plain":
                return f"/orders/{number}"
        raise AssertionError("no order of the demo has a pattern")

    def with_pictures(self) -> str:
        """The address of an order that has pictures."""
        for number in self.numbers("at the bench"):
            if self.context.request.get(f"{self.base_url}/api/orders/{number}").json()["pictures"]:
                return f"/orders/{number}"
        raise AssertionError("no order of the demo has pictures")
