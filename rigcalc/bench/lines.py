"""Each line of a form, read from the taps that still stand: right, wrong, not seen, no occasion, or no tap yet."""

from __future__ import annotations

import re
from datetime import date, datetime

from rigcalc.bench.measured import measured_values, within_limit, wrong_because
from rigcalc.bench.pieces import crimp_presses

__all__ = ["applies", "chosen", "had_occasion", "has_verdict", "line_state", "method_of"]

# All that looks like a day: only the first way is read, but none may stand beside it unread.
_DAYS = re.compile(r"(?<![\w-])(?:[0-9]{4}([-./])[0-9]{1,2}\1[0-9]{1,2}|[0-9]{1,2}([-./])[0-9]{1,2}\2[0-9]{4})(?![\w-])")


def chosen(live: list[dict], candidate: str, piece: int, key: str) -> str | None:
    """The last choice tapped on a line, or None."""
    made = [e["choice"] for e in live if e["kind"] == "chose" and (e["candidate"], e["piece"], e["item"]) == (candidate, piece, key)]
    return made[-1] if made else None


def method_of(form: dict, live: list[dict], candidate: str) -> str | None:
    """"pull" or "section", as tapped, or None."""
    key = next((i["key"] for s in form["stages"] for i in s["items"] if i["kind"] == "choose" and "section" in i["choices"]), None)
    return chosen(live, candidate, 0, key) if key else None


def applies(form: dict, live: list[dict], candidate: str, piece: int, item: dict) -> bool:
    """Whether a line counts today: the way of the test that was chosen, and a second failure only where there was one."""
    if item["when"] in ("pull", "section"):
        return method_of(form, live, candidate) == item["when"]
    if item["when"] == "second failure":
        gauged = item["key"].rpartition("@")[2]
        return any(made[:2] == [False, False] for stage in form["stages"] for g in stage["items"]
                   if g["kind"] == "gauge" and g["key"].rpartition("@")[2] == gauged
                   for made in crimp_presses(live, candidate, piece, g["key"]).values())
    return True


def line_state(form: dict, live: list[dict], candidate: str, piece: int, item: dict) -> dict:
    """One line as ``{"state": "right" | "wrong" | "not seen" | "no occasion" | "none", "why": words, "how": ... or None}``."""
    return _STATES[item["kind"]](form, live, candidate, piece, item)


def had_occasion(form: dict, live: list[dict], candidate: str, piece: int, item: dict) -> bool:
    """Whether there was anything to see for the skills a line shows only on occasion: a crimp to press again, a sleeve that tilts."""
    if item["kind"] == "gauge":
        return any(len(made) > 1 for made in crimp_presses(live, candidate, piece, item["key"]).values())
    return line_state(form, live, candidate, piece, item)["state"] != "no occasion"


def has_verdict(item: dict) -> bool:
    """Whether the form's page shows beside a line how it stands: one that is measured, or that names the date something is due."""
    return item["kind"] == "measure" or bool(item.get("due"))


def _seen(form, live, candidate, piece, item) -> dict:
    taps = [e for e in live if e["kind"] == "seen" and e["candidate"] == candidate and e["item"] == item["key"]
            and (item["every_piece"] or e["piece"] == piece)]
    if not taps:
        return _state("none", "no tap")
    here = [e for e in taps if e["piece"] == piece] or taps
    last = here[-1]
    if item["throughout"] or item["every_piece"]:
        wrong = [e for e in taps if e["result"] == "wrong"] if item["throughout"] else _last_wrongs(taps)
        if wrong:
            return _state("wrong", "seen wrong" + (f" on piece {wrong[0]['piece']}" if wrong[0]["piece"] else ""), wrong[0]["how"])
        if not any(e["piece"] == piece for e in taps):
            return _state("none", "no tap")
    return _state(last["result"], f"seen {last['result']}" if last["result"] in ("right", "wrong") else last["result"], last["how"])


