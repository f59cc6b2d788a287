"""What an assessor taps while two invented learners work: every tap goes the way of the bench form's own saving."""

from __future__ import annotations

import json
import secrets

from rigcalc.bench.lines import applies
from rigcalc.bench.observe import live_events, take
from rigcalc.bench.pieces import current_piece
from rigcalc.errors import Refusal
from rigcalc.papers.records import stamp
from rigcalc.room.journal import Journal

__all__ = ["Watched", "watch"]

# What is written on the number pad, by the rule of the limit; lengths in mm.
_TAIL_BEFORE_MM, _TAIL_AFTER_MM = "8", "3"


class Watched:
    """The taps on one form, saved one by one."""

    def __init__(self, form: dict, path) -> None:
        self.form, self.journal, self.revision = form, Journal(path), 0
        self.live: list[dict] = []

    def tap(self, candidate: str, kind: str, item: str = "", piece: int = 0, **more) -> dict:
        """One tap, as the form's page sends it."""
        self.revision += 1
        event = {"kind": kind, "id": secrets.token_hex(8), "revision": self.revision, "candidate": candidate, "item": item,
                 "piece": piece, "at": stamp(), **more}
        status, reply = take(self.form, self.journal, json.dumps(event).encode(), stamp())
        if status != 200:
            raise Refusal(f"a tap of the demonstration that was not taken ({reply['say']})", "a tap the form takes",
                          "report this: the bench form and the demonstration no longer fit")
        self.live.append(event)
        return event


def watch(form: dict, path, happens: dict[str, str], set_key: dict) -> None:
    """Fill a form in the order of time; `happens` names, for each candidate's id, what happens at the bench."""
    seen = Watched(form, path)
    try:
        for stage in form["stages"]:
            for candidate, what in happens.items():
                _stage(seen, stage, candidate, what, set_key)
                if what == "rejects own piece" and stage["id"] == "first-stroke@1":
                    _begin_again(seen, stage, candidate, set_key)
    finally:
        seen.journal.close()


def _begin_again(seen: Watched, until: dict, candidate: str, set_key: dict) -> None:
    """The piece in hand is rejected by its maker; the next is begun and brought to the same place."""
    seen.tap(candidate, "rejected", piece=1, cause="bent-sleeve")
    for stage in seen.form["stages"]:
        if stage["per"] != "day":
            _stage(seen, stage, candidate, "right", set_key)
        if stage is until:
            return


def _stage(seen: Watched, stage: dict, candidate: str, what: str, set_key: dict) -> None:
    for item in stage["items"]:
        piece = 0 if stage["per"] == "day" else current_piece(seen.form, live_events(seen.live), candidate)
        if applies(seen.form, seen.live, candidate, piece, item):
            _TAPS[item["kind"]](seen, candidate, item, piece, what, set_key)
    if what == "helped" and stage["id"] == "cut":
        seen.help = seen.tap(candidate, "helped", item=stage["id"])
    if what == "helped" and stage["words"]:
        seen.tap(candidate, "wrote", about=seen.help["id"], words="The thimbles are in the second drawer.")


def _see(seen, candidate, item, piece, what, set_key) -> None:
    result = "no occasion" if item["on_occasion"] else "right"
    if what == "not seen" and item["id"].endswith("#full-strokes") and item["eye"] == 2:
        result = "not seen"
    seen.tap(candidate, "seen", item["key"], piece, result=result, how=item["how"])


def _measure(seen, candidate, item, piece, what, set_key) -> None:
    limit = item["limit"]
    if limit["rule"] == "pull load":
        values = [f"{int(limit['least_n'] / 4.4482216152605) + 15}"]
    elif limit["rule"] == "near the assessor's":
        values = ["3.21", "3.19"]
    elif limit["rule"] == "tail after":
        values = ["0" if what == "buried tail" and item["eye"] == 2 else _TAIL_AFTER_MM]
    elif limit["rule"] == "gaps":
        values = [f"{max(limit.get('least_mm') or 0, 1) + 0.5:g}"] * len(limit["parts"])
    else:
        values = [_TAIL_BEFORE_MM if limit["rule"] == "tail before" else f"{limit['target_mm'] + 1:g}"]
    for part, value in enumerate(values):
        seen.tap(candidate, "measured", item["key"], piece, part=part, value=value, unit="mm" if "mm" in limit["units"] else limit["units"][0],
                 instrument=item["instruments"][0])


def _gauge(seen, candidate, item, piece, what, set_key) -> None:
    for crimp in range(1, item["crimps"] + 1):
        again = what == "pressed again" and crimp == 2 and item["eye"] == 1
        for press, passed in ((1, False), (2, True)) if again else ((1, True),):
            seen.tap(candidate, "gauged", item["key"], piece, crimp=crimp, press=press, passed=passed)


def _choose(seen, candidate, item, piece, what, set_key) -> None:
    wanted = "section" if what == "sectioned" and "section" in item["choices"] else None
    seen.tap(candidate, "chose", item["key"], piece, choice=wanted or item["must_be"] or (item["good"] or item["choices"])[0])


def _count(seen, candidate, item, piece, what, set_key) -> None:
    back = item["id"].endswith("#returned")
    begun = current_piece(seen.form, live_events(seen.live), candidate)
    for material in seen.form["issue"]["material"]:
        used = material["each_piece"] * begun
        numbers = {"in pieces": used, "unused": material["issued"] - used} if back else {"out": material["issued"]}
        for which, number in numbers.items():
            seen.tap(candidate, "counted", item["key"], piece, material=material["id"], which=which, number=number)


def _call(seen, candidate, item, piece, what, set_key) -> None:
    for number in seen.form["set"]["pieces"]:
        cause = set_key["pieces"][number]
        if cause is None or (what == "passes a bad piece" and cause == "small-cable"):
            seen.tap(candidate, "called", item["key"], piece, number=number, call="pass")
        else:
            seen.tap(candidate, "called", item["key"], piece, number=number, call="reject", cause=cause)


def _write(seen, candidate, item, piece, what, set_key) -> None:
    seen.tap(candidate, "wrote", item["key"], piece, words="INVENTED force gauge FG2, due 2046-03-02")


_TAPS = {"see": _see, "measure": _measure, "gauge": _gauge, "choose": _choose, "count": _count, "calls": _call, "write": _write}
