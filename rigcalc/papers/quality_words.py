"""How good the quiz is, in plain sentences: what the figures say, what to do, and what cannot be concluded."""

from __future__ import annotations

import statistics as plain
from typing import NamedTuple

from rigcalc.papers.balance import ENOUGH
from rigcalc.papers.quality import FamilyResult, PlaceResult, Quality

__all__ = ["Verdict", "at_the_cut", "between_papers", "cannot_be_concluded", "place_words", "quality_text", "the_paper", "too_few", "verdict",
           "verdicts"]

FEW_PAPERS = (f"Below {ENOUGH} papers no reliability, standard error or consistency is shown: from so few it cannot be concluded whether the "
              "paper tells people apart, or whether another such paper would decide alike.")
OFTEN_EMPTY = 0.1  # of those asked (house assumption)


class Verdict(NamedTuple):
    """A family with what is said of it; `look` is 2 for 'act', 1 for 'look again', 0 for nothing to do, -1 for too few results."""

    family: FamilyResult
    look: int
    said: list[str]


def figure(value: float, places: int = 2) -> str:
    """A figure as these pages show it, never as -0.

    >>> figure(-0.0001), figure(0.5917)
    ('0.00', '0.59')
    """
    return f"{value:.{places}f}".replace("-0.00", "0.00") if abs(value) < 0.005 else f"{value:.{places}f}"


def verdict(one: FamilyResult) -> Verdict:
    """What is said of a family; below 30 results no verdict."""
    told = f"{one.right} of {one.asked} right"
    if not one.asked:
        return Verdict(one, -1, ["Every answer was put right after marking: none counts for the question itself. No verdict."])
    if one.asked < ENOUGH:
        return Verdict(one, -1, [f"{told}. Below {ENOUGH} results: no verdict."])
    look, sentence = _hardness(one, told) or _telling(one, told)
    said = [sentence, *_choices(one)]
    if one.misleading:
        look = 2
        said.append(f"Those who took {_listed(one.misleading)} have more marks on the rest than those who were right: "
                    "is that answer right too? Check the key and the wording.")
    if one.empty > OFTEN_EMPTY * one.asked:
        look = max(look, 1)
        said.append(f"{one.empty} of {one.asked} left it empty: is it understood, and is there time for it?")
    return Verdict(one, look, said)


def _hardness(one: FamilyResult, told: str) -> tuple[int, str] | None:
    low, high = one.interval
    if one.right == one.asked and one.must_be_right:
        return 0, f"{told}: nobody gets this wrong. It must be right, so that is as it should be."
    if one.right == one.asked:
        return 2, (f"{told}: nobody gets this wrong: retire it, or ask it harder. Of people like these at most "
                   f"{100 * (1 - low):.0f} in 100 would miss it.")
    if one.right == 0:
        return 2, f"{told}: nobody gets this right: check the key, then whether it is taught."
    return None


def _telling(one: FamilyResult, told: str) -> tuple[int, str]:
    if one.item_rest is None:
        return 1, f"{told}. The rest of their marks is the same for all: nothing can be said of whom it tells apart."
    low, high = one.item_rest_interval
    how = f"correlation with the rest {figure(one.item_rest)}, {figure(low)} to {figure(high)}"
    if high < 0:
        return 2, f"{told}. The strong miss it: check the key ({how})."
    if low > 0:
        return 0, f"{told}. The strong get it right more often than the weak ({how})."
    return 1, f"{told}. It does not surely tell the strong from the weak ({how}): look again with more results."


def _choices(one: FamilyResult) -> list[str]:
    said = []
    wrong = one.asked - one.right
    if one.missteps:
        rows = ", ".join(f"{name} {count}" for name, count in one.missteps.most_common())
        said.append(f"Of {wrong} not right, missteps told: {rows}." + (f" Wrong in another way: {one.other_wrong}." if one.other_wrong else ""))
    elif one.other_wrong:
        said.append(f"{one.other_wrong} were wrong in a way no misstep names: is one missing?")
    if one.not_read:
        said.append(f"Not read, with unit or form missing: {one.not_read}; they say nothing of the question's missteps.")
    if one.never and wrong:
        said.append(f"Nobody took {_listed(one.never)}: {'a wrong answer' if len(one.never) == 1 else 'wrong answers'} that nobody takes may be "
                    "replaced.")
    return said


