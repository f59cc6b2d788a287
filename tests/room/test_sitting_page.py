"""The sitting page in a browser: a whole sitting by keys and by clicks, and what goes wrong on the way."""

from __future__ import annotations

import json
import re
from datetime import datetime, timedelta, timezone

from playwright.sync_api import expect

from papers import a_class
from room.a_room import Room
from room.a_sitting import GIVES_UP_SOON, Sat, TABLET, order_by_keys, panel, picture, press_until, questions, slot_of, started
from rigcalc.papers.blueprint import Blueprint, Cut, Place
from rigcalc.papers.marking import mark_returned
from rigcalc.papers.records import private_folder, stamp
from rigcalc.questions import families_folder
from rigcalc.questions.family import read_family
from rigcalc.room.journal import Journal


def test_a_whole_sitting_by_keys_alone(sat):
    page, right = sat.open(), a_class.right_answers(sat.room.held)
    picture(page, "1-front")
    assert page.evaluate("document.activeElement.id") == "start"
    page.keyboard.press("Enter")
    for question in questions(sat):
        slot = question["slot"]
        expect(page.locator(f"#q{slot}")).to_be_focused()
        if question["kind"] == "number":
            press_until(page, "input.rc-number")
            page.keyboard.type(right[slot])
            expect(page.locator(".panel:visible .rc-reading")).to_contain_text("Read as")
            picture(page, "2-number")
            page.keyboard.press("Enter")
        elif question["kind"] == "one choice":
            press_until(page, "input[type=radio]")
            page.keyboard.press("Space")
            while page.evaluate("document.activeElement.value") != right[slot]:
                page.keyboard.press("ArrowDown")
            press_until(page, ".rc-form button")
            page.keyboard.press("Enter")
        else:
            order_by_keys(page, right[slot])
            picture(page, "3-order")
            page.locator(".panel:visible .rc-row button").last.focus()
            page.keyboard.press("Enter")
            if page.locator(".panel:visible .rc-said:visible").filter(has_text="moved nothing").count():
                page.keyboard.press("Enter")  # it stood in the right order by chance
        expect(page.locator(".panel:visible .rc-saved")).to_have_text("Confirmed and saved.")
        if slot < len(right):
            if not page.evaluate("document.activeElement.textContent === 'Next question'"):
                press_until(page, ".turn button:last-child")
            page.keyboard.press("Enter")
    press_until(page, ".bar button:last-child", "Shift+Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_text("All 3 questions are confirmed.")).to_be_visible()
    picture(page, "4-before-handing-in")
    press_until(page, ".review button:last-child")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="You have handed in")).to_be_visible()
    expect(page.locator("#receipt")).to_be_focused()
    picture(page, "5-receipt")
    result = mark_returned(sat.room.held.returned, sat.room.held.keys).results[0]
    assert result["score"] == 100 and page.locator("#receipt").text_content() == result["receipt"]
    assert page.evaluate("localStorage.length") == 0


def test_by_clicks_on_a_tablet_all_at_once_with_what_is_unanswered_shown(sat):
    page = started(sat, size=TABLET, number=1)
    page.get_by_role("button", name="Show all questions").click()
    expect(page.locator(".panel:visible")).to_have_count(3)
    expect(page.locator(".time")).to_have_text("40 min left")
    slot = next(question["slot"] for question in questions(sat, 1) if question["kind"] == "one choice")
    one = panel(page, slot)
    one.get_by_role("radio").first.check()
    expect(page.locator(".steps button").nth(slot - 1)).to_contain_text("not confirmed")
    one.get_by_role("button", name="Confirm").click()
    expect(page.locator(".steps button").nth(slot - 1)).to_have_attribute("data-state", "confirmed")
    picture(page, "6-tablet-all")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.get_by_role("button", name="Look over and hand in").click()
    expect(page.locator(".review li")).to_have_count(2)
    expect(page.locator(".review")).to_contain_text("1 of 3 questions are confirmed")
    page.locator(".review li button").first.click()
    expect(page.locator(".review")).to_be_hidden()


def test_an_order_nobody_moved_is_confirmed_by_the_second_press_only(sat):
    page, slot = started(sat), slot_of(sat, "order")
    page.locator(".steps button").nth(slot - 1).click()
    one = panel(page, slot)
    confirm, said = one.get_by_role("button", name="Confirm", exact=True), one.locator(".rc-form .rc-said[role=status]")
    confirm.click()
    expect(said).to_have_text("You have moved nothing. If this is your order, press Confirm again.")
    expect(page.locator(".steps button").nth(slot - 1)).not_to_have_attribute("data-state", "confirmed")
    confirm.click()
    expect(one.locator(".rc-saved")).to_have_text("Confirmed and saved.")
    expect(page.locator(".steps button").nth(slot - 1)).to_have_attribute("data-state", "confirmed")
    assert "moved nothing" not in one.inner_text()


