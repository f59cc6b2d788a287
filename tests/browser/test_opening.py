"""The workbook as a learner and a trainer see it: first page, doors, a live lesson, the projector, and nothing outside asked."""

from __future__ import annotations

import json
import subprocess

import pytest
from playwright.sync_api import expect

from rigcalc.opening.shelf import find_sheet, lessons
from rigcalc.opening.working import make_copy

LESSON = find_sheet("05")
ALIVE = "html[data-live=alive]"


@pytest.fixture
def inside(workbook, page):
    """A visitor on the first page."""
    page.goto(workbook.address)
    return page


def wake(page, workbook):
    """Open lesson 05 and wait until its controls are alive."""
    page.goto(workbook.base + LESSON.address)
    page.wait_for_selector(ALIVE, timeout=40_000)
    return page


@pytest.fixture(scope="module")
def staying(workbook, visit_all_along):
    """A visitor on the first page, who stays for all tests that only look at lesson 05 or open it once more."""
    page = visit_all_along()
    page.goto(workbook.address)
    return page


@pytest.fixture
def awake(staying, workbook):
    """That visitor in lesson 05, its controls alive, and on the screen again after each test."""
    if not (staying.url.endswith(LESSON.address) and staying.locator(ALIVE).count()):
        wake(staying, workbook)
    yield staying
    staying.emulate_media(media="null")
    staying.evaluate("window.dispatchEvent(new Event('afterprint'))")


def kernel_of(page) -> str:
    """What the page calls its kernel."""
    return json.loads(page.locator("#jupyter-config-data").text_content())["kernelId"]


def process_of(kernel: str, workbook) -> str:
    """The process of the workbook's that runs this kernel; empty when there is none."""
    return subprocess.run(["pgrep", "-P", str(workbook.popen.pid), "-f", kernel], capture_output=True, text=True).stdout.strip()


def tail_board(page):
    """The live figure of the tail."""
    return page.locator(".rc-board", has_text="Set the tail, then press")


def press_it(board) -> None:
    board.get_by_role("radio", name="after pressing").check()


def test_first_page_through_the_door_to_a_lesson_where_a_moved_control_changes_the_figure(staying, picture):
    expect(staying).to_have_title("Cable assembly workbook")
    assert "token" not in staying.url
    picture(staying, "first_page")
    staying.get_by_role("link", name="Learn").last.click()
    picture(staying, "learn")
    staying.get_by_role("link", name=LESSON.title).click()
    staying.wait_for_selector(ALIVE, timeout=40_000)
    board = tail_board(staying)
    drawing, words = board.locator("svg").last, board.get_by_role("status")
    before = drawing.get_attribute("aria-label"), drawing.inner_html(), words.inner_text()
    press_it(board)
    expect(words).not_to_have_text(before[2])
    after = drawing.get_attribute("aria-label"), drawing.inner_html(), words.inner_text()
    assert all(old != new for old, new in zip(before, after, strict=True))
    picture(staying, "lesson")


def test_a_lesson_can_be_read_before_its_controls_wake(workbook, staying):
    staying.goto(workbook.base + LESSON.address, wait_until="commit")
    expect(staying.get_by_role("heading", level=1)).to_be_visible(timeout=20_000)
    staying.wait_for_selector(ALIVE, timeout=40_000)
    assert staying.locator("#live-state").inner_text() == ""


def test_no_code_stands_on_the_page(awake):
    text = awake.inner_text("main")
    assert not any(word in text for word in ("import ", "In [", "display(", "Traceback", "could not be made"))
    assert awake.locator(".jp-CodeCell, .jp-InputArea, .CodeMirror, .cm-editor").count() == 0


def test_nothing_lies_under_the_head_of_the_page_and_nothing_is_too_wide(workbook, awake, page, tablet):
    def looked_at(visitor, path: str) -> None:
        head, main = visitor.locator("header.page").bounding_box(), visitor.locator("main").bounding_box()
        assert main["y"] >= head["y"] + head["height"] - 1, path
        assert visitor.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), path

    for visitor in (page, tablet):
        visitor.goto(workbook.address)
        for path in ("/", "/learn", "/teach", "/assess"):
            visitor.goto(workbook.base + path)
            looked_at(visitor, path)
    for visitor in (awake, wake(tablet, workbook)):
        looked_at(visitor, LESSON.address)


