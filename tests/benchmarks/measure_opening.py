"""How long a learner waits: from the command to the first page, from a click to the first words, to live controls.

    python tests/benchmarks/measure_opening.py
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))
TIMES = 3


def main() -> int:
    """Open the workbook in a home of its own and time the same lesson a few times."""
    from chromium import FLAGS, find_or_get_chromium
    from house import start
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as home, sync_playwright() as driver:
        began = time.perf_counter()
        process = start(Path(home), "open", "--no-browser", "--port", "8990")
        try:
            address, base = process.wait_for(r"projector: ((http://127\.0\.0\.1:\d+)/\?token=[\w-]+)").groups()
            print(f"command to served, with the desk: {time.perf_counter() - began:.1f} s")
            browser = driver.chromium.launch(executable_path=find_or_get_chromium(), args=FLAGS)
            page = browser.new_page()
            page.goto(address)
            for turn in range(TIMES):
                words, live = wait(page, base)
                print(f"lesson 05, turn {turn + 1}: first words {words:.1f} s, controls alive {live:.1f} s")
            browser.close()
        finally:
            process.stop()
    return 0


def wait(page, base: str) -> tuple[float, float]:
    """Seconds from asking for the lesson to its heading, and to its controls."""
    from rigcalc.opening.shelf import find_sheet

    page.goto(f"{base}/learn")
    began = time.perf_counter()
    page.goto(base + find_sheet("05").address, wait_until="commit")
    page.wait_for_selector("main h1")
    words = time.perf_counter() - began
    page.wait_for_selector("html[data-live=alive]", timeout=60_000)
    return words, time.perf_counter() - began


if __name__ == "__main__":
    sys.exit(main())