def _last_wrongs(taps: list[dict]) -> list[dict]:
    """The taps that stand last on their piece and say wrong: a slip of the finger may be corrected, a piece's end may not."""
    last = {e["piece"]: e for e in taps}
    return [e for e in last.values() if e["result"] == "wrong"]


def _measured(form, live, candidate, piece, item) -> dict:
    values = measured_values(live, candidate, piece, item)
    within = within_limit(item["limit"], values)
    if within is None:
        return _state("none", "not measured" if not any(values) else "not all values measured")
    shown = ", ".join(v["shown"] for v in values)
    return _state("right" if within else "wrong", "; ".join([shown, *wrong_because(item["limit"], values), f"limit: {item['limit']['said']}"]))


def _gauged(form, live, candidate, piece, item) -> dict:
    presses = crimp_presses(live, candidate, piece, item["key"])
    failed = [str(crimp) for crimp, made in presses.items() if made[:2] == [False, False]]
    if failed:
        return _state("wrong", f"crimp {', '.join(failed)} did not pass a second time")
    open_crimps = [str(n) for n in range(1, item["crimps"] + 1) if not presses.get(n) or not presses[n][-1]]
    if open_crimps:
        return _state("none", f"no passed gauging of crimp {', '.join(open_crimps)}")
    again = [str(crimp) for crimp, made in presses.items() if len(made) == 2]
    return _state("right", "every crimp passed" + (f"; crimp {', '.join(again)} after pressing again once" if again else ""))


def _chose(form, live, candidate, piece, item) -> dict:
    choice = chosen(live, candidate, piece, item["key"])
    if choice is None:
        return _state("none", "nothing chosen")
    allowed = [item["must_be"]] if item["must_be"] else item["good"] or item["choices"]
    return _state("right" if choice in allowed else "wrong", choice)


def _counted(form, live, candidate, piece, item) -> dict:
    which = ("out",) if item["counts"] == "out" else ("in pieces", "unused")
    counted = {(e["material"], e["which"]) for e in live if e["kind"] == "counted" and (e["candidate"], e["item"]) == (candidate, item["key"])}
    missing = [m["text"] for m in form["issue"]["material"] if not all((m["id"], w) in counted for w in which)]
    return _state("none", f"not counted: {', '.join(missing)}") if missing else _state("right", "counted")


def _called(form, live, candidate, piece, item) -> dict:
    calls = {e["number"]: e for e in live if e["kind"] == "called" and e["candidate"] == candidate}
    missing = [n for n in form["set"]["pieces"] if n not in calls or (calls[n]["call"] == "reject" and not calls[n].get("cause"))]
    return _state("none", f"no call, or no cause, for piece {', '.join(missing)}") if missing else _state("right", "every piece called")


def _wrote(form, live, candidate, piece, item) -> dict:
    words = [e["words"].strip() for e in live if e["kind"] == "wrote" and (e["candidate"], e["item"]) == (candidate, item["key"])]
    if not words or not words[-1]:
        return _state("none", "nothing written")
    return _due(words[-1], datetime.fromisoformat(form["opened_at"]).date()) if item.get("due") else _state("right", words[-1])


def _due(words: str, today: date) -> dict:
    """Words that name what is used and the date it is due: in date on the form's day, or not."""
    found = [day[0] for day in _DAYS.finditer(words)]
    if len(found) > 1:
        return _state("none", "more than one date in it: write one alone, the date it is due")
    if found and not any(sign.isalnum() for sign in words.replace(found[0], "")):
        return _state("none", "a date alone: write the number of what was used too")
    try:
        due = date.fromisoformat(found[0] if found else "")
    except ValueError:
        return _state("none", "no date such as 2031-05-04 in it")
    return _state("right", words) if due >= today else _state("wrong", f"due {due.isoformat()}, before the day of the test")


def _state(state: str, why: str, how: str | None = None) -> dict:
    return {"state": state, "why": why, "how": how}


_STATES = {"see": _seen, "measure": _measured, "gauge": _gauged, "choose": _chose, "count": _counted, "calls": _called, "write": _wrote}
