"""Results to read: a class in words, each candidate's own sheet, and a table for a spreadsheet."""

from __future__ import annotations

import csv
import io

from rigcalc.cautions import INVENTED, PRACTICE
from rigcalc.pages import escape, page
from rigcalc.papers.balance import ENOUGH
from rigcalc.papers.cut import spread_in_words
from rigcalc.papers.printed import PRINT_STYLE, paper_caution, question_html
from rigcalc.papers.records import UNREAD, when
from rigcalc.skills import where_words

__all__ = ["HOW_TO_WRITE", "agreed_in_words", "class_summary", "summary_text", "summary_html", "results_csv", "result_html", "cut_in_words",
           "answer_in_words", "file_in_words", "mark_in_words", "not_read", "shares_in_words", "typed_in_words"]

HOW_TO_WRITE = "how to write an answer (the figure and its unit)"


def class_summary(results: list[dict], sentences: dict[str, str] | None = None) -> dict:
    """A class's results put together, question by question and person by person.

    Parameters
    ----------
    results : list of dict
        What marking gave.
    sentences : dict, optional
        Skill id to the skill's sentence; without it the ids stand.

    Returns
    -------
    dict
        {"candidates": [...], "questions": [...], "passed", "marked", "cut", "invented", "practice"}; a
        question is a place of the blueprint, as each candidate's paper has its own order and values.
    """
    sentences = sentences or {}
    people = [{
        "name": result["candidate"]["name"], "paper_id": result["paper_id"], "score": result["score"],
        "out_of": result["out_of"], "passed": result["passed"],
        "must_be_right_missed": [sentences.get(skill, skill) for skill in result["must_be_right_missed"]],
        "needs": [{"skill": sentences.get(slot["skill"], slot["skill"]), "section": slot["section"],
                   "must_be_right": slot["must_be_right"], "not_read": not_read(slot)}
                  for slot in sorted(result["slots"], key=lambda slot: slot["place"]) if not slot["right"]],
    } for result in sorted(results, key=lambda result: result["candidate"]["name"])]
    return {
        "candidates": people, "questions": _questions(results, sentences), "marked": len(results),
        "passed": sum(result["passed"] for result in results),
        "cut": results[0]["cut"] if results else None,
        "invented": max((result.get("invented", False) for result in results), key=lambda one: (one is True, bool(one)), default=False),
        "practice": any(result["practice"] for result in results),
    }


def not_read(slot: dict) -> bool:
    """Whether an answer says nothing of the skill: a figure stands in it, it could not be read, and it shows no misstep."""
    return slot["read_as"] == UNREAD and not slot["missteps"] and any(sign.isdigit() for text in slot["typed"] for sign in text)


def _questions(results: list[dict], sentences: dict[str, str]) -> list[dict]:
    places: dict[tuple, dict] = {}
    for result in results:
        for slot in result["slots"]:
            row = places.setdefault((slot["place"], slot["skill"]), {
                "place": slot["place"], "skill": sentences.get(slot["skill"], slot["skill"]),
                "sections": [], "must_be_right": slot["must_be_right"], "asked": 0, "right": 0,
                "not_answered": [], "not_read": [], "other_wrong": [], "missteps": {}})
            row["asked"] += 1
            row["right"] += slot["right"]
            name = result["candidate"]["name"]
            if slot["right"]:
                continue
            if not_read(slot):
                row["not_read"].append(name)
                continue
            if slot["section"] not in row["sections"]:
                row["sections"].append(slot["section"])
            if slot["typed"] is None:
                row["not_answered"].append(name)
            elif not slot["missteps"]:
                row["other_wrong"].append(name)
            if slot["missteps"]:  # a misstep's words carry the candidate's own values, so they are kept by words
                kept = row["missteps"].setdefault(slot["feedback"], {"ids": slot["missteps"], "names": []})
                kept["names"].append(name)
    return [places[place] for place in sorted(places)]


