"""What stands on the pages Learn and Teach of the names kept on this machine: the door, the skill map, who is stuck."""

from __future__ import annotations

from datetime import datetime, timezone
from html import escape
from typing import NamedTuple

from rigcalc.bench.tasks import Task, load_tasks
from rigcalc.errors import Refusal
from rigcalc.learning.log import TAKEN_BACK, lines_of
from rigcalc.learning.names import LONGEST_NAME, Learner, known_learners, names_folder
from rigcalc.learning.next_task import first_again, kept_task, looked_at, next_skill, next_task
from rigcalc.learning.standing import LOOK_AGAIN, NOT_SURE, NOT_TRIED, SURE, Standing, standings, why_again
from rigcalc.learning.stuck import stuck_on
from rigcalc.opening.shelf import Sheet, lessons, sheets
from rigcalc.pages import said
from rigcalc.skills import Skill, load_skills, where_words

__all__ = ["Shown", "door", "shown_for", "stuck_section"]

ALSO_BY_HAND = "Also to be shown at the bench."
# Where a skill may stand, in the order of the map, and what that means; the last are not asked in writing.
ONLY_BY_HAND = "only at the bench"
GROUPS = {SURE: "right at once, twice in a row, without help, on fresh values and on different questions",
          LOOK_AGAIN: "it was sure, and then days passed, or an answer was wrong or had help",
          NOT_SURE: "answered, but not sure so far", NOT_TRIED: "not asked so far", ONLY_BY_HAND: "shown by hand, to somebody who looks on"}
UNDER_ITS_OWN = "Each skill stands under the lesson that teaches it. A page may ask you for a skill of another lesson, which you have not opened yet: it is counted there."
TO_DO = {LOOK_AGAIN: "Look again before you press", NOT_SURE: "Make sure of this one", NOT_TRIED: "Read this, and answer"}
NO_LOG = "What was kept for {name} cannot be read now: {why}. Lessons and practice go on."


class Shown(NamedTuple):
    """The three parts that a name adds to the page Learn: what has come back, the next bench task, and the skill map."""

    again: str = ""
    bench: str = ""
    skill_map: str = ""


def door(learner: Learner | None, xsrf: str, refused: str = "", typed: str = "", removed: str = "") -> str:
    """'Who is learning here?': the names known on this machine, a field for another one, and nobody."""
    hidden = f'<input type="hidden" name="_xsrf" value="{escape(xsrf)}">'
    names = "".join(f'<button class="second" name="who" value="{escape(one.key)}">{escape(one.name)}</button> '
                    for one in known_learners() if learner is None or one.key != learner.key)
    what = (f"It is for practice: what is right and wrong is kept on this machine, in <code>{escape(str(names_folder()))}</code>, "
            "where anyone who uses this machine can see it, and it counts for no certificate.")
    forms = (f'{said(refused, "no") if refused else ""}{said(removed, "ok") if removed else ""}'
             f'<form method="post" action="/learn" class="names">{hidden}{names}'
             '<button class="second" name="who" value="">nobody: keep nothing</button></form>'
             f'<form method="post" action="/learn" class="names">{hidden}<label for="name">{"Another name" if names or learner else "A name"}</label> '
             f'<input type="text" id="name" name="name" value="{escape(typed)}" autocomplete="off" required> '
             f'<button>Keep for this name</button></form><p class="quiet">A name has 1 to {LONGEST_NAME} characters. {what}</p>{_to_remove(hidden)}')
    if learner is None:
        return f'<h2>Who is learning here?</h2><div id="who"><p>Nothing is kept now.</p>{forms}</div>'
    return (f'<h2>Who is learning here?</h2><details{" open" if refused or removed else ""}><summary>Kept for: <strong>{escape(learner.name)}</strong>'
            f' · change</summary><div id="who">{forms}</div></details>')


def _to_remove(hidden: str) -> str:
    names = "".join(f'<option value="{escape(one.key)}">{escape(one.name)}</option>' for one in known_learners())
    return ('<details><summary>Take a name away</summary>'
            f'<form method="post" action="/learn" class="names">{hidden}<label for="remove">Name</label> <select id="remove" name="remove">{names}</select> '
            '<label><input type="checkbox" name="sure" value="1"> All that is kept for this name is lost then</label> '
            '<button class="second">Take it away</button></form></details>') if names else ""


