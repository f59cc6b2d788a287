"""What each family gives: different texts and answers, what gives an answer away, which missteps are told.

`python -m rigcalc.questions.report` for every family, with names for some of them, `--folder` for your own.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions.composing import compose
from rigcalc.questions.draws import Stream
from rigcalc.questions.drawing import draw
from rigcalc.questions.family import Family, FamilyError, families_and_faults, families_folder, load_families, read_folder, read_own
from rigcalc.questions.giveaways import Gain, found_in
from rigcalc.questions.simulated import Told, guesses_told, missteps_told

__all__ = ["FEWEST", "Look", "answer_of", "drawn_pairs", "look", "main", "reminders", "shown", "signature", "twins"]

FEWEST = 30  # different questions, below which the trade's reason has to stand in the file
DRAWS = 400
SECRET = b"the looks that a report takes at families"


def drawn_pairs(family: Family, shop: Any, draws: int, secret: bytes = SECRET, first: int = 0) -> list[tuple[dict, dict]]:
    """Many draws of a family: (question, key)."""
    found = []
    for number in range(first, first + draws):
        stream = Stream(secret, f"{family.id}/{number}")
        found.append(compose(draw(family, stream, shop), stream, 1))
    return found


def shown(question: dict[str, Any]) -> tuple:
    """What a candidate sees, whatever order it stands in."""
    figure = question["figure"]
    boxes = tuple(box["label"] for box in question["boxes"])
    return (question["text"], question["chart"], tuple(sorted(one["text"] for one in question["options"])),
            tuple(question["left"]), boxes, figure and (figure["svg"] if question["kind"] == "place" else figure["alt"]))


def answer_of(question: dict[str, Any], key: dict[str, Any]) -> str:
    """The right answer as its content, letters turned into what stands beside them."""
    texts = {one["letter"]: one["text"] for one in question["options"]}
    right = key["right"]
    if "row" in right and question["left"]:
        return "; ".join(sorted(f"{left}: {texts[letter]}" for left, letter in zip(question["left"], right["row"], strict=True)))
    letters = right.get("letters") or right.get("row")
    return "; ".join(texts[letter] for letter in letters) if letters else str(right["shown"])


def _call(call: Any) -> str:
    return json.dumps([call.calculation, call.with_, call.value], sort_keys=True, default=str)


def signature(family: Family) -> tuple:
    """Calculation, drawn fields and missteps: what no two families may share."""
    drawn = tuple(sorted((name, one.member_of or one.some_of or one.calculation or "", str(one.one_of), str(one.range))
                         for name, one in family.draw.items()))
    said = tuple(sorted(one.en for one in [*family.right, *family.wrong]))
    boxes = tuple((_call(box.answer), tuple(sorted(_call(one) for one in box.misstep))) for box in family.box)
    return (_call(family.answer), drawn, tuple(sorted(_call(one) for one in family.misstep)), said, boxes,
            json.dumps(family.pools, sort_keys=True, default=str))


def twins(families: Iterable[Family]) -> list[tuple[str, str]]:
    """Families that share calculation, drawn fields and missteps."""
    seen, found = {}, []
    for family in families:
        mark = signature(family)
        if mark in seen:
            found.append((seen[mark], family.id))
        seen.setdefault(mark, family.id)
    return found


@dataclass(frozen=True)
class Look:
    """What a report found of one family."""

    family: Family
    draws: int
    texts: int
    answers: int
    giveaways: list[Gain]
    told: Told
    guessed: Told


def look(family: Family, shop: Any, draws: int = DRAWS) -> Look:
    """Draw a family many times and look at what came."""
    pairs = drawn_pairs(family, shop, draws)
    few = pairs[:max(40, draws // 6)]
    return Look(family, draws, len({shown(question) for question, _ in pairs}),
                len({answer_of(question, key) for question, key in pairs}), giveaways(pairs),
                missteps_told(few), guesses_told(few, Stream(SECRET, "guesses")))


def giveaways(pairs: list[tuple[dict, dict]]) -> list[Gain]:
    """The strategies that gain too much; a figure to be typed has none."""
    return [] if pairs[0][0]["kind"] == "number" else found_in(pairs)


def reminders(found: Look) -> list[str]:
    """What to look at, in sentences; none when all is well."""
    family, said = found.family, []
    if found.texts < FEWEST:
        said.append(f"fewer than {FEWEST} different questions: {family.few_texts or 'NO REASON GIVEN in few_texts'}")
    if found.answers < 2:
        said.append("always the same answer: it is worth one look only")
    for name, share, chance in sorted(found.giveaways, key=lambda one: one[2] - one[1])[:3]:
        said.append(f"given away: '{name}' brings {share:.2f}, chance {chance:.2f}")
    if found.told.share < 0.95:
        said.append(f"only {found.told.share:.2f} of missteps are told as themselves")
    if found.guessed.tried and found.guessed.share > 0.10:
        said.append(f"{found.guessed.share:.2f} of wrong guesses are told a misstep")
    return said


def _line(found: Look) -> str:
    family = found.family
    texts = f"{found.texts}{'' if found.texts < found.draws else '+'}"
    few = " *" if found.texts < FEWEST or found.answers < FEWEST else ""
    return f"{family.id:36} {family.kind:15} {family.level}  {texts:>6} {found.answers:>7}{few}"


def main(arguments: list[str] | None = None) -> int:
    """Print the report; 1 when a family cannot be drawn, 2 with a sentence for each file that cannot be used: the rest goes on."""
    from rigcalc.shop import load_shop, sample_shop_path

    parser = argparse.ArgumentParser(prog="python -m rigcalc.questions.report", description=__doc__.splitlines()[0])
    parser.add_argument("family", nargs="*", help="families to look at (none: all)")
    parser.add_argument("--folder", type=Path, help="a folder of families (none: those in force)")
    parser.add_argument("--shop", type=Path, default=sample_shop_path(), help="a shop file (none: the sample shop)")
    parser.add_argument("--draws", type=int, default=DRAWS, help="draws of each family")
    asked = parser.parse_args(arguments)
    try:
        (families, faults), shop = _loaded(asked.folder), load_shop(asked.shop)
    except (Refusal, OSError) as wrong:
        print(wrong if isinstance(wrong, Refusal) else f"Refused: {asked.shop} cannot be read ({wrong.strerror}).", file=sys.stderr)
        return 2
    for fault in faults:
        print(fault, file=sys.stderr)
    failed = _report(families, shop, asked.family, asked.draws) if families else 0
    return 2 if faults else failed


def _report(families: dict[str, Family], shop: Any, wanted: list[str], draws: int) -> int:
    failed = 0
    print(f"{'family':36} {'kind':15} level texts answers   (of {draws} draws; * fewer than {FEWEST})")
    for name in wanted or families:
        try:
            if name not in families:
                raise Refusal(f"the family '{name[:60]}'", "the id of a family that was read", "look its name up in the list")
            found = look(families[name], shop, draws)
        except Refusal as wrong:
            failed += 1
            print(f"{name:36} CANNOT BE DRAWN: {wrong}")
            continue
        print("\n    ".join([_line(found), *reminders(found)]))
    for one, other in twins(families.values()):
        print(f"{one} and {other} share calculation, drawn fields and missteps")
    return 1 if failed else 0


def _loaded(folder: Path | None) -> tuple[dict[str, Family], list[FamilyError]]:
    """The families in force, or those of a folder, checked against the installed ones as if they were put in force; and what is wrong with the rest."""
    if folder is None:
        return families_and_faults()
    if not folder.is_dir():
        raise Refusal(f"{folder}", "a folder of families", "name the folder that your .toml files lie in")
    shipped = folder.resolve() == families_folder().resolve()
    found, faults = read_folder(folder) if shipped else read_own(folder, load_families(families_folder()))
    if not found and not faults:
        raise Refusal(f"{folder}, in which no .toml file lies", "a folder of families", "name the folder that your .toml files lie in")
    return found, faults


if __name__ == "__main__":
    raise SystemExit(main())
