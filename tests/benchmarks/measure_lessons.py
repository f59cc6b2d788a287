"""How long lessons make a person wait, each against what cannot be saved.

    python tests/benchmarks/measure_lessons.py            every lesson
    python tests/benchmarks/measure_lessons.py 05 07      some

Run-all: every cell of the lesson in a fresh kernel, against a fresh kernel that only imports what the lesson imports.
Redraw: from a control's move to the new drawing laid out, against a figure without drawing (the empty round trip) plus the
same drawing put into the page by hand (the bare redraw). Both in the clean view. Limit: 2 for each.
"""

from __future__ import annotations

import json
import re
import statistics
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))
LIMIT, RUNS, MOVES, PORT = 2.0, 3, 15, 8980
EMPTY = """# Figures without a drawing, to time the way there and back
from rigcalc.notebook.board import Board, Said, View, choice, slider
def empty(state):
    return View((), (choice("which", "Which", ("one", "two"), state["which"]), slider("far", "How far", 0, 9, 1, state["far"], str(state["far"]))), (Said(str(state)),))
Board("The empty round trip", {"which": "one", "far": 0}, empty)"""
# Moves a control to and fro; the milliseconds from the move until the answer stands in the page, laid out.
MOVE = """async ([board, name, turns]) => {
  const times = [];
  for (let turn = 0; turn < turns; turn += 1) {
    const box = board.querySelector(`[data-control="${name}"]`);  // a move may make the controls anew
    if (!box) return null;
    const answered = new Promise((tell) => {
      const eye = new MutationObserver(() => { eye.disconnect(); board.getBoundingClientRect(); tell(performance.now()); });
      eye.observe(board, { attributes: true, attributeFilter: ['data-turn'] });
      setTimeout(() => { eye.disconnect(); tell(null); }, 4000);
    });
    const list = box.querySelector('select'), range = box.querySelector('input[type=range]');
    const began = performance.now();
    if (list) { list.selectedIndex = list.selectedIndex === 0 ? 1 : 0; list.dispatchEvent(new Event('change')); }
    else if (range) { range.value = Number(range.value) === Number(range.min) ? range.max : range.min;
      range.dispatchEvent(new Event('input')); range.dispatchEvent(new Event('change')); }
    else [...box.querySelectorAll('input')].find((one) => !one.checked).click();
    const ended = await answered;
    if (ended === null) return null;
    times.push(ended - began);
    await new Promise((go) => setTimeout(go, 60));
  }
  return times;
}"""
BARE = """([board, turns]) => {
  const shown = [...board.querySelectorAll('figure')].map((one) => one.innerHTML), times = [];
  const place = document.createElement('div');
  board.after(place);
  for (let turn = 0; turn < turns; turn += 1) {
    place.textContent = ''; place.getBoundingClientRect();
    const began = performance.now();
    for (const one of shown) { const frame = document.createElement('figure'); frame.className = 'drawing'; frame.innerHTML = one; place.append(frame); }
    place.getBoundingClientRect(); board.getBoundingClientRect();
    times.push(performance.now() - began);
  }
  place.remove();
  return times;
}"""


def main(words: list[str]) -> int:
    """Print one table for each measure; 0 when every ratio keeps the limit."""
    from rigcalc.opening.shelf import lessons

    asked = [sheet for sheet in lessons() if not words or sheet.number in words]
    if not asked:
        print(f"'{' '.join(words)}' was given; accepted: {', '.join(sheet.number for sheet in lessons())}.", file=sys.stderr)
        return 2
    ratios = [run_all(sheet) for sheet in asked] + redraws(asked)
    print(f"limit {LIMIT:g}: {sum(ratio > LIMIT for ratio in ratios)} of {len(ratios)} beyond it")
    return 1 if max(ratios) > LIMIT else 0


def run_all(sheet) -> float:
    """The lesson's cells against its imports, each in a fresh kernel; the least of the turns."""
    from rigcalc.notebook.store import run_notebook

    data = json.loads(sheet.path.read_text(encoding="utf-8"))
    code = [cell for cell in data["cells"] if cell["cell_type"] == "code"]
    lines = [line for cell in code for line in "".join(cell["source"]).splitlines() if re.match(r"(import|from) ", line)]
    least = dict.fromkeys(("whole", "imports"), float("inf"))
    with tempfile.TemporaryDirectory() as folder:
        bare = Path(folder) / "imports.ipynb"
        bare.write_text(json.dumps(data | {"cells": [code[0] | {"source": "\n".join(lines), "outputs": []}]}), encoding="utf-8")
        for _ in range(RUNS):
            for name, path in (("whole", sheet.path), ("imports", bare)):
                began = time.perf_counter()
                run_notebook(path)
                least[name] = min(least[name], time.perf_counter() - began)
    ratio = least["whole"] / least["imports"]
    print(f"run-all {sheet.number}: {least['whole']:.2f} s, kernel and imports {least['imports']:.2f} s, ratio {ratio:.2f}", flush=True)
    return ratio


def redraws(sheets) -> list[float]:
    """For each live figure: one control's redraw against the empty round trip plus the bare redraw."""
    from chromium import chromium_started
    from house import start

    from rigcalc.opening.working import make_copy

    ratios = []
    with tempfile.TemporaryDirectory() as home:
        for sheet in sheets:
            add_empty(make_copy(sheet, Path(home) / "working"))
        process = start(Path(home), "open", "--no-browser", "--no-desk", "--port", str(PORT))
        try:
            address = process.wait_for(r"http://127\.0\.0\.1:\d+/\?token=[\w-]+")[0]
            with chromium_started() as browser:
                for sheet in sheets:
                    ratios += of_one_lesson(browser, address, sheet)
        finally:
            process.stop()
    return ratios


def add_empty(copy: Path) -> None:
    data = json.loads(copy.read_text(encoding="utf-8"))
    data["cells"].append({"cell_type": "code", "id": "empty", "metadata": {}, "source": EMPTY, "outputs": [], "execution_count": None})
    copy.write_text(json.dumps(data), encoding="utf-8")


def of_one_lesson(browser, address: str, sheet) -> list[float]:
    from lessons.hands import boards_of, snapshot
    from lessons.sweep import wake

    page, ratios = browser.new_page(), []
    wake(page, address, sheet)
    *boards, empty = boards_of(page)
    there = {kind: statistics.median(page.evaluate(MOVE, [empty.element_handle(), name, MOVES])) for kind, name in (("choice", "which"), ("range", "far"))}
    for board in boards:
        control = next((one for one in snapshot(board)["controls"] if one["kind"] in ("radio", "list", "range") and one["enabled"]), None)
        if control is None:
            continue
        title, handle = board.locator("h4").inner_text(), board.element_handle()
        times = page.evaluate(MOVE, [handle, control["name"], MOVES])
        if times is None:
            print(f"redraw {sheet.number}, {title}: '{control['label']}' was not answered")
            ratios.append(float("inf"))
            continue
        bare = statistics.median(page.evaluate(BARE, [handle, MOVES]))
        empty_ms, whole = there["range" if control["kind"] == "range" else "choice"], statistics.median(times)
        ratios.append(whole / (empty_ms + bare))
        print(f"redraw {sheet.number}, {title}, '{control['label']}': {whole:.0f} ms; empty {empty_ms:.0f} ms + bare {bare:.1f} ms, ratio {ratios[-1]:.2f}", flush=True)
    page.close()
    return ratios


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
