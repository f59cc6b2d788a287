"""One paper open in two windows: both are told, nothing is lost, and the list before handing in says what is saved."""

from __future__ import annotations

import json
import time

from playwright.sync_api import expect

from room.a_sitting import panel, picture, slot_of, started


def test_two_windows_are_told_and_nothing_is_lost(sat):
    first, slot = started(sat), slot_of(sat, "one choice")
    second = sat.open()
    expect(second.locator(".said.no").first).to_contain_text("which was opened before this one")
    for page in (first, second):
        page.locator(".steps button").nth(slot - 1).click()
    first.context.set_offline(True)
    panel(first, slot).get_by_role("radio").nth(0).check()
    panel(second, slot).get_by_role("radio").nth(1).check()
    panel(second, slot).get_by_role("button", name="Confirm").click()
    expect(panel(second, slot).locator(".rc-saved")).to_have_text("Confirmed and saved.")
    first.context.set_offline(False)
    aside = panel(first, slot).locator(".aside")
    expect(aside).to_contain_text("Saved there: B (confirmed). Here: A.", timeout=10_000)
    picture(first, "7-two-windows")
    aside.get_by_role("button", name="Keep the saved one").click()
    expect(panel(first, slot).get_by_role("radio").nth(1)).to_be_checked()
    panel(first, slot).get_by_role("radio").nth(2).check()
    panel(first, slot).get_by_role("button", name="Confirm").click()
    expect(panel(second, slot).get_by_role("radio").nth(2)).to_be_checked(timeout=10_000)


def test_a_confirmation_that_came_second_is_said_and_hand_in_names_the_true_cause(sat):
    """It was set aside without a word, and hand-in said that an answer was on its way."""
    first, slot = started(sat), slot_of(sat, "one choice")
    second, on_the_way, through = sat.open(), [], []
    for page, choice in ((first, 0), (second, 1)):
        page.route("**/save", lambda route: route.continue_() if through else on_the_way.append(route))  # a slow room: neither hears of the other before both are confirmed
        page.locator(".steps button").nth(slot - 1).click()
        panel(page, slot).get_by_role("radio").nth(choice).check()
        expect(panel(page, slot).get_by_role("radio").nth(choice)).to_be_checked()
        panel(page, slot).get_by_role("button", name="Confirm", exact=True).click()
    through.append(True)
    for one in on_the_way:
        one.continue_()
    aside = ".panel:visible .aside .said.no"
    until = time.monotonic() + 10
    while not (first.locator(aside).count() or second.locator(aside).count()):
        assert time.monotonic() < until, "neither window was told"
        first.wait_for_timeout(20)
    loser, winner = (first, second) if first.locator(aside).count() else (second, first)
    expect(loser.locator(aside)).to_contain_text("is set aside and does not count")
    assert loser.locator(aside).evaluate("box => { const at = box.getBoundingClientRect(); return at.top >= 0 && at.bottom <= innerHeight; }")
    counted = json.loads(loser.evaluate("async (here) => (await (await fetch(here + '/state', {method: 'POST', headers: "
                                        "{'Content-Type': 'application/json'}, body: JSON.stringify({window: '0123456789abcdef'})})).text())",
                                        loser.url))["state"]["answers"][str(slot)]
    loser.get_by_role("button", name="Look over and hand in").click()
    expect(loser.locator(".review li").filter(has_text="answered in two windows")).to_have_count(1)
    loser.get_by_role("button", name="Hand in for good").click()
    said = loser.locator(".review .said.no")
    expect(said).to_have_text(f"Not handed in: Question {slot} was answered in two windows, and the two differ. Open it, choose one, then hand in.")
    assert said.evaluate("box => { const at = box.getBoundingClientRect(); return at.top >= 0 && at.bottom <= innerHeight; }")
    again = sat.open()
    again.locator(".steps button").nth(slot - 1).click()
    expect(panel(again, slot).locator(".rc-saved")).to_have_text("Confirmed and saved.")
    assert counted["confirmed"] and panel(again, slot).locator("input:checked").get_attribute("value") == counted["counts"]
    loser.get_by_role("button", name=f"Question {slot}", exact=True).click()
    loser.locator(".panel:visible .aside").get_by_role("button", name="Keep the saved one").click()
    loser.get_by_role("button", name="Look over and hand in").click()
    loser.get_by_role("button", name="Hand in for good").click()
    expect(loser.locator("#receipt")).to_be_visible()


def test_in_a_conflict_the_answer_that_counts_is_the_one_confirmed_elsewhere(sat):
    """It said 'Saved there: B (confirmed)' and below it 'Your confirmed answer D counts'."""
    first, slot = started(sat), slot_of(sat, "one choice")
    first.locator(".steps button").nth(slot - 1).click()
    panel(first, slot).get_by_role("radio").nth(3).check()
    panel(first, slot).get_by_role("button", name="Confirm").click()
    expect(panel(first, slot).locator(".rc-saved")).to_have_text("Confirmed and saved.")
    second = sat.open()
    second.locator(".steps button").nth(slot - 1).click()
    expect(panel(second, slot).get_by_role("radio").nth(3)).to_be_checked()
    first.context.set_offline(True)
    panel(first, slot).get_by_role("radio").nth(0).check()
    panel(first, slot).get_by_role("button", name="Confirm").click()
    panel(second, slot).get_by_role("radio").nth(1).check()
    panel(second, slot).get_by_role("button", name="Confirm").click()
    expect(panel(second, slot).locator(".rc-saved")).to_have_text("Confirmed and saved.")
    first.context.set_offline(False)
    expect(panel(first, slot).locator(".aside")).to_contain_text("Saved there: B (confirmed). Here: A.", timeout=10_000)
    expect(panel(first, slot).locator(".counts")).to_have_text("Your confirmed answer B counts until you confirm the new one.")
    expect(first.locator(".steps button").nth(slot - 1)).to_contain_text("changed")
    panel(first, slot).get_by_role("button", name="Confirm").click()
    expect(panel(first, slot).locator(".aside")).to_be_empty()
    expect(panel(second, slot).get_by_role("radio").nth(0)).to_be_checked(timeout=10_000)


