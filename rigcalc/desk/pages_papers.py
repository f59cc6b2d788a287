"""Setting papers, their addresses, printing them, and typing in what was written on paper."""

from __future__ import annotations

from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, address, counted, field, form, hint, table
from rigcalc.desk.server import DeskHandler, FormHandler, link
from rigcalc.errors import Refusal
from rigcalc.pages import escape
from rigcalc.papers.blueprint import rules_in_words
from rigcalc.papers.printed import printed_paper
from rigcalc.questions.typed import written

__all__ = ["ROUTES", "back"]


def back(class_id: str) -> str:
    """The way back to a class's steps."""
    return f'<p><a href="{escape(link("class", class_id))}">Back to the steps</a></p>'


class Papers(FormHandler):
    """Set the papers of a class; afterwards their addresses."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        rows = work.links(desk, class_id)
        name = work.class_of(desk, class_id)["name"]
        return f"Papers of {name}", (_set(desk, rows, self.settings["room"], class_id) if rows
                                     else _to_set(desk, typed, class_id)) + back(class_id)

    def act(self, desk, typed, class_id) -> tuple[str, str]:
        made = work.set_papers(desk, class_id, typed("set_by"))
        return link("class", class_id, "papers"), f"{counted(len(made), 'paper')} {'is' if len(made) == 1 else 'are'} set. The keys stay in the desk's own folder."


def _to_set(desk, typed, class_id: str) -> str:
    plan = work.blueprint_in_force(desk)
    rules = "".join(f"<li>{escape(rule)}</li>" for rule in rules_in_words(plan))
    practice = "" if desk.shop.has_maker_chart else hint("Without a maker's chart these are PRACTICE papers.")
    return (f"<p>{escape(plan.title)}. Every candidate gets own values and an own order.</p><ul>{rules}</ul>{practice}"
            + form(link("class", class_id, "papers"),
                   field("set_by", "Set by", typed("set_by", desk.shop.person("trainer") or "")), "Set the papers"))


def _set(desk, rows: list[dict], room, class_id: str) -> str:
    base = room.address if room.running else ""
    told = (f"The room is open at {base}. Give each candidate the own address." if base else
            "The room is closed: open it (step 4) to see whole addresses.")
    cells = [[escape(row["candidate"]["name"]), escape(row["paper_id"]),
              *([address(base + row["address"])] if base else []),
              f'<a href="{escape(link("paper", row["paper_id"], "print"))}">Print</a> · '
              f'<a href="{escape(link("class", class_id, "type-in", row["paper_id"]))}">Type in</a>'] for row in rows]
    slips = f'<p><a class="button second" href="{escape(link("class", class_id, "slips"))}">Slips with addresses, to print</a></p>' if base else ""
    return (f"<p>{escape(told)}</p>{slips}" + table(["Candidate", "Paper", *(["Address"] if base else []), "On paper"], cells))


class Slips(FormHandler):
    """One slip a candidate, with the own address, to cut apart."""

    def head(self, *where) -> str:
        return STYLE + "<style>.slip{border:1px dashed var(--quiet);padding:.7rem 1rem;margin:.5rem 0;break-inside:avoid}</style>"

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        room = self.settings["room"]
        if not room.running:
            raise Refusal("slips of a room that is closed", "slips while the room is open", "open the room first")
        slips = "".join(f'<div class="slip"><strong>{escape(row["candidate"]["name"])}</strong>, paper {escape(row["paper_id"])}'
                        f'<br><span class="address">{escape(room.address + row["address"])}</span></div>'
                        for row in work.links(desk, class_id))
        return "Addresses, one a candidate", hint("Cut apart. Whoever holds a slip can answer as that person.") + slips + back(class_id)


class Print(DeskHandler):
    """A paper with its answer sheet."""

    def get(self, paper_id: str) -> None:
        self.finish(printed_paper(work.question_paper(self.desk(), paper_id), nav='<a href="/">Desk</a>'))


class TypeIn(FormHandler):
    """What was written on paper, question by question."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id, paper_id) -> tuple[str, str]:
        paper = work.question_paper(desk, paper_id)
        fields = "".join(_answer_field(question, typed) for question in paper["questions"])
        return f"Typing in: {paper['candidate']['name']}", (
            hint("Type exactly what stands on the answer sheet; leave empty what was left empty. Somebody else then reads it a "
                 "second time against the sheet.")
            + form(link("class", class_id, "type-in", paper_id), fields + field("by", "Typed by", typed("by"))
                   + field("second", "Read a second time by", typed("second")), "Hand these answers in") + back(class_id))

    def act(self, desk, typed, class_id, paper_id) -> tuple[str, str]:
        paper = work.question_paper(desk, paper_id)
        answers = {question["slot"]: written(question, typed(f"q{question['slot']}")) for question in paper["questions"]}
        record = work.type_in(desk, paper_id, {slot: one for slot, one in answers.items() if one}, typed("by"), typed("second"))
        return link("class", class_id, "watch"), f"Handed in for {paper['candidate']['name']}: receipt {record['receipt']}."


def _answer_field(question: dict, typed) -> str:
    name = f"q{question['slot']}"
    letters = [option["letter"] for option in question.get("options") or []]
    told = {"one choice": f"one letter: {', '.join(letters)}", "order": f"letters, first to last: {', '.join(letters)}",
            "number": "the number with its unit, as written", "place": f"one letter: {', '.join(letters)}",
            "several choices": f"all letters marked, of {', '.join(letters)}",
            "match": f"a letter a line, first to last: {', '.join(letters)}; a dash for a line left empty",
            "sheet": "the entries, box by box, parted by semicolons; a dash for a box left empty"}.get(question["kind"], "")
    return field(name, f"Question {question['slot']}", typed(name), help=told)


ROUTES = [(r"/class/([a-z0-9-]{1,40})/papers", Papers), (r"/class/([a-z0-9-]{1,40})/slips", Slips),
          (r"/paper/([a-z0-9-]{1,40})/print", Print),
          (r"/class/([a-z0-9-]{1,40})/type-in/([a-z0-9-]{1,40})", TypeIn)]