def test_an_order_that_was_moved_is_confirmed_by_one_press(sat):
    page, slot = started(sat), slot_of(sat, "order")
    page.locator(".steps button").nth(slot - 1).click()
    one = panel(page, slot)
    one.locator(".rc-order li").first.get_by_role("button", name=re.compile("down")).click()
    one.get_by_role("button", name="Confirm", exact=True).click()
    expect(one.locator(".rc-saved")).to_have_text("Confirmed and saved.")


def test_unreadable_is_said_and_cannot_be_confirmed_and_ambiguous_is_asked(sat):
    page, slot = started(sat), slot_of(sat, "number")
    page.locator(".steps button").nth(slot - 1).click()
    box, confirm = panel(page, slot).locator("input"), panel(page, slot).get_by_role("button", name="Confirm", exact=True)
    box.fill("plenty")
    expect(panel(page, slot).locator(".rc-reading")).to_contain_text("accepted")
    expect(confirm).to_be_disabled()
    box.fill("1,250 lbf")
    panel(page, slot).get_by_role("button", name="I mean 1250 lbf").click()
    expect(panel(page, slot).locator(".rc-reading")).to_contain_text("Read as 1250 lbf")
    confirm.click()
    expect(panel(page, slot).locator(".rc-saved")).to_have_text("Confirmed and saved.")
    box.fill("1251 lbf")
    expect(panel(page, slot).locator(".counts")).to_contain_text("Your confirmed answer 1250 lbf counts until")


def test_a_reload_and_another_device_go_on_with_everything(sat):
    page, slot = started(sat), slot_of(sat, "number")
    page.locator(".steps button").nth(slot - 1).click()
    panel(page, slot).locator("input").fill("356 lbf")
    expect(panel(page, slot).locator(".rc-saved")).to_have_text("Saved, not confirmed yet.")
    for again in (lambda: page.reload() and page, lambda: sat.open(size=TABLET)):
        shown = again()
        expect(panel(shown, slot).locator("input")).to_have_value("356 lbf")
        shown.locator(".steps button").nth(slot - 1).click()
        expect(panel(shown, slot).locator(".rc-reading")).to_contain_text("Read as 356 lbf")


def test_a_dead_room_is_said_and_what_was_typed_is_saved_when_it_is_back(chromium, held):
    slot = next(question["slot"] for question in a_class.paper_of(held)["questions"] if question["kind"] == "one choice")
    with Room(held) as room:
        sat, port = Sat(chromium, room), room.port
        page = started(sat)
        page.locator(".steps button").nth(slot - 1).click()
    panel(page, slot).get_by_role("radio").nth(2).check()
    panel(page, slot).get_by_role("button", name="Confirm").click()
    warned = panel(page, slot).locator(".rc-saved")
    expect(warned).to_contain_text("NOT saved yet")
    expect(page.locator(".steps button").nth(slot - 1)).to_contain_text("not confirmed")
    picture(page, "8-room-down")
    expect(panel(page, slot).get_by_role("button", name="Waits for the room")).to_be_disabled()
    assert "Confirmed" not in panel(page, slot).inner_text()
    assert warned.evaluate("one => Number(getComputedStyle(one).fontWeight)") >= 700
    for _ in range(2):  # it tries again meanwhile, and the warning stands
        with page.expect_event("requestfailed", lambda failed: failed.url.endswith("/save")):
            pass
    expect(warned).to_contain_text("NOT saved yet")
    with Room(held, port):
        expect(panel(page, slot).locator(".rc-saved")).to_have_text("Confirmed and saved.", timeout=10_000)
        expect(panel(page, slot).get_by_role("button", name="Confirmed", exact=True)).to_be_visible()
        assert warned.evaluate("one => Number(getComputedStyle(one).fontWeight)") < 700
    page.context.close()
    assert '"confirmed":true' in (held.room / "answers" / f"{held.issued[0].paper_id}.jsonl").read_text()


def test_a_browser_that_died_before_the_save_gives_back_what_it_kept(chromium, held):
    slot = next(question["slot"] for question in a_class.paper_of(held)["questions"] if question["kind"] == "number")
    with Room(held) as room:
        sat, port = Sat(chromium, room), room.port
        page = started(sat)
        page.locator(".steps button").nth(slot - 1).click()
    panel(page, slot).locator("input").fill("356 lbf")
    expect(panel(page, slot).locator(".rc-saved")).to_contain_text("NOT saved yet")
    context = page.context
    page.close(run_before_unload=False)
    with Room(held, port):
        page = sat.open(context=context)
        expect(panel(page, slot).locator(".rc-saved")).to_have_text("Saved, not confirmed yet.")
        expect(panel(page, slot).locator("input")).to_have_value("356 lbf")
    context.close()


