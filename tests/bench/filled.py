"""A bench form in a test's hands: opened on the sample shop, and filled tap by tap through the form's own checks."""

from __future__ import annotations

import itertools
from datetime import UTC, datetime

from rigcalc.bench.form import open_form
from rigcalc.bench.observe import accept
from rigcalc.bench.outcome import outcome
from rigcalc.bench.tasks import load_tasks
from rigcalc.shop import load_shop, sample_shop_path

NOW = datetime(2026, 11, 20, 9, 0, tzinfo=UTC)
TOMO, DELA = {"id": "c1", "name": "Tomo Kessig"}, {"id": "c2", "name": "Dela Orrin"}
NUMBERS = ["3", "7", "8", "11", "14", "20"]
KEY = {"id": "S1", "pieces": {"3": None, "7": "crack", "8": None, "11": "buried-tail", "14": "missing-crimp", "20": "wrong-metal"}}
# What each limit of the sample shop's 1/8 piece is kept with, as somebody would type it.
TYPED = {"near the assessor's": ["3.18", "3.20"], "tail before": ["7"], "tail after": ["2"], "gaps": ["1.5", "2"], "pin to pin": ["501.5"],
         "pull load": ["1850"]}


def sample():
    return load_shop(sample_shop_path())


def opened(*people, shop=None, **other):
    other = {"tool": "LB", "piece_set": {"id": "S1", "pieces": NUMBERS}} | other
    return open_form(load_tasks(), list(people) or [TOMO], shop or sample(), "Osk Tamberlin", "F1", NOW, **other)


def opened_before(*people, **other):
    """A form as it was opened before a diameter was held against its cable and a date was read."""
    form = opened(*people, **other)
    for item in (item for stage in form["stages"] for item in stage["items"]):
        item.pop("due", None)
        for name in ("band_mm", "size"):
            item.get("limit", {}).pop(name, None)
    return form


class Book:
    """The events of one form; every tap goes through `accept`, as in the room."""

    def __init__(self, form: dict) -> None:
        self.form, self.events, self._ids = form, [], itertools.count(1)

    def tap(self, kind: str, candidate: str = "c1", **fields) -> dict:
        event = {"kind": kind, "candidate": candidate, "id": f"{next(self._ids):016x}", "revision": len(self.events) + 1,
                 "at": "2026-11-20T09:10:00Z", **fields}
        self.events.append(accept(self.form, self.events, event))
        return self.events[-1]

    def undo(self) -> None:
        gone = {e["undoes"] for e in self.events if e["kind"] == "undone"}
        last = [e for e in self.events if e["kind"] != "undone" and e["id"] not in gone][-1]
        self.tap("undone", last["candidate"], undoes=last["id"])

    def outcome(self, candidate: str = "c1", key: dict | None = KEY, shop=None) -> dict:
        return outcome(self.form, self.events, candidate, shop or sample(), key, NOW)

    def line(self, key: str) -> dict:
        return next(i for s in self.form["stages"] for i in s["items"] if i["key"] == key)

    def fill(self, candidate: str = "c1", piece: int = 1, skip: tuple = (), wrong: tuple = (), unseen: tuple = (), method: str = "section",
             typed: dict | None = None) -> Book:
        """A whole good day, less the keys named in `skip`, with some seen wrong or not seen."""
        for stage in self.form["stages"]:
            number = 0 if stage["per"] == "day" else piece
            for item in stage["items"]:
                if item["key"] in skip or item["when"] not in ("always", method):
                    continue
                result = "wrong" if item["key"] in wrong else "not seen" if item["key"] in unseen else "right"
                getattr(self, "_" + item["kind"])(candidate, number, item, result, method, typed or {})
        return self

    def _see(self, c, piece, item, result, method, typed):
        self.tap("seen", c, piece=piece, item=item["key"], result=result, how=item["how"])

    def _measure(self, c, piece, item, result, method, typed):
        values = typed.get(item["key"], TYPED[item["limit"]["rule"]])
        for part, value in enumerate(values):
            self.tap("measured", c, piece=piece, item=item["key"], part=part, value=value, unit="mm" if "mm" in item["limit"]["units"] else item["limit"]["units"][0],
                     instrument=item["instruments"][0])

    def _gauge(self, c, piece, item, result, method, typed):
        for crimp in range(1, item["crimps"] + 1):
            self.tap("gauged", c, piece=piece, item=item["key"], crimp=crimp, press=1, passed=True)

    def _choose(self, c, piece, item, result, method, typed):
        choice = method if method in item["choices"] else item["must_be"] or item["choices"][0]
        self.tap("chose", c, piece=piece, item=item["key"], choice=choice)

    def _count(self, c, piece, item, result, method, typed):
        for material in self.form["issue"]["material"]:
            half = {"out": material["issued"], "in pieces": material["each_piece"], "unused": material["issued"] - material["each_piece"]}
            for which in ("out",) if item["counts"] == "out" else ("in pieces", "unused"):
                self.tap("counted", c, item=item["key"], material=material["id"], which=which, number=half[which])

    def _calls(self, c, piece, item, result, method, typed):
        for number, cause in KEY["pieces"].items():
            self.tap("called", c, item=item["key"], number=number, call="reject" if cause else "pass", cause=cause)

    def _write(self, c, piece, item, result, method, typed):
        self.tap("wrote", c, item=item["key"], words=typed.get(item["key"], "INVENTED force gauge 4, due 2027-03-01"))
