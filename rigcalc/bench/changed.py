"""What was entered again as something else on a bench form: nothing is hidden from whoever decides."""

from __future__ import annotations

import re
from datetime import datetime
from difflib import SequenceMatcher
from functools import lru_cache

from rigcalc.bench.form import items_of
from rigcalc.papers.records import when

__all__ = ["at_in_words", "entered_again"]

# Our own choice, no published figure: within a stay, a text is mended a little where this share of its letters is kept, and within this time.
KEPT_SHARE, STOOD_SECONDS = 0.8, 60
# Small words that turn the sense of a sentence, and figures: whoever changes one of these says something else.
_SENSE = re.compile(r"\b(?:not|no|never|none|nobody|nothing|without|cannot|\w+n['\u2019]t|un\w+|hardly|only|(?:pass|fail)(?:e[sd])?|good|bad|right|wrong|left|yes|ok|safe|more|less|before|after|first|second|both|own|alone|helped)\b")
_TELLING = re.compile(rf"\d+|{_SENSE.pattern}")


def entered_again(form: dict, events: list[dict], candidate: str) -> list[str]:
    """Each line, crimp, count, call and reject of a candidate that was entered again as something else, on every piece begun.

    Parameters
    ----------
    form : dict
    events : list of dict
        All saved events: a tap that was taken back and then entered otherwise is listed too, and says so.
    candidate : str

    Returns
    -------
    list of str
        In the order of the form, then of the pieces; last the assessor's own words that others took the place of.
    """
    gone = {e["undoes"] for e in events if e["kind"] == "undone"}
    events = _writings(events, gone)
    own = [e for e in events if e["candidate"] == candidate and e["kind"] in _ENTERED and (e["kind"] != "wrote" or e["item"])]
    items, causes = items_of(form), {c["id"]: c["text"] for c in form["causes"]} | {"other": "another reason"}
    order = {key: at for at, key in enumerate(items)}
    several = max((e["piece"] for e in own), default=0) > 1
    entered: dict[tuple, list[tuple[str, bool]]] = {}
    for e in own:
        which, what = _ENTERED[e["kind"]](e, causes)
        what, back = what.strip() or "nothing", e["id"] in gone
        found = entered.setdefault((order.get(e["item"], len(order)), e["piece"], _subject(e, items, several), which), [])
        if what.startswith(_FILLED_IN) and found and found[-1] == (_NO_CAUSE, False):
            found.pop()  # a cause given after its reject is no change
        if (what, back) not in found[-1:]:
            found.append((what, back))
    return [f"{subject} {which} {', then '.join(what + (' (taken back)' if back else '') for what, back in found)}"
            for (_, _, subject, which), found in sorted(entered.items(), key=lambda one: one[0][:2]) if len({what for what, _ in found}) > 1] + _words_replaced(form, events, gone, candidate)


def _writings(events: list[dict], gone: set[str]) -> list[dict]:
    """The events without words that were only still being typed: those that the same stay of the cursor in the same box went on from, or mended a little at once."""
    boxes: dict[tuple, list[dict]] = {}
    for e in (one for one in events if one["kind"] == "wrote"):
        boxes.setdefault((e["candidate"], e["item"], e.get("about", "")), []).append(e)
    typing = {e["id"] for wrote in boxes.values() for e in _still_typed(wrote, gone)}
    return [e for e in events if e["id"] not in typing]


def _still_typed(wrote: list[dict], gone: set[str]) -> list[dict]:
    typing, first, stood = {}, None, ""  # first: the text that small mends began from; stood: words that only a text beginning with them leaves untold
    for before, e in zip(wrote, wrote[1:]):
        old, new, first = _plain(before), _plain(e), first or before
        if not e.get("stay") or _stay(before, gone) != _stay(e, gone) or not old:
            first, stood = None, ""
            continue
        stood = old if _stood(before, e) else stood
        if not new or not new.startswith(stood) or (stood and _turned(stood, new)) or not _goes_on(old, new):
            first, stood = None, ""
            continue
        typing[before["id"]] = before
        if new.startswith(_plain(first)):
            first = e
        elif not _goes_on(_plain(first), new):  # many small mends have come to a large one
            typing.pop(first["id"], None)
            first = before
    return list(typing.values())


def _plain(e: dict) -> str:
    return " ".join(e["words"].split())


def _stood(before: dict, e: dict) -> bool:
    """Whether a text stood long enough to have been read or closed on; so where the time between is not known."""
    try:
        return not 0 <= (datetime.fromisoformat(e["saved_at"]) - datetime.fromisoformat(before["saved_at"])).total_seconds() <= STOOD_SECONDS
    except (KeyError, TypeError, ValueError):
        return True


@lru_cache(maxsize=4096)
def _goes_on(old: str, new: str) -> bool:
    """Whether a text begins with the one before or is a small mend of it that turns no figure and no sense; letters found here and there in other words
    are not kept letters."""
    if new.startswith(old):
        return not _lengthened(old, new, _SENSE)  # a figure may still be typed
    if sorted(_TELLING.findall(old.casefold())) != sorted(_TELLING.findall(new.casefold())) or not _misspelt(old, new):
        return False
    same = SequenceMatcher(None, old, new, autojunk=False).get_matching_blocks()
    kept = sum(m.size for m in same if m.size >= 3 or m.a == m.b == 0 or (m.a + m.size, m.b + m.size) == (len(old), len(new)))
    return kept >= KEPT_SHARE * len(old)