def test_the_projector_view_is_larger_and_stays(awake, picture):
    def size() -> float:
        return awake.evaluate("parseFloat(getComputedStyle(document.querySelector('main p')).fontSize)")

    plain = size()
    awake.get_by_role("button", name="Larger, for the projector").click()
    assert size() > 1.3 * plain
    awake.reload()
    awake.wait_for_selector(ALIVE, timeout=40_000)
    assert size() > 1.3 * plain
    picture(awake, "lesson_projector")
    awake.get_by_role("button", name="Smaller again").click()
    assert size() == plain


STANDS = "[...document.querySelectorAll('main .cell')].findLastIndex(one => one.getBoundingClientRect().top < 260)"


# The page asks every five seconds whether its kernel runs: ten times as often here.
IMPATIENT = "{ const late = window.setTimeout; window.setTimeout = (act, wait, ...more) => late(act, wait === 5000 ? 500 : wait, ...more); }"


def test_a_dead_kernel_is_said_in_one_sentence_and_reloading_helps(workbook, inside):
    inside.add_init_script(IMPATIENT)
    mine = process_of(kernel_of(wake(inside, workbook)), workbook)
    subprocess.run(["kill", "-9", mine], check=True)
    inside.wait_for_selector("html[data-live=stopped]", timeout=30_000)
    assert "have stopped. Reload the page to start them again" in inside.locator("#live-state").inner_text()
    inside.locator("main h2").nth(3).evaluate("one => one.scrollIntoView()")
    stood = inside.evaluate(STANDS)
    inside.get_by_role("button", name="Reload the page").click()
    inside.wait_for_selector(ALIVE, timeout=40_000)
    assert inside.evaluate(STANDS) == stood, "it comes back where it stood"
    said = tail_board(inside).get_by_role("status")
    old = said.inner_text()
    press_it(tail_board(inside))
    expect(said).not_to_have_text(old)


def test_printing_leaves_the_buttons_out(awake):
    assert awake.get_by_role("button", name="Print this sheet").first.is_visible()
    awake.emulate_media(media="print")
    assert not awake.get_by_role("button", name="Print", exact=True).is_visible()
    assert not awake.get_by_role("button", name="Print this sheet").first.is_visible()
    assert awake.get_by_role("heading", level=1).is_visible()


@pytest.mark.paper
def test_a_bench_sheet_prints_alone(workbook, inside, picture):
    inside.add_init_script("window.printed = 0; window.print = () => { window.printed += 1; };")
    inside.goto(workbook.base + LESSON.address + "?print=practice-sheet")
    inside.wait_for_selector(ALIVE, timeout=40_000)
    assert inside.evaluate("window.printed") == 1
    assert inside.get_by_role("heading", level=1).is_visible()
    inside.emulate_media(media="print")
    picture(inside, "practice_sheet_alone")
    shown = inside.inner_text("body")
    assert shown.strip().startswith("Bench practice sheet") and "Forming an eye: recap" not in shown
    assert not inside.get_by_role("heading", level=1).is_visible()
    assert inside.pdf(format="A4").count(b"/Type /Page\n") == 1
    inside.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert inside.get_by_role("heading", level=1).is_visible()


@pytest.mark.paper
def test_a_sheet_printed_alone_says_that_it_is_the_trainers_own_copy(workbook, workbook_home, inside):
    inside.add_init_script("window.print = () => {};")
    copy = make_copy(LESSON, workbook_home / "working")
    try:
        notebook = json.loads(copy.read_text(encoding="utf-8"))
        notebook["cells"][0]["source"] += "\n\nA line of our own."
        copy.write_text(json.dumps(notebook), encoding="utf-8")
        inside.goto(workbook.base + LESSON.address + "?print=practice-sheet")
        inside.wait_for_selector(ALIVE, timeout=40_000)
        inside.emulate_media(media="print")
        shown = inside.inner_text("body")
        assert shown.strip().startswith("Bench practice sheet") and shown.count("This is the trainer's working copy. ") == 1
        assert inside.pdf(format="A4").count(b"/Type /Page\n") == 1
    finally:
        copy.unlink()


