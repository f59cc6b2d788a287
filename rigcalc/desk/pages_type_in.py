"""Typing in what was written on paper: once, a second time unseen, and then the differences."""

from __future__ import annotations

from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, check, counted, field, form, hint
from rigcalc.desk.pages_papers import back
from rigcalc.desk.server import FormHandler, link
from rigcalc.errors import Refusal, together
from rigcalc.pages import escape
from rigcalc.papers.records import when
from rigcalc.papers.results import typed_in_words
from rigcalc.questions.typed import dashed, written

__all__ = ["ROUTES"]

HERE, SHEET = "what I type here", "What stands on the sheet"


class TypeIn(FormHandler):
    """One sheet: the first typing, the second, or what has to be settled."""

    def head(self, *where) -> str:
        return STYLE + "<style>.under{margin:0 0 .3rem 1.75rem}</style>"

    def body(self, desk, typed, class_id, paper_id) -> tuple[str, str]:
        paper, kept = work.question_paper(desk, paper_id), work.typings(desk, paper_id)
        name = paper["candidate"]["name"]
        if "settled" in kept:
            return f"Typed in: {name}", _done(paper, kept) + back(class_id)
        if "second" in kept:
            return f"Two typings of {name}'s sheet", _differences(desk, typed, class_id, paper, kept) + back(class_id)
        return f"Typing in: {name}", _sheet(typed, class_id, paper, kept) + back(class_id)

    def act(self, desk, typed, class_id, paper_id) -> tuple[str, str]:
        paper, here = work.question_paper(desk, paper_id), link("class", class_id, "type-in", paper_id)
        kept = work.typings(desk, paper_id)
        if "second" in kept:
            return link("class", class_id, "watch"), _handed_in(
                work.hand_in_typed(desk, paper_id, _chosen(desk, paper, kept, typed), typed("by"), alone=typed("alone"), as_written=typed.has("as_written"),
                                   dashes=_dashes(paper, typed, "other-")), paper)
        answers = {question["slot"]: written(question, typed(f"q{question['slot']}")) for question in paper["questions"]}
        which = work.type_sheet(desk, paper_id, answers, typed("by"), alone=typed("alone"), as_written=typed.has("as_written"), dashes=_dashes(paper, typed))
        if which == "first":
            return here, "The first typing is kept. Now the sheet is typed a second time, without looking at the first."
        if work.to_settle(desk, paper_id):
            return here, "The second typing is kept. Look at the sheet again: something is to be settled."
        return link("class", class_id, "watch"), "The two typings agree. " + _handed_in(work.hand_in_typed(desk, paper_id, {}), paper)


def _dashes(paper: dict, typed, before: str = "") -> dict[int, set[int]]:
    return {question["slot"]: dashed(question, typed(f"{before}q{question['slot']}")) for question in paper["questions"]}


def _handed_in(record: dict, paper: dict) -> str:
    return f"Handed in for {paper['candidate']['name']}: receipt {record['receipt']}."


def _sheet(typed, class_id: str, paper: dict, kept: dict) -> str:
    again = (f"Second typing. {kept['first']['by']} typed this sheet at {when(kept['first']['at'])}; what was typed is not shown here, "
             "so that it is read from the sheet again, by somebody else." if kept else
             "First typing. Type exactly what stands on the answer sheet; leave empty what was left empty. Afterwards the sheet "
             "is typed a second time, and the two are compared.")
    fields = "".join(_answer_field(question, typed) for question in paper["questions"])
    return hint(again) + form(link("class", class_id, "type-in", paper["paper_id"]),
                              fields + field("by", "Typed by", typed("by"))
                              + (field("alone", "Only if the same person types it again: why nobody else can", typed("alone"), size=60,
                                       help="it is printed on the certificate") if kept else "") + _as_written(typed),
                              "Keep the second typing" if kept else "Keep the first typing")


def _as_written(typed) -> str:
    """Only after something was asked about: the typist says that it stands on the sheet so."""
    return check("as_written", "Where an answer is asked about above: it stands so on the sheet, file it as written", "yes", typed.has("as_written")) if typed.values else ""


def _answer_field(question: dict, typed, before: str = "", label: str = "") -> str:
    name = f"{before}q{question['slot']}"
    letters = ", ".join(option["letter"] for option in question.get("options") or [])
    told = {"one choice": f"one letter: {letters}", "order": f"letters, first to last: {letters}",
            "number": "the number with its unit, as written", "place": f"one letter: {letters}",
            "several choices": f"all letters marked, of {letters}",
            "match": f"a letter a line, first to last: {letters}; a dash for a line left empty",
            "sheet": "the entries, box by box, parted by semicolons; a dash for a box left empty"}.get(question["kind"], "")
    return field(name, label or f"Question {question['slot']}", typed(name), help=told)


