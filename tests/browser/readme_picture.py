"""Makes the README's picture from the real page: lesson 05 with a tail set and the sleeve pressed.

    python tests/browser/readme_picture.py
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from chromium import FLAGS, find_or_get_chromium  # noqa: E402
from house import start  # noqa: E402
from playwright.sync_api import sync_playwright  # noqa: E402

from rigcalc.opening.shelf import find_sheet  # noqa: E402

PICTURE = ROOT / ".pictures" / "lesson.png"


def main() -> int:
    """Open the workbook in a home of its own, take the picture, close everything."""
    with tempfile.TemporaryDirectory() as home:
        process = start(Path(home), "open", "--no-browser", "--no-desk", "--port", "8990")
        try:
            address, base = process.wait_for(r"((http://127\.0\.0\.1:\d+)/\?token=[\w-]+)").groups()
            with sync_playwright() as driver:
                browser = driver.chromium.launch(executable_path=find_or_get_chromium(), args=FLAGS)
                take(browser.new_page(viewport={"width": 1000, "height": 900}), address, base + find_sheet("05").address)
                browser.close()
        finally:
            process.stop()
    print(f"{PICTURE.relative_to(ROOT)}: {PICTURE.stat().st_size // 1024} KB")
    return 0


def take(page, address: str, lesson: str) -> None:
    page.goto(address)
    page.goto(lesson)
    page.wait_for_selector("html[data-live=alive]", timeout=40_000)
    for control, presses in (("tail", 3), ("pressed", 1)):
        for _ in range(presses):
            page.locator(f".control-{control} .noUi-handle").first.press("ArrowRight")
    page.wait_for_function("document.querySelector('.explorer .said').innerText.includes('still shows')")
    page.mouse.move(0, 0)
    page.evaluate("""() => { document.activeElement.blur();
        const top = document.querySelector(".explorer").getBoundingClientRect().top + scrollY;
        scrollTo({ top: top - 330, behavior: "instant" }); }""")
    page.wait_for_timeout(300)
    page.screenshot(path=PICTURE)


if __name__ == "__main__":
    sys.exit(main())
