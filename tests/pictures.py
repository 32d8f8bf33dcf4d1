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
WIDTHS = {"desk": (1280, 900), "tablet": (820, 1100), "phone": (390, 844)}
PAGES = {"in-hand": "/", "orders": "/orders", "week": "/week", "counter": "/orders/2026-68/rings/1"}


def main() -> None:
    """Take every page at three widths and one bench sheet, into tests/pictures."""
    HERE.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, a_running_demo(Path(folder) / "home") as demo:
        take_pages(demo)
        take_bench_sheet(demo, Path(folder))


def take_pages(demo: Running) -> None:
    """One PNG a page and width, the part above the fold."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page: Page = browser.new_page()
        page.goto(demo.enter_url)
        for width, (across, down) in WIDTHS.items():
            page.set_viewport_size({"width": across, "height": down})
            for name, path in PAGES.items():
                page.goto(demo.base_url + path)
                page.screenshot(path=HERE / f"{name}-{width}.png")
        browser.close()


def take_bench_sheet(demo: Running, folder: Path) -> None:
    """The first page of the week's bench sheets."""
    signed = {"Authorization": f"Bearer {demo.token('maker')}"}
    sheets = folder / "week.pdf"
    sheets.write_bytes(httpx.get(f"{demo.base_url}/week/papers.pdf", headers=signed, timeout=60).content)
    subprocess.run(
        ["pdftoppm", "-r", "90", "-png", "-f", "1", "-l", "1", "-singlefile", sheets, HERE / "bench-sheet"],
        check=True,
    )


if __name__ == "__main__":
    main()
