"""Marking, the class summary, and one candidate's result."""

from __future__ import annotations

from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, counted, field, form, table
from rigcalc.desk.pages_papers import back
from rigcalc.desk.persons import marking_in_words, paper_in_words
from rigcalc.desk.server import DeskHandler, FormHandler, link
from rigcalc.errors import Refusal
from rigcalc.pages import escape
from rigcalc.papers.appeal import marked_by
from rigcalc.papers.results import file_in_words, result_html, results_csv, summary_html

__all__ = ["ROUTES"]


class Mark(FormHandler):
    """Mark all that was handed in; damaged files are named."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        rows = work.who_has_handed_in(desk, class_id)
        problems = self.session.pop(f"problems {class_id}", [])
        told = "".join(f"<li>{escape(file_in_words(one))}: {escape(one['what'])}.</li>" for one in problems)
        bad = f'<div class="card hold"><strong>Not marked</strong><ul>{told}</ul></div>' if told else ""
        cells = [_row(desk, class_id, row) for row in rows]
        return "Mark", (bad + table(["Candidate", "Now", "Score", "Result", ""], cells, "No papers are set yet.")
                        + form(link("class", class_id, "mark"),
                               field("by", "Marked by", typed("by", desk.shop.person("assessor") or "")), "Mark what was handed in")
                        + f'<p><a href="{escape(link("class", class_id, "correct"))}">Put a marking right</a>, where a question '
                        "or its key was wrong.</p>" + back(class_id))

    def act(self, desk, typed, class_id) -> tuple[str, str]:
        run = work.mark_papers(desk, class_id, typed("by"))
        self.session[f"problems {class_id}"] = run.problems
        more = f" {len(run.problems)} could not be marked: see below." if run.problems else ""
        stood = len(run.results) - run.new
        kept = f", {stood} stood marked already and {'keeps its' if stood == 1 else 'keep their'} result" if stood else ""
        return link("class", class_id, "mark"), (f"{counted(run.new, 'paper')} {_is(run.new)} marked now{kept}, "
                                                 f"{len(run.not_returned)} {_is(len(run.not_returned))} not handed in yet.{more}")


def _is(number: int) -> str:
    return "is" if number == 1 else "are"


def _row(desk, class_id: str, row: dict) -> list[str]:
    who = row["candidate"]
    try:
        found = work.marked(desk, class_id, who["id"])
    except Refusal as refusal:
        return [escape(who["name"]), escape(row["state"]), "", escape(str(refusal)), ""]
    if found is None:
        return [escape(who["name"]), escape(row["state"]), "", "", ""]
    result = found["result"]
    missed = "; a must-be-right question was missed" if result["must_be_right_missed"] else ""
    return [escape(who["name"]), escape(row["state"]), f"{result['score']} of {result['out_of']}",
            f'{"passed" if result["passed"] else "not passed"}{missed}<br><span class="quiet">{escape(marking_in_words(desk, result["paper_id"]))}</span>',
            f'<a href="{escape(link("class", class_id, "result", who["id"]))}">Look</a>']


class Summary(DeskHandler):
    """The class put together."""

    def get(self, class_id: str) -> None:
        desk = self.desk()
        nav = (f'<a href="{escape(link("class", class_id))}">Desk</a>'
               f'<a href="{escape(link("class", class_id, "results.csv"))}">Table for a spreadsheet</a>'
               f'<a href="{escape(link("class", class_id, "quiz"))}">How good is the quiz?</a>')
        damaged = [(row["candidate"]["name"], row["receipt"]) for row in work.who_has_handed_in(desk, class_id) if row["state"] == "handed in, damaged"]
        self.finish(summary_html(work.summary(desk, class_id) | {"damaged": damaged}, desk.shop.chart_line(), nav, work.class_of(desk, class_id)["name"]))


class Table(DeskHandler):
    """All answers as a table for a spreadsheet."""

    def get(self, class_id: str) -> None:
        made = results_csv(work.results(self.desk(), class_id))
        self.set_header("Content-Type", "text/csv; charset=utf-8")
        self.set_header("Content-Disposition", f'attachment; filename="{class_id}-results.csv"')
        self.finish(made.encode("utf-8-sig"))


class Result(DeskHandler):
    """One candidate's marked paper."""

    def get(self, class_id: str, candidate_id: str) -> None:
        desk = self.desk()
        found = work.marked(desk, class_id, candidate_id)
        if found is None:
            raise Refusal("a result that is not there yet", "a marked paper", "mark what was handed in first")
        nav = f'<a href="{escape(link("class", class_id, "mark"))}">Back to marking</a>'
        paper_id = found["result"]["paper_id"]
        record, corrections = work.paper_record(desk, paper_id), work.corrections_of(desk, class_id)
        paper = record["paper"] | {"questions": [marked_by(record, one, corrections) for one in record["paper"]["questions"]]}
        before = {entry["correction"]: row for entry in work.re_markings(desk, class_id) for row in entry["results"] if row["paper_id"] == paper_id}
        self.finish(result_html(found["result"], work.skill_sentences(), nav, link("class", class_id, "appeal", candidate_id),
                                paper, work.uncounted(desk, paper_id), before, "; ".join([paper_in_words(desk, found["result"]), *_appealed(desk, class_id, candidate_id)])))


def _appealed(desk, class_id: str, candidate_id: str) -> list[str]:
    """How each appeal of a candidate ended, the oldest first."""
    return [f"{one['decider']} decided the appeal on question {one['question']} (entry {one['number']}): {one['outcome']}"
            for one in reversed(work.appeals(desk, class_id, candidate_id))]


ROUTES = [(r"/class/([a-z0-9-]{1,40})/mark", Mark), (r"/class/([a-z0-9-]{1,40})/summary", Summary),
          (r"/class/([a-z0-9-]{1,40})/results.csv", Table), (r"/class/([a-z0-9-]{1,40})/result/(c[0-9]{2})", Result)]
