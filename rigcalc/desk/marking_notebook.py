"""The assessor's marking notebook: the invented class marked in a folder of its own, then a class of one's own at a button.

Both go the way of the desk's page (`rigcalc.desk.work.mark_papers`): same checks, same register.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import ipywidgets

from rigcalc.demonstration.answers import typed_by
from rigcalc.demonstration.cast import ASSESSOR, CAST, CLASS_NAME, TRAINER, roster_text
from rigcalc.desk import work
from rigcalc.desk.folder import Desk
from rigcalc.errors import Refusal
from rigcalc.home import desk_folder
from rigcalc.notebook.lesson import Block, opening_lines, table
from rigcalc.pages import said
from rigcalc.papers.answers import returned_record
from rigcalc.papers.marking import MarkingRun
from rigcalc.papers.records import canonical, private_folder, stamp, write_synced
from rigcalc.papers.results import HOW_TO_WRITE, class_summary
from rigcalc.register.keys import keep_private
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.skills import where_words

__all__ = ["InventedMarking", "OwnClass", "classes_here", "not_marked", "results_of"]

NOW = datetime(2031, 5, 4, 9, tzinfo=UTC)
_SECRET = bytes(range(32))  # of the invented class alone, so that it is the same class every time
FOREIGN = "p-fromanotherdesk"
NO_CLASS = "No class is set up here yet: set one up at the desk first."


class InventedMarking:
    """The invented class, set, answered and marked twice in a folder that is gone afterwards; every part can be shown.

    Of twelve papers one file is cut off, one paper has not come back, and one file comes from another desk.
    """

    def __init__(self) -> None:
        self._lines: list[str] = []
        with tempfile.TemporaryDirectory() as folder:
            desk = work.open_desk(Path(folder), load_shop(sample_shop_path()))
            self._chart, class_id = desk.shop.chart_line(), _invented_class(desk)
            self.handed_in = sorted(path.name for path in (desk.room / "returned").iterdir())
            self._people = _people(desk, class_id)
            self.run = work.mark_papers(desk, class_id, ASSESSOR, NOW, lambda *done: self._lines.append(_line(*done)))
            self.first = _state(desk)
            work.mark_papers(desk, class_id, ASSESSOR, NOW.replace(day=5))
            self.second = _state(desk)

    def opening(self) -> Block:
        """Which class it is and what lies there to be marked."""
        top = opening_lines(self._chart, True)
        words = (f"Class: {CLASS_NAME}. {len(CAST)} papers were set; {len(self.handed_in)} files lie in the folder of returned papers. "
                 f"Marked by {ASSESSOR}, invented.")
        return Block(f"{top.html}<p>{words}</p>", f"{top.text}\n{words}")

    def progress(self) -> Block:
        """A line for each file, in the order in which they were marked."""
        return Block("".join(f"<div>{line}</div>" for line in self._lines), "\n".join(self._lines))

    def not_marked(self) -> Block:
        """Every file that could not be marked, with what is wrong."""
        return not_marked(self.run, self._people)

    def results(self) -> Block:
        """Everybody whose paper was marked."""
        return results_of(self.run)

    def again(self) -> Block:
        """What a second run a day later changed."""
        (files, entered), (files_again, entered_again) = self.first, self.second
        same = sum(files_again.get(name) == data for name, data in files.items())
        shown = table(("After the second run", "How many"), [
            ("Result files", len(files_again)), ("of them the same in every byte as after the first", same),
            ("Entries in the register", entered_again), ("of them new", entered_again - entered)], numbers=(1,))
        kept = "Nothing was changed and nothing was entered twice." if self.first == self.second else "The second run CHANGED something."
        return Block(f"{shown.html}<p>{kept}</p>", f"{shown.text}\n{kept}")


def _invented_class(desk: Desk) -> str:
    class_id = work.set_class(desk, CLASS_NAME, roster_text(), TRAINER, NOW)
    keep_private(desk.path("secrets", f"{class_id}.bin"), _SECRET)
    work.set_papers(desk, class_id, TRAINER, now=NOW)
    returned = private_folder(desk.room / "returned")
    for person, learner in zip(work.class_of(desk, class_id)["candidates"], CAST, strict=True):
        record = work.paper_record(desk, work.paper_of(desk, class_id, person["id"]))
        typed = typed_by(learner, record["paper"], record["keys"])
        data = _handed_in(record["paper"], typed)
        if learner.paper != "on paper":
            write_synced(returned / f"{record['paper_id']}.json", data[:-200] if learner.paper == "damaged" else data)
    write_synced(returned / f"{FOREIGN}.json", _handed_in({**record["paper"], "paper_id": FOREIGN}, typed))
    return class_id


def _handed_in(paper: dict, typed: dict[int, object]) -> bytes:
    rows = [{"slot": slot, "typed": one, "revision": 1, "at": stamp(NOW)} for slot, one in typed.items()]
    return canonical(returned_record(paper, rows, handed_in_at=stamp(NOW), started_at=stamp(NOW)))


def _state(desk: Desk) -> tuple[dict[str, bytes], int]:
    """Every result file with its bytes, and how many entries the register has."""
    return {path.name: path.read_bytes() for path in sorted((desk.folder / "results").iterdir())}, len(desk.register.entries())


def _line(done: int, of: int, name: str) -> str:
    return f"{done} of {of}: {name}"


def _people(desk: Desk, class_id: str) -> dict[str, str]:
    """Whose paper a returned file of the class holds, by the file's name."""
    return {f"{one['paper_id']}.json": one["candidate"]["name"] for one in work.links(desk, class_id)}


