"""The form by touch, at tablet width and on a wide screen, served by the room itself."""

from __future__ import annotations

import asyncio
import hashlib
import json
import threading

import pytest
from playwright.sync_api import expect
from rigcalc.bench.page import bench_page
from rigcalc.bench.printed import printed_form
from rigcalc.room import access
from rigcalc.room.app import make_app
from rigcalc.room.journal import Journal

from .filled import DELA, TOMO, Book, opened

TABLET, WIDE = {"width": 820, "height": 1180}, {"width": 1280, "height": 800}
# 15 mm at 96 px to the inch is 56.7 px
LEAST_PX = 57
# A tap that could not be sent is tried again after two seconds: here ten times sooner, so that nobody waits for it.
QUICKER = "{ const once = window.setTimeout; window.setTimeout = (what, wait, ...rest) => once(what, wait === 2000 ? 200 : wait, ...rest); }"


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """A room folder and the room's application on a port of its own."""
    folder, ready = tmp_path_factory.mktemp("room"), threading.Event()
    (folder / "bench").mkdir()
    at: dict = {}

    async def serve() -> None:
        at["loop"], at["end"] = asyncio.get_running_loop(), asyncio.Event()
        server = make_app(folder).listen(0, "127.0.0.1")
        at["port"] = next(iter(server._sockets.values())).getsockname()[1]
        ready.set()
        await at["end"].wait()
        server.stop()
        await server.close_all_connections()

    thread = threading.Thread(target=lambda: asyncio.run(serve()), daemon=True)
    thread.start()
    assert ready.wait(10)
    yield folder, f"http://127.0.0.1:{at['port']}"
    at["loop"].call_soon_threadsafe(at["end"].set)
    thread.join(10)


class Tablet:
    """One device on one form."""

    def __init__(self, browser, room, name: str, people, viewport=TABLET) -> None:
        self.folder, base = room
        form = opened(*people) | {"form_id": name}
        self.path = self.folder / "bench" / f"{name}.json"
        if not self.path.exists():
            self.path.write_text(json.dumps(form), encoding="utf-8")
        self.form, self.name = form, name
        self.address = f"{base}/bench/{access.grant(self.folder, 'bench', name)}"
        self.context = browser.new_context(has_touch=True, viewport=viewport)
        self.context.set_default_timeout(8000)
        self.page = self.context.new_page()
        self.page.add_init_script(QUICKER)
        self.errors: list[str] = []
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        self.page.goto(self.address)

    def on_disk(self) -> list[dict]:
        journal = Journal(self.folder / "bench" / f"{self.name}.jsonl")
        try:
            return journal.entries()
        finally:
            journal.close()

    def tap(self, label: str, exact: bool = True) -> None:
        self.page.get_by_role("button", name=label, exact=exact).first.tap()

    def stage(self, title: str) -> None:
        self.tap("Stages")
        self.page.get_by_role("dialog").get_by_role("button", name=title).first.tap()

    def key_in(self, value: str, unit: str) -> None:
        pad = self.page.get_by_role("dialog")
        for sign in value:
            pad.get_by_role("button", name="space" if sign == " " else sign, exact=True).tap()
        pad.get_by_role("button", name=f"enter in {unit}").tap()

    def saved(self, number: int) -> None:
        expect(self.page.get_by_role("status")).to_contain_text(f"Saved: all {number}")
        assert len(self.on_disk()) == number


@pytest.fixture
def device(chromium, room, request):
    made: list[Tablet] = []

    def make(*people, viewport=TABLET, name: str | None = None) -> Tablet:
        made.append(Tablet(chromium, room, name or f"f-{hashlib.sha256(request.node.nodeid.encode()).hexdigest()[:12]}", people or (TOMO,), viewport))
        return made[-1]

    yield make
    for one in made:
        one.context.close()
    assert [one.errors for one in made if one.errors] == []


def test_one_tap_saves_one_line_and_undo_steps_back(device):
    tablet = device()
    tablet.tap("Next ›")
    tablet.tap("2.4 seen right")
    tablet.saved(1)
    assert tablet.on_disk()[0] | {"id": "", "at": "", "saved_at": ""} == {
        "kind": "seen", "id": "", "revision": 1, "candidate": "c1", "item": "T1#labels-read", "piece": 0, "at": "", "paper": False,
        "saved_at": "", "result": "right", "how": "live"}
    expect(tablet.page.get_by_role("button", name="2.4 seen right", exact=True)).to_have_attribute("aria-pressed", "true")
    tablet.page.get_by_role("button", name="2.4 how seen: live; tap for piece", exact=True).tap()
    tablet.saved(2)
    tablet.tap("Undo: 2.4 seen right")
    tablet.saved(3)
    tablet.tap("Undo: 2.4 seen right")
    tablet.saved(4)
    expect(tablet.page.get_by_role("button", name="2.4 seen right", exact=True)).to_have_attribute("aria-pressed", "false")