def cut_in_words(cut: dict) -> str:
    """The cut score, who set it, how, and how far the judges lay apart."""
    by = f"one named person, {cut['set_by']}" if cut["method"] == "one named person" else f"a panel: {cut['set_by']}"
    return f"Cut: {cut['marks']} of 100 marks, set on {cut['set_on']} by {by}. {cut['how']} {spread_in_words(cut)}"


def shares_in_words(plan) -> str:
    """What partial credit does to a judged cut; empty where no parts count or nobody's expectation is kept."""
    if plan.partial_credit != "shares" or not plan.cut.judge:
        return ""
    return ("Parts of answers count here, by shares. The judges' expectations are shares of candidates: where they were judged for wholly right answers, "
            "the same people reach this cut more easily. Have the cut judged for shares: as the part of a question's marks that somebody just good enough "
            "is expected to get.")


def _heading(summary: dict) -> list[str]:
    if not summary["marked"]:
        return ["No paper could be marked.", *_not_marked(summary)]
    lines = [f"{summary['marked']} paper{'s' * (summary['marked'] != 1)} marked, {summary['passed']} passed.", cut_in_words(summary["cut"])]
    if summary["practice"]:
        lines.append(PRACTICE)
    lines += _not_marked(summary)
    lines += [f"The returned file of {name} is not as it was handed in: {said}." for name, said in summary.get("damaged", ())]
    if summary["marked"] < ENOUGH:
        lines.append("So few papers say who needs help with what; they say nothing sure about a question itself.")
    return lines


def _not_marked(summary: dict) -> list[str]:
    return [f"Not marked: {file_in_words(problem)}: {problem['what']}." for problem in summary.get("problems", ())]


def _person_line(person: dict) -> str:
    if person["passed"]:
        return f"{person['score']} of {person['out_of']}, passed"
    line = f"{person['score']} of {person['out_of']}, not passed"
    if person["must_be_right_missed"]:
        line += ". Must be right and was not: " + " ".join(person["must_be_right_missed"])
    return line


def _question_lines(row: dict) -> list[str]:
    lines = [f"{', '.join(kept['names'])}: {feedback}" for feedback, kept in row["missteps"].items()]
    if row["other_wrong"]:
        lines.append(f"{', '.join(row['other_wrong'])}: wrong in a way that was not recognised.")
    if row["not_answered"]:
        lines.append(f"{', '.join(row['not_answered'])}: no answer that counts.")
    if row["not_read"]:
        lines.append(f"{', '.join(row['not_read'])}: not read: unit or form missing ({len(row['not_read'])}). To teach: {HOW_TO_WRITE}, not the skill.")
    if row["sections"]:
        lines.append(f"To read again: {'; '.join(map(where_words, row['sections']))}")
    if row["right"] == row["asked"]:
        lines.append(_all_right(row["asked"]))
    return lines


def _all_right(asked: int) -> str:
    if asked >= ENOUGH:
        return "Nothing to teach again here."
    return f"Right on all {asked} papers; so few say little." if asked > 1 else "Right on the one paper; one says little."


def _by_need(summary: dict) -> list[dict]:
    return sorted(summary["questions"], key=lambda row: (row["right"] + len(row["not_read"]) - row["asked"], row["place"]))


def summary_text(summary: dict) -> str:
    """The class in plain lines: who passed, and what most of them need help with first."""
    lines = ([INVENTED if summary["invented"] is True else summary["invented"]] if summary["invented"] else []) + _heading(summary) + ["", "Who"]
    lines += [f"  {person['name']}: {_person_line(person)}" for person in summary["candidates"]]
    lines += ["", "What to teach again, most needed first"]
    for row in _by_need(summary):
        must = " (must be right)" if row["must_be_right"] else ""
        lines.append(f"  {row['right']} of {row['asked']} right: {row['skill']}{must}")
        lines += [f"      {line}" for line in _question_lines(row)]
    return "\n".join(lines) + "\n"


