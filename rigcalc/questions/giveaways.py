"""What gives an answer away to somebody who knows nothing: place, rank, middle, length, drawing order, wording.

Every strategy names letters without looking at the key. How often it is right is held against chance. Needs pairs of
question and key, as `compose` gives them, many of one family.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache
from math import comb, factorial, log
from typing import Any

__all__ = ["CAUTIOUS", "MARGIN", "Gain", "cautious_share", "found_in", "gains", "words_of", "wording_share"]

MARGIN = 0.10  # what a strategy may gain over chance
CAUTIOUS = re.compile(r"\b(stops?|asks?|refuses?|refused|rejects?|none|nobody|nothing|never|not|no|scrap|unpressed|"
                      r"out of (?:use|service)|put aside|cannot)\b", re.IGNORECASE)
Pair = tuple[dict[str, Any], dict[str, Any]]
Gain = tuple[str, float, float]  # the strategy, how often it is right, chance


def _size(text: str) -> tuple:
    first = text.split()[0]
    try:
        return (0, Fraction(first), len(text))
    except (ValueError, ZeroDivisionError):
        return (1, Fraction(len(text)), 0)


def _letters_drawn(question: dict[str, Any]) -> list[str]:
    """The letters of a drawing in the order in which its parts stand in the file."""
    wanted = {option["letter"] for option in question["options"]}
    found = re.findall(r"<text[^>]*>([^<]*)</text>", (question["figure"] or {}).get("svg", ""))
    return [text for text in found if text in wanted]


def _rows_of(question: dict[str, Any]) -> dict[str, list[str]]:
    """The letters in every order that means nothing: on the page, by size, by length, in the drawing's file."""
    options = question["options"]
    rows = {"place": [one["letter"] for one in options],
            "size rank": [one["letter"] for one in sorted(options, key=lambda one: _size(one["text"]))],
            "length rank": [one["letter"] for one in sorted(options, key=lambda one: len(one["text"]))]}
    if question["kind"] == "place":
        rows = {"place": sorted(rows["place"]), "drawing rank": _letters_drawn(question)}
    return {name: row for name, row in rows.items() if row}


def _one_letter(question: dict[str, Any]) -> dict[str, list[str]]:
    """Strategies for one letter: each names a letter, or several alike."""
    tried = {f"{name} {at}": [letter] for name, row in _rows_of(question).items() for at, letter in enumerate(row, 1)}
    if question["kind"] == "one choice":
        options, lengths = question["options"], [len(one["text"]) for one in question["options"]]
        tried["longest"] = [one["letter"] for one in options if len(one["text"]) == max(lengths)]
        tried["shortest"] = [one["letter"] for one in options if len(one["text"]) == min(lengths)]
        if len(options) > 2:
            tried["middle"] = _rows_of(question)["size rank"][1:-1]
    return tried


def _mean(found: Counter, times: Counter) -> dict[str, float]:
    return {name: found[name] / times[name] for name in times}


def _choice_gains(pairs: list[Pair]) -> list[Gain]:
    found, times, chances = Counter(), Counter(), []
    for question, key in pairs:
        chances.append(1 / len(question["options"]))
        for name, letters in _one_letter(question).items():
            times[name] += 1
            found[name] += (key["right"]["letter"] in letters) / len(letters)
    chance = sum(chances) / len(chances)
    return [(name, share, chance) for name, share in _mean(found, times).items() if times[name] >= len(pairs) / 2]


def _several_gains(pairs: list[Pair]) -> list[Gain]:
    """What part of the mark comes to whoever takes the first or last few, the middle, or the one at a place."""
    found, chance, times = Counter(), Counter(), Counter()
    for question, key in pairs:
        rights, count = set(key["right"]["letters"]), len(question["options"])
        for name, chosen in _masks(question).items():
            times[name] += 1
            found[name] += max(0, 2 * len(rights & set(chosen)) - len(chosen)) / len(rights)
            chance[name] += _blind_share(count, len(rights), len(chosen))
    return [(name, share, chance[name] / times[name]) for name, share in _mean(found, times).items()
            if times[name] >= len(pairs) / 2]


def _masks(question: dict[str, Any]) -> dict[str, list[str]]:
    tried = {}
    for name, row in _rows_of(question).items():
        tried |= {f"{name} {at}": [letter] for at, letter in enumerate(row, 1)}
        tried |= {f"{name}, first {count}": row[:count] for count in range(2, len(row))}
        tried |= {f"{name}, last {count}": row[-count:] for count in range(2, len(row))}
        tried[f"{name}, middle"] = row[1:-1]
    return tried


@lru_cache(maxsize=None)
def _blind_share(options: int, rights: int, taken: int) -> float:
    """What part of the mark comes to whoever takes so many options blindly."""
    ways = [comb(rights, hit) * comb(options - rights, taken - hit) * max(0, 2 * hit - taken) for hit in range(taken + 1)]
    return sum(ways) / comb(options, taken) / rights


def _order_gains(pairs: list[Pair]) -> list[Gain]:
    found, times, chances = Counter(), Counter(), []
    for question, key in pairs:
        rows = _rows_of(question) | {"drawing rank": _letters_drawn(question)}
        wanted = key["right"]["row"]
        chances.append(1 / factorial(len(wanted)))
        for name, row in rows.items():
            for way, tried in (("", row), (" reversed", row[::-1])):
                times[name + way] += 1
                found[name + way] += tried == wanted
    return [(name, share, sum(chances) / len(chances)) for name, share in _mean(found, times).items()]


