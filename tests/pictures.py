"""`python -m tests.pictures` takes the pictures the README shows, from a fresh demo studio."""

import subprocess
import tempfile
from pathlib import Path

import httpx
from playwright.sync_api import Page, sync_playwright

from tests.running import Running, a_running_demo

HERE = Path(__file__).resolve().parent / "pictures"
CHROMIUM = "/usr/bin/chromium"
FLAGS = ["--no-sandbox", "--disable-background-networking"]
WIDTHS = {"desk": (1280, 900), "phone": (390, 844), "tablet": (1024, 768)}
COUNTER = "/orders/{draft}/rings/1"
PAGES = [
    ("in-hand", "desk", "/"),
    ("counter", "desk", COUNTER),
    ("counter", "phone", COUNTER),
    ("orders", "phone", "/orders"),
    ("week", "desk", "/week"),
    ("bench", "tablet", "/bench/2026-25/1"),
    ("route", "desk", "/orders/2026-25/rings/1/route"),
]
PAPERS = [("bench-sheet", "/orders/2026-22/bench-sheet.pdf"), ("quote", "/quotes/2026-32-q2.pdf")]


def main() -> None:
    """Take the pages and one of each paper, into tests/pictures."""
    HERE.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, a_running_demo(Path(folder) / "home") as demo:
        signed = {"Authorization": f"Bearer {demo.token('owner')}"}
        take_pages(demo, signed)
        for name, path in PAPERS:
            paper = httpx.get(demo.base_url + path, headers=signed, timeout=60).raise_for_status().content
            take_paper(paper, Path(folder), name)


def a_draft(demo: Running, signed: dict[str, str]) -> str:
    """The number of an order that is still being taken."""
    orders = httpx.get(f"{demo.base_url}/api/orders", params={"limit": 200}, headers=signed).json()["items"]
    return next(str(one["number"]) for one in orders if one["state"] == "draft")


def take_pages(demo: Running, signed: dict[str, str]) -> None:
    """One PNG each, the part above the fold."""
    draft = a_draft(demo, signed)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page: Page = browser.new_page()
        page.goto(demo.enter_url)
        for name, width, path in PAGES:
            across, down = WIDTHS[width]
            page.set_viewport_size({"width": across, "height": down})
            page.goto(demo.base_url + path.format(draft=draft))
            page.screenshot(path=HERE / f"{name}-{width}.png")
        browser.close()


def take_paper(pdf: bytes, folder: Path, name: str) -> None:
    """The first page of one paper."""
    paper = folder / f"{name}.pdf"
    paper.write_bytes(pdf)
    subprocess.run(
        ["pdftoppm", "-r", "90", "-png", "-f", "1", "-l", "1", "-singlefile", paper, HERE / name], check=True
    )


if __name__ == "__main__":
    main()