def not_marked(run: MarkingRun, people: dict[str, str]) -> Block:
    """Files that could not be marked, each with whose paper it is named for, and papers that are not back yet."""
    rows = [(one["file"], people.get(one["file"], "not on this class's list"), f"{one['what']}.") for one in run.problems]
    rows += [(f"{one['paper_id']}.json", one["candidate"]["name"], "not handed in yet.") for one in run.not_returned]
    if not rows:
        return Block("<p>Every paper of the class is back and was marked.</p>", "Every paper of the class is back and was marked.")
    return table(("File", "Whose", "What is wrong"), rows, "Not marked")


def results_of(run: MarkingRun) -> Block:
    """Marks, result and what to read again, a line each candidate."""
    rows = [(one["name"], f"{one['score']} of {one['out_of']}", "passed" if one["passed"] else "not passed", _again(one))
            for one in class_summary(run.results, work.skill_sentences())["candidates"]]
    return table(("Candidate", "Marks", "Result", "To read again"), rows, "Results", numbers=(1,))


def _again(person: dict) -> str:
    must = " ".join(f"Must be right and was not: {sentence}" for sentence in person["must_be_right_missed"])
    places = "; ".join(dict.fromkeys(HOW_TO_WRITE if one["not_read"] else where_words(one["section"]) for one in person["needs"]))
    return f"{must} {places}".strip() or "nothing"


def _desk() -> Desk | None:
    """The desk of this home; None where none was opened yet (looking for it makes no folder)."""
    return work.open_desk() if (desk_folder() / "register.sqlite").exists() else None


def classes_here() -> Block:
    """The classes of this workbook's folder: how many papers are set, handed in and marked."""
    desk = _desk()
    rows = [_class_row(desk, one) for one in work.classes(desk)] if desk else []
    return table(("Class", "Papers set", "Handed in", "Marked"), rows, numbers=(1, 2, 3)) if rows else Block(f"<p>{NO_CLASS}</p>", NO_CLASS)


def _class_row(desk: Desk, one: dict) -> tuple:
    papers = work.who_has_handed_in(desk, one["class"])
    back = sum(row["state"].startswith("handed in") for row in papers)
    return one["name"], len(papers), back, sum(row["marked"] for row in papers)


class OwnClass(ipywidgets.VBox):
    """Choose a class, say who marks, press the button: the same marking as at the desk, with its progress."""

    def __init__(self) -> None:
        desk = _desk()
        found = {one["name"]: one["class"] for one in work.classes(desk)} if desk else {}
        look: dict[str, Any] = {"style": {"description_width": "6rem"}, "layout": {"width": "28rem", "max_width": "100%"}}
        self.choice = ipywidgets.Dropdown(options=[("choose a class", ""), *found.items()], value="", description="Class", **look)
        self.by = ipywidgets.Text(value=(desk.shop.person("assessor") or "") if desk else "", description="Marked by", **look)
        self.button = ipywidgets.Button(description="Mark the returned papers", disabled=not found, layout={"width": "16rem"})
        self.bar = ipywidgets.IntProgress(value=0, min=0, max=1, description="Progress", **look)
        self.told = ipywidgets.HTML(said("Nothing marked yet." if found else NO_CLASS))
        self.button.on_click(lambda _: self.mark())
        super().__init__([self.choice, self.by, self.button, self.bar, self.told])

    def mark(self) -> None:
        """Mark what has come back; whatever is in the way is said in a sentence."""
        self.button.disabled = True
        try:
            self.told.value = self._marked(self._step)
        except Refusal as refusal:
            self.told.value = said(str(refusal), "no")
        except OSError as trouble:
            self.told.value = said(f"The folder could not be read or written ({trouble.strerror}); nothing more was marked.", "no")
        finally:
            self.button.disabled = False

    def _marked(self, step: Callable[[int, int, str], None]) -> str:
        if not self.choice.value:
            raise Refusal("no class", "a class of the list", "choose one")
        desk, class_id = work.open_desk(), self.choice.value
        run = work.mark_papers(desk, class_id, self.by.value, None, step)
        done = (f"Papers marked: {len(run.results)}; of them newly entered in the register: {run.new}, entered before: {len(run.results) - run.new}. "
                f"Files that could not be marked: {len(run.problems)}.")
        return said(done, "ok") + not_marked(run, _people(desk, class_id)).html + results_of(run).html

    def _step(self, done: int, of: int, name: str) -> None:
        self.bar.max, self.bar.value = of, done
        self.told.value = said(_line(done, of, name))

    def __repr__(self) -> str:
        return f"Class, who marks, and a button: {self.button.description}."