def _lengthened(old: str, new: str, telling: re.Pattern) -> bool:
    """Whether a text that begins with another goes on within its last word and makes another sense or figure of it: 'can' and 'cannot', '3' and '30'."""
    word, more = re.search(r"\w+$", old), re.match(r"\w+", new[len(old):])
    if not word or not more:
        return False
    return telling.findall(word.group().casefold()) != telling.findall((word.group() + more.group()).casefold())


def _turned(old: str, new: str) -> bool:
    """Whether a text that begins with another turns it by how it goes on: 'Fit to go on' and 'Fit to go on: no'."""
    more = new[len(old):].strip()
    return _lengthened(old, new, _TELLING) or more.startswith("?") or _SENSE.search(" ".join(more.casefold().split()[:3])) is not None


def _misspelt(old: str, new: str) -> bool:
    """Whether each word that took the place of another is the same word spelt otherwise."""
    before, after = old.casefold().split(), new.casefold().split()
    for kind, a, b, c, d in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if kind == "replace" and not all(_same_word(one, other, b == len(before)) for one, other in
                                         (zip(before[a:b], after[c:d]) if b - a == d - c else [("".join(before[a:b]), "".join(after[c:d]))])):
            return False
    return True


def _same_word(one: str, other: str, last: bool) -> bool:
    """Whether two words are one word spelt in two ways, or the last one is still being typed."""
    one, other = (re.sub(r"^\W+|\W+$", "", word) for word in (one, other))
    if one == other or last and other.startswith(one) or sorted(one) == sorted(other):
        return True
    long, short = sorted((one, other), key=len, reverse=True)
    turned = re.fullmatch(r"un|in|im|ir|il|dis|non|mis", long.removesuffix(short)) if long.endswith(short) else None
    return len(short) >= 3 and not turned and not re.search(r"\d", one + other) and SequenceMatcher(None, one, other, autojunk=False).ratio() >= (0.7 if len(short) > 3 else 0.8)


def _stay(e: dict, gone: set[str]) -> tuple:
    return e.get("device", ""), e.get("stay", ""), e["id"] in gone


def _words_replaced(form: dict, events: list[dict], gone: set[str], candidate: str) -> list[str]:
    """The words of the day and of each help where other words took their place; a text that only goes on from the one before replaces nothing."""
    titles = {s["id"]: f"{s['number']} {s['title']}" for s in form["stages"]}
    helps = {e["id"]: titles.get(e["item"], e["item"]) for e in events if e["kind"] == "helped"}
    kept: dict[str, list[tuple[str, bool, dict]]] = {}
    for e in events:
        if e["kind"] == "wrote" and e["candidate"] == candidate and not e["item"]:
            what, back, found = _plain(e), e["id"] in gone, kept.setdefault(e.get("about", ""), [])
            if found and (what == found[-1][0] and not found[-1][1]) or not found and not what:
                continue
            if found and (what == found[-1][0] or found[-1][0] and what.startswith(found[-1][0]) and not _turned(found[-1][0], what)):
                found.pop()
            found.append((what, back, e))
    return [(f"the words on the help at {helps.get(about, about)} were " if about else "the assessor's words were ")
            + ", then ".join(f"\"{what}\" ({_by(e, back)})" if what else f"nothing ({_by(e, back)})" for what, back, e in found)
            for about, found in kept.items() if len(found) > 1 or any(back for _, back, _ in found)]


def _by(e: dict, back: bool) -> str:
    return at_in_words(e) + (f", device {e['device']}" if e.get("device") else "") + (", taken back" if back else "")


def at_in_words(event: dict) -> str:
    """When it was tapped; of a form that was filled on paper, when it was typed in."""
    return ("typed in " if event.get("paper") else "") + when(event["at"] or event.get("saved_at") or "at a time that was not kept")


def _subject(e: dict, items: dict, several: bool) -> str:
    if e["kind"] == "called":
        return f"finished piece {e['number']}"
    if e["kind"] == "rejected":
        return f"own piece {e['piece']}"
    return items[e["item"]][0]["number"] + (f" on piece {e['piece']}" if several and e["piece"] else "")


def _called(e: dict, causes: dict[str, str]) -> tuple[str, str]:
    if e["call"] == "pass":
        return "was called", "pass"
    return "was called", f"{_FILLED_IN}{causes.get(e['cause'], e['cause'])})" if e.get("cause") else _NO_CAUSE


_NO_CAUSE, _FILLED_IN = "reject (no cause yet)", "reject ("
_ENTERED = {"seen": lambda e, causes: ("was tapped", e["result"]), "chose": lambda e, causes: ("was entered as", e["choice"]),
            "wrote": lambda e, causes: ("was entered as", f"'{e['words'].strip()}'"),
            "measured": lambda e, causes: (f"was entered (value {e['part'] + 1}) as", f"{e['value'].strip()} {e['unit']}"),
            "gauged": lambda e, causes: (f"was entered (crimp {e['crimp']}{', again' if e['press'] == 2 else ''}) as", "passed" if e["passed"] else "not passed"),
            "counted": lambda e, causes: (f"was entered ({e['material']}, {e['which']}) as", str(e["number"])),
            "called": _called, "rejected": lambda e, causes: ("was rejected for", causes.get(e["cause"], e["cause"]))}