def test_the_same_tap_again_changes_nothing(device):
    tablet = device(TOMO, DELA)
    gauged = next((s, i) for s in tablet.form["stages"] for i in s["items"] if i["kind"] == "gauge")
    pane = tablet.page.locator(f'[data-pane="{TOMO["id"]}"]')
    for _ in range(tablet.form["stages"].index(gauged[0])):
        pane.get_by_role("button", name="Next ›").tap()
    undo = tablet.page.locator(".bar .undo")
    before = tablet.page.locator(".bar").bounding_box()
    failed = pane.get_by_role("button", name="Crimp 1 did not pass", exact=True).first
    failed.tap()
    again = pane.get_by_role("button", name="Crimp 1, pressed again once did not pass", exact=True).first
    expect(again).to_be_visible()
    expect(tablet.page.get_by_role("status")).to_contain_text("Saved: all 1")
    assert tablet.page.locator(".bar").bounding_box() == before
    for _ in range(3):
        failed.tap()
    expect(failed).to_have_attribute("aria-pressed", "true")
    expect(again).to_be_visible()
    expect(undo).to_contain_text("did not pass")
    assert len(tablet.on_disk()) == 1
    tablet.page.reload()
    failed.tap()
    expect(again).to_be_visible()
    assert len(tablet.on_disk()) == 1


def test_a_count_that_cannot_be_is_refused(device):
    tablet = device()
    stage, item = next((s, i) for s in tablet.form["stages"] for i in s["items"] if i["kind"] == "count" and i["counts"] == "out")
    for _ in range(tablet.form["stages"].index(stage)):
        tablet.tap("Next ›")
    tablet.tap(f"{tablet.form['issue']['material'][0]['text']} out")
    tablet.key_in("999", "pieces")
    expect(tablet.page.get_by_role("dialog")).to_contain_text("Refused: 999")
    tablet.key_in("1", "pieces")
    tablet.saved(1)


def test_what_was_tapped_stands_after_a_reload(device):
    tablet = device()
    tablet.stage("4 Threading")
    tablet.tap("4.1 seen right")
    tablet.tap("4.4 tail")
    tablet.key_in("1/4", "in")
    tablet.saved(2)
    tablet.page.reload()
    expect(tablet.page.get_by_role("button", name="4.1 seen right", exact=True)).to_have_attribute("aria-pressed", "true")
    expect(tablet.page.locator('[data-line="T1#tail-before@1"]')).to_contain_text("Within.")
    tablet.tap("4.4 tail")
    tablet.key_in("6", "mm")
    expect(tablet.page.locator('[data-line="T1#tail-before@1"]')).to_contain_text("OUTSIDE. 6 mm; limit: at least 2 d")
    tablet.tap("Undo: 4.4 6 mm")
    expect(tablet.page.locator('[data-line="T1#tail-before@1"]')).to_contain_text("Within.")
    expect(tablet.page.locator(".hold")).to_have_text(["STOP, show me: threaded and tail marked"])


def test_without_the_network_taps_are_kept_and_sent_again(device):
    tablet = device()
    tablet.tap("Next ›")
    tablet.page.route("**/save", lambda route: route.abort())
    tablet.tap("2.2 seen right")
    tablet.tap("2.3 seen wrong")
    expect(tablet.page.get_by_role("status")).to_contain_text("Not saved yet: 2 kept on this device")
    assert tablet.on_disk() == []
    tablet.page.on("dialog", lambda dialog: dialog.accept())
    tablet.page.reload()
    expect(tablet.page.get_by_role("button", name="2.3 seen wrong", exact=True)).to_have_attribute("aria-pressed", "true")
    assert tablet.on_disk() == []
    tablet.page.unroute("**/save")
    tablet.saved(2)
    assert [e["revision"] for e in tablet.on_disk()] == [1, 2]


def test_a_form_whose_address_was_closed_says_so_and_not_that_it_goes_on_trying(device):
    tablet = device()
    tablet.tap("Next ›")
    access.revoke(tablet.folder, "bench", tablet.name)
    tablet.tap("2.2 seen right")
    expect(tablet.page.get_by_role("status")).to_contain_text("Not saved: this form's address is closed, as where it was set aside at the desk. 1 kept on this device. Tap no more")
    assert tablet.on_disk() == []


