"""The table of the rules of order in DEVELOPERS.md is that of the code, row by row."""

import re
from pathlib import Path

from studio.craft.route_constraints import CONSTRAINTS

PAGE = (Path(__file__).resolve().parents[2] / "DEVELOPERS.md").read_text("utf-8")


def test_the_table_of_rules_is_the_one_that_routes_are_held_against() -> None:
    part = PAGE.partition("## A ring's route, step by step")[2].partition("\n## ")[0]
    rows = re.findall(r"^\| (.+) \| (.+) \| (.+) \| (.+) \| (.+) \|$", part, re.MULTILINE)
    assert rows[0] == ("rule", "what", "way", "other", "source")
    told = {rule: (what, way, other, source) for rule, what, way, other, source in rows[1:]}
    known = {}
    for one in CONSTRAINTS:
        since = "" if one.since is None else f", after what last {one.since}"
        known[one.key] = (one.what, one.way, f"{one.other}{since}", one.source)
    assert told == known


def test_every_other_rule_names_its_source_or_says_that_it_has_none() -> None:
    part = PAGE.partition("What is not a matter of order:")[2].partition("\n## ")[0]
    rows = re.findall(r"^\| ([^|]+) \| ([^|]+) \|$", part, re.MULTILINE)[1:]
    assert len(rows) >= 14
    assert all(source.strip() for _, source in rows)
