"""Lesson 05 in the clean view: the jaws, a refusal, a wrong answer with its misstep, the projector, the printed sheets."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from rigcalc.opening.shelf import find_sheet

LESSON = find_sheet("05")


@pytest.fixture
def lesson(workbook, page):
    """The lesson, alive."""
    page.goto(workbook.address)
    page.goto(workbook.base + LESSON.address)
    page.wait_for_selector("html[data-live=alive]", timeout=40_000)
    return page


def slide(page, control: str, presses: int) -> None:
    handle = page.locator(f".control-{control} .noUi-handle").first
    handle.focus()
    for _ in range(abs(presses)):
        handle.press("ArrowRight" if presses > 0 else "ArrowLeft")


def said_by(page, explorer, words: str) -> None:
    expect(explorer.locator(".said")).to_contain_text(words)


def test_the_explorers_follow_the_hand_and_refuse_what_the_craft_refuses(lesson, picture):
    tail = lesson.locator(".explorer", has=lesson.locator(".control-tail"))
    slide(lesson, "pressed", 1)
    said_by(lesson, tail, "1.8 mm inside the sleeve")
    assert "no tail shows" in tail.locator("svg").get_attribute("aria-label")
    slide(lesson, "reel", 1)
    said_by(lesson, tail, "Refused: an aluminium sleeve on stainless cable")
    assert tail.locator("svg").count() == 0
    slide(lesson, "reel", -1)
    expect(tail.locator("svg")).to_be_visible()

    jaws = lesson.locator(".explorer", has=lesson.locator(".control-stage"))
    slide(lesson, "content", 2)
    slide(lesson, "stage", 10)
    said_by(lesson, jaws, "The gauge cannot see this fault.")
    slide(lesson, "upright", 1)
    said_by(lesson, jaws, "Pressed flat")
    assert "flash" in jaws.locator("svg").get_attribute("aria-label")
    picture(lesson, "lesson_05_moved")

    handles = lesson.locator(".explorer .noUi-handle")
    named = handles.evaluate_all("found => found.map(one => [one.ariaLabel, one.getAttribute('aria-valuetext')])")
    assert [name for name, _ in named] == ["Cable", "Tail", "Jaws", "Jaws closed, %", "In the sleeve", "The sleeve lies"]
    assert [value for _, value in named] == ["1/8 7x19 galvanised", "1 d", "after pressing", "100", "a size too small", "flat"]


def test_answers_projector_and_print(lesson, picture):
    question = lesson.locator(".live-part", has=lesson.get_by_text("Where did it go?"))
    question.get_by_text("The jaws cut it off").click()
    question.get_by_role("button", name="Confirm").click()
    expect(question).to_contain_text("they cut nothing off")

    answer = lesson.locator(".answer").first
    expect(answer.locator("table")).to_be_visible()
    lesson.get_by_role("button", name="Larger, for the projector").click()
    expect(answer.locator("table")).to_be_hidden()
    picture(lesson, "lesson_05_projector")
    answer.click()
    expect(answer.locator("table")).to_be_visible()
    lesson.get_by_role("button", name="Smaller again").click()

    lesson.set_viewport_size({"width": 680, "height": 1000})  # an A4 page between its margins, in px
    lesson.emulate_media(media="print")
    for name in ("recap", "practice-sheet"):
        cell = lesson.locator(f".cell:has(#{name})")
        assert cell.evaluate("one => getComputedStyle(one).breakBefore") == "page"
        sheet = lesson.locator(f".cell:has(#{name}) + .cell .one-page")
        assert cell.bounding_box()["height"] + sheet.bounding_box()["height"] <= 990, "more than one page"