def summary_html(summary: dict, chart_line: str = "", nav: str = "", group: str = "") -> str:
    """The same as a page that prints well; `group` is the name of the class, for the foot of every printed page."""
    body = "".join(f"<p>{escape(line)}</p>" for line in _heading(summary))
    people = "".join(
        f"<tr><th scope='row'>{escape(person['name'])}</th><td class='number'>{person['score']}</td>"
        f"<td>{'passed' if person['passed'] else 'not passed'}</td>"
        f"<td>{_needs_html(person)}</td></tr>" for person in summary["candidates"])
    body += ("<h2>Who needs help where</h2><div class='wide'><table><thead><tr><th>Candidate</th><th>Marks</th>"
             f"<th>Result</th><th>To learn again</th></tr></thead><tbody>{people}</tbody></table></div>")
    body += "<h2>What to teach again, most needed first</h2>"
    for row in _by_need(summary):
        must = " <em>(must be right)</em>" if row["must_be_right"] else ""
        lines = "".join(f"<li>{escape(line)}</li>" for line in _question_lines(row))
        body += (f"<section class='keep'><h3>{row['right']} of {row['asked']} right: {escape(row['skill'])}{must}</h3>"
                 f"<ul>{lines}</ul></section>")
    title = "Class summary of the written paper"
    return page(title, body, invented=summary["invented"], chart_line=chart_line, nav=nav,
                foot=" · ".join(filter(None, [title, group])))


def _needs_html(person: dict) -> str:
    if not person["needs"]:
        return "nothing on this paper"
    items = "".join(f"<li>{'<strong>Must be right:</strong> ' if need['must_be_right'] else ''}{_need_html(need)}</li>" for need in person["needs"])
    return f"<ul>{items}</ul>"


def _need_html(need: dict) -> str:
    if need["not_read"]:
        return f"{escape(HOW_TO_WRITE)} <span class='quiet'>(not read, so nothing is known of: {escape(need['skill'])})</span>"
    return f"{escape(need['skill'])} <span class='quiet'>({escape(where_words(need['section']))})</span>"


def result_html(result: dict, sentences: dict[str, str] | None = None, nav: str = "", appeals: str = "",
                paper: dict | None = None, drafts: dict[int, object] | None = None, before: dict[int, dict] | None = None, hands: str = "") -> str:
    """One candidate's result: each question, what was typed, how it was read, and what happened.

    `appeals` is where a question's own page for an appeal is, without its number; empty leaves the links out.
    With the `paper` each question stands whole: options with the chosen ones marked, chart and drawing. `drafts` is what was
    typed and does not count, by question. `before` is what each correction of this paper changed, by its number, as
    `rigcalc.papers.correcting.moves` gives it. `hands` is who did what with the paper.
    """
    sentences, before = sentences or {}, before or {}
    questions = {question["slot"]: question for question in (paper or {}).get("questions", [])}
    rows = "".join(_slot_html(slot, questions.get(slot["slot"]), appeals, len(result["slots"]), (drafts or {}).get(slot["slot"]), before)
                   for slot in result["slots"])
    missed = "".join(f"<li>{escape(sentences.get(skill, skill))}</li>" for skill in result["must_be_right_missed"])
    head = (f"<p><strong>{result['score']} of {result['out_of']} marks: "
            f"{'passed' if result['passed'] else 'not passed'}.</strong> {escape(cut_in_words(result['cut']))}</p>"
            + (f"<p>Must be right and was not:</p><ul>{missed}</ul>" if missed else "")
            + "".join(f"<p><strong>Marked again</strong> at {escape(when(one['at']))} by {escape(one['by'])} ({escape(one['way'])}, "
                      f"{escape(one['family'])}){escape(agreed_in_words(one))}: {escape(one['why'].rstrip('.'))}{escape(_marks_before(before.get(one['number'])))}</p>" for one in result.get("corrections") or [])
            + (f"<p>{escape(PRACTICE)}</p>" if result["practice"] else "")
            + (f"<p class='quiet'>Who did what: {escape(hands)}.</p>" if hands else "")
            + f"<p class='quiet'>Paper {escape(result['paper_id'])}, receipt {escape(result['receipt'])}. "
            f"{escape(paper_caution(result.get('invented', False)))}</p>"
            + ("<p class='quiet'>Press a question to open or fold it.</p>" if questions else ""))
    title = f"Result of {result['candidate']['name']}"
    return page(title, head + rows, invented=result.get("invented", False), nav=nav, foot=f"{title} · paper {result['paper_id']}",
                head=f"<style>{PRINT_STYLE}{_FOLDED}</style>")


