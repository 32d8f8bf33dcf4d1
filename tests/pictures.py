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
WIDTHS = {"desk": (1280, 900), "phone": (390, 844)}
COUNTER = "/orders/2026-70/rings/1"
PAGES = [
    ("in-hand", "desk", "/"),
    ("counter", "desk", COUNTER),
    ("counter", "phone", COUNTER),
    ("orders", "phone", "/orders"),
    ("week", "desk", "/week"),
]
SHEET_OF, QUOTE = "2026-22", "2026-26-q1"


def main() -> None:
    """Take the pages and one of each paper, into tests/pictures."""
    HERE.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, a_running_demo(Path(folder) / "home") as demo:
        take_pages(demo)
        take_paper(demo, Path(folder), "bench-sheet", f"/orders/{SHEET_OF}/bench-sheet.pdf")
        take_paper(demo, Path(folder), "quote", f"/quotes/{QUOTE}.pdf")


def take_pages(demo: Running) -> None:
    """One PNG each, the part above the fold."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page: Page = browser.new_page()
        page.goto(demo.enter_url)
        for name, width, path in PAGES:
            across, down = WIDTHS[width]
            page.set_viewport_size({"width": across, "height": down})
            page.goto(demo.base_url + path)
            page.screenshot(path=HERE / f"{name}-{width}.png")
        browser.close()


def take_paper(demo: Running, folder: Path, name: str, path: str) -> None:
    """The first page of one paper."""
    signed = {"Authorization": f"Bearer {demo.token('owner')}"}
    paper = folder / f"{name}.pdf"
    paper.write_bytes(httpx.get(demo.base_url + path, headers=signed, timeout=60).raise_for_status().content)
    subprocess.run(
        ["pdftoppm", "-r", "90", "-png", "-f", "1", "-l", "1", "-singlefile", paper, HERE / name], check=True
    )


if __name__ == "__main__":
    main()
