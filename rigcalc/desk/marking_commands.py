"""`rigcalc papers CLASS` and `rigcalc correct CLASS`: two acts of the desk without its pages."""

from __future__ import annotations

import argparse
from pathlib import Path

from rigcalc.desk import work
from rigcalc.desk.correcting import certificates_in_words, with_certificates
from rigcalc.desk.forms import counted
from rigcalc.errors import Refusal
from rigcalc.papers.blueprint import rules_in_words
from rigcalc.papers.correcting import changes_in_words
from rigcalc.papers.cut import cut_as_kept
from rigcalc.papers.results import cut_in_words, shares_in_words

__all__ = ["correct_class", "look_at_papers"]


def _words(name: str, does: str) -> argparse.ArgumentParser:
    words = argparse.ArgumentParser(prog=f"rigcalc {name}", description=does)
    words.add_argument("class_id", metavar="CLASS", help="the class, as its address at the desk names it")
    words.add_argument("--folder", type=Path, help="the workbook folder (else RIGCALC_HOME, else cable-workbook at home)")
    return words


def look_at_papers(argv: list[str]) -> int:
    """Tell how evenly hard a class's papers will be, before they are set at the desk; nothing is entered."""
    words = _words("papers", "How evenly hard a class's papers will be, before they are set.")
    words.add_argument("--blueprint", help="the blueprint's name (else narrow)")
    asked = words.parse_args(argv)
    desk, name = work.open_desk(asked.folder), asked.blueprint or "narrow"
    plan = work.blueprint_in_force(desk, name)
    spread = work.spread_before_setting(desk, asked.class_id, name)
    if not asked.blueprint:
        print("No --blueprint was given, so this is narrow.")
    for line in (plan.title, *rules_in_words(plan), cut_in_words(cut_as_kept(plan.cut, plan.question)), *filter(None, [shares_in_words(plan)]), *work.notes_before_setting(desk, plan), "", *spread.in_words()):
        print(line)
    if desk.entries("paper issued", **{"class": asked.class_id}):
        print("This class's papers are set already; this is what a new setting would give.")
    return 0


def correct_class(argv: list[str]) -> int:
    """Show whom a correction moves; with --enter mark the class again and enter it. Both results are kept."""
    words = _words("correct", "Mark a class again after a question or its key was wrong. Without --enter nothing is changed.")
    words.add_argument("--family", required=True, help="the question family that was wrong")
    words.add_argument("--way", required=True, help="; ".join(f"{way}: {does}" for way, does in work.WAYS.items()))
    words.add_argument("--misstep", default="", help="the misstep that counts as right, for that way")
    words.add_argument("--by", required=True, action="append", help="who corrects: first and family name, in quotes")
    words.add_argument("--why", required=True, help="what was wrong")
    words.add_argument("--second", default="", help="who agrees, where somebody loses marks or the pass: not who corrects, not who marked")
    words.add_argument("--enter", action="store_true", help="enter it: mark again, keep both results")
    words.add_argument("--shown", help="with --enter: the mark that the look printed; refused where it would do something else by now")
    asked, more = words.parse_known_args(argv)
    if more:
        raise Refusal(f"{' '.join(more)!r}, which belongs to no option", "CLASS and the options that --help names, a name of two words in quotes",
                      'write it as in --by "Ines Varrow"')
    if len(asked.by) > 1:
        raise Refusal(f"--by {len(asked.by)} times", "one person, who answers for the correction", "name that one, first and family name in quotes")
    if asked.shown and not asked.enter:
        raise Refusal("--shown without --enter", "--shown beside --enter", "leave it out to look")
    act = work.correct_marking if asked.enter else work.look_at_correction
    desk = work.open_desk(asked.folder)
    done = act(desk, asked.class_id, asked.way, asked.family, asked.by[0], asked.why, asked.misstep, second=asked.second, shown=asked.shown)
    for row in with_certificates(desk, asked.class_id, done["moves"]):
        crosses = f"  {row['crosses'].upper()}" if row["crosses"] else ""
        certificate = "".join(f"  (certificate {one})" for one in certificates_in_words(row))
        print(f"{row['candidate']['name']}: {row['score_before']} to {row['score_after']} marks{crosses}{certificate}")
    for line in changes_in_words(done["moves"], done["correction"]["appeals_kept"]):
        print(line)
    crossed = sum(bool(row["crosses"]) for row in done["moves"])
    print(f"{counted(len(done['moves']), 'marked paper')} had the question, {crossed} move{'s' * (crossed == 1)} across the cut.")
    if not asked.enter and done["second_needed"]:
        print("This takes marks from somebody: to enter it name with --second a person who agrees, neither who corrects nor who marked.")
    print("Entered in the register; both results are kept." if asked.enter else f"Nothing is changed: add --enter to enter it, with --shown {done['shown']} just as it is shown here.")
    return 0