def agreed_in_words(correction: dict) -> str:
    """`, agreed to by` and the second person of a correction; nothing where it needed none."""
    return f", agreed to by {correction['second']}" if correction.get("second") else ""


def _marks_before(move: dict | None) -> str:
    """The mark that a correction found and the one it left."""
    if not move:
        return "."
    return f". Before this: {mark_in_words(move, 'before')}; after it: {mark_in_words(move, 'after')}."


def mark_in_words(move: dict, which: str) -> str:
    """A mark and whether it passed, `before` or `after` a correction, from one row of `rigcalc.papers.correcting.moves`.

    Example: `83 marks, passed`.
    """
    return f"{move[f'score_{which}']} marks, {'passed' if move[f'passed_{which}'] else 'not passed'}"


def _slot_before(slot: dict, before: dict[int, dict]) -> str:
    """What one question was worth before each correction of it that changed it."""
    found = [(number, one) for number in slot.get("corrected") or [] for one in before.get(number, {}).get("questions", []) if one["question"] == slot["slot"]]
    return "".join(f" Before correction {number}: {one['marks_before']} marks{f'; the answer was {told}' if (told := one['was']) else ''}." for number, one in found)


_FOLDED = """details.card > summary { cursor:pointer; font-weight:700; } details.card .question { border-top:0; }
@media print { details::details-content { content-visibility:visible; display:block; } }
"""
LETTERED = ("one choice", "several choices", "place", "order", "match")
LONG = 12  # questions, above which those that are right are folded


def _slot_html(slot: dict, question: dict | None, appeals: str, of: int, draft: object, before: dict[int, dict]) -> str:
    """One marked question; folded where it is right and the paper long."""
    state = "struck" if slot.get("struck") else "right" if slot["right"] else "not right"
    head = f"Question {slot['slot']}: {state}{', ' + _worth(slot)}{'; must be right' if slot['must_be_right'] else ''}"
    whole = question_html(question, _letters(question, slot["typed"]), heading=False) if question else f"<p>{escape(slot['text'])}</p>"
    body = (f"{whole}<p>{escape(_answered(slot, question, draft))}</p>"
            + ("" if slot["right"] else f"<p class='quiet'>To read again: {escape(where_words(slot['section']))}</p>")
            + (f"<p class='quiet'>Marked again by correction {', '.join(map(str, slot['corrected']))}: see above.{escape(_slot_before(slot, before))}</p>" if slot.get("corrected") else "")
            + _appeal_link(slot, appeals))
    if not question:
        return f"<section class='card keep'><h3>{head}</h3>{body}</section>"
    return f"<details class='card'{'' if slot['right'] and of > LONG else ' open'}><summary>{head}</summary>{body}</details>"


def _answered(slot: dict, question: dict | None, draft: object) -> str:
    """What was given and what is said of it; of what does not count the two are one sentence."""
    said = slot["feedback"]
    if slot["typed"] is None:
        return f"{said.rstrip('.')}: {answer_in_words(question, draft)}. It does not count." if question and draft is not None else said
    return f"{_given(slot, question)} {said}"


def _given(slot: dict, question: dict | None) -> str:
    """An answer with how it was read. The texts of options stand above it, so that letters are enough."""
    typed, read = typed_in_words(slot["typed"], question), slot["read_as"]
    if question and read and read != UNREAD:
        if question["kind"] in LETTERED:
            return f"Chosen: {read if question['kind'] in ('order', 'match') else typed}."
        if question["kind"] == "sheet":
            typed = "; ".join(one or "nothing" for one in slot["typed"])
    elif question:
        typed = answer_in_words(question, slot["typed"])
    return f"Typed: {typed}{f' · read as {read}' if read and read != UNREAD else ''}."


