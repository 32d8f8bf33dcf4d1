"""The house keeps its own promises: every convention that DEVELOPERS.md states has its check here."""

import ast
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "pyproject.toml", "studio", "templates", "static", "migrations", "tests",
    "LICENSE",
}  # fmt: skip
ALARM_LINES = 300
PAST_THE_ALARM: dict[str, str] = {
    "DEVELOPERS.md": "a page that is read by its headings, and the one place for all of them",
    "tests/web/test_security_roles.py": "one table: every route of the app with those it is open to",
    "tests/laws/life.py": "one state machine: its rules share their bundles and read as one story",
    "static/css/components.css": "the parts that pages share, one after the other, loaded as one sheet",
    "static/css/counter.css": "the counter is one page, and no other page loads it",
    "templates/papers/bench_sheet/paper.css": "one page laid out to the millimetre: its parts share one room",
    "static/css/studio.css": "the studio's figures are one page, and no other page loads it",
}
"""Files longer than the alarm, each with the one reason why it is still one subject."""


def tracked(*patterns: str) -> list[Path]:
    names = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", *patterns],
        cwd=ROOT, check=True, capture_output=True, text=True,
    ).stdout.splitlines()  # fmt: skip
    return [ROOT / name for name in names if (ROOT / name).exists()]


def ran(*command: str) -> str:
    """Output of a tool that must pass; on failure the test shows what the tool said."""
    done = subprocess.run(
        [sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_the_top_level_holds_just_what_the_house_has_room_for() -> None:
    names = {path.relative_to(ROOT).parts[0] for path in tracked()}
    assert {name for name in names if not name.startswith(".")} == TOP_LEVEL


def test_ruff_finds_nothing() -> None:
    ran("ruff", "check", ".")
    ran("ruff", "format", "--check", ".")


def test_mypy_finds_nothing() -> None:
    ran("mypy")


def test_the_templates_are_tidy() -> None:
    ran("djlint", "templates", "--lint", "--quiet")


def test_arrows_between_rooms_go_one_way() -> None:
    lint_imports = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run([lint_imports], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout


def test_no_file_passes_the_alarm_without_a_reason() -> None:
    long = {
        str(path.relative_to(ROOT)): lines
        for path in tracked("*.py", "*.html", "*.css", "*.js", "*.md")
        if (lines := len(path.read_text("utf-8").splitlines())) > ALARM_LINES
    }
    assert set(long) == set(PAST_THE_ALARM), long
    assert min(len(reason.split()) for reason in PAST_THE_ALARM.values()) > 5


def test_no_drawer_holds_homeless_functions() -> None:
    drawers = re.compile(r"^(utils?|helpers?|common|misc|managers?)$")
    assert [path for path in tracked() if drawers.match(path.stem) or drawers.match(path.parent.name)] == []


def test_every_exception_to_a_linter_names_its_code_and_reason() -> None:
    bare = re.compile(r"#\s*(noqa(?!: [A-Z]+\d+(, ?[A-Z]+\d+)*  ?\S)|type: ignore(?!\[[a-z-, ]+\]  ?#? ?\S))")
    found = [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()}"
        for path in tracked("studio/*.py", "tests/*.py", "migrations/*.py")
        if path != Path(__file__)
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if bare.search(line)
    ]
    assert found == []


def public_definitions(path: Path) -> list[ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef]:
    """What a reader can import or call: the top level, and the methods of top-level classes."""
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
    tops = [node for node in ast.parse(path.read_text("utf-8")).body if isinstance(node, kinds)]
    inner = [
        node for top in tops if isinstance(top, ast.ClassDef) for node in top.body if isinstance(node, kinds)
    ]
    return [node for node in [*tops, *inner] if not node.name.startswith("_")]


def test_public_functions_say_what_they_promise() -> None:
    silent = [
        f"{path.relative_to(ROOT)}:{node.lineno} {node.name}"
        for path in tracked("studio/*.py")
        for node in public_definitions(path)
        if ast.get_docstring(node) is None
    ]
    assert silent == []


@pytest.mark.parametrize(
    "sign", ["|safe", "| safe", "<style", "style=", "onclick", "javascript:", "autoescape false"]
)
def test_no_template_steps_round_the_content_policy(sign: str) -> None:
    guilty = [
        path.relative_to(ROOT) for path in tracked("templates/*.html") if sign in path.read_text("utf-8")
    ]
    assert guilty == []


def test_every_template_is_used() -> None:
    """By its whole name; a paper's page and its sheet of styles by the name of their folder."""
    sources = [
        path.read_text("utf-8") for path in tracked("studio/*.py", "templates/*.html", "templates/*.css")
    ]
    names = {path.relative_to(ROOT / "templates").as_posix() for path in tracked("templates/*")}
    unused = set()
    for name in names:
        inside = name.removeprefix("papers/")
        folder, _, file = inside.partition("/")
        is_paper = name.startswith("papers/") and file in {"paper.html", "paper.css", "a5.css", "letter.css"}
        wanted = f'"{folder}"' if is_paper else f'"{inside}"'
        if not any(wanted in source or f'"{name}"' in source for source in sources):
            unused.add(name)
    assert unused == set()


def test_every_style_sheet_script_and_picture_is_used() -> None:
    sources = [
        path.read_text("utf-8")
        for path in tracked("studio/*.py", "templates/*", "static/*.js", "static/*.css")
    ]
    unused = [
        path.relative_to(ROOT).as_posix()
        for path in tracked("static/*")
        if not any(path.name in source for source in sources)
    ]
    assert unused == []


def test_only_the_clock_reads_the_time() -> None:
    reads = re.compile(r"\b(datetime\.now|date\.today|datetime\.utcnow|time\.time)\(")
    found = [
        path.relative_to(ROOT)
        for path in tracked("studio/*.py")
        if path.name != "clock.py" and reads.search(path.read_text("utf-8"))
    ]
    assert found == []


def test_dependencies_have_an_upper_bound_on_their_major() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    wanted = [*project["dependencies"], *project["optional-dependencies"]["tests"]]
    dated_by_calendar = {"tzdata"}
    assert [line for line in wanted if "<" not in line and line not in dated_by_calendar] == []


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_what_the_pages_point_at_is_there(page: str) -> None:
    text = (ROOT / page).read_text("utf-8")
    links = {target for target in re.findall(r"\]\(([^)#:]+)\)", text) if not target.startswith("http")}
    files = {
        name for name in re.findall(r"`([\w./]+\.(?:py|md|html|css|toml))(?::\w+)?`", text) if "/" in name
    }
    rooms = [ROOT, ROOT / "studio", ROOT / "templates"]
    lost = [name for name in sorted(links | files) if not any((room / name).exists() for room in rooms)]
    assert lost == []