def _listed(names) -> str:
    return " or ".join(f"'{name}'" for name in names)


def verdicts(found: Quality) -> list[Verdict]:
    """Every family, what needs a look first."""
    return sorted((verdict(one) for one in found.families), key=lambda one: (-one.look, one.family.family, one.family.version))


def the_paper(found: Quality) -> list[str]:
    """The paper as a whole."""
    name = "KR-20" if found.is_kr_20 else "Cronbach's alpha"
    lines = [f"{_many(found.papers, 'paper')} of {_many(found.classes, 'class', 'classes')}, blueprint {found.blueprint[0]}, version {found.blueprint[1]}. "
             f"Mean {found.mean:.1f} of {found.out_of} marks"
             + (f", standard deviation {found.deviation:.1f}." if found.deviation is not None else ".")]
    if found.papers < ENOUGH:
        return [*lines, FEW_PAPERS]
    if found.alpha.value is None:
        return [*lines, "The marks do not differ, or there is one paper only: no reliability can be worked out."]
    lines.append(f"Reliability ({name}, {found.alpha.questions} places): {figure(found.alpha.value)}, 95 % interval {figure(found.alpha.low)} to "
                 f"{figure(found.alpha.high)} (Feldt's method).")
    lines.append("Reliability below zero or of one: the places don't measure one thing here, so there is no standard error."
                 if found.error is None else
                 f"Standard error of measurement: {found.error:.1f} marks. Somebody's marks on another such paper lie within that of "
                 "their own level about two times in three.")
    return lines


def at_the_cut(found: Quality) -> list[str]:
    """Decision consistency, who is near the cut, and what moving it would change."""
    lines = [f"{found.passed} of {found.papers} passed at {found.cut} marks."]
    enough = found.papers >= ENOUGH
    if enough and found.error is not None:
        near = sum(abs(score - found.cut) <= found.error for score in found.scores)
        lines.append(f"{near} of {found.papers} lie within one standard error of the cut: for them another paper might decide otherwise.")
    if enough and found.consistency is not None:
        same, chance = found.consistency.share, found.consistency.by_chance
        kappa = "" if found.consistency.kappa is None else f"; kappa {figure(found.consistency.kappa)}"
        lines.append(f"Decided alike by two such papers: {100 * same:.0f} in 100 (by chance alone {100 * chance:.0f}{kappa}). Worked out from "
                     "one sitting by the beta-binomial with an effective length (Huynh; Livingston and Lewis); marks only, must-be-right "
                     "questions left aside.")
    here = dict(found.moves)[found.cut]
    changed = [(at, passing - here) for at, passing in found.moves if passing != here]
    lower, higher = [one for one in changed if one[0] < found.cut], [one for one in changed if one[0] > found.cut]
    lines.append("Ten marks up or down would change nobody's result." if not changed else "Moving the cut: " + "; ".join(
        f"at {at} marks, {_many(abs(more), 'paper')} {'more' if more > 0 else 'fewer'} would pass" for at, more in _steps(lower, higher)) + ".")
    return lines


def _steps(lower: list, higher: list) -> list:
    """The nearest change on both sides, and the farthest where it is another; both at the cut nearest to the one in force."""
    below = {more: (at, more) for at, more in lower}
    above = {more: (at, more) for at, more in reversed(higher)}
    less, more_marks = ([max(below), min(below)] if below else []), ([max(above), min(above)] if above else [])
    return [*(below[more] for more in dict.fromkeys(less)), *(above[more] for more in dict.fromkeys(more_marks))]


def between_papers(found: Quality) -> list[str]:
    """How far the papers' hardness lies apart, and where."""
    mixed = [place for place in found.places if len(place.families) > 1]
    if not mixed:
        return ["All papers had the same families at every place; they differ in their values only."]
    known = sum(one.asked >= ENOUGH for one in found.families)
    lines = [f"At {len(mixed)} of {len(found.places)} places the papers had different families."]
    if known:
        lines.append(f"Somebody like all of these would expect {min(found.expected):.1f} to {max(found.expected):.1f} marks, by the paper "
                     f"(standard deviation {plain.pstdev(found.expected):.1f}); {known} of {len(found.families)} families have {ENOUGH} results "
                     "for that, for the others their place stands.")
    else:
        lines.append(f"No family has {ENOUGH} results: whether some papers were harder cannot be said.")
    return lines