def file_in_words(problem: dict) -> str:
    """A returned file that could not be marked, with whose it is by its name."""
    return f"{problem['file']} ({problem['whose']}'s paper)" if problem.get("whose") else problem["file"]


def _appeal_link(slot: dict, appeals: str) -> str:
    """To the appeal, beside what is not right; beside what was marked again, to how that came."""
    name = "Appeal" if not slot["right"] else "How it was marked again" if slot.get("corrected") else ""
    return f'<p><a href="{escape(appeals)}/{slot["slot"]}">{name}</a></p>' if appeals and name else ""


def _letters(question: dict, typed) -> tuple[str, ...]:
    """The options that were chosen, where the answer is a choice among them."""
    if question["kind"] not in ("one choice", "several choices") or not typed:
        return ()
    return tuple(typed) if isinstance(typed, list) else (typed,)


def answer_in_words(question: dict, typed) -> str:
    """What was typed, each letter followed by the text that stands beside it."""
    if not typed or question["kind"] == "number":
        return typed_in_words(typed, question)
    given = typed if isinstance(typed, list) else [typed]
    if question["kind"] == "sheet":
        return "; ".join(f"{box['label']}: {_with_text(box, one) or 'nothing'}" for box, one in zip(question["boxes"], given, strict=False))
    if question["kind"] == "match":
        return "; ".join(f"{left}: {_with_text(question, one) or 'nothing'}" for left, one in zip(question["left"], given, strict=False))
    return "; ".join(_with_text(question, one) for one in given)


def _with_text(question: dict, letter: str) -> str:
    text = next((option["text"] for option in question["options"] if option["letter"] == letter), "")
    return f"{letter}, {text}" if text and text != letter else letter


def _worth(slot: dict) -> str:
    marks = slot.get("marks", slot["weight"] if slot["right"] else 0)
    parts = " for the parts that are right" if marks else ""
    return f"{marks} marks" if marks == slot["weight"] else f"{marks} of {slot['weight']} marks{parts}"


def typed_in_words(typed, question: dict | None = None) -> str:
    """An answer as it was typed, on one line; a dash for an entry left empty, and semicolons between the boxes where the question is a job sheet.

    >>> typed_in_words(["441 lbf", "", "B"], {"kind": "sheet"}), typed_in_words(["A", "", "C"]), typed_in_words(None)
    ('441 lbf; -; B', 'A, -, C', 'nothing')
    """
    if typed is None:
        return "nothing"
    if not isinstance(typed, list):
        return typed
    mark = "; " if question and question["kind"] == "sheet" else ", "
    return mark.join(str(one).strip() or "-" for one in typed) if any(typed) else "nothing"


def results_csv(results: list[dict]) -> str:
    """One line a candidate and question, for a spreadsheet; no cell can be taken for a formula."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(["candidate_id", "candidate", "paper_id", "question", "skill", "must_be_right", "weight", "right",
                     "marks", "typed", "read_as", "missteps", "score", "out_of", "cut", "passed", "receipt", "marked_at"])
    for result in results:
        for slot in result["slots"]:
            row = [result["candidate"]["id"], result["candidate"]["name"], result["paper_id"], slot["slot"],
                   slot["skill"], _yes(slot["must_be_right"]), slot["weight"], _yes(slot["right"]),
                   slot.get("marks", slot["weight"] if slot["right"] else 0), "" if slot["typed"] is None else typed_in_words(slot["typed"]), slot["read_as"],
                   " ".join(slot["missteps"]), result["score"], result["out_of"], result["cut"]["marks"],
                   _yes(result["passed"]), result["receipt"], result["marked_at"]]
            writer.writerow([_cell(value) for value in row])
    return out.getvalue()


def _yes(value: bool) -> str:
    return "yes" if value else "no"


def _cell(value) -> str:
    """A cell no spreadsheet takes for a formula: one that could be begins with an apostrophe."""
    text = str(value).replace("\x00", "")
    begins = text.lstrip(" \u00a0\ufeff")[:1]
    return f"'{text}" if begins and begins in "=+-@\t\r\n|%＝＋－＠" else text
