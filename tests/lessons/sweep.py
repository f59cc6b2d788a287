"""Opens lessons as a learner, a trainer and a printer see them, and finds what is wrong; pictures and sheets go to build/lessons/NN.

    python tests/lessons/sweep.py            every lesson
    python tests/lessons/sweep.py 05 07      some
    python tests/lessons/sweep.py 05 --no-lab    the clean view alone

In the clean view and in JupyterLab: nothing outside this machine is asked, no cell breaks, axe-core has no serious finding,
every live figure answers its controls by keyboard, one exercise of each kind is answered wrongly and rightly. In the clean
view: projector, two screens, and the lesson, its recap and its practice sheet as PDF, the two sheets on one page each.
At the end the sheets of all lessons in other shops, in US and SI units, on Letter and A4: one page each.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))
OUT = ROOT / "build" / "lessons"
PORT, LAB_PORT = 8970, 8974
DESKTOP, TABLET = {"width": 1280, "height": 800}, {"width": 820, "height": 1180}
ALIVE = "html[data-live=alive]"
SHEETS = (("recap", "?print=recap"), ("practice-sheet", "?print=practice-sheet"))
OURS_IN_THE_LAB = [[".jp-Notebook .jp-OutputArea-output"], [".jp-Notebook .jp-MarkdownOutput"]]
HEADS = ("lesson", "figures", "moves", "asked", "PDF pages", "sheets", "seconds", "faults")


@dataclass
class Found:
    """What a sweep of one lesson saw."""

    number: str
    figures: int = 0
    moves: int = 0
    kinds: tuple[str, ...] = ()
    pages: dict[str, int] = field(default_factory=dict)
    seconds: float = 0.0
    faults: list[str] = field(default_factory=list)

    def row(self) -> tuple[str, ...]:
        sheets = "+".join(str(self.pages.get(name, "none")) for name, _ in SHEETS)
        return (self.number, str(self.figures), str(self.moves), str(len(self.kinds)), str(self.pages.get("lesson", "none")), sheets,
                f"{self.seconds:.0f}", str(len(self.faults)))


def axe_faults(page, include: list | None = None) -> list[str]:
    """The serious and critical findings of axe-core on the page, each with its first place."""
    from axe_playwright_python.sync_playwright import Axe

    told = Axe().run(page, context={"include": include} if include else None).response["violations"]
    return [f"{one['id']} ({one['impact']}, {len(one['nodes'])} places): {one['help']}: {one['nodes'][0]['html'][:160]}"
            for one in told if one["impact"] in ("serious", "critical")]


def main(words: list[str]) -> int:
    """Sweep the lessons asked for; 1 where one has a fault."""
    from rigcalc.opening.shelf import lessons

    numbers, with_lab = [word for word in words if not word.startswith("-")], "--no-lab" not in words
    every = lessons()
    strange = sorted(set(numbers) - {sheet.number for sheet in every})
    if strange or set(words) - set(numbers) - {"--no-lab"}:
        print(f"'{' '.join(words)}' was given; accepted: {', '.join(sheet.number for sheet in every)}, and --no-lab; leave them out to sweep all.",
              file=sys.stderr)
        return 2
    asked = [sheet for sheet in every if not numbers or sheet.number in numbers]
    with tempfile.TemporaryDirectory() as home:
        os.environ["RIGCALC_HOME"] = home  # the same empty home for the keys worked out here
        found = sweep(Path(home), asked, with_lab)
    too_long = other_papers()
    table([HEADS, *(one.row() for one in found)])
    for one in found:
        for fault in one.faults:
            print(f"{one.number}: {fault}")
    for fault in too_long:
        print(fault)
    return 1 if too_long or any(one.faults for one in found) else 0


def other_papers() -> list[str]:
    """The sheets that are longer than a page in some shop on some paper."""
    from chromium import NOWHERE
    from chromium import chromium_started

    from lessons.sheets import PAPERS, SHOPS, longer_than_a_page, sheets_of

    found = []
    with chromium_started(NOWHERE) as browser:
        for name, text in SHOPS.items():
            with tempfile.TemporaryDirectory() as home:
                made = sheets_of(text(), Path(home))
            for paper in PAPERS:
                page = browser.new_page()
                found += [f"print: {one} takes more than one page of {paper} in the shop: {name}" for one in longer_than_a_page(page, made, paper)]
                page.close()
    return found


def sweep(home: Path, sheets, with_lab: bool) -> list[Found]:
    from chromium import NOWHERE
    from chromium import chromium_started
    from house import start

    from lessons.lab import Lab

    found, server, lab = [], start(home, "open", "--no-browser", "--no-desk", "--port", str(PORT)), None
    try:
        address = server.wait_for(r"http://127\.0\.0\.1:\d+/\?token=[\w-]+")[0]
        lab = Lab(home, LAB_PORT, sheets) if with_lab else None
        with chromium_started(NOWHERE) as browser:
            for at, sheet in enumerate(sheets, 1):
                print(f"lesson {sheet.number}, {at} of {len(sheets)}", flush=True)
                found.append(one_lesson(browser, address, lab, sheet))
    finally:
        server.stop()
        if lab:
            lab.stop()
    return found


def one_lesson(browser, address: str, lab, sheet) -> Found:
    """Every check of one lesson; a check that breaks off is a fault of its own, and the next one is made."""
    found, began = Found(sheet.number), time.monotonic()
    (OUT / sheet.number).mkdir(parents=True, exist_ok=True)
    steps = [("clean view", clean_view), ("projector", projector), ("tablet", tablet), ("print", printed)]
    for name, step in steps + ([("JupyterLab", in_the_lab)] if lab else []):
        started = time.monotonic()
        with Visit(browser, found, name, TABLET if name == "tablet" else DESKTOP) as page:
            step(page, lab if name == "JupyterLab" else address, sheet, found)
        print(f"  {name}: {time.monotonic() - started:.0f} s, {sum(fault.startswith(name) for fault in found.faults)} faults", flush=True)
    found.seconds = time.monotonic() - began
    return found


class Visit:
    """A browser context of its own; what it asked outside, what its scripts broke on, and what a check died of become faults."""

    def __init__(self, browser, found: Found, name: str, size: dict) -> None:
        self.context, self.found, self.name = browser.new_context(viewport=size, has_touch=size is TABLET), found, name
        self.context.set_default_timeout(20_000)

    def __enter__(self):
        from browser.conftest import Guard

        self.guard = Guard(self.context)
        page = self.context.new_page()
        page.add_init_script("window.print = () => {};")
        return page

    def __exit__(self, kind, trouble, trace) -> bool:
        from playwright.sync_api import Error

        say = self.found.faults
        say += [f"{self.name}: asked outside this machine: {one}" for one in self.guard.outside]
        say += [f"{self.name}: a script of the page failed: {one}" for one in self.guard.errors]
        if kind and issubclass(kind, (Error, AssertionError, ValueError)):
            say.append(f"{self.name}: broke off: {' '.join(str(trouble).split())[:300]}")
        self.context.close()
        return kind is None or issubclass(kind, (Error, AssertionError, ValueError))


def wake(page, address: str, sheet, more: str = "") -> None:
    """Open a lesson in the clean view and wait until its controls are alive."""
    page.goto(address)
    page.goto(address.split("/?")[0] + sheet.address + more, timeout=60_000)
    page.wait_for_selector(ALIVE, timeout=60_000)
    page.wait_for_timeout(300)


def clean_view(page, address: str, sheet, found: Found) -> None:
    wake(page, address, sheet)
    page.screenshot(path=OUT / sheet.number / "clean_1280.png", full_page=True)
    looked(page, "clean view", found, page.locator("main"))
    found.faults += [f"clean view: {one}" for one in axe_faults(page)]
    hands(page, "clean view", sheet, found, count=True)
    looked(page, "clean view", found, page.locator("main"))
    found.faults += [f"clean view, after moving: {one}" for one in axe_faults(page)]
    page.screenshot(path=OUT / sheet.number / "clean_1280_moved.png", full_page=True)


def looked(page, name: str, found: Found, shown) -> None:
    """No error shows, and nothing is wider than the window."""
    text = shown.inner_text()
    for words in ("Traceback", "could not be made", "Error:", "model not found", "Error displaying widget"):
        if words in text:
            found.faults.append(f"{name}: '{words}' stands on the page")
    if page.evaluate("document.documentElement.scrollWidth > window.innerWidth"):
        found.faults.append(f"{name}: the page is wider than {page.viewport_size['width']} px")


def hands(page, name: str, sheet, found: Found, count: bool = False) -> None:
    """Every live figure by keyboard, and one exercise of each kind."""
    from lessons.hands import boards_of, drive

    boards = boards_of(page)
    if not boards:
        found.faults.append(f"{name}: no live figure is on the page")
    for board in boards:
        done = drive(board)
        found.moves += done.acts if count else 0
        found.faults += [f"{name}: {one}" for one in done.faults]
    kinds = exercises(page, name, sheet, found)
    if count:
        found.figures, found.kinds = len(boards), kinds


def exercises(page, name: str, sheet, found: Found) -> tuple[str, ...]:
    """Answer the first exercise of each kind wrongly, then rightly."""
    from lessons.hands import FORM, answer, asked_in, right_and_wrong

    done: list[str] = []
    for question, key in asked_in(sheet.path):
        if question["kind"] in done:
            continue
        done.append(question["kind"])
        form = page.locator(f"{FORM}:visible").filter(has=page.locator(".rc-text", has_text=question["text"])).first
        right, wrong = right_and_wrong(question, key)
        for typed, expect in ((wrong, "rc-no"), (right, "rc-ok")):
            try:
                if not answer(form, question, typed, expect).strip():
                    found.faults.append(f"{name}: {question['kind']} says nothing to {typed!r}")
            except Exception as trouble:
                found.faults.append(f"{name}: {question['kind']} answered with {typed!r} did not become {expect}: {' '.join(str(trouble).split())[:200]}")
                break
    return tuple(done)


def projector(page, address: str, sheet, found: Found) -> None:
    wake(page, address, sheet)
    size = "parseFloat(getComputedStyle(document.querySelector('main p')).fontSize)"
    plain = page.evaluate(size)
    page.get_by_role("button", name="Larger, for the projector").press("Enter")
    if page.evaluate(size) < 1.3 * plain:
        found.faults.append("projector: the text is not larger")
    for hidden in page.locator(".answer > *:not(.cover)").all():
        if hidden.is_visible():
            found.faults.append("projector: an answer shows before it is asked for")
            break
    looked(page, "projector", found, page.locator("main"))
    page.screenshot(path=OUT / sheet.number / "projector_1280.png", full_page=True)


def tablet(page, address: str, sheet, found: Found) -> None:
    wake(page, address, sheet)
    looked(page, "tablet", found, page.locator("main"))
    page.screenshot(path=OUT / sheet.number / "clean_820.png", full_page=True)


def printed(page, address: str, sheet, found: Found) -> None:
    """The lesson, its recap and its practice sheet as PDF on A4."""
    for name, more in (("lesson", ""), *SHEETS):
        wake(page, address, sheet, more)
        page.emulate_media(media="print")
        made = page.pdf(path=OUT / sheet.number / f"{name}.pdf", format="A4")
        page.emulate_media(media="screen")
        found.pages[name] = made.count(b"/Type /Page\n")
        if more and found.pages[name] != 1:
            found.faults.append(f"print: the {name} takes {found.pages[name]} pages; one at most")


def in_the_lab(page, lab, sheet, found: Found) -> None:
    from lessons.lab import cells_of, open_lesson

    seen = open_lesson(lab, page, sheet)
    if seen["counted"] != seen["code"] or seen["broken"]:
        found.faults.append(f"JupyterLab: {seen['counted']} of {seen['code']} cells ran; broken: {seen['broken']}")
    page.screenshot(path=OUT / sheet.number / "lab_1280.png")
    looked(page, "JupyterLab", found, page.locator(".jp-Notebook"))
    found.faults += [f"JupyterLab: {one}" for one in axe_faults(page, OURS_IN_THE_LAB)]
    hands(page, "JupyterLab", sheet, found)
    if cells_of(page) != seen["cells"]:
        found.faults.append("JupyterLab: a key pressed in a figure or a form changed the notebook's cells")


def table(rows) -> None:
    wide = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    for row in rows:
        print("  ".join(text.ljust(width) for text, width in zip(row, wide, strict=True)).rstrip())


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
