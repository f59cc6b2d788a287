"""`rigcalc quiz`, `rigcalc simulate` and `rigcalc exchange`: how good the quiz is, whom it decides rightly, questions for elsewhere."""

from __future__ import annotations

import argparse
import inspect
import os
import re
import sys
from difflib import get_close_matches
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import desk_folder, shop_file
from rigcalc.papers.askable import askable_text
from rigcalc.papers.blueprint import Place, load_blueprint
from rigcalc.papers.exchange import qti_package
from rigcalc.papers.issue import one_question
from rigcalc.papers.quality import kept_sittings, quality
from rigcalc.papers.quality_words import quality_text
from rigcalc.papers.records import write_synced
from rigcalc.papers.simulation import simulate
from rigcalc.questions import Stream, load_families
from rigcalc.questions.family import Family, FamilyError, families_and_faults, own_families_folder
from rigcalc.shop import Shop, load_shop

__all__ = ["how_good", "package_questions", "simulate_candidates"]

LOOKED_AT = 200  # draws to count a family's different questions


def how_good(argv: list[str]) -> int:
    """Tell how good the quiz is, from kept results."""
    words = argparse.ArgumentParser(prog="rigcalc quiz", description="How good is the quiz? From kept results.")
    words.add_argument("--results", type=Path, help="the folder of results (else desk/results of the workbook's folder)")
    words.add_argument("--keys", type=Path, help="the folder of key records (else desk/keys)")
    words.add_argument("--blueprint", default="", help="which blueprint and version, such as full-1, where there are several")
    words.add_argument("--class", dest="class_id", default="", help="one class alone")
    words.add_argument("--family", default="", help="see one question family, installed or your own: three draws with their answers and what each receives")
    words.add_argument("--calculations", nargs="?", const="", metavar="WORD", help="every calculation that a family may name, or those that speak of a word")
    words.add_argument("--skills", nargs="*", metavar="LESSON", help="for planning a blueprint: every skill with its levels, families and minutes; "
                       "of lessons (04, or 04-09) or of a word alone")
    asked = words.parse_args(argv)
    if asked.family:
        return _see_family(asked.family)
    if asked.skills is not None:
        families, faults = families_and_faults()
        print(askable_text(families, asked.skills, load_shop()), end="")
        _tell(faults)
        return 0
    if asked.calculations is not None:
        return _see_calculations(asked.calculations)
    results = asked.results or desk_folder() / "results"
    if not results.is_dir():
        raise Refusal(f"{results}", "a folder of results", "mark what was handed in first")
    found, damaged = kept_sittings(asked.keys or desk_folder() / "keys", results)
    found = [one for one in found if asked.class_id in ("", one.class_id)]
    there = {f"{name}-{version}": (name, version) for name, version in {one.blueprint for one in found}}
    if len(there) > 1 and not asked.blueprint or asked.blueprint and asked.blueprint not in there:
        raise Refusal(f"the blueprint '{asked.blueprint}'", ", ".join(sorted(there)) or "a blueprint with marked papers", "name it with --blueprint")
    print(quality_text(quality(found, there.get(asked.blueprint)), damaged), end="")
    return 0


def _see_family(name: str) -> int:
    """Three draws of one family, as a candidate and as the key sees them."""
    from rigcalc.notebook.worked_examples import drawn

    families, faults = families_and_faults()
    own = next((fault for fault in faults if name in (fault.file, Path(fault.file).stem, _id_in(fault.file))), None)
    if own and name not in families:
        raise own
    if name in families:
        shop = load_shop()
        print(drawn(families[name], shop), end="")
        _tell_few(families[name], shop)
    _tell(faults)
    if name not in families:
        near = get_close_matches(name, families, 3) or sorted(families)[:3]
        raise Refusal(f"the family '{name[:60]}'", f"the id of a family in force, such as {', '.join(near)}", "give its id, which stands in its file")
    return 0


def _id_in(file: str) -> str:
    """The id that an own file says it has, though it cannot be used; empty where it says none."""
    try:
        found = re.search(r"""^\s*id\s*=\s*["']([^"']*)["']""", (own_families_folder() / file).read_text(encoding="utf-8"), re.MULTILINE)
    except (OSError, UnicodeDecodeError):
        return ""
    return found[1] if found else ""


