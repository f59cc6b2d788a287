"""A learner's pages in a shop without a maker's chart, and in one whose shop file has a mistake."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import traceback
from pathlib import Path

import pytest
from many import many
from test_lesson_05 import OWN

from rigcalc.cautions import INVENTED, PRACTICE
from rigcalc.home import installed_folder
from rigcalc.notebook import forming_an_eye as eye
from rigcalc.notebook.form import Exercise
from rigcalc.notebook.practice import PracticeSitting
from rigcalc.notebook.teaching import shop_for_teaching
from rigcalc.shop import check_shop, load_shop, sample_shop_path

ROOT = installed_folder()
PAGES = ("lessons/05_forming_an_eye.ipynb", "quizzes/practice_paper.ipynb", "quizzes/reference_worked_examples.ipynb")
GC_OUT = "Out of date: gauge GC was due on 2026-03-02; it judges nothing until it is checked."  # as in the sample, whose figures these are
BUILDERS_WORDS = re.compile(r"\bdraws\b|question family|\.toml'|families/|\[draw\]|Traceback")


def own_text() -> str:
    """The sample's figures under names of one's own, so that it is no invented shop."""
    text = sample_shop_path().read_text(encoding="utf-8")
    for old, new in OWN:
        assert old in text
        text = text.replace(old, new)
    return text


def stranger() -> str:
    """A shop as a stranger writes it: two thin bare galvanised reels, in SI, and nothing that is not needed."""
    return Path(__file__).with_name("strangers_shop.toml").read_text(encoding="utf-8")


def without(text: str, *blocks: str) -> str:
    """The text without these [[blocks]] and whatever belongs to them."""
    parts = re.split(r"(?m)^(?=\[)", text)
    return "".join(p for p in parts if not any(p.startswith((f"[[{b}]]", f"[[{b}.")) for b in blocks))


@pytest.fixture
def shop_text(tmp_path, monkeypatch):
    """Write the shop file of a home of the test's own."""
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))

    def write(text: str):
        (tmp_path / "shop.toml").write_text(text, encoding="utf-8")
        eye.kit.cache_clear()
        return tmp_path / "shop.toml"

    yield write
    eye.kit.cache_clear()


def no_chart(shop_text):
    path = shop_text(without(own_text(), "chart"))
    assert check_shop(path) == [] and not load_shop().has_maker_chart and not load_shop().invented
    return PRACTICE


def broken(shop_text):
    path = shop_text(own_text().replace('system = "US"', 'system = "furlongs"', 1))
    assert "furlongs" in str(check_shop(path)[0])
    return f"The shop file {path} cannot be used as it is, so the invented sample shop stands here. To check it, open the page Teach, or type: rigcalc shop"


def run(name: str) -> list[str]:
    """What every code cell of a page shows, run in one name space as a kernel does; an accident fails the test."""
    from IPython.core.interactiveshell import InteractiveShell
    from IPython.utils.capture import capture_output

    shell, shown = InteractiveShell(), []
    for cell in json.loads((ROOT / name).read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] == "code":
            with capture_output(display=True) as caught:
                ran = shell.run_cell("".join(cell["source"]), store_history=False)
            ran.raise_error()
            shown.append(repr(ran.result) + caught.stdout + "".join(map(str, (o.data for o in caught.outputs))))
    return shown


@pytest.mark.parametrize("state", [no_chart, broken])
@pytest.mark.parametrize("name", PAGES)
def test_every_cell_runs_and_the_page_says_what_stands_in(shop_text, state, name):
    note = state(shop_text)
    shown = run(name)
    assert INVENTED in shown[0] and note in shown[0]
    assert not [found for text in shown for found in BUILDERS_WORDS.findall(text)]


LESSONS = sorted(path.name for path in (ROOT / "lessons").glob("[0-9][0-9]_*.ipynb"))
OTHERS = {"no chart": lambda: without(own_text(), "chart"), "no gauge": lambda: without(own_text(), "gauge"),
          "no factor": lambda: without(own_text(), "factor"), "no reel": lambda: without(own_text(), "reel"),
          "metric": lambda: own_text().replace('system = "US"', 'system = "SI"', 1), "own": own_text, "stranger": stranger,
          "a mistake": lambda: own_text().replace('system = "US"', 'system = "furlongs"', 1)}
ALONE = "import sys; sys.path[:0] = sys.argv[1:3]; import test_other_shops as t; print(chr(10).join(t.run(sys.argv[3])))"


@pytest.mark.parametrize("other", [*OTHERS][:many(1, len(OTHERS))])
@pytest.mark.parametrize("name", LESSONS if many(0, 1) else [one for one in LESSONS if one[:2] in ("07", "12")])
def test_every_lesson_runs_whatever_the_shop_lacks(name, other, tmp_path):
    """In a process of its own, as a page's kernel is: what one shop made is never met by another."""
    here = Path(__file__).resolve().parent
    (tmp_path / "shop.toml").write_text(OTHERS[other](), encoding="utf-8")
    ran = subprocess.run([sys.executable, "-c", ALONE, str(here), str(here.parent), f"lessons/{name}"], capture_output=True, text=True,
                         env={**os.environ, "RIGCALC_HOME": str(tmp_path)}, timeout=120)
    assert ran.returncode == 0, ran.stderr[-2000:]
    assert BUILDERS_WORDS.findall(ran.stdout) == [] and "Chart in force" in ran.stdout

