"""What was entered again as something else on a bench form: nothing is hidden from whoever decides."""

from __future__ import annotations

from rigcalc.bench.form import items_of

__all__ = ["entered_again"]


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
        In the order of the form, then of the pieces.
    """
    gone = {e["undoes"] for e in events if e["kind"] == "undone"}
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
            for (_, _, subject, which), found in sorted(entered.items(), key=lambda one: one[0][:2]) if len({what for what, _ in found}) > 1]


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
            "wrote": lambda e, causes: ("was entered as", f"'{e['words'].strip()[:80]}'"),
            "measured": lambda e, causes: (f"was entered (value {e['part'] + 1}) as", f"{e['value'].strip()} {e['unit']}"),
            "gauged": lambda e, causes: (f"was entered (crimp {e['crimp']}{', again' if e['press'] == 2 else ''}) as", "passed" if e["passed"] else "not passed"),
            "counted": lambda e, causes: (f"was entered ({e['material']}, {e['which']}) as", str(e["number"])),
            "called": _called, "rejected": lambda e, causes: ("was rejected for", causes.get(e["cause"], e["cause"]))}