def shown_for(learner: Learner, xsrf: str, now: datetime | None = None) -> Shown:
    """What is kept for a name, in words; one sentence where it cannot be read."""
    now = now or datetime.now(timezone.utc)
    try:
        lines, tasks = lines_of(learner.path), load_tasks()
    except OSError as trouble:
        return Shown(said(NO_LOG.format(name=learner.name, why=trouble.strerror), "no"))
    except Refusal as refusal:
        return Shown(said(str(refusal), "no"))
    skills, task = load_skills(), next_task(lines, tasks)
    stand = standings(lines, skills, now)
    bench = _bench(learner, tasks, kept_task(lines, tasks), xsrf) + _looks_at(task, skills) + "</section>"
    return Shown(_again(stand, skills, task), bench, _map(learner, stand, skills, task))


def _again(stand: dict[str, Standing], skills: dict[str, Skill], task: Task) -> str:
    rows, looked = "", looked_at(task, skills)
    for one in first_again(stand, skills, task):
        why = " The next bench task looks at it." if one.id in looked else ""
        rows += f"<li>{TO_DO[LOOK_AGAIN]}: <strong>{escape(one.sentence)}</strong> It {escape(why_again(stand[one.id]))}.{why} {_ways(one)}</li>"
    return f'<ul class="again">{rows}</ul>' if rows else ""


def _ways(one: Skill) -> str:
    """Links to where a skill is taught and asked."""
    ways = [_taught(one)]
    ways += [f'<a href="{escape(_PRACTISE.format(one.id))}">practise it</a>'] if one.written and _practice_page() else []
    return ", or ".join(ways)


def _bench(learner: Learner, tasks: dict[str, Task], kept: Task | None, xsrf: str) -> str:
    choices = "".join(f'<option value="{escape(name)}"{" selected" if kept and name == kept.id else ""}>{escape(one.title)}</option>'
                      for name, one in tasks.items())
    hidden = f'<input type="hidden" name="_xsrf" value="{escape(xsrf)}">'
    form = (f'<form method="post" action="/learn/bench" class="names">{hidden}<label for="task">Task</label> '
            f'<select id="task" name="task">{choices}</select> <button class="second">Keep this task</button></form>')
    told = "<p>No task is kept: the first one stands in the list.</p>"
    if kept:
        told = said(f"Kept for {learner.name}: {kept.title}. It stands here whenever this page is opened, until you keep another one or take it back. "
                    "Of what wants looking at again, its skills come first.", "ok")
        told += (f'<form method="post" action="/learn/bench" class="names">{hidden}'
                 f'<button class="second" name="task" value="{TAKEN_BACK}">Take it back: keep no task</button></form>')
    return f'<section id="bench"><h2>Next at the bench</h2>{form}{told}'


def _looks_at(task: Task, skills: dict[str, Skill]) -> str:
    """What a bench task looks at, folded, each with where it is taught."""
    own = sorted((skills[name] for name in looked_at(task, skills)), key=lambda one: (one.lesson, one.number))
    rows = "".join(f"<li>{escape(one.sentence)} {_taught(one)}</li>" for one in own)
    return f"<details><summary>What it looks at: {len(own)} skills, and where each is taught</summary><ul>{rows}</ul></details>"


_PRACTISE = "/quizzes/practice_paper?skill={}#More-to-practise"


def _practice_page() -> bool:
    return any(sheet.name == "practice_paper" for sheet in sheets("quizzes"))


def _place(one: Skill) -> tuple[str, str] | None:
    """The words and the address of the first of a skill's sections whose lesson is there."""
    there = {sheet.number: sheet for sheet in lessons()}
    for section in one.sections:
        number, _, slug = section.partition("#")
        if number in there:
            return where_words(section), f"{there[number].address}#{slug}"
    return None