def test_what_was_handed_in_elsewhere_closes_the_other_window(sat):
    first = started(sat)
    second = sat.open()
    second.get_by_role("button", name="Look over and hand in").click()
    second.get_by_role("button", name="Hand in for good").click()
    expect(second.locator("#receipt")).to_be_visible()
    expect(first.locator("#receipt")).to_be_visible(timeout=10_000)


def test_the_list_before_handing_in_follows_the_other_window_and_asks_again(sat):
    """It went on saying that A counts when B had been confirmed in the other window, and was handed in so."""
    first, slot = started(sat), slot_of(sat, "one choice")
    first.locator(".steps button").nth(slot - 1).click()
    radio, confirm = panel(first, slot).get_by_role("radio"), panel(first, slot).get_by_role("button", name="Confirm", exact=True)
    radio.nth(0).check()
    confirm.click()
    expect(panel(first, slot).locator(".rc-saved")).to_have_text("Confirmed and saved.")
    radio.nth(1).check()
    expect(panel(first, slot).locator(".rc-saved")).to_have_text("Saved, not confirmed yet.")
    second = sat.open()
    second.get_by_role("button", name="Look over and hand in").click()
    row = second.locator(".review li").filter(has_text=f"Question {slot}:")
    expect(row).to_have_text(f"Question {slot}: changed since you confirmed; A counts")
    expect(second.locator(".review")).to_contain_text("0 of 3 questions are confirmed")
    confirm.click()
    expect(row).to_have_count(0, timeout=10_000)
    expect(second.locator(".review")).to_contain_text("1 of 3 questions are confirmed")
    told = second.locator(".review .said.no")
    expect(told).to_have_text(f"Question {slot} was changed in another window since this list was shown: it is shown anew.")
    picture(second, "9-list-renewed")
    second.get_by_role("button", name="Hand in for good").click()
    expect(told).to_have_text(f"Not handed in: Question {slot} was changed in another window since this list was shown. "
                              "It is shown anew: look it over, then press Hand in for good again.")
    expect(second.get_by_role("button", name="Hand in for good")).to_be_enabled()
    second.get_by_role("button", name="Hand in for good").click()
    expect(second.locator("#receipt")).to_be_visible()
    kept = json.loads((sat.room.held.returned / f"{sat.room.held.issued[0].paper_id}.json").read_bytes())
    assert [(one["slot"], one["typed"]) for one in kept["answers"]] == [(slot, "B")]


def test_what_changed_a_moment_before_handing_in_is_asked_about(sat):
    first, slot = started(sat), slot_of(sat, "one choice")
    first.locator(".steps button").nth(slot - 1).click()
    panel(first, slot).get_by_role("radio").nth(2).check()
    expect(panel(first, slot).locator(".rc-saved")).to_have_text("Saved, not confirmed yet.")
    second = sat.open()
    second.get_by_role("button", name="Look over and hand in").click()
    second.wait_for_timeout(300)
    panel(first, slot).get_by_role("button", name="Confirm", exact=True).click()
    expect(panel(first, slot).locator(".rc-saved")).to_have_text("Confirmed and saved.")
    last = second.get_by_role("button", name="Hand in for good")
    last.focus()
    second.keyboard.press("Enter")
    expect(second.locator(".review .said.no")).to_contain_text(f"Not handed in: Question {slot} was changed in another window")
    expect(last).to_be_focused()
    expect(second.locator(".review")).to_contain_text("1 of 3 questions are confirmed")
    second.keyboard.press("Enter")
    expect(second.locator("#receipt")).to_be_focused()


def test_the_answer_taken_from_here_says_that_it_is_not_confirmed_and_is_confirmed_there(sat):
    first, slot = started(sat), slot_of(sat, "one choice")
    second = sat.open()
    for page in (first, second):
        page.locator(".steps button").nth(slot - 1).click()
    first.context.set_offline(True)
    panel(first, slot).get_by_role("radio").nth(0).check()
    panel(first, slot).get_by_role("button", name="Confirm", exact=True).click()
    panel(second, slot).get_by_role("radio").nth(1).check()
    panel(second, slot).get_by_role("button", name="Confirm", exact=True).click()
    expect(panel(second, slot).locator(".rc-saved")).to_have_text("Confirmed and saved.")
    first.context.set_offline(False)
    aside = panel(first, slot).locator(".aside")
    aside.get_by_role("button", name="Take the one from here").click(timeout=10_000)
    expect(aside).to_contain_text("Taken, but not confirmed yet: B counts until you confirm the one from here.")
    expect(panel(first, slot).locator(".rc-saved")).to_have_text("Saved, not confirmed yet.")
    expect(aside).to_contain_text("not confirmed yet")  # it stays when the answer is saved
    expect(panel(first, slot).get_by_role("radio").nth(0)).to_be_checked()
    picture(first, "10-taken")
    first.keyboard.press("Tab")
    expect(aside.get_by_role("button", name="Confirm the one from here")).to_be_focused()
    first.keyboard.press("Enter")
    expect(aside).to_be_empty()
    expect(panel(first, slot).locator(".rc-saved")).to_have_text("Confirmed and saved.")
    expect(panel(second, slot).get_by_role("radio").nth(0)).to_be_checked(timeout=10_000)
