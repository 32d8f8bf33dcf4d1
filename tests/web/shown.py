"""A page as its reader gets it: the words, the links, the fields, and what a form would send."""

from dataclasses import dataclass, field
from html.parser import HTMLParser

import httpx

VOID = frozenset({"input", "link", "meta", "br", "path", "circle", "rect", "line", "use"})
IN_LINE = frozenset({"a", "b", "span", "strong", "kbd"})
SILENT = frozenset({"script", "style", "title", "svg"})


@dataclass(slots=True)
class Form:
    """One form: where it goes, the fields it sends, and its buttons by their words."""

    action: str
    fields: dict[str, str] = field(default_factory=dict)
    buttons: dict[str, tuple[str, str]] = field(default_factory=dict)

    def filled(self, press: str = "", **typed: str) -> dict[str, str]:
        """What is sent when `typed` is filled in and the button called `press` is pressed."""
        pressed = dict([self.buttons[press]]) if press and self.buttons[press][0] else {}
        return {**self.fields, **typed, **pressed}


class Shown(HTMLParser):
    """The parts of a page that a test speaks of."""

    def __init__(self, answer: httpx.Response) -> None:
        super().__init__()
        self.status = answer.status_code
        self.title = ""
        self.links: list[tuple[str, str]] = []
        self.forms: list[Form] = []
        self.described: dict[str, str] = {}
        self._texts: list[str] = []
        self._open: list[tuple[str, dict[str, str]]] = []
        self._link: tuple[str, list[str]] | None = None
        self._button: tuple[dict[str, str], list[str]] | None = None
        self._area: tuple[str, list[str]] | None = None
        self._select = ""
        self._ids: list[tuple[str, list[str]]] = []
        self.feed(answer.text)

    @property
    def words(self) -> str:
        """All that is read, with single spaces."""
        return " ".join("".join(self._texts).split())

    def link(self, words: str) -> str:
        """The address behind the link that reads `words`."""
        return next(href for text, href in self.links if text == words)

    def form(self, action: str) -> Form:
        """The form that goes to `action`."""
        return next(form for form in self.forms if form.action == action)

    def by_id(self, name: str) -> str:
        """The words inside the element with this id."""
        return self.described[name]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self._part(tag)
        if tag not in VOID:
            self._open.append((tag, given))
            if "id" in given:
                self._ids.append((given["id"], []))
        if tag == "a":
            self._link = (given.get("href", ""), [])
        elif tag == "form":
            self.forms.append(Form(given.get("action", "")))
        elif tag == "input" and self.forms and given.get("name"):
            is_sent = given.get("type") not in {"checkbox", "radio"} or "checked" in given
            if is_sent:
                self.forms[-1].fields[given["name"]] = given.get("value", "")
        elif tag == "textarea":
            self._area = (given["name"], [])
        elif tag == "button":
            self._button = (given, [])
        elif tag in {"select", "option"}:
            self._choose(tag, given)

    def _choose(self, tag: str, given: dict[str, str]) -> None:
        """A list sends what is chosen, as a browser does: the first where nothing is."""
        if tag == "select":
            self._select = given["name"]
        elif self.forms:
            fields = self.forms[-1].fields
            if "selected" in given or self._select not in fields:
                fields[self._select] = given.get("value", "")

    def handle_endtag(self, tag: str) -> None:
        if tag in VOID:
            return
        self._part(tag)
        while self._open:
            opened, given = self._open.pop()
            if "id" in given:
                name, texts = self._ids.pop()
                self.described[name] = " ".join("".join(texts).split())
            if opened == tag:
                break
        if tag == "a" and self._link is not None:
            href, texts = self._link
            self.links.append((" ".join("".join(texts).split()), href))
            self._link = None
        elif tag == "textarea" and self._area is not None:
            name, texts = self._area
            self.forms[-1].fields[name] = "".join(texts)
            self._area = None
        elif tag == "button" and self._button is not None:
            given, texts = self._button
            if self.forms:
                words = " ".join("".join(texts).split())
                self.forms[-1].buttons[words] = (given.get("name", ""), given.get("value", ""))
            self._button = None

    def _part(self, tag: str) -> None:
        """Keep blocks apart; words in one line are as close as they are written."""
        if tag not in IN_LINE:
            self._texts.append(" ")
            for _, texts in self._ids:
                texts.append(" ")

    def handle_data(self, data: str) -> None:
        if self._open and self._open[-1][0] == "title" and not any(tag == "svg" for tag, _ in self._open):
            self.title += data
        if self._area is not None:
            self._area[1].append(data)
        if any(tag in SILENT for tag, _ in self._open):
            return
        self._texts.append(data)
        for _, texts in self._ids:
            texts.append(data)
        if self._link is not None:
            self._link[1].append(data)
        if self._button is not None:
            self._button[1].append(data)
