"""Every template parses, and what README and DEVELOPERS say of commands, settings and words is true."""

import argparse
import ast
import inspect
import re
from collections.abc import Iterator
from functools import cache
from importlib.util import find_spec
from pathlib import Path

import pytest
from jinja2 import Environment, FileSystemLoader, StrictUndefined, nodes

from studio.book.tables import metadata
from studio.cli import build_parser
from studio.craft import designs, orders, rates, roles
from studio.craft.designs import Pattern
from studio.craft.orders import State
from studio.settings import PREFIX, Settings
from studio.web.render import templates
from studio.web.static_files import read_static_files

ROOT = Path(__file__).resolve().parent.parent
TEMPLATES = sorted(
    path.relative_to(ROOT / "templates").as_posix() for path in (ROOT / "templates").rglob("*.html")
)
README = (ROOT / "README.md").read_text("utf-8")
FOR_THE_TESTS = {"STUDIO_TEST_DATABASE"}
"""What the tests alone are told by; the app does not know it."""
WORDS_OF_TABLES = {"callings_off": "calling_off",
    "answers": "answer", "api_tokens": "token", "audit_entries": "history", "counter_drafts": "draft",
    "customer_words": "customer",
    "known_addresses": "sign_in", "one_time_links": "link", "order_counters": "order",
    "document_papers": "paper", "invoice_papers": "paper", "invoice_counters": "invoice",
    "metal_ledger": "ledger",
    "supplies": "supply", "inscription_proofs": "proof", "as_made": "as_made",
    "quote_papers": "paper", "quote_sendings": "sending", "rates": "rates", "sign_in_tries": "sign_in",
}  # fmt: skip
"""The word for what a table holds, where it is not the table's name."""
SAY_THEMSELVES = {"Measured", "Hand", "FingerName", "PatternWhen", "Limits", "WeightUnit", "GaugeKind"}
"""What the craft tells apart by plain words, that mean nothing of their own here."""
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")


@pytest.fixture(scope="module")
def environment() -> Environment:
    return templates(read_static_files())


@pytest.mark.parametrize("name", TEMPLATES)
def test_a_template_parses_and_what_it_takes_in_is_there(environment: Environment, name: str) -> None:
    room = environment
    if name.startswith("papers/"):
        name = name.removeprefix("papers/")
        room = Environment(
            loader=FileSystemLoader(ROOT / "templates/papers"), autoescape=True, undefined=StrictUndefined
        )
    assert room.loader is not None
    source, _, _ = room.loader.get_source(room, name)
    tree = room.parse(source, name)
    wanted = list(tree.find_all((nodes.Include, nodes.Extends, nodes.Import, nodes.FromImport)))
    for one in wanted:
        assert isinstance(one, nodes.Include | nodes.Extends | nodes.Import | nodes.FromImport)
        assert isinstance(one.template, nodes.Const), "a template is named outright, so that it can be found"
        assert str(one.template.value) in room.list_templates()
    room.get_template(name)


def commands(parser: argparse.ArgumentParser, before: str = "shankwright") -> Iterator[str]:
    """Every command with what it must be given, as it is typed: 'shankwright user add NAME --role ROLE'."""
    inner = [action for action in parser._actions if isinstance(action, argparse._SubParsersAction)]
    for action in inner:
        for name, below in action.choices.items():
            yield from commands(below, f"{before} {name}")
    if not inner:
        given = [action for action in parser._actions if action.required]
        named = [action.dest.upper() for action in given if not action.option_strings]
        options = [
            f"{action.option_strings[0]} {action.dest.upper()}" for action in given if action.option_strings
        ]
        yield " ".join([before, *named, *options])


def test_the_readme_lists_every_command_as_it_is_typed_and_no_other() -> None:
    listed = re.findall(r"^\| `(shankwright [^`]+)` \|", README, re.MULTILINE)
    assert sorted(listed) == sorted(commands(build_parser()))


def test_what_the_pages_tell_to_type_is_there() -> None:
    known = {" ".join(line.split()[1:2]) for line in commands(build_parser())}
    said: set[str] = set()
    modules: set[str] = set()
    for page in (README, DEVELOPERS, (ROOT / "migrations" / "README.md").read_text("utf-8")):
        said |= set(re.findall(r"(?:`|/bin/)shankwright ([a-z]+)", page))
        modules |= set(re.findall(r"python -m ([a-z.]+)", page))
    assert "serve" in said <= known
    assert "tests.fuzz" in modules
    assert [name for name in sorted(modules) if find_spec(name) is None] == []