def test_hand_in_saves_what_was_typed_last_and_hands_in_at_once(sat):
    page, slot = started(sat), slot_of(sat, "number")
    page.locator(".steps button").nth(slot - 1).click()
    panel(page, slot).locator("input").fill("356 lbf")
    page.get_by_role("button", name="Look over and hand in").click()
    page.get_by_role("button", name="Hand in for good").click()
    expect(page.locator("#receipt")).to_be_visible()
    kept = json.loads((sat.room.held.returned / f"{sat.room.held.issued[0].paper_id}.json").read_bytes())
    assert kept["answers"] == [] and [one["typed"] for one in kept["drafts"]] == ["356 lbf"]


def test_after_a_dead_room_the_reading_is_shown_again(chromium, held):
    slot = next(question["slot"] for question in a_class.paper_of(held)["questions"] if question["kind"] == "number")
    with Room(held) as room:
        sat, port = Sat(chromium, room), room.port
        page = started(sat)
        page.locator(".steps button").nth(slot - 1).click()
    panel(page, slot).locator("input").fill("356 lbf")
    expect(panel(page, slot).locator(".rc-saved")).to_contain_text("NOT saved yet")
    page.evaluate(GIVES_UP_SOON)
    page.get_by_role("button", name="Look over and hand in").click()
    page.get_by_role("button", name="Hand in for good").click()
    expect(page.locator(".review .said.no")).to_contain_text(f"Question {slot} is not saved yet, because the room does not answer", timeout=10_000)
    page.get_by_role("button", name="Back to the questions").click()
    with Room(held, port):
        expect(panel(page, slot).locator(".rc-reading")).to_contain_text("Read as 356 lbf", timeout=10_000)
        panel(page, slot).get_by_role("button", name="Confirm", exact=True).click()
        expect(panel(page, slot).locator(".rc-saved")).to_have_text("Confirmed and saved.")
        page.context.close()


def test_when_the_time_is_over_it_says_so_and_hands_in_what_counts(chromium, held):
    journal = Journal(private_folder(held.room / "answers") / f"{held.issued[0].paper_id}.jsonl")
    journal.append({"kind": "start", "at": stamp(datetime.now(timezone.utc) - timedelta(minutes=29, seconds=56))})
    journal.close()
    with Room(held) as room:
        page = Sat(chromium, room).open()
        expect(page.locator(".time")).to_contain_text("s left")
        expect(page.locator(".news")).to_contain_text("The time is over", timeout=15_000)
        page.get_by_role("button", name="Hand in for good").click()
        expect(page.locator("#receipt")).to_be_visible()
        page.context.close()
    assert json.loads((held.returned / f"{held.issued[0].paper_id}.json").read_bytes())["answers"] == []


def test_of_many_questions_the_first_stands_on_the_screen_and_the_list_folds_out(chromium, tmp_path):
    """43 questions in larger print on a tablet: the buttons are folded, the count stands; a button leads to its question."""
    from rigcalc.papers.blueprint import load_blueprint
    from rigcalc.questions import load_families

    families = load_families()
    with Room(a_class.set_class(tmp_path, roster=a_class.ROSTER[1:], blueprint=load_blueprint("full", families), families=families)) as room:
        sat = Sat(chromium, room)
        page = started(sat, size=TABLET)
        assert page.locator("html").get_attribute("class") == "larger"
        expect(page.locator(".list summary")).to_have_text("All 43 questions: 0 confirmed")
        expect(page.locator(".steps button").first).to_be_hidden()
        assert page.locator(".panel:visible .form").bounding_box()["y"] < 600
        picture(page, "many")
        page.locator(".list summary").click()
        page.locator(".steps button").nth(20).click()
        expect(page.locator(".panel:visible h2")).to_have_text("Question 21 of 43")
        assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
        bar = page.locator(".bar").bounding_box()
        assert bar["height"] < 1.6 * page.locator(".bar button").last.bounding_box()["height"]
        title = page.locator(".panel:visible").get_by_text("Question 21 of 43").last.bounding_box()
        assert title["y"] >= bar["y"] + bar["height"] - 1
        letters = "one => parseFloat(getComputedStyle(one).fontSize)"
        text = page.locator(".panel:visible .rc-text").evaluate(letters)
        assert text >= 22 and all(one.evaluate(letters) >= text for one in page.locator(".bar .time, .bar button").all())
        page.context.close()
        assert sat.wrong == []


