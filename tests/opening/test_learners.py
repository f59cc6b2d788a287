"""The door on Learn, the skill map in words, what has come back, and who is stuck."""

from __future__ import annotations

import re
from datetime import datetime, timedelta, timezone
from html import escape, unescape
from types import SimpleNamespace

from rigcalc.learning.log import TAKEN_BACK, answer_line, append, bench_line
from rigcalc.learning.names import names_folder, welcome
from rigcalc.opening import learners, pages
from rigcalc.skills import load_skills, where_words

SERVER = SimpleNamespace(desk_address="")
SKILLS = load_skills()
NOW = datetime.now(timezone.utc)
COUNT, SIZE, LIMIT = (SKILLS[name] for name in ("reads-the-count", "names-the-size", "works-the-limit"))
# What a program of flash cards would show.
STRANGE = re.compile(r"(?i)\b(cards?|decks?|reviews?|reviewed|due|intervals?|ease|easy|hard|good|streaks?|retention|percent|score)\b|%|<progress|<meter")


def kept(name: str, *lines):
    learner = welcome(name)
    for line in lines:
        append(learner.path, line)
    return learner


def sure(one, days: float):
    """Two right answers to a skill so many days ago."""
    return [answer_line(family, one.id, True, 1, values=family, now=NOW - timedelta(days=days)) for family in one.families[:2]]


def wrong(one, *slips, said="Not right. That is the row above."):
    return answer_line(one.families[0], one.id, False, 1, missteps=slips, said=said, now=NOW)


def test_the_door_offers_the_names_known_here_and_says_where_and_for_what(home):
    kept("Tomo Kessig")
    html = learners.door(None, "x<y")
    assert 'name="_xsrf" value="x&lt;y"' in html and ">Tomo Kessig</button>" in html and "nobody: keep nothing" in html
    for words in ("for practice", str(names_folder()), "anyone who uses this machine can see it", "counts for no certificate"):
        assert words in html
    assert "Nothing is kept now." in html and "Kept for: <strong>Tomo Kessig</strong>" in learners.door(welcome("Tomo Kessig"), "x")


def test_names_and_what_is_kept_of_them_are_shown_escaped(home):
    hostile = "<script>alert(1)</script>"
    learner = kept(hostile, *[wrong(COUNT, "a", said=hostile)] * 2)
    shown = [pages.learn_page(SERVER, learner, "x"), learners.door(None, "x", refused=hostile, typed=hostile), pages.teach_page(SERVER)]
    assert all("<script>alert" not in html and escape(hostile) in html for html in shown)


def test_the_map_has_every_skill_under_its_lesson_in_the_group_of_its_standing(home):
    learner = kept("Tomo", *sure(COUNT, 0), wrong(LIMIT), *sure(SIZE, 90))
    shown = unescape(learners.shown_for(learner, "x").skill_map)
    parts = dict(re.findall(r"<details><summary>Lesson (\d\d)(.*?)</details>", shown))
    assert set(parts) == {one.lesson for one in SKILLS.values()} and sum(part.count("<li>") for part in parts.values()) == len(SKILLS)

    def group(one, words):
        return next(row for row in parts[one.lesson].split("<h3>") if row.startswith(words)).count(f"<li>{one.sentence} <a ")

    assert group(COUNT, "Sure</h3>") == group(LIMIT, "Not yet</h3>") == group(SIZE, "Look again</h3>") == 1
    by_hand = next(one for one in SKILLS.values() if not one.written)
    assert group(by_hand, "Only at the bench</h3>") == 1 and parts[COUNT.lesson].count("Also to be shown at the bench.") > 0
    assert '<a href="/lessons/05_forming_an_eye#the-tail">lesson 05, The tail</a>' in shown
    assert re.match(r", Crimps: 1 sure, \d not met, \d only at the bench</summary>", parts["06"])
    assert "Was sure; days have passed: look again since 20" in shown


def test_what_to_do_next_stands_over_the_map_with_a_link(home):
    first = min((one for one in SKILLS.values() if one.written), key=lambda one: (one.lesson, one.number))
    learner = kept("Tomo")
    head = unescape(learners.shown_for(learner, "x").skill_map).partition("<details>")[0]
    assert learners.UNDER_ITS_OWN in head
    assert f"Next: read this, and answer: <strong>{first.sentence}</strong> <a href=" in head and f"practice_paper?skill={first.id}#" in head
    for line in (*sure(COUNT, 1), wrong(COUNT)):
        append(learner.path, line)
    shown = learners.shown_for(learner, "x")
    assert f"Next: look again before you press: <strong>{COUNT.sentence}</strong> " in unescape(shown.skill_map)
    why = f"was sure on {(NOW - timedelta(days=1)).astimezone().date()}; a wrong answer since, on {NOW.astimezone().date()}, to “{COUNT.families[0].replace('-', ' ')}”: That is the row above."
    assert f"It {why}" in unescape(shown.again) and why[1:] in unescape(shown.skill_map)


