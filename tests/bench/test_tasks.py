"""The task files as shipped, and what is said of a line that is wrong."""

from __future__ import annotations

import pytest

from rigcalc.bench.tasks import load_tasks, read_task
from rigcalc.errors import Refusal
from rigcalc.home import installed_folder

FOLDER = installed_folder() / "quizzes" / "bench"


def shipped(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8")


def test_shipped_tasks_and_their_critical_points():
    tasks = load_tasks()
    assert sorted(tasks) == ["T1", "T7"]
    critical = {p.id for p in tasks["T1"].checkpoints if p.critical}
    # size, metal, tail before, upright, full closure, count, gauge, tail after, PPE: each fails alone
    assert critical >= {"right-size", "right-metal", "tail-before", "sleeve-upright", "full-strokes", "count-right", "crimps-gauged",
                        "tail-after", "ppe-throughout"}
    # the skills that are critical and shown by hand, as far as this piece can show them
    by_hand = {s for p in tasks["T1"].checkpoints if p.critical for s in p.skills}
    assert by_hand >= {3, 8, 17, 20, 29, 31, 33, 34, 35, 37, 38, 43, 45, 49}
    assert {c.id for c in tasks["T7"].cause if c.critical} == {"wrong-metal", "small-cable", "crack", "buried-tail"}


def test_hold_points_stand_in_time_order():
    holds = [s.hold for s in load_tasks()["T1"].stage if s.hold]
    assert holds == ["cut end", "threaded and tail marked", "first stroke in the jaws", "first gauge"]


@pytest.mark.parametrize(("old", "new", "said"), [
    ('kind = "gauge"', 'kind = "guage"', "guage"),
    ("minutes = 35", 'minutes = "long"', "a text"),
    ('id = "tail-before"', 'id = "Tail before"', "small letters"),
    ('id = "thimble-firm"', 'id = "thimble-snug"', "a second time"),
    ("skills = [31]", "skills = [79]", "79"),
    ('limit = "tail before"', 'limit = "tail"', "tail after"),
    ("{least_tail}", "{least_tale}", "least_tale"),
    ("Takes {size} cable", "Takes {sise} cable", "{sise}"),
    ('hold = "cut end"', 'hald = "cut end"', "hald"),
    ("critical = true\nthroughout = true", "due = true\nthroughout = true", "of the kind write with required = true"),
    ('must_be = "number and date are as here"', 'must_be = "as here"', "one of its own choices"),
])
def test_a_wrong_line_is_named(old, new, said):
    text = shipped("T1.toml")
    at = text.find(old)
    # the remark at the top names the words in brackets too: change the last place
    at = text.rfind(old) if text.startswith("#") and old.startswith("{") else at
    changed = text[:at] + new + text[at + len(old):]
    if old == "{least_tail}":
        changed = text.replace('see = "Tail before pressing"', 'see = "Tail before pressing, {least_tale}"')
        at = changed.find("{least_tale}")
    line = changed[:at].count("\n") + 1
    with pytest.raises(Refusal) as refused:
        read_task(changed, "T1.toml")
    assert f"T1.toml line {line}," in str(refused.value)
    assert said in str(refused.value)


def test_a_text_that_is_no_toml_names_its_line():
    with pytest.raises(Refusal, match=r"T9.toml line 2"):
        read_task('form = 1\nid = "T9\n', "T9.toml")


def test_two_files_with_one_task_and_an_empty_folder(tmp_path):
    with pytest.raises(Refusal, match="no bench task"):
        load_tasks(tmp_path)
    for name in ("T7.toml", "again.toml"):
        (tmp_path / name).write_text(shipped("T7.toml"), encoding="utf-8")
    with pytest.raises(Refusal, match="second time"):
        load_tasks(tmp_path)