def _map(learner: Learner, stand: dict[str, Standing], skills: dict[str, Skill], task: Task) -> str:
    there = {sheet.number: sheet for sheet in lessons()}
    parts = ""
    for number in sorted({one.lesson for one in skills.values()}):
        own: dict[str, list[Skill]] = {words: [] for words in GROUPS}
        for one in skills.values():
            if one.lesson == number:
                own[stand[one.id].words if one.written else ONLY_BY_HAND].append(one)
        own = {words: row for words, row in own.items() if row}
        counted = ", ".join(f"{len(row)} {words}" for words, row in own.items())
        groups = "".join(f"<h3>{words.capitalize()}</h3><ul>{''.join(_item(one, stand.get(one.id)) for one in row)}</ul>" for words, row in own.items())
        parts += f"<details><summary>{_lesson(number, there.get(number))}: {counted}</summary>{groups}</details>"
    meant = "".join(f"<li><strong>{words.capitalize()}</strong>: {meaning}.</li>" for words, meaning in GROUPS.items())
    return (f'<section id="skill-map"><h2>What is sure, and what is not yet</h2><p>For {escape(learner.name)}. {_next(stand, skills, task)}</p>'
            f'<p class="quiet">{UNDER_ITS_OWN}</p>'
            f"<details><summary>What the words mean</summary><ul>{meant}</ul></details>{parts}</section>")


def _next(stand: dict[str, Standing], skills: dict[str, Skill], task: Task) -> str:
    one = next_skill(stand, skills, task)
    if one is None:
        return f'Next: all that is asked in writing is sure. Go on <a href="#bench">at the bench: {escape(task.title)}</a>.'
    return f"Next: {TO_DO[stand[one.id].words][:1].lower()}{TO_DO[stand[one.id].words][1:]}: <strong>{escape(one.sentence)}</strong> {_ways(one)}"


def _lesson(number: str, sheet: Sheet | None) -> str:
    return escape(f"Lesson {number}, {sheet.title}" if sheet else f"Lesson {number}")


def _item(one: Skill, found: Standing | None) -> str:
    why = why_again(found) if found else ""
    note = f'<strong class="note">{escape(why[:1].upper() + why[1:])}.</strong>' if why else ""
    by_hand = f'<span class="note">{ALSO_BY_HAND}</span>' if found and one.by_hand else ""
    return f"<li>{escape(one.sentence)} {_taught(one)}{note}{by_hand}</li>"


def _taught(one: Skill) -> str:
    """The lesson and section that teach a skill, as a link; its lesson's number where that is not there."""
    place = _place(one)
    return f'<a href="{escape(place[1])}">{escape(place[0])}</a>' if place else escape(f"lesson {one.lesson}")


def stuck_section() -> str:
    """Who is stuck, for the trainer: name, skill, where it is taught, and what went wrong; folded each time, as the page may be shown to a class."""
    skills, rows, unread, stuck = load_skills(), "", "", 0
    for learner in known_learners():
        try:
            lines = lines_of(learner.path)
        except OSError as trouble:
            unread += said(NO_LOG.format(name=learner.name, why=trouble.strerror), "no")
            continue
        found = stuck_on(lines, skills)
        stuck += bool(found)
        rows += "".join(f"<tr><td>{escape(learner.name)}</td><td>{escape(skills[one.skill].sentence)}</td><td>{_taught(skills[one.skill])}</td><td>{escape(one.what)}</td></tr>"
                        for one in found)
    heads = "".join(f'<th scope="col">{head}</th>' for head in ("Name", "Skill", "Lesson", "What went wrong"))
    many = (f"{stuck} {'person is' if stuck == 1 else 'people are'} stuck." if stuck else "Nobody is stuck.") + (" Of some names nothing can be read now." if unread else "")
    table = f'<div class="wide"><table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div>' if rows else ""
    names = (f"<details><summary>Show the names, where nobody else sees this screen</summary>{unread}{table}</details>"
             '<p class="quiet">Folded again whenever this page is opened.</p>') if rows or unread else ""
    shown = f"<p>{many}</p>{names}"
    return (f'<section id="stuck"><h2>Who is stuck</h2><p>Of the names kept on this machine: three wrong tries in a row, or the same misstep '
            f"twice, and not right at once since.</p>{shown}</section>")