def _match_gains(pairs: list[Pair]) -> list[Gain]:
    """For a line of a match: the letter at a place, the longest text beside the longest, and the text with its words."""
    found, times, chances = Counter(), Counter(), []
    for question, key in pairs:
        options, wanted = question["options"], key["right"]["row"]
        chances.append(1 / len(options))
        by_length = sorted(range(len(wanted)), key=lambda at: len(question["left"][at]))
        long_row = _rows_of(question)["length rank"]
        for at, letter in enumerate(wanted):
            for place, option in enumerate(options, 1):
                times[f"line {at + 1} place {place}"] += 1
                found[f"line {at + 1} place {place}"] += option["letter"] == letter
            times["length beside length"] += 1
            found["length beside length"] += long_row[by_length.index(at) * len(long_row) // len(wanted)] == letter
            alike = _most_alike(question["left"][at], options)
            times["the same words"] += 1
            found["the same words"] += (letter in alike) / len(alike)
    return [(name, share, sum(chances) / len(chances)) for name, share in _mean(found, times).items()]


def _most_alike(text: str, options: list[dict[str, str]]) -> list[str]:
    shared = {one["letter"]: len(words_of(text) & words_of(one["text"])) for one in options}
    return [letter for letter, count in shared.items() if count == max(shared.values())]


def gains(pairs: list[Pair]) -> list[Gain]:
    """Every strategy with how often it is right and what chance would give; of a sheet, box by box."""
    kind = pairs[0][0]["kind"]
    makers = {"one choice": _choice_gains, "place": _choice_gains, "several choices": _several_gains,
              "order": _order_gains, "match": _match_gains}
    if kind in makers:
        return makers[kind](pairs)
    found: list[Gain] = []
    for at in range(len(pairs[0][0]["boxes"])):
        boxes = [(question["boxes"][at] | {"figure": None}, key["boxes"][at]) for question, key in pairs]
        if boxes[0][0]["kind"] == "one choice":
            found += [(f"box {at + 1}: {name}", share, chance) for name, share, chance in _choice_gains(boxes)]
    return found


def found_in(pairs: list[Pair]) -> list[Gain]:
    """The strategies that gain more than they may."""
    return [one for one in gains(pairs) if one[1] > one[2] + MARGIN]


# --- wording ------------------------------------------------------------------------------------

def words_of(text: str) -> set[str]:
    """The words of a text, in small letters; figures are no words, nor are `the` and the like of up to three letters."""
    return set(re.findall(r"[a-z][a-z']{3,}", text.lower()))


def _rights(key: dict[str, Any]) -> set[str]:
    return set(key["right"].get("letters") or [key["right"].get("letter")])


def _counts(made: dict[str, list[Pair]]) -> dict[str, tuple[Counter, Counter, int, int]]:
    """For each family: in how many of its different right and wrong options a word stands."""
    found = {}
    for name, pairs in made.items():
        right = {one["text"] for question, key in pairs for one in question["options"] if one["letter"] in _rights(key)}
        wrong = {one["text"] for question, key in pairs for one in question["options"] if one["letter"] not in _rights(key)}
        both = right & wrong
        right, wrong = right - both, wrong - both
        found[name] = (Counter(word for text in right for word in words_of(text)),
                       Counter(word for text in wrong for word in words_of(text)), len(right), len(wrong))
    return found


def wording_share(made: dict[str, list[Pair]]) -> dict[str, tuple[float, float]]:
    """For each family of choices: how often a count of words, taken in all the other families, finds a right option.

    Returns family to (how often it is right, chance). Words that stand more often in right options elsewhere speak for
    an option, words that stand more often in wrong ones against it; the option with the most for it is taken.
    """
    counts, found = _counts(made), {}
    total = [sum((one[side] for one in counts.values()), Counter() if side < 2 else 0) for side in range(4)]
    for name, pairs in made.items():
        right, wrong = total[0] - counts[name][0], total[1] - counts[name][1]
        rights, wrongs = total[2] - counts[name][2], total[3] - counts[name][3]

        def weight(text: str) -> float:
            return sum(log((right[word] + 1) / (rights + 2)) - log((wrong[word] + 1) / (wrongs + 2))
                       for word in words_of(text) if right[word] + wrong[word] > 2)

        found[name] = _share(pairs, lambda question: _best(question, weight))
    return found


def _best(question: dict[str, Any], weight) -> list[str]:
    weights = {one["letter"]: weight(one["text"]) for one in question["options"]}
    return [letter for letter, one in weights.items() if one >= max(weights.values()) - 1e-12]


def _share(pairs: Iterable[Pair], pick) -> tuple[float, float]:
    hits = chance = times = 0.0
    for question, key in pairs:
        letters, rights = pick(question), _rights(key)
        hits += len(rights & set(letters)) / len(letters)
        chance += len(rights) / len(question["options"])
        times += 1
    return hits / times, chance / times


def cautious_share(pairs: list[Pair]) -> tuple[float, float]:
    """How often whoever takes the option with the most words of caution is right, and chance."""
    return _share(pairs, lambda question: _best(question, lambda text: len(CAUTIOUS.findall(text))))
