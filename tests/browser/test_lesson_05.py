"""Lesson 05 in the clean view: the jaws, a refusal, a wrong answer with its misstep, the projector, the printed sheets."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from rigcalc.opening.shelf import find_sheet

LESSON = find_sheet("05")
SMALL = """() => Array.from(document.querySelectorAll("main *:not(svg, svg *, style, script)")).filter(one =>
  one.checkVisibility() && Array.from(one.childNodes).some(part => part.nodeType === 3 && part.data.trim())
  && parseFloat(getComputedStyle(one).fontSize) < 14.6).map(one => one.className + ": " + one.textContent.slice(0, 60))"""  # 11 pt


@pytest.fixture(scope="module")
def lesson(workbook, visit_all_along):
    """The lesson, alive: the same page for all, the printing last."""
    page = visit_all_along()
    page.goto(workbook.address)
    page.goto(workbook.base + LESSON.address)
    page.wait_for_selector("html[data-live=alive]", timeout=40_000)
    return page


def test_the_explorers_follow_the_hand_and_refuse_what_the_craft_refuses(lesson, picture):
    tail = lesson.locator(".rc-board", has_text="Set the tail, then press")
    said = tail.get_by_role("status")
    tail.get_by_role("radio", name="after pressing").check()
    expect(said).to_contain_text("1.8 mm inside the sleeve")
    assert "no tail shows" in tail.locator("svg").get_attribute("aria-label")
    tail.get_by_role("combobox", name="Cable").select_option("1/8 7x19 stainless")
    expect(said).to_contain_text("Refused: an aluminium sleeve on stainless cable")
    assert tail.locator("svg").count() == 0
    tail.get_by_role("combobox", name="Cable").select_option("1/8 7x19 galvanised")
    expect(tail.locator("svg")).to_be_visible()

    jaws = lesson.locator(".rc-board", has_text="Close the jaws")
    jaws.get_by_role("radio", name="a size too small").check()
    jaws.get_by_role("slider", name="Jaws closed").press("End")
    expect(jaws.get_by_role("status")).to_contain_text("The gauge cannot see this fault.")
    expect(jaws.get_by_role("slider", name="Jaws closed")).to_have_attribute("aria-valuetext", "100 %")
    jaws.get_by_role("button", name="Take a fresh sleeve").click()
    expect(jaws.get_by_role("slider", name="Jaws closed")).to_have_attribute("aria-valuetext", "0 %")
    jaws.get_by_role("radio", name="flat").check()
    jaws.get_by_role("slider", name="Jaws closed").press("End")
    expect(jaws.get_by_role("status")).to_contain_text("Pressed flat")
    assert "flash" in jaws.locator("svg").get_attribute("aria-label")

    pieces = lesson.locator(".rc-board", has_text="Six pieces on the bench")
    assert "✗" not in pieces.inner_text()
    pieces.get_by_role("button", name="piece C").click()
    expect(pieces.get_by_role("combobox", name="Piece")).to_have_value("2")
    turn = pieces.get_attribute("data-turn")
    pieces.get_by_role("combobox", name="What is wrong with it?").select_option("the tail is buried")
    expect(pieces).not_to_have_attribute("data-turn", turn)  # drawn anew: a press before it would be lost with the old control
    pieces.get_by_role("radio", name="yes").check()
    pieces.get_by_role("button", name="Now tell me").click()
    expect(pieces.get_by_role("status")).to_contain_text("Right: piece C, buried tail.")
    expect(pieces.get_by_role("status")).to_contain_text("Not so about the gauge. Does it see this? No.")
    picture(lesson, "lesson_05_moved")


def test_answers_projector_and_print(lesson, picture):
    question = lesson.locator(".live-part", has=lesson.get_by_text("Where did it go?"))
    question.get_by_text("The jaws cut it off").click()
    question.get_by_role("button", name="Confirm").click()
    expect(question).to_contain_text("they cut nothing off")
    assert "grew" not in question.locator(".rc-no").inner_text()
    question.get_by_text("Into the sleeve, which grew over it").click()
    question.get_by_role("button", name="Confirm").click()
    expect(question).to_contain_text("Worked through: Soft metal that is squeezed has to go somewhere")

    answer = lesson.locator(".answer").first
    expect(answer.locator("table")).to_be_visible()
    lesson.get_by_role("button", name="Larger, for the projector").click()
    expect(answer.locator("table")).to_be_hidden()
    picture(lesson, "lesson_05_projector")
    answer.get_by_role("button", name="The answer").press("Enter")
    expect(answer.locator("table")).to_be_visible()
    lesson.keyboard.press("Tab")
    expect(answer.locator("table")).to_be_visible()  # it stays, wherever the keys go
    answer.get_by_role("button", name="Hide this answer again").click()
    expect(answer.locator("table")).to_be_hidden()
    parts = lesson.get_by_role("combobox", name="Part of this page")
    lesson.get_by_role("button", name="Next part").click()
    where = parts.input_value()
    lesson.get_by_role("button", name="Next part").click()
    assert int(parts.input_value()) == int(where) + 1
    chosen = parts.locator("option:checked").inner_text()
    top = lesson.get_by_role("heading", level=2, name=chosen).evaluate("head => head.getBoundingClientRect().top")
    assert 0 < top < 200  # right below the strip
    expect(lesson.locator("details.trainer").first).to_be_hidden()
    lesson.get_by_role("button", name="Smaller again").click()

    lesson.set_viewport_size({"width": 680, "height": 1000})  # an A4 page between its margins, in px
    lesson.emulate_media(media="print")
    expect(lesson.get_by_text("Try it.").first).to_be_hidden()
    expect(lesson.locator(".rc-board figure").first).to_be_visible()
    expect(lesson.locator(".rc-board .rcb-controls").first).to_be_hidden()
    expect(lesson.locator(".rc-form").get_by_role("button", name="Confirm").first).to_be_hidden()
    line = lesson.locator(".rc-form input[type=text]").first
    assert line.evaluate("one => [getComputedStyle(one).borderTopWidth, getComputedStyle(one).backgroundColor]") == ["0px", "rgba(0, 0, 0, 0)"]
    for name in ("recap", "practice-sheet"):
        sheet = lesson.locator(f".cell:has(#{name}) + .cell .one-page")
        assert sheet.evaluate("one => getComputedStyle(one).page") == "bench", "not on a page of its own"
        assert sheet.bounding_box()["height"] <= 1030, "more than one page"
    assert lesson.evaluate(SMALL) == []