def test_a_kept_task_is_said_in_place_and_can_be_taken_back(home):
    learner = kept("Tomo <K>", bench_line("T7"))
    shown = learners.shown_for(learner, "x").bench
    assert "Kept for Tomo &lt;K&gt;: Six finished pieces: pass or reject." in shown and f'name="task" value="{TAKEN_BACK}">Take it back' in shown
    append(learner.path, bench_line(TAKEN_BACK))
    shown = learners.shown_for(learner, "x").bench
    assert "No task is kept" in shown and "Take it back" not in shown and "selected" not in shown


def test_what_has_come_back_stands_at_the_top_the_next_bench_tasks_skills_first(home):
    old = [one for one in SKILLS.values() if one.written and one.lesson in ("09", "10")][:4]
    learner = kept("Tomo", *[line for one in old for line in sure(one, 95)], *sure(COUNT, 90))
    again = learners.shown_for(learner, "x").again
    rows = re.findall(r"<li>(.*?)</li>", again)
    assert len(rows) == 3 and all(row.startswith("Look again before you press: ") for row in rows)
    assert escape(COUNT.sentence) in rows[0] and "The next bench task looks at it." in rows[0] and "bench task" not in rows[1]
    assert f'href="/quizzes/practice_paper?skill={COUNT.id}#More-to-practise">practise it</a>' in rows[0]
    lesson, _, slug = COUNT.sections[0].partition("#")
    assert re.search(f"/lessons/{lesson}_[a-z_]+#{slug}", rows[0])
    append(learner.path, bench_line("T7"))
    shown = learners.shown_for(learner, "x")
    assert escape(COUNT.sentence) not in shown.again and '<option value="T7" selected>' in shown.bench
    assert learners.shown_for(kept("Dela"), "x").again == ""
    page = pages.learn_page(SERVER, learner, "x")
    assert page.index("Look again before you press") < page.index("Who is learning here?") < page.index("<h2>Lessons</h2>") < page.index(
        'id="skill-map"')


def test_nothing_reminds_of_flash_cards(home):
    learner = kept("Tomo", *sure(COUNT, 90), *sure(SIZE, 0), wrong(LIMIT, "a"), wrong(LIMIT, "a"))
    shown = "".join([learners.door(learner, "x"), *learners.shown_for(learner, "x"), learners.stuck_section()])
    for one in SKILLS.values():  # the trade's own sentences, such as that on inspections
        shown = shown.replace(escape(one.sentence), "")
        for section in one.sections:
            shown = shown.replace(escape(where_words(section)), "").replace(section.partition("#")[2], "")
    assert "look again" in shown and STRANGE.findall(shown) == []


def test_without_a_name_there_is_no_map(home):
    html = pages.learn_page(SERVER)
    assert "Who is learning here?" in html and 'id="skill-map"' not in html and "Next at the bench" not in html


def test_a_log_that_cannot_be_read_is_one_sentence(home):
    learner = kept("Tomo")
    learner.path.unlink()
    assert "cannot be read now" in pages.learn_page(SERVER, learner, "x")


def test_teach_says_who_is_stuck_on_what(home):
    assert "Nobody is stuck." in pages.teach_page(SERVER)
    kept("Tomo Kessig", *[wrong(COUNT, "a")] * 2, *[wrong(LIMIT, said="Not right. Too much.")] * 3)
    kept("Dela Marrow", wrong(COUNT))
    shown = unescape(pages.teach_page(SERVER))
    place = COUNT.sections[0]
    assert re.search(rf'<tr><td>Tomo Kessig</td><td>{re.escape(COUNT.sentence)}</td><td><a href="/lessons/{place[:2]}_[^"]+#{place[3:]}">{re.escape(where_words(place))}</a></td>'
                     r"<td>The same misstep twice: That is the row above\.</td></tr>", shown)
    assert re.search(rf"<td>{re.escape(LIMIT.sentence)}</td><td><a href=[^>]+>lesson {LIMIT.lesson}, [^<]+</a></td><td>Three wrong tries in a row\. The last: Too much\.</td>", shown)
    section = shown[shown.index('id="stuck"'):]
    assert "1 person is stuck." in section and section.index("<details><summary>Show the names") < section.index("Tomo Kessig") < section.index("</details>")
    assert "Dela Marrow" not in shown and "Nobody is stuck." not in shown
