"""One candidate and one assessor, from the class list to a certificate, through the pages alone."""

from __future__ import annotations

import json
import re
import subprocess
import sys

import pytest
from playwright.sync_api import expect

from rigcalc.desk import work
from rigcalc.demonstration.making import make
from rigcalc.questions.typed import right_typed

PIECES = {"3": "good", "5": "small-cable", "7": "crack", "9": "good", "11": "buried-tail", "14": "wrong-metal"}


def press(page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def step(desk, page, name: str) -> None:
    """From the desk's first page into one of its steps."""
    page.goto(desk.base + "/")
    page.locator("ol.steps").get_by_role("link", name=name, exact=True).click()


def address_on(page, kind: str) -> str:
    return re.search(rf"http://127\.0\.0\.1:\d+/{kind}/[\w-]+", page.inner_text("main"))[0]


# --- The candidate --------------------------------------------------------------------------------

def answer(panel, slot: dict, typed) -> None:
    """One answer by clicks and keys, whatever its kind."""
    if slot["kind"] in ("one choice", "place"):
        panel.locator(f"input[type=radio][value={typed}]").check()
    elif slot["kind"] == "several choices":
        for letter in typed:
            panel.locator(f"input[type=checkbox][value={letter}]").check()
    elif slot["kind"] == "match":
        for at, letter in enumerate(typed):
            panel.locator("select").nth(at).select_option(letter)
    elif slot["kind"] == "order":
        for place, letter in enumerate(typed):
            while (now := panel.locator(".rc-order li .rc-letter").all_text_contents().index(letter)) > place:
                panel.locator(".rc-order li").nth(now).get_by_role("button", name=re.compile("up")).click()
    else:
        write_figures(panel, typed if isinstance(typed, list) else [typed])


def write_figures(panel, typed: list[str]) -> None:
    """The figure of a number, or what the boxes of a job sheet get, one after the other."""
    for at, text in enumerate(typed):
        box = panel.locator("input.rc-number, select").nth(at)
        if box.evaluate("node => node.tagName") == "SELECT":
            box.select_option(text)
        else:
            box.fill(text)
    for said in panel.locator(".rc-reading").all():
        expect(said).to_contain_text(re.compile("Read as"))


def sit(page, address: str, key: dict, picture) -> str:
    """A whole paper by clicks, each answer the right one; the receipt."""
    page.goto(address)
    page.locator("#start").click()
    expect(page.locator(".panel:visible")).to_have_count(1)
    questions = {question["slot"]: question for question in key["paper"]["questions"]}
    for number, slot in enumerate(sorted(key["keys"], key=lambda one: one["slot"]), 1):
        panel = page.locator(f".panel:has(#q{slot['slot']})")
        answer(panel, slot, right_typed(questions[slot["slot"]], slot))
        panel.get_by_role("button", name="Confirm", exact=True).click()
        if panel.get_by_text("You have moved nothing.").count():
            panel.get_by_role("button", name="Confirm", exact=True).click()  # it stood in the right order by chance
        expect(panel.locator(".rc-saved")).to_have_text("Confirmed and saved.")
        if number in (1, 6):
            picture(page, f"sitting_{number}")
        if number < len(key["keys"]):
            press(page, "Next question")
    press(page, "Look over and hand in")
    page.locator(".review button").last.click()
    expect(page.get_by_role("heading", name="You have handed in")).to_be_visible()
    picture(page, "sitting_receipt")
    return page.locator("#receipt").text_content()


# --- The bench form by touch ----------------------------------------------------------------------

class Bench:
    """One form on a tablet, filled by taps on what the screen shows."""

    def __init__(self, page, form: dict) -> None:
        self.page, self.form = page, form

    def tap(self, within, name) -> None:
        within.get_by_role("button", name=name, exact=isinstance(name, str)).first.tap()

    def key_in(self, value: str, unit: str) -> None:
        pad = self.page.get_by_role("dialog")
        for sign in value:
            self.tap(pad, sign)
        self.tap(pad, f"enter in {unit}")

    def fill(self, picture) -> None:
        for number, stage in enumerate(self.form["stages"]):
            if number:
                self.tap(self.page, "Next ›")
            done: set[str] = set()
            while (line := self._next(stage, done)) is not None:
                done.add(line["key"])
                getattr(self, "_" + line["kind"])(self.page.locator(f'[data-line="{line["key"]}"]').last, line)
            if number in (2, 6):
                picture(self.page, f"bench_{number}")
        expect(self.page.get_by_role("status")).to_contain_text("Saved: all")

    def _next(self, stage: dict, done: set[str]) -> dict | None:
        shown = set(self.page.locator("[data-line]").evaluate_all("all => all.map(one => one.dataset.line)"))
        return next((item for item in stage["items"] if item["key"] in shown - done), None)

    def _see(self, line, item) -> None:
        self.tap(line, f"{item['number']} seen right")

    def _measure(self, line, item) -> None:
        typed = {"near the assessor's": ["3.20", "3.20"], "tail before": ["8"], "tail after": ["2.5"], "pin to pin": ["501"],
                 "gaps": ["1.5"] * len(item["limit"]["parts"]), "pull load": ["2000"]}[item["limit"]["rule"]]
        self.tap(line, re.compile(re.escape(f"{item['number']} {item['limit']['parts'][0]}")))
        for value in typed:
            self.key_in(value, "mm" if "mm" in item["limit"]["units"] else item["limit"]["units"][0])

    def _gauge(self, line, item) -> None:
        for crimp in range(1, item["crimps"] + 1):
            self.tap(line, f"Crimp {crimp} passed")

    def _choose(self, line, item) -> None:
        self.tap(line, f"{item['number']} {item['must_be'] or (item['good'] or item['choices'])[0]}")

    def _count(self, line, item) -> None:
        for material in self.form["issue"]["material"]:
            if item["counts"] == "out":
                self.tap(line, f"{material['text']} {material['issued']} out")
                continue
            for which, number in (("in pieces", material["each_piece"]), ("unused", material["issued"] - material["each_piece"])):
                self.tap(line, f"{material['text']} {which}")
                self.key_in(str(number), "pieces")

    def _calls(self, line, item) -> None:
        causes = {one["id"]: one["text"] for one in self.form["causes"]}
        for number, cause in PIECES.items():
            self.tap(line, f"piece {number} {'pass' if cause == 'good' else 'reject'}")
            if cause != "good":
                self.tap(self.page.get_by_role("dialog"), causes[cause])

    def _write(self, line, item) -> None:
        line.locator("textarea").fill("INVENTED force gauge FG2, due 2046-03-02")
        line.locator("textarea").blur()


# --- The whole way --------------------------------------------------------------------------------

@pytest.fixture(scope="module")
def way():
    """What one step of the way leaves for the next."""
    return {}


def test_from_issue_to_certificate_through_the_pages_alone(desk, home, visit, picture, tmp_path, way):
    page = visit()
    page.goto(desk.base)
    page.locator("input[name=token]").fill(desk.token)
    press(page, "Sign in")
    picture(page, "desk_home")

    page.get_by_role("link", name="Class list", exact=True).click()
    page.get_by_label("Name of the class").fill("Bench one")
    page.get_by_label("Candidates, one a line").fill("Tomo Kessig, 15, large")
    press(page, "Look at the list")
    expect(page.get_by_role("cell", name="larger print")).to_be_visible()
    picture(page, "desk_class_looked_at")
    press(page, "Set up the class")
    expect(page.get_by_role("status")).to_contain_text("set up with 1 name.")
    step(desk, page, "The room")
    page.get_by_label("This machine only").check()
    press(page, "Open the room")
    picture(page, "desk_room")
    step(desk, page, "Set the papers")
    picture(page, "desk_papers")
    press(page, "Set the papers")
    picture(page, "desk_papers_set")

    # The test knows the right answers from the key record; the candidate's page gets them as clicks.
    candidate = visit()
    key = json.loads(next((home / "desk" / "keys").rglob("*.json")).read_text(encoding="utf-8"))
    receipt = sit(candidate, address_on(page, "sit"), key, picture)

    step(desk, page, "Watch who has handed in")
    expect(page.locator("main")).to_contain_text(receipt)
    picture(page, "desk_watch")
    step(desk, page, "Mark")
    press(page, "Mark what was handed in")
    expect(page.locator("main")).to_contain_text("100 of 100")
    picture(page, "desk_mark")
    page.get_by_role("link", name="Look", exact=True).click()
    expect(page.get_by_role("link", name="Appeal", exact=True)).to_have_count(0)  # all is right
    assert page.locator("details.card").count() == len(key["keys"])
    picture(page, "desk_result")
    page.goto(f"{page.url.replace('/result/', '/appeal/')}/1")
    expect(page.locator("main")).to_contain_text("there is nothing to appeal")
    picture(page, "desk_appeal")
    step(desk, page, "Mark")
    page.get_by_role("link", name="Put a marking right").click()
    page.get_by_role("link", name=next(one["family"] for one in key["keys"] if not one["must_be_right"]), exact=True).click()
    page.get_by_label(re.compile("strike the question")).check()
    page.get_by_label("Corrected by").fill("Ines Varrow")
    page.get_by_label("Why", exact=True).fill("INVENTED: the drawing was pale.")
    press(page, "Look at what would change")
    expect(page.locator("main")).to_contain_text("100 → 100")
    picture(page, "desk_correct")
    press(page, "Enter this correction")
    expect(page.get_by_role("status")).to_contain_text("0 move across the cut")
    step(desk, page, "Class summary")
    picture(page, "desk_summary")

    step(desk, page, "Bench")
    page.get_by_role("link", name="Enter a sealed set of pieces").click()
    page.get_by_label("Name of the set").fill("S1")
    page.get_by_label(re.compile("pieces, one a line")).fill("\n".join(f"{number}: {cause}" for number, cause in PIECES.items()))
    press(page, "Keep the set")
    page.get_by_label("Tomo Kessig").check()
    page.get_by_label("What is made").select_option("1/8|7x19|galvanised|aluminium|LB")
    page.get_by_label("Sealed set").select_option("s1")
    picture(page, "desk_bench")
    press(page, "Open the form")

    tablet = visit(touch=True)
    tablet.goto(address_on(page, "bench"))
    Bench(tablet, json.loads(next((home / "room" / "bench").glob("*.json")).read_text(encoding="utf-8"))).fill(picture)

    page.get_by_role("link", name="Look at Tomo Kessig").click()
    picture(page, "desk_bench_look")
    expect(page.locator("main")).to_contain_text("proposes a pass")
    press(page, "Close this assessment")
    expect(page.locator("main")).to_contain_text("Every critical point has its tap.")
    press(page, "Close it")

    step(desk, page, "Decide and sign")
    page.get_by_role("link", name="Decide", exact=True).click()
    page.get_by_label("Competent").check()
    page.get_by_label("Reasons").fill("Paper and bench both passed.")
    page.get_by_label("Decided by").fill("Bettan Roole")
    press(page, "Enter the decision")
    expect(page.get_by_role("status")).to_contain_text("Refused")
    expect(page.get_by_label("Reasons")).to_have_value("Paper and bench both passed.")
    page.get_by_label(re.compile("did not train this candidate")).check()
    page.get_by_label(re.compile("has no tie to the candidate")).check()
    picture(page, "desk_decide")
    press(page, "Enter the decision")
    press(page, "Sign the DEMONSTRATION certificate")
    picture(page, "desk_certificates")

    with page.expect_download() as got:
        page.get_by_role("link", name="File", exact=True).click()
    got.value.save_as(tmp_path / "certificate.json")
    page.get_by_role("link", name="Print", exact=True).click()
    picture(page, "certificate")
    for words in ("Tomo Kessig", "INVENTED", "no permission", "never a cable", "1/8", "aluminium", "7x19", "LB"):
        expect(page.locator("body")).to_contain_text(words)
    step(desk, page, "Register")
    picture(page, "desk_register")
    way["certificate"] = tmp_path / "certificate.json"


def test_the_certificate_is_a_demonstration_and_an_altered_one_is_refused(way, tmp_path):
    def checked(path):
        return subprocess.run([sys.executable, "-m", "rigcalc", "certificate", str(path)], capture_output=True, text=True)

    whole = checked(way["certificate"])
    assert whole.returncode == 3 and whole.stdout.startswith("DEMONSTRATION")
    altered = tmp_path / "altered.json"
    altered.write_text(way["certificate"].read_text(encoding="utf-8").replace("Tomo Kessig", "Dela Orrin"), encoding="utf-8")
    assert checked(altered).returncode == 2


def test_the_register_of_the_pages_and_of_the_demonstration_have_the_same_kinds_and_fields(way, home, tmp_path, monkeypatch):
    monkeypatch.setattr("os.fsync", lambda handle: None)  # what is made here need not outlive a power cut
    make(tmp_path / "demonstration")
    by_pages = work.open_desk(home).register
    by_demonstration = work.open_desk(tmp_path / "demonstration").register
    assert by_pages.check() == by_demonstration.check() == []

    def fields(register) -> dict[str, set[frozenset[str]]]:
        found: dict[str, set[frozenset[str]]] = {}
        for entry in register.entries():
            found.setdefault(entry.kind, set()).add(frozenset(entry.body))
        return found

    pages, demonstration = fields(by_pages), fields(by_demonstration)
    assert set(pages) == set(demonstration) - {"appeal decided", "certificate standing", "more time given", "bench form set aside"} and len(pages) >= 8  # nothing of these happened
    assert {kind: shapes - demonstration[kind] for kind, shapes in pages.items() if shapes - demonstration[kind]} == {}