def test_of_few_questions_the_list_stands_open_and_counts_what_is_confirmed(sat):
    page = started(sat)
    expect(page.locator(".steps button").first).to_be_visible()
    one = slot_of(sat, "one choice")
    page.locator(".steps button").nth(one - 1).click()
    page.locator(".panel:visible input[type=radio]").first.check()
    page.locator(".panel:visible").get_by_role("button", name="Confirm").click()
    expect(page.locator(".list summary")).to_have_text("All 3 questions: 1 confirmed")


def test_the_list_hears_what_is_confirmed_here_and_keeps_the_focus(sat):
    page, slot = started(sat), slot_of(sat, "one choice")
    page.locator(".steps button").nth(slot - 1).click()
    panel(page, slot).get_by_role("radio").nth(0).check()
    page.route("**/save", lambda route: (page.wait_for_timeout(600), route.continue_()))
    panel(page, slot).get_by_role("button", name="Confirm", exact=True).click()
    page.get_by_role("button", name="Look over and hand in").click()
    links = page.locator(".review li button")
    expect(links).to_have_count(3)
    other = next(question["slot"] for question in questions(sat) if question["slot"] != slot)
    page.get_by_role("button", name=f"Question {other}", exact=True).focus()
    expect(links).to_have_count(2)
    expect(page.get_by_role("button", name=f"Question {other}", exact=True)).to_be_focused()
    page.unroute("**/save")
    page.get_by_role("button", name="Hand in for good").click()  # changed by this hand alone: not asked about
    expect(page.locator("#receipt")).to_be_visible()


def test_a_box_that_was_emptied_is_not_said_to_be_saved_as_an_answer(sat):
    page, slot = started(sat), slot_of(sat, "number")
    page.locator(".steps button").nth(slot - 1).click()
    box, saved = panel(page, slot).locator("input"), panel(page, slot).locator(".rc-saved")
    box.fill("356 lbf")
    expect(saved).to_have_text("Saved, not confirmed yet.")
    with page.expect_response("**/save"):
        box.fill("  ")
        expect(saved).to_have_text("No answer stands here.")
    page.evaluate("() => new Promise((done) => setTimeout(done, 150))")  # the page has taken in what the room answered
    expect(saved).to_have_text("No answer stands here.")
    expect(page.locator(".steps button").nth(slot - 1)).to_contain_text("empty")
    box.fill("356 lbf")
    expect(saved).to_have_text("Saved, not confirmed yet.")
    box.fill("")
    expect(saved).to_have_text("No answer stands here.")
    page.reload()
    page.locator(".steps button").nth(slot - 1).click()
    expect(saved).to_have_text("No answer stands here.")


def test_what_cannot_be_read_is_named_so_before_handing_in(sat):
    page, slot = started(sat), slot_of(sat, "number")
    page.locator(".steps button").nth(slot - 1).click()
    panel(page, slot).locator("input").fill("none")
    expect(panel(page, slot).locator(".rc-reading")).to_contain_text("Cannot be read")
    page.get_by_role("button", name="Look over and hand in").click()
    expect(page.locator(".review li").filter(has_text=f"Question {slot}:")).to_have_text(f"Question {slot}: cannot be read, so it is not confirmed and does not count")


def test_boxes_left_empty_are_named_and_count_only_at_the_second_press(chromium, tmp_path):
    family = read_family(families_folder() / "limit-in-three-boxes.toml")
    plan = Blueprint(form=1, id="sheet", version=1, title="Sheet", minutes=30, book="closed", allowed="this page only.", calculator=True, partial_credit="none",
                     cut=Cut(60, "one named person", "Ines Varrow", "2026-03-02", "so"), question=[Place(family.skill, family.level, 100)])
    with Room(a_class.set_class(tmp_path, blueprint=plan, families={family.id: family})) as room:
        sat = Sat(chromium, room)
        page = started(sat)
        form, boxes = panel(page, 1), a_class.paper_of(room.held)["questions"][0]["boxes"]
        middle = f"{boxes[1]['box']}. {boxes[1]['label']}"
        form.get_by_label(middle).fill("300 lbf" if "lbf" in boxes[1]["accept"] else "3")
        expect(form.get_by_text("Read as")).to_be_visible()
        confirm, saved, asks = form.get_by_role("button", name="Confirm"), form.locator(".rc-saved"), f"Left empty: box {boxes[0]['box']}, {boxes[2]['box']}."
        confirm.click()
        expect(form.get_by_text(asks)).to_be_visible()
        page.wait_for_timeout(600)  # what the room says meanwhile takes neither the question nor its meaning away
        expect(form.get_by_text(asks)).to_be_visible()
        expect(saved).to_have_text("Saved, not confirmed yet.")
        confirm.click()
        expect(saved).to_have_text("Confirmed and saved.")
        page.context.close()
    assert sat.wrong == []