def _tell_few(family: Family, shop: Shop) -> None:
    """A line where so few different questions can be drawn that the family must say why."""
    from rigcalc.questions.report import FEWEST, drawn_pairs, shown

    texts = len({shown(question) for question, _ in drawn_pairs(family, shop, LOOKED_AT)})
    if texts < FEWEST:
        told = f"Its reason, in few_texts: {family.few_texts}" if family.few_texts else (
            'Draw more, or give the trade\'s reason: few_texts = "why there are so few".')
        print(f"\nLOOK: {LOOKED_AT} draws gave {texts} different question{'s' * (texts != 1)}, fewer than {FEWEST}. {told}")


def _tell(faults: list[FamilyError]) -> None:
    for fault in faults:
        print(f"An own family that cannot be used: {fault}", file=sys.stderr)


def _see_calculations(word: str) -> int:
    """The calculations of a family, with what each takes and gives."""
    from rigcalc.questions.naming import calculations_like, said_of
    from rigcalc.questions.registry import CALCULATIONS

    found = calculations_like(word) if word else sorted(CALCULATIONS)
    if not found:
        raise Refusal(f"the word '{word[:60]}'", "a word that a calculation speaks of, such as limit, tail or sag", "leave the word out to see them all")
    for name in found:
        print(f"{name}({', '.join(inspect.signature(CALCULATIONS[name]).parameters)})\n    {said_of(name)}")
    return 0


def simulate_candidates(argv: list[str]) -> int:
    """Simulate candidates of known ability and tell how many are decided rightly."""
    words = argparse.ArgumentParser(prog="rigcalc simulate", description="Simulated candidates of known ability: how many are decided "
                                    "rightly at the cut. It says how a paper of this plan behaves, not how your people do.")
    words.add_argument("--blueprint", default="full", help="the blueprint's name or file (else full)")
    words.add_argument("--candidates", type=int, default=10_000, help="how many (else 10000)")
    words.add_argument("--papers", type=int, default=100, help="on how many different papers (else 100)")
    words.add_argument("--draw", default="1", help="another word, other candidates")
    asked = words.parse_args(argv)
    for line in simulate(load_blueprint(asked.blueprint), load_families(), asked.candidates, asked.papers, asked.draw).in_words():
        print(line)
    return 0


def package_questions(argv: list[str]) -> int:
    """Write newly drawn questions, with their right answers, as a QTI 3.0 package."""
    words = argparse.ArgumentParser(prog="rigcalc exchange", description="Newly drawn questions as a QTI 3.0 package, with their right answers: "
                                    "one choice, number with tolerance, order. Not validated against the official schema, which could not be had.")
    words.add_argument("file", type=Path, help="the package to write (.zip)")
    words.add_argument("--family", action="append", default=[], help="a question family; again for more (else all that can be)")
    words.add_argument("--each", type=int, default=1, help="questions drawn from each family (else 1)")
    asked = words.parse_args(argv)
    families = load_families()
    wanted = asked.family or sorted(families)
    unknown = [name for name in wanted if name not in families]
    if unknown or not 1 <= asked.each <= 100:
        raise Refusal(f"the family '{unknown[0]}'" if unknown else f"{asked.each} questions of each family",
                      "a family of quizzes/families/, 1 to 100 questions of each", "look its name up there")
    made = qti_package(_drawn(families, wanted, asked.each))
    write_synced(asked.file, made.data, 0o600)
    print(f"{len(made.items)} questions are in {asked.file}, with their right answers: keep it as you keep keys.")
    for name, why in made.left_out if asked.family else []:
        print(f"Left out: {name}: {why}")
    if made.left_out and not asked.family:
        print(f"Left out: {len(made.left_out)} of other kinds, or that may be answered with the word refuse.")
    return 0


def _drawn(families, wanted: list[str], each: int):
    from rigcalc.shop.load import load_shop, sample_shop_path

    shop = load_shop(shop_file() if shop_file().exists() else sample_shop_path())
    stream = Stream(os.urandom(32), "exchange")
    for name in wanted:
        family = families[name]
        for number in range(1, each + 1):
            yield one_question(Place(family.skill, family.level, 1), 0, 1, family, shop, stream.sub(f"{name} {number}"))