def options(parser: argparse.ArgumentParser) -> frozenset[str]:
    """Every option that some command takes."""
    inner = [action for action in parser._actions if isinstance(action, argparse._SubParsersAction)]
    below = [options(one) for action in inner for one in action.choices.values()]
    own = {name for action in parser._actions for name in action.option_strings}
    return frozenset(own.union(*below))


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md", "migrations/README.md"])
def test_the_options_that_the_pages_tell_to_type_are_taken(page: str) -> None:
    """Those of a module for the tests are looked for in it: to start each of them takes its time."""
    for line in (ROOT / page).read_text("utf-8").splitlines():
        if found := re.search(r"shankwright [a-z]+[^#|]*|python -m (tests\.\w+)[^#|`]*", line):
            named = set(re.findall(r"(?<!\S)--[a-z-]+", found[0]))
            module = found[1]
            if module is None:
                assert named <= options(build_parser()), line
            else:
                place = ROOT / module.replace(".", "/")
                started = [
                    path for path in (place.with_suffix(".py"), place / "__main__.py") if path.exists()
                ]
                source = started[0].read_text("utf-8")
                assert [name for name in named if f'"{name}"' not in source] == [], line


def test_the_readme_names_every_setting_and_no_other() -> None:
    named = set(re.findall(rf"`?\b({PREFIX}[A-Z_]+)\b", README))
    known = {f"{PREFIX}{name.upper()}" for name in Settings.model_fields}
    assert named == known
    others = DEVELOPERS + (ROOT / "migrations" / "README.md").read_text("utf-8")
    assert set(re.findall(rf"\b({PREFIX}[A-Z_]+)\b", others)) <= known | FOR_THE_TESTS


@pytest.mark.parametrize("name", ["host", "port", "time_zone"])
def test_the_defaults_the_readme_tells_are_the_defaults(name: str) -> None:
    row = next(
        line for line in README.splitlines() if line.startswith("|") and f"`{PREFIX}{name.upper()}`" in line
    )
    assert str(Settings.model_fields[name].default) in row


def glossary() -> dict[str, str]:
    """The words of the glossary with what they are said to be."""
    part = DEVELOPERS.partition("## Glossary")[2].partition("\n## ")[0]
    rows = re.findall(r"^\| ([^|]+) \| ([^|]+) \|$", part, re.MULTILINE)
    return {
        word: meaning for words, meaning in rows if words not in {"word", "---"} for word in words.split(", ")
    }


def test_the_glossary_is_in_order_and_names_nothing_twice() -> None:
    words = list(glossary())
    firsts = [
        line.split("|")[1].split(",")[0].strip()
        for line in DEVELOPERS.partition("## Glossary")[2].partition("\n## ")[0].splitlines()
        if line.startswith("| ") and "---" not in line
    ][1:]
    assert firsts == sorted(firsts)
    assert len(words) == len(set(words)) > 30


@cache
def names_in_the_code() -> frozenset[str]:
    """Every name the code gives or uses, and every short word it keeps or shows, in small letters."""
    found: set[str] = set()
    for path in (ROOT / "studio").rglob("*.py"):
        found.add(path.stem)
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            parts = [getattr(node, part, None) for part in ("name", "id", "attr", "arg")]
            found |= {part for part in parts if isinstance(part, str)}
            if isinstance(node, ast.Constant) and len(str(node.value)) < 30:
                found.add(str(node.value))
    words = {re.sub(r"(?<=[a-z])(?=[A-Z])", "_", name) for name in found}
    return frozenset(re.sub(r"[ -]", "_", word).lower() for word in words)


@pytest.mark.parametrize("word", sorted(glossary()))
def test_a_word_of_the_glossary_is_a_name_in_the_code(word: str) -> None:
    name = re.compile(rf"(^|_){re.sub('[ -]', '_', word)}s?(_|$)")
    assert [found for found in names_in_the_code() if name.search(found)] != []


def test_what_the_book_keeps_and_the_craft_tells_apart_stands_in_the_glossary() -> None:
    said = {re.sub("[ -]", "_", word) for word in glossary()}
    tables = {WORDS_OF_TABLES.get(table, table.removesuffix("s")) for table in metadata().tables}
    assert tables - said == set()
    craft = [
        named
        for module in (designs, orders, rates, roles)
        for named, found in inspect.getmembers(module, inspect.isclass)
        if found.__module__ == module.__name__ and named not in SAY_THEMSELVES
    ]
    words = {re.sub(r"(?<=[a-z])(?=[A-Z])", "_", name).lower() for name in craft}
    assert "profile" in words
    assert words - said == set()


def test_states_and_patterns_stand_in_the_glossary_as_the_code_has_them() -> None:
    said = glossary()
    assert said["state"].strip() == ", ".join(State)
    assert said["pattern"].partition(": ")[2].strip() == ", ".join(Pattern)
