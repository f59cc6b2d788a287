"""Runs every test: units and doctests, then every notebook compared with its stored outputs, then the browser.

    python tests/run.py            everything but what is printed
    python tests/run.py units      one part: units, notebooks or browser
    python tests/run.py paper      what is printed: job sheets, papers, forms, certificates, lesson pages, as Chromium lays them out on paper
    python tests/run.py whole      units and paper again, with every draw, example and simulated world (tests/many.py): minutes more
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ElementTree
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
# On two processors: two workers where tests only reckon, more where they wait for a browser, a kernel or the disk.
SHARED = ["-q", "--dist=loadfile", "--no-loadscope-reorder"]  # tests/conftest.py says what stays together
NOT_PRINTED = ["-m", "not paper"]
# Pages in a browser that belong beside what they are pages of: run with the other pages, in one Chromium a worker.
PAGES = [f"tests/{name}.py" for name in ("room/test_sitting_page", "room/test_two_windows", "bench/test_tablet", "bench/test_words_sent", "bench/test_words_kept")]
ALL_UNITS = ["tests", "rigcalc", "--doctest-modules", "--ignore=tests/browser", *(f"--ignore={page}" for page in PAGES), "-p", "no:nbval", *SHARED, "-n2"]
PARTS = {
    "units": [*ALL_UNITS, *NOT_PRINTED],
    "notebooks": ["lessons", "quizzes", "--nbval", "--nbval-current-env", "--nbval-cell-timeout=60",
                  "--nbval-sanitize-with=tests/notebooks/sanitize.cfg", "-p", "no:cacheprovider", "-p", "tests.notebooks.early", *SHARED, "-n3"],
    "browser": ["tests/browser", *PAGES, "-p", "no:nbval", *SHARED, "-n3", *NOT_PRINTED],
    "paper": ["tests", "-p", "no:nbval", *SHARED, "-n3", "-m", "paper"],
    "whole": ALL_UNITS,
}
IN_EVERY_RUN = ("units", "notebooks", "browser")
COUNTED = ("passed", "failed", "errors", "skipped")


def main(words: list[str]) -> int:
    """Run the parts asked for; 0 only when every test of every part passed and each part has tests."""
    parts = words or list(IN_EVERY_RUN)
    if set(parts) - set(PARTS):
        print(f"The part '{' '.join(words)}' was given; accepted: {', '.join(PARTS)}; leave it out to run all.", file=sys.stderr)
        return 2
    if {"browser", "paper"}.intersection(parts) and not browser_ready():
        return 1
    started, statuses = time.monotonic(), []
    total = dict.fromkeys(COUNTED, 0)
    with tempfile.TemporaryDirectory(prefix="workbook-tests-") as folder:
        for part in parts:
            statuses.append(run_part(part, Path(folder), total))
    seconds = time.monotonic() - started
    counts = ", ".join(f"{number} {word}" for word, number in total.items() if number or word == "passed")
    print(f"===== {counts} in {seconds:.2f}s =====", flush=True)
    return 1 if any(statuses) or not total["passed"] else 0


def browser_ready() -> bool:
    from chromium import NONE_FOUND, find_or_get_chromium

    if find_or_get_chromium():
        return True
    print(NONE_FOUND, file=sys.stderr)
    return False


def run_part(part: str, folder: Path, total: dict[str, int]) -> int:
    """Run one part in a home of its own, empty at the start, and add its counts; pytest's own exit status."""
    report, home = folder / f"{part}.xml", folder / f"home-{part}"
    home.mkdir()
    started = time.monotonic()
    print(f"----- {part}", flush=True)
    # Compiled code is kept whatever the environment says: else each of the many processes that tests start compiles it again.
    environment = {name: value for name, value in os.environ.items() if name not in ("PYTHONDONTWRITEBYTECODE", "RIGCALC_WHOLE")}
    environment |= {"RIGCALC_HOME": str(home)} | ({"RIGCALC_WHOLE": "1"} if part == "whole" else {})
    status = subprocess.run([sys.executable, "-m", "pytest", *PARTS[part], f"--junitxml={report}"], cwd=ROOT, env=environment).returncode
    if report.is_file():
        add_counts(report, total)
    print(f"----- {part}: {time.monotonic() - started:.1f} s, {'as it should be' if status == 0 else f'exit status {status}'}", flush=True)
    return status


def add_counts(report: Path, total: dict[str, int]) -> None:
    for suite in ElementTree.parse(report).iter("testsuite"):
        tests, failed, errors, skipped = (int(suite.get(name, 0)) for name in ("tests", "failures", "errors", "skipped"))
        total["passed"] += tests - failed - errors - skipped
        total["failed"] += failed
        total["errors"] += errors
        total["skipped"] += skipped


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