def test_an_answer_that_was_lost_does_not_save_twice(device):
    tablet = device()
    tablet.tap("Next ›")
    lost = []

    def lose_first(route):
        if not lost:
            lost.append(route.fetch())
            return route.abort()
        return route.continue_()

    tablet.page.route("**/save", lose_first)
    tablet.tap("2.2 seen right")
    tablet.saved(1)


def test_two_devices_on_one_form_lose_nothing(device):
    first, second = device(TOMO, DELA, name="two-devices"), device(TOMO, DELA, name="two-devices")
    for tablet, who, number in ((first, "c1", 1), (second, "c2", 2)):
        tablet.page.locator(f"[data-pane={who}]").get_by_role("button", name="Next ›").tap()
        tablet.page.locator(f"[data-pane={who}]").get_by_role("button", name="2.2 seen right").tap()
        tablet.saved(number)
    assert [(e["candidate"], e["revision"]) for e in first.on_disk()] == [("c1", 1), ("c2", 2)]


def test_second_failure_at_the_gauge_asks_for_three_taps(device):
    tablet = device()
    tablet.stage("6 Gauging")
    assert tablet.page.locator('[data-line="T1#checks-back@1"]').count() == 0
    tablet.tap("Crimp 2 did not pass")
    tablet.tap("Crimp 2, pressed again once did not pass")
    expect(tablet.page.get_by_role("alert")).to_contain_text("this piece is scrap")
    for number in ("6.4", "6.5", "6.6"):
        tablet.tap(f"{number} seen right")
    tablet.saved(5)
    expect(tablet.page.get_by_role("button", name="Rejects own piece", exact=True)).to_be_disabled()


def test_own_reject_begins_another_piece(device):
    tablet = device()
    tablet.stage("5 First stroke")
    tablet.tap("5.2 seen wrong")
    tablet.tap("Rejects own piece")
    tablet.tap("legs crossed or wire caught")
    expect(tablet.page.get_by_role("heading", name="piece 2 of 2")).to_be_visible()
    tablet.stage("5 First stroke")
    expect(tablet.page.get_by_role("button", name="5.2 seen wrong", exact=True)).to_have_attribute("aria-pressed", "false")
    tablet.saved(2)


def test_a_save_that_comes_back_under_a_finger_loses_no_tap(device):
    tablet = device()
    tablet.tap("Next ›")
    tablet.page.route("**/save", lambda route: (tablet.page.wait_for_timeout(150), route.continue_()))
    tablet.tap("2.2 seen right")
    key = tablet.page.get_by_role("button", name="2.3 seen right", exact=True).bounding_box()
    tablet.page.mouse.move(key["x"] + 20, key["y"] + 20)
    tablet.page.mouse.down()
    tablet.page.wait_for_timeout(700)
    tablet.page.mouse.up()
    tablet.saved(2)


def test_a_date_that_has_passed_stands_beside_its_words(device):
    tablet = device()
    tablet.stage("13 One piece")
    tablet.tap("13.1 pull")
    line = tablet.page.locator('[data-line="T1#force-gauge"]')
    for words, said in (("FG-7", "NOT FILLED: no date such as 2031-05-04 in it."), ("FG-7, due 2026-11-20", "In date."),
                        ("FG-7, due 2026-06-30", "NOT IN DATE: due 2026-06-30, before the day of the test.")):
        line.locator("textarea").fill(words)
        line.locator("textarea").blur()
        expect(line.locator(".note")).to_have_text(said)
    tablet.page.reload()
    expect(line.locator(".note")).to_have_text(said)
    tablet.tap("Undo: 13.3 words")
    expect(line.locator(".note")).to_have_text("In date.")


def test_calls_and_words(device):
    tablet = device()
    tablet.stage("14 Six pieces")
    tablet.tap("Help given")
    tablet.tap("piece 3 pass")
    tablet.tap("piece 7 reject")
    tablet.tap("sleeve cracked")
    tablet.saved(3)
    tablet.stage("16 When the hands")
    tablet.page.get_by_label('Help given at "Six pieces: pass or reject": your words').fill("</script><b>Look again</b>")
    tablet.page.get_by_label("Anything else the decider should know").fill("Calm hands.")
    tablet.tap("‹ Back")
    tablet.saved(5)
    tablet.page.reload()
    tablet.stage("16 When the hands")
    words = tablet.page.get_by_label("Anything else the decider should know")
    expect(words).to_have_value("Calm hands.")
    words.fill("Calm hands, always.")
    tablet.page.on("dialog", lambda dialog: dialog.accept())
    tablet.page.evaluate("document.activeElement.dispatchEvent(new Event('input', { bubbles: true }))")
    tablet.page.reload()
    tablet.saved(6)
    assert tablet.on_disk()[-1]["words"] == "Calm hands, always."