def test_a_sheets_own_button_prints_it_alone(awake):
    awake.evaluate("window.print = () => {}")
    awake.locator(".one-page.recap").scroll_into_view_if_needed()
    awake.get_by_role("button", name="Print this sheet").first.click()
    awake.emulate_media(media="print")
    assert awake.locator(".one-page.recap").is_visible() and not awake.locator(".one-page.practice").is_visible()


def test_a_page_left_behind_ends_its_kernel(workbook, awake):
    kernel = kernel_of(awake)
    assert process_of(kernel, workbook)
    awake.goto(workbook.base + "/learn")
    for _ in range(100):
        if not process_of(kernel, workbook):
            break
        awake.wait_for_timeout(100)
    assert not process_of(kernel, workbook)


def test_the_teach_page_names_the_shop_file_and_leads_to_the_sheets(inside, workbook, picture):
    inside.goto(workbook.base + "/teach")
    picture(inside, "teach")
    text = inside.inner_text("main")
    assert "shop.toml" in text and f"rigcalc edit {lessons()[0].number}" in text and "INVENTED" in text
    inside.get_by_role("link", name="bench practice sheet").first.click()
    inside.wait_for_selector(ALIVE, timeout=40_000)
    place = inside.evaluate("document.getElementById(decodeURIComponent(location.hash.slice(1))).getBoundingClientRect().top")
    assert -5 <= place <= 500


def test_the_shop_file_is_checked_line_by_line(inside, workbook, workbook_home, picture):
    from rigcalc.shop import sample_shop_path

    own = workbook_home / "shop.toml"
    sample = sample_shop_path().read_text(encoding="utf-8")
    wrong = sample.replace('system = "US"', 'system = "furlongs"', 1)
    line = next(number for number, text in enumerate(wrong.splitlines(), 1) if "furlongs" in text)
    own.write_text(wrong, encoding="utf-8")
    try:
        inside.goto(workbook.base + "/teach")
        picture(inside, "teach_shop_wrong")
        assert "cannot be used as it is, so the invented sample shop" in inside.inner_text("main")
        row = inside.locator("table tr", has_text="furlongs")
        assert row.locator("td").first.inner_text() == str(line)
    finally:
        own.unlink()


def test_a_lesson_of_a_shop_without_a_chart_runs_to_its_end_and_says_practice(inside, workbook, workbook_home, picture):
    from rigcalc.cautions import PRACTICE
    from opening.test_pages import own_text

    own = workbook_home / "shop.toml"
    own.write_text(own_text("chart"), encoding="utf-8")
    try:
        wake(inside, workbook)
        picture(inside, "lesson_without_chart")
        expect(inside.locator("p.invented", has_text=PRACTICE).first).to_be_visible()
        expect(inside.locator("p.invented", has_text="INVENTED: the shop").first).to_be_visible()
        assert inside.locator(".page-broke").count() == 0
        assert "could not be made" not in inside.inner_text("main")
    finally:
        own.unlink()


def test_without_a_desk_the_door_says_so(inside, workbook, picture):
    inside.goto(workbook.base + "/assess")
    picture(inside, "assess")
    assert "The desk is not running" in inside.inner_text("main")


def test_a_visitor_without_the_token_can_type_it(workbook, page):
    page.goto(workbook.base + LESSON.address)
    assert "window where the workbook was opened" in page.inner_text("main")
    page.get_by_label("Token").fill("wrong")
    page.get_by_role("button", name="Open").click()
    assert "not the token" in page.inner_text("main")
    page.get_by_label("Token").fill(workbook.address.split("token=")[1])
    page.get_by_role("button", name="Open").click()
    expect(page).to_have_title("Cable assembly workbook")


def test_a_page_that_is_not_there_is_one_sentence(inside, workbook):
    inside.goto(workbook.base + "/lessons/99_nothing")
    assert "There is no such page" in inside.inner_text("main")