ASKS_NOTHING_YET = re.compile(r"(?m)^Explorer: (.+)\.\n(.*)$")
OF_THE_SCENE = {"00": 2, "01": 2, "02": 2, "03": 3, "04": 3, "05": 0, "06": 1, "07": 4, "08": 5, "09": 4, "10": 7, "11": 4, "12": 4}  # titles of live figures that tell of the invented shop


EACH = "import sys; sys.path[:0] = sys.argv[1:3]; import test_other_shops as t; t.tell_each(t.LESSONS)"


def tell_each(names: list[str]) -> None:
    """Print what every lesson shows, each in a process of its own; where a process can be forked, they share the imports."""
    import multiprocessing

    import IPython.core.interactiveshell  # noqa: F401

    with multiprocessing.get_context("fork" if os.name == "posix" else "spawn").Pool(1, maxtasksperchild=1) as one_by_one:
        print(json.dumps(dict(zip(names, one_by_one.map(told, names, chunksize=1)))))


def told(name: str) -> tuple[str, str]:
    """What a lesson shows, and the accident if there was one."""
    try:
        return "\n".join(run(f"lessons/{name}")), ""
    except Exception:
        return "", traceback.format_exc()


@pytest.fixture(scope="module")
def in_a_strangers_shop(tmp_path_factory):
    home, here = tmp_path_factory.mktemp("stranger"), Path(__file__).resolve().parent
    (home / "shop.toml").write_text(stranger(), encoding="utf-8")
    ran = subprocess.run([sys.executable, "-c", EACH, str(here), str(here.parent)], capture_output=True, text=True,
                         env={**os.environ, "RIGCALC_HOME": str(home)}, timeout=600)
    assert ran.returncode == 0, ran.stderr[-2000:]
    return json.loads(ran.stdout.splitlines()[-1])


@pytest.mark.parametrize("name", LESSONS)
def test_in_a_strangers_shop_no_live_figure_opens_on_a_refusal_and_the_scenes_say_that_they_are_invented(name, in_a_strangers_shop):
    """Two thin reels, one tool, no clips, no fittings, no pull procedure: each figure opens on a question, and says whose shop it tells of."""
    text, accident = in_a_strangers_shop[name]
    assert not accident, accident[-2000:]
    opened = {title: first for title, first in ASKS_NOTHING_YET.findall(text)}
    assert opened and not [title for title, first in opened.items() if "Refused" in first or "Traceback" in first]
    if name[:2] in ("08", "12"):  # their figures are the invented shop's: the page says which chart, why, and what is in force here
        assert re.search(r"Chart of this page: INVENTED chart .+\. Why not yours: .+\. In your shop, Fell Rope Loft: Charts in force: S4-AL", text)
        assert {"08": "a coated eye and a lap, 1/8 in", "12": "one order, 1/8 in"}[name[:2]] in text
    marked = [title for title in opened if "INVENTED" in title]
    assert len(marked) >= OF_THE_SCENE[name[:2]], sorted(opened)


def test_the_practice_sheet_repeats_the_note(shop_text):
    from rigcalc.notebook import sheets

    no_chart(shop_text)
    assert PRACTICE in str(sheets.practice_sheet())


def test_the_note_is_as_bold_as_invented(shop_text):
    no_chart(shop_text)
    for html in (eye.opening()._repr_html_(), PracticeSitting().heading()._repr_html_()):
        assert f'<p class="invented">{PRACTICE.replace(chr(39), "&#x27;")}' in html


def test_a_shop_with_a_chart_for_the_eye_is_taught_with_itself_and_no_note(shop_text):
    shop_text(own_text())
    shop, note = shop_for_teaching()
    assert (shop.name, note) == ("Long Pier Wire", GC_OUT)
    assert Exercise("order-of-crimps").title == "Exercise"


def test_a_gauge_out_of_date_is_named_on_every_page_and_on_the_sheet(shop_text):
    from rigcalc.notebook import sheets

    text = own_text()
    due = re.search(r'(?m)^due_on = (\S+)', text[text.index("[[gauge]]"):])[1]
    shop_text(text.replace(f"due_on = {due}", "due_on = 2026-04-02", 1))
    shop, note = shop_for_teaching()
    assert shop.name == "Long Pier Wire" and note.startswith("Out of date: gauge ") and "was due on 2026-04-02" in note
    assert note in str(sheets.practice_sheet())


def test_a_single_question_that_the_shop_cannot_fill_says_whose_figures_it_has(shop_text):
    shop_text(without(own_text(), "factor"))
    assert shop_for_teaching()[1] == GC_OUT
    asked = Exercise("scope-of-a-factor", title="Question")
    assert asked.title == "Question (INVENTED: invented sample shop)"
    asked.fresh()
    assert asked.title == "Question (INVENTED: invented sample shop)"


def test_without_a_shop_file_the_sample_is_no_stand_in(tmp_path, monkeypatch):
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    shop, note = shop_for_teaching()
    assert shop.invented and note == ""


def test_a_lesson_that_another_shop_stands_in_for_says_so_beside_a_gauge_out_of_date(shop_text):
    from rigcalc.notebook.course import laps_and_coats

    old = re.sub(r"(?m)^checked_on = 2026-11-02\ndue_on = .+$", "checked_on = 2026-03-02\ndue_on = 2026-04-02", stranger())
    assert old != stranger()
    shop_text(old)
    note = laps_and_coats._has.__wrapped__(laps_and_coats.LIKED)[1]
    assert note.startswith("Out of date: gauge ") and note.endswith("so the invented sample shop stands on this page. The practice sheet goes by your own charts.")