@pytest.mark.parametrize("viewport, people", [(TABLET, (TOMO, DELA)), (WIDE, (TOMO,))], ids=["tablet-two", "wide-one"])
def test_every_key_is_at_least_fifteen_millimetres(device, viewport, people):
    tablet = device(*people, viewport=viewport)
    measure = """() => [...document.querySelectorAll('#bench button')].filter(b => b.offsetParent).map(b => {
        const r = b.getBoundingClientRect(); return [b.textContent, Math.min(r.width, r.height), r.right, b.scrollWidth - b.clientWidth]; })"""
    for number in range(len(tablet.form["stages"])):
        if number:
            tablet.tap("Next ›")
            if len(people) == 2:
                tablet.page.locator("[data-pane=c2]").get_by_role("button", name="Next ›").tap()
        found = tablet.page.evaluate(measure)
        assert [x for x in found if x[1] < LEAST_PX] == []
        assert [x for x in found if x[2] > viewport["width"]] == [], "a key sticks out of the screen"
        assert [x for x in found if x[3] > 1] == [], "a word sticks out of its key"
    assert tablet.page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]


@pytest.mark.parametrize("viewport", [TABLET, WIDE], ids=["tablet", "wide"])
def test_number_pad_is_our_own_with_big_keys(device, viewport):
    tablet = device(viewport=viewport)
    tablet.stage("3 Measuring")
    tablet.tap("3.4 candidate's reading")
    pad = tablet.page.get_by_role("dialog")
    assert pad.locator("input").count() == 0
    sizes = pad.evaluate("d => [...d.querySelectorAll('button')].map(b => { const r = b.getBoundingClientRect(); return [Math.min(r.width, r.height), r.bottom]; })")
    assert min(size for size, _ in sizes) >= LEAST_PX and max(bottom for _, bottom in sizes) <= viewport["height"]
    expect(pad.get_by_role("button", name="enter in mm")).to_be_disabled()
    tablet.key_in("3.18", "mm")
    tablet.key_in("3.2", "mm")
    expect(tablet.page.locator('[data-line="T1#diameter"]')).to_contain_text("Within.")
    tablet.saved(2)


def test_nothing_is_typed_while_hands_are_watched():
    form = opened()
    written = [i["key"] for s in form["stages"] if s["hands"] for i in s["items"] if i["kind"] == "write"]
    assert written == [] and all(not s["words"] for s in form["stages"] if s["hands"])


def test_paper_form_has_the_same_numbers_and_says_invented():
    book = Book(opened()).fill()
    for text in (printed_form(book.form), bench_page(book.form, book.events)):
        paper = text[text.index('<section class="form-paper"'):]
        at = [paper.index(f'<td class="number">{i["number"]}</td>') for s in book.form["stages"] for i in s["items"]]
        # lines at a stop stand under it, in the order of time
        assert at == sorted(at)
        assert paper.count('class="hold-line">STOP, show me') == 6 and "INVENTED: DO NOT GAUGE REAL WORK WITH THIS" in paper
        assert "Never for lifting anything" in text and book.form["chart"]["line"] in paper
    assert "☒ right" in printed_form(book.form, book.events) and "☒ right" not in printed_form(book.form)


def test_words_cannot_leave_their_place():
    book = Book(opened({"id": "c1", "name": "<img src=x onerror=alert(1)>"}))
    book.tap("wrote", words="</script><script>alert(1)</script>")
    made = bench_page(book.form, book.events)
    assert "<img src=x" not in made and "alert(1)</script>" not in made


def test_the_print_key_prints_what_is_saved_by_now_or_says_that_it_could_not(device):
    tablet = device()
    paper = tablet.page.locator(".paper")
    tablet.page.evaluate("() => { window.printed = 0; window.print = () => { window.printed += 1; }; }")
    assert "☒ right" not in paper.inner_html()
    tablet.tap("Next ›")
    tablet.tap("2.4 seen right")
    tablet.saved(1)
    tablet.page.get_by_role("button", name="Print", exact=True).tap()
    tablet.page.wait_for_function("() => window.printed === 1")
    assert paper.inner_html().count("☒ right") == 1
    tablet.page.route(tablet.address, lambda route: route.abort())
    tablet.page.get_by_role("button", name="Print", exact=True).tap()
    expect(tablet.page.get_by_role("alert")).to_contain_text("Not printed: the form as it is saved could not be fetched.")
    assert tablet.page.evaluate("window.printed") == 1