def place_words(place: PlaceResult) -> str:
    """A place, and where its families seem to differ."""
    if place.share is None:
        return "struck for everybody: nothing is said of it."
    told = f"{100 * place.share:.0f} in 100 of its marks; correlation with the rest " + (
        f"not shown below {ENOUGH} papers" if sum(asked for _, asked in place.families.values()) < ENOUGH else
        "none, as nothing varies" if place.item_rest is None else figure(place.item_rest))
    sure = {name: (right / asked, right, asked) for name, (right, asked) in place.families.items() if asked >= ENOUGH}
    if len(sure) > 1:
        easy, hard = max(sure, key=lambda name: sure[name][0]), min(sure, key=lambda name: sure[name][0])
        told += (f"; {easy} {sure[easy][1]} of {sure[easy][2]} right, {hard} {sure[hard][1]} of {sure[hard][2]}")
    return told + "."


def cannot_be_concluded(found: Quality) -> list[str]:
    """What these figures do not say."""
    few = sum(one.asked < ENOUGH for one in found.families)
    lines = []
    if few:
        lines.append(f"{few} of {len(found.families)} families have fewer than {ENOUGH} results: nothing is said about them here.")
    if found.papers < ENOUGH:
        lines.append(FEW_PAPERS)
    if any(len(place.families) > 1 for place in found.places):
        lines.append("Candidates had different families at some places. A harder family counts as error of measurement here, and a family's "
                     "correlation is with marks on other people's other families: both come out a little worse than they are.")
    if any(row.must_be_right for row in found.families):
        lines.append("Must-be-right questions decide alone. How surely each of them decides is not in the consistency; it rests on one answer.")
    return [*lines,
            "Whether the questions ask what the work needs is for people who know the work. Figures cannot say it.",
            "These are the people who sat here. Among others, better or less well taught, every figure would be another.",
            "A question that all get right may be well taught. That it tells nobody from anybody is no fault of the lesson."]


def too_few(found: Quality) -> tuple[str, list[str]]:
    """The families below 30 results: one sentence for all of them, and a line for each; both empty where there are none."""
    rows = [one for one in verdicts(found) if one.look < 0]
    if not rows:
        return "", []
    return (f"{_many(len(rows), 'family', 'families')} with fewer than {ENOUGH} results: whether such a question is good or bad cannot be concluded.",
            [f"{one.family.family} (version {one.family.version}): " + (f"{one.family.right} of {one.family.asked} right" if one.family.asked else
             "every answer was put right after marking, none counts for the question itself") for one in rows])


def quality_text(found: Quality, damaged: list[str] = ()) -> str:
    """All of it as plain lines."""
    parts = [("The paper as a whole", the_paper(found)), ("At the cut", at_the_cut(found)), ("Between the papers", between_papers(found)),
             ("Families, what needs a look first", [f"{one.family.family} (version {one.family.version}), {exposure(one.family)}: "
                                                    + " ".join(one.said) for one in verdicts(found) if one.look >= 0] + _few_in_text(found)),
             ("Places", [f"{place.place}. {place.skill}: {place_words(place)}" for place in found.places]),
             ("What cannot be concluded", cannot_be_concluded(found))]
    if damaged:
        parts.insert(0, ("Left out", [f"{name}: the result or its key record cannot be read." for name in damaged]))
    return "\n".join(f"{head}\n" + "".join(f"  {line}\n" for line in lines) for head, lines in parts)


def _few_in_text(found: Quality) -> list[str]:
    sentence, rows = too_few(found)
    return [f"{sentence} {'; '.join(rows)}."] if rows else []


def exposure(one: FamilyResult) -> str:
    """How often a family was on papers."""
    return f"on {_many(one.papers, 'paper')} of {_many(one.classes, 'class', 'classes')}, last issued {one.last}"


def _many(number: int, one: str, more: str = "") -> str:
    return f"{number} {one if number == 1 else more or one + 's'}"
