"""A name chosen at the door: what the server lets a page know of it, and that what was answered outlives reload and kill."""

from __future__ import annotations

import os
import re
import signal
import urllib.error
import urllib.parse
import urllib.request
from http.cookiejar import CookieJar

import pytest
from house import start
from playwright.sync_api import expect

from opening.conftest import write_notebook
from rigcalc.learning.log import lines_of
from rigcalc.learning.names import NAME_HEADER, NAME_VARIABLE, welcome
from rigcalc.notebook.form import Exercise
from rigcalc.skills import load_skills

SKILL = load_skills()["reads-the-count"]
TWO = SKILL.families[:2]


@pytest.fixture(scope="module")
def open_workbook(home, request):
    """Opens the workbook over one home, as often as it is called.

    Its lesson 05 asks two questions of one skill, its practice paper prints what the kernel knows of the name; the process
    itself was started with somebody's name in its environment, which counts for nothing.
    """
    write_notebook(home / "working" / "lessons" / "05_forming_an_eye.ipynb", "# Forming an eye", code=[
        "from rigcalc.notebook.form import Exercise", *(f'Exercise("{family}")' for family in TWO)])
    write_notebook(home / "working" / "quizzes" / "practice_paper.ipynb", "# Practice",
                   code=["import os", f"print('known as', os.environ.get({NAME_VARIABLE!r}))"])
    started = []

    def opened():
        process = start(home, "open", "--no-browser", "--no-desk", "--port", str(request.config.first_port + 5),
                        **{NAME_VARIABLE: welcome("Dela", home).key})
        started.append(process)
        return process, process.wait_for(r"(http://127\.0\.0\.1:\d+)/\?token=[\w-]+")

    yield opened
    for process in started:
        process.stop()


@pytest.fixture(scope="module")
def opened(open_workbook):
    """The workbook opened the first time: its process, and its address."""
    return open_workbook()


class Visitor:
    """A browser without scripts: cookies kept, redirects followed."""

    def __init__(self, address: str) -> None:
        self.base, self.jar = address.partition("/?")[0], CookieJar()
        self._open = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.jar)).open
        self.get(address.removeprefix(self.base))

    def get(self, path: str, **headers: str) -> str:
        with self._open(urllib.request.Request(self.base + path, headers=headers), timeout=60) as answer:
            return answer.read().decode()

    def post(self, path: str, xsrf: str | None = None, **fields: str) -> tuple[int, str]:
        xsrf = re.search(r'name="_xsrf" value="([^"]+)"', self.get("/learn"))[1] if xsrf is None else xsrf
        try:
            with self._open(self.base + path, urllib.parse.urlencode({"_xsrf": xsrf, **fields}).encode(), timeout=60) as answer:
                return answer.status, answer.read().decode()
        except urllib.error.HTTPError as refused:
            return refused.code, refused.read().decode()

    def cookie(self):
        return next((one for one in self.jar if one.name.startswith("workbook-name-")), None)


def test_a_name_is_chosen_with_a_form_of_this_page_and_reaches_the_kernel_by_the_cookie_alone(opened, home):
    tomo = Visitor(opened[1][0])
    assert tomo.post("/learn", xsrf="", name="Tomo Kessig")[0] == 403 and tomo.cookie() is None
    assert tomo.post("/learn", name="  ")[0] == 400 and tomo.cookie() is None
    status, page = tomo.post("/learn", name="Tomo <Kessig>")
    learner = welcome("tomo <kessig>", home)
    assert status == 200 and "Kept for: <strong>Tomo &lt;Kessig&gt;</strong>" in page and 'id="skill-map"' in page
    cookie = tomo.cookie()
    assert cookie.value == learner.key and cookie.has_nonstandard_attr("HttpOnly") and cookie.get_nonstandard_attr("SameSite") == "Strict"
    assert tomo.post("/learn/bench", task="T7")[0] == 200 and tomo.post("/learn/bench", task="../T1")[0] == 200
    assert [line.bench for line in lines_of(learner.path)] == ["", "T7"]
    assert "No task is kept" in tomo.post("/learn/bench", task="none")[1] and [line.bench for line in lines_of(learner.path)] == ["", "T7", "none"]
    lesson = tomo.get("/quizzes/practice_paper")
    assert f"known as {learner.key}" in lesson and "Kept for: Tomo &lt;Kessig&gt; · <a" in lesson
    wall = tomo.get("/quizzes/practice_paper?projector=1")  # what a class says is nobody's own
    assert "known as None" in wall and "Projector: nothing is kept" in wall and "Kept for" not in wall
    nobody = Visitor(opened[1][0])
    lesson = nobody.get(f"/quizzes/practice_paper?{NAME_VARIABLE}={learner.key}", **{NAME_HEADER: learner.key})
    assert "known as None" in lesson and "Nothing is kept: <a" in lesson
    status, page = tomo.post("/learn", who="")
    assert "Nothing is kept now." in page and tomo.cookie() is None
    assert "Kept for: <strong>" in tomo.post("/learn", who=learner.key)[1]
    assert "Nothing is kept now." in tomo.post("/learn", who="../" + learner.key)[1]


def test_a_name_is_taken_away_only_with_the_tick_and_a_form_of_this_page(opened, home):
    visitor = Visitor(opened[1][0])
    visitor.post("/learn", name="Gwil Santer")
    key = visitor.cookie().value
    assert visitor.post("/learn", xsrf="", remove=key, sure="1")[0] == 403
    status, page = visitor.post("/learn", remove=key)
    assert status == 400 and "without the tick beside it" in page and welcome("Gwil Santer", home).path.exists()
    status, page = visitor.post("/learn", remove=key, sure="1")
    assert status == 200 and "Gwil Santer is gone from this machine" in page and visitor.cookie() is None
    assert "Gwil Santer" not in visitor.get("/learn") and visitor.post("/learn", remove="../" + key, sure="1")[0] == 400


def test_what_was_answered_is_kept_over_a_reload_and_a_killed_workbook(opened, open_workbook, page, picture):
    process, address = opened
    base = address[1]
    page.goto(address[0])
    page.goto(f"{base}/learn")
    page.get_by_label("Another name").fill("Tomo Kessig")
    page.get_by_role("button", name="Keep for this name").click()
    expect(page.locator("main summary").first).to_have_text("Kept for: Tomo Kessig · change")
    page.goto(f"{base}/lessons/05_forming_an_eye")
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
    expect(page.locator("main summary").first).to_have_text("Kept for: Tomo Kessig · change")
    row = page.locator("#skill-map li", has_text=SKILL.sentence)
    expect(row).to_be_hidden()
    page.locator("#skill-map summary", has_text="1 sure").click()
    expect(row.locator("xpath=../preceding-sibling::h3[1]")).to_have_text("Sure")
    picture(page, "learn_kept_for")
