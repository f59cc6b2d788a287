"""Sheets written on paper: typed, typed again, compared, settled, handed in; both typings are kept."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import datetime

from rigcalc.desk.folder import Desk
from rigcalc.desk.persons import maybe_same, no_candidate, who_it_is
from rigcalc.desk.written import class_of_paper, question_paper, type_in
from rigcalc.errors import Refusal, Refusals
from rigcalc.papers import second_reading
from rigcalc.papers.records import stamp
from rigcalc.papers.second_reading import doubts, meant, second_name, settled, typing

__all__ = ["hand_in_typed", "to_settle", "type_sheet", "typings"]

ALONE_LIMIT = 200  # letters


def typings(desk: Desk, paper_id: str) -> dict:
    """What is kept of a sheet: {"first", "second", "settled"}, each absent until it is there."""
    question_paper(desk, paper_id)
    return desk.kept("typed", paper_id) or {}


def type_sheet(desk: Desk, paper_id: str, answers: dict[int, object], by: str, now: datetime | None = None,
               alone: str = "", as_written: bool = False, dashes: Mapping[int, Collection[int]] | None = None) -> str:
    """Keep one typing of a whole sheet and say which it is, `first` or `second`; nothing is handed in by it.

    The second is typed without seeing the first, by somebody else; by the same person only with `alone`, the reason
    why nobody else can. What the screen would have asked the candidate about is refused once, and kept with `as_written`;
    but for signs in figures, as what is meant by `8,50 kN` is judged by whoever settles the sheet, and for `dashes`: by question, the
    boxes or lines that a dash says are empty.
    """
    kept, paper = typings(desk, paper_id), question_paper(desk, paper_id)
    if "second" in kept or (desk.room / "returned" / f"{paper_id}.json").exists():
        raise Refusal(f"a third typing of paper {paper_id}, or one of a paper handed in", "two typings a sheet",
                      "settle where the two differ, or leave it as it was handed in")
    which = "second" if "first" in kept else "first"
    by, alone = no_candidate(class_of_paper(desk, paper_id)["candidates"], by, "person typing"), " ".join(alone.split())
    kept[which] = typing(paper, answers, by, now)
    questions = {question["slot"]: question for question in paper["questions"]}
    _ask_once(paper, {slot: typed for slot, typed in answers.items() if not (typed and meant(questions[slot], typed))}, as_written, dashes)
    if which == "second" and maybe_same(kept["first"]["by"], by):
        _reasoned(alone, f"{who_it_is(by, kept['first']['by'])}, who typed it first, typing it a second time", "type it")
        kept[which]["alone"] = alone
    desk.keep("typed", paper_id, kept)
    return which


def _ask_once(paper: dict, answers: dict[int, object], as_written: bool, dashes: Mapping[int, Collection[int]] | None) -> None:
    """The candidate cannot be asked any more; whoever types looks at the sheet again, and says that it stands there so."""
    found = [] if as_written else doubts(paper, answers, dashes)
    if found:
        raise Refusals(found, "what stands on the sheet",
                      "look at the sheet again: the screen would have asked the candidate, you cannot; add nothing of your own; if it stands there so, "
                      "tick that it is written so, and it is filed as written")


def _reasoned(why: str, who: str, what: str) -> None:
    if not 1 <= len(why) <= ALONE_LIMIT:
        raise Refusal(who, f"somebody else, or a reason of 1 to {ALONE_LIMIT} letters", f"have somebody else {what}, or write why nobody else can")


def to_settle(desk: Desk, paper_id: str) -> list[dict]:
    """The questions in which the two typings differ, and those whose signs in figures somebody has to judge (`meant`)."""
    kept = _both(desk, paper_id)
    return second_reading.to_settle(question_paper(desk, paper_id), kept["first"], kept["second"])


def hand_in_typed(desk: Desk, paper_id: str, chosen: dict[int, object], by: str = "", now: datetime | None = None, alone: str = "",
                  as_written: bool = False, dashes: Mapping[int, Collection[int]] | None = None) -> dict:
    """Hand in a sheet typed twice; who settled the differences, and how, is kept with both typings.

    Whoever typed it settles only with `alone`, the reason why nobody else could. What stands in neither typing is asked about once.
    """
    kept, alone = _both(desk, paper_id), " ".join(alone.split())
    rows = to_settle(desk, paper_id)
    answers = settled(kept["first"], rows, chosen)
    by = no_candidate(class_of_paper(desk, paper_id)["candidates"], by, "person settling the differences") if rows else kept["second"]["by"]
    typist = next((one["by"] for one in (kept["second"], kept["first"]) if rows and maybe_same(one["by"], by)), "")
    if typist:
        _reasoned(alone, f"{who_it_is(by, typist)}, who typed it, settling where the typings differ", "settle it")
    other = {row["slot"]: chosen[row["slot"]] for row in rows if chosen[row["slot"]] not in (row["first"], row["second"], *row.get("meant", ()))}
    _ask_once(question_paper(desk, paper_id), other, as_written, dashes)
    record = type_in(desk, paper_id, answers, kept["first"]["by"], second_name(kept["first"], kept["second"]), now)
    kept["settled"] = {"by": by, "at": stamp(now), "answers_sha256": record["answers_sha256"],
                       "differences": [row | {"chosen": chosen[row["slot"]]} for row in rows]} | ({"alone": alone} if typist else {})
    desk.keep("typed", paper_id, kept)
    return record


def _both(desk: Desk, paper_id: str) -> dict:
    kept = typings(desk, paper_id)
    if "second" not in kept:
        raise Refusal(f"a sheet of paper {paper_id} that was not typed twice", "two typings", "type it a second time first")
    return kept