def _differences(desk, typed, class_id: str, paper: dict, kept: dict) -> str:
    rows = work.to_settle(desk, paper["paper_id"])
    questions = {question["slot"]: question for question in paper["questions"]}
    cards = "".join(_difference(row, questions[row["slot"]], typed, kept) for row in rows)
    apart = len([row for row in rows if row["first"] != row["second"]])
    agree, signs = len(paper["questions"]) - apart, len([row for row in rows if "meant" in row])
    judged = (f" In {counted(signs, 'question')} the signs in a figure are not those that the paper asks for: look at the sheet and judge what the "
              "candidate means; where that cannot be told, take what is written, and it is marked as it cannot be read.") if signs else ""
    return (f"<p>{counted(apart, 'question')} {'differs' if apart == 1 else 'differ'}, {agree} {'agrees' if agree == 1 else 'agree'}. Look at the sheet and say what stands there.{judged} "
            "Both typings are kept.</p>"
            + form(link("class", class_id, "type-in", paper["paper_id"]),
                   cards + field("by", "Settled by", typed("by"))
                   + field("alone", "Only if one of the two who typed it settles: why nobody else can", typed("alone"), size=60,
                           help="it is printed on the certificate") + _as_written(typed), "Settle and hand in"))


def _difference(row: dict, question: dict, typed, kept: dict) -> str:
    name = f"q{row['slot']}"
    options = "".join(
        f'<div class="tick"><input type="radio" id="{name}-{value}" name="{name}" value="{value}"'
        f'{" checked" if typed(name) == value else ""}><label for="{name}-{value}">{escape(words)}</label></div>'
        for value, words in _choices(row, question, kept).items())
    return (f'<fieldset class="card keep"><legend>Question {row["slot"]}</legend>{options}'
            f'<div class="under">{_answer_field(question, typed, "other-", SHEET)}</div></fieldset>')


def _choices(row: dict, question: dict, kept: dict) -> dict[str, str]:
    """What can be ticked for one difference, each with its words; `other` last, with its field under it."""
    return {"first": f"{_as_typed(row['first'], question)} ({kept['first']['by']})",
            "second": f"{_as_typed(row['second'], question)} ({kept['second']['by']}, second typing)",
            **{f"meant-{at}": f"meant is {_as_typed(one, question)}" for at, one in enumerate(row.get("meant", ()))},
            "nothing": "nothing that counts stands there", "other": f"{HERE}:"}


def _as_typed(answer, question: dict) -> str:
    return "left empty" if answer is None else typed_in_words(answer, question)


def _unticked(slot: int, own: str, ticked: str) -> Refusal:
    other = f"'{ticked}'" if ticked else "no choice"
    return Refusal(f"question {slot}: '{own}' typed under '{SHEET}', and {other} ticked", f"'{HERE}' ticked, or that field emptied",
                   f"look at the sheet: tick '{HERE}' if what is typed stands there, else empty the field and tick what does")


def _chosen(desk, paper: dict, kept: dict, typed) -> dict[int, object]:
    """What was chosen for each difference; an unknown or missing choice is left out, and then refused. Nothing typed is thrown away."""
    questions, chosen, wrong = {question["slot"]: question for question in paper["questions"]}, {}, []
    for row in work.to_settle(desk, paper["paper_id"]):
        pick, own = typed(f"q{row['slot']}"), typed(f"other-q{row['slot']}").strip()
        if own and pick != "other":
            wrong.append(_unticked(row["slot"], own, _choices(row, questions[row["slot"]], kept).get(pick, "")))
        elif pick in ("first", "second"):
            chosen[row["slot"]] = row[pick]
        elif pick.startswith("meant-") and pick[6:] in map(str, range(len(row.get("meant", ())))):
            chosen[row["slot"]] = row["meant"][int(pick[6:])]
        elif pick == "other":
            found = written(questions[row["slot"]], own)
            chosen[row["slot"]] = found if any(found) else None
            if not own:
                wrong.append(Refusal(f"question {row['slot']}: '{HERE}', with nothing typed", "what stands on the sheet, or 'nothing that counts stands there'",
                                     "type it, or choose that"))
        elif pick == "nothing":
            chosen[row["slot"]] = None
    if wrong:
        raise together(wrong)
    return chosen


def _done(paper: dict, kept: dict) -> str:
    questions = {question["slot"]: question for question in paper["questions"]}
    rows = "".join(f"<li>Question {row['slot']}: {escape(_as_typed(row['first'], asked))} or {escape(_as_typed(row['second'], asked))}; "
                   f"taken: {escape(typed_in_words(row['chosen'], asked))}</li>" for row in kept["settled"]["differences"] for asked in [questions[row["slot"]]])
    why = f", because nobody else could: {escape(kept['settled']['alone'])}" if kept["settled"].get("alone") else ""
    settled = f"<p>Settled by {escape(kept['settled']['by'])}{why}:</p><ul>{rows}</ul>" if rows else "<p>The two typings agreed.</p>"
    alone = f", because nobody else could: {escape(kept['second']['alone'])}" if kept["second"].get("alone") else ""
    return (f"<p>Typed by {escape(kept['first']['by'])} at {escape(when(kept['first']['at']))}, and a second time by "
            f"{escape(kept['second']['by'])} at {escape(when(kept['second']['at']))}{alone}. Handed in.</p>{settled}")


ROUTES = [(r"/class/([a-z0-9-]{1,40})/type-in/([a-z0-9-]{1,40})", TypeIn)]
