"""A learner chooses a name, answers, and finds it kept: after a reload, and after the workbook was killed and opened again."""

from __future__ import annotations

import os
import signal

import pytest
from house import start
from playwright.sync_api import expect

from opening.conftest import write_notebook
from rigcalc.notebook.form import Exercise
from rigcalc.skills import load_skills

SKILL = load_skills()["reads-the-count"]
TWO = SKILL.families[:2]


@pytest.fixture
def open_workbook(tmp_path, request):
    """Opens the workbook over one home, as often as it is called; its lesson 05 asks two questions of one skill."""
    write_notebook(tmp_path / "working" / "lessons" / "05_forming_an_eye.ipynb", "# Forming an eye", code=[
        "from rigcalc.notebook.form import Exercise", *(f'Exercise("{family}")' for family in TWO)])
    started = []

    def opened():
        process = start(tmp_path, "open", "--no-browser", "--no-desk", "--port", str(request.config.first_port + 5))
        started.append(process)
        return process, process.wait_for(r"(http://127\.0\.0\.1:\d+)/\?token=[\w-]+")

    yield opened
    for process in started:
        process.stop()


def test_what_was_answered_is_kept_over_a_reload_and_a_killed_workbook(open_workbook, page, picture):
    process, address = open_workbook()
    base = address[1]
    page.goto(address[0])
    page.goto(f"{base}/lessons/05_forming_an_eye")
    page.get_by_role("link", name="choose a name").click()
    page.get_by_label("A name").fill("Tomo Kessig")
    page.get_by_role("button", name="Keep for this name").click()
    expect(page.locator("main")).to_contain_text("Kept for: Tomo Kessig")
    page.goto(f"{base}/lessons/05_forming_an_eye")
    expect(page.locator(".kept-for")).to_have_text("Kept for: Tomo Kessig · change")
    expect(page.locator("html")).to_have_attribute("data-live", "alive")
    for at, family in enumerate(TWO):
        form, letter = page.locator(".rc-form").nth(at), Exercise(family)._key["right"]["letter"]
        form.locator(f"input[value={letter}]").check()
        form.get_by_role("button", name="Confirm").click()
        expect(form.locator(".rc-said.rc-ok")).to_have_text("Right.")
    expect(page.locator(".rc-saved").last).to_have_text(f"Kept: {SKILL.sentence[0].lower()}{SKILL.sentence[1:-1]} is now sure.")
    picture(page, "lesson_kept_for")
    page.locator(".kept-for").get_by_role("link", name="change").click()
    expect(page.get_by_role("button", name="nobody: keep nothing")).to_be_visible()
    page.goto(f"{base}/learn")
    page.reload()
    stands(page, picture)
    os.killpg(process.popen.pid, signal.SIGKILL)
    process.popen.wait(20)
    _, address = open_workbook()
    assert address[1] == base
    page.goto(address[0])
    page.goto(f"{base}/learn")
    stands(page, picture)


def stands(page, picture) -> None:
    """The page Learn says in words that the skill is sure, under its lesson, which is folded at first."""
    expect(page.locator("main")).to_contain_text("Kept for: Tomo Kessig")
    row = page.locator("#skill-map li", has_text=SKILL.sentence)
    expect(row).to_be_hidden()
    page.locator("#skill-map summary", has_text="1 sure").click()
    expect(row.locator("strong")).to_have_text("sure; to be shown at the bench")
    picture(page, "learn_kept_for")
