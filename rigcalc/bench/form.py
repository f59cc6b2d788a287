"""A bench form: what is watched today, for whom, with which tool and gauge, as plain data without any key."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import datetime
from itertools import groupby

import msgspec

from rigcalc.bench.limits import Facts, facts_of, limit_of
from rigcalc.bench.tasks import Checkpoint, Piece, Stage, Task
from rigcalc.errors import Refusal

__all__ = ["items_of", "open_form"]

MOST_CANDIDATES = 2


def open_form(tasks: Mapping[str, Task] | Iterable[Task], candidates: list[dict], shop, assessor: str | dict, form_id: str,
              now: datetime, piece_set: dict | None = None, *, piece: dict | None = None, tool: str | None = None) -> dict:
    """Open one form for one candidate, or for two who work at the same time.

    Parameters
    ----------
    tasks : mapping or iterable of Task
        Usually ``load_tasks()``. A task with a sealed set is left out when no `piece_set` is given.
    candidates : list of dict
        One or two of ``{"id": ..., "name": ...}``.
    shop : Shop
        Gives chart in force, gauge, tolerances and the load of a pull.
    assessor : str or dict
        Name, or ``{"id": ..., "name": ...}``.
    form_id : str
    now : datetime
        With its time zone. The gauge must be in date on that day.
    piece_set : dict, optional
        ``{"id": "S1", "pieces": ["3", "7", ...]}``: numbers only. The key stays at the desk.
    piece : dict, optional
        Another piece than the task's own: any of size, construction, metal, sleeve_metal, pin_to_pin_mm.
    tool : str, optional
        The tool on the bench; None takes the first that has a chart for the sleeve.

    Returns
    -------
    dict
        JSON data, public: it holds no key.

    Raises
    ------
    Refusal
        Gauge not in date, gauge or tool found bad, no chart row, no gauge, wrong number of candidates or of pieces.
    """
    listed = list(tasks.values() if isinstance(tasks, Mapping) else tasks)
    people = _people(candidates)
    if now.tzinfo is None:
        raise Refusal("a time without its time zone", "a time with its time zone", "give the time with its zone")
    used = [task for task in listed if task.set is None or piece_set is not None]
    making = next((task for task in used if task.piece is not None), None)
    if making is None:
        raise Refusal("bench tasks of which none makes a piece", "a list with T1", "add T1 to the tasks")
    facts = facts_of(_piece(making.piece, piece), shop, tool)
    if facts.gauge is not None and not facts.gauge.in_date(now.date()):
        raise Refusal(f"gauge {facts.gauge.id}, which {facts.gauge.out_of_date(now.date())}, on {now.date().isoformat()}",
                      "a gauge that is in date and was not found bad", "have it checked against pins; there is no assessment until then")
    pressing = next((one for one in shop.tools if one.id == facts.tool), None)
    if pressing is not None and pressing.out_of_use:
        raise Refusal(f"tool {pressing.id}, which {pressing.out_of_use}", "a tool that is in use", "take another tool with a chart, or have this one set right first")
    pieces = _set_numbers(used, piece_set)
    stages = _stages(used, facts, shop)
    return {
        "form": 1, "form_id": form_id, "opened_at": now.isoformat(timespec="seconds"),
        "assessor": {"name": assessor} if isinstance(assessor, str) else {k: str(assessor[k]) for k in ("id", "name") if k in assessor},
        "candidates": people,
        "shop": {"name": shop.name, "invented": bool(shop.invented), "digest": shop.digest, "system": shop.system},
        "practice": facts.practice,
        "made": {**msgspec.to_builtins(facts.piece), "tool": facts.tool, "cavity": facts.row.cavity, "crimps": facts.row.count,
                 "order": list(facts.row.order) if facts.row.order else None},
        "chart": {"id": facts.chart.id, "edition": facts.chart.edition, "kind": facts.chart.kind, "line": facts.chart_line},
        "gauge": None if facts.gauge is None else {
            "id": facts.gauge.id, "slot": facts.row.gauge_slot or facts.piece.size, "checked_on": facts.gauge.checked_on.isoformat(),
            "due_on": facts.gauge.due_on.isoformat(), "in_date": True},
        "tasks": [{"id": t.id, "version": t.version, "title": t.title, "text": _filled(t.text, facts), "minutes": t.minutes,
                   "wrong_at_most": t.wrong_at_most, "leaves_out": t.leaves_out} for t in used],
        "left_out": [t.id for t in listed if t not in used],
        "issue": None if making.issue is None else _issue(making, facts),
        "set": pieces, "set_rule": next((msgspec.to_builtins(t.set) for t in used if t.set), None),
        "causes": [msgspec.to_builtins(c) for t in listed for c in t.cause],
        "stages": stages,
    }


def items_of(form: dict) -> dict[str, tuple[dict, dict]]:
    """Every line of a form by its key, with the stage it stands in: ``{key: (item, stage)}``."""
    return {item["key"]: (item, stage) for stage in form["stages"] for item in stage["items"]}


def _people(candidates: list[dict]) -> list[dict]:
    if not 1 <= len(candidates) <= MOST_CANDIDATES:
        raise Refusal(f"{len(candidates)} candidates", "one or two: nobody watches more hands than that",
                      "open another form for the others")
    people = [{"id": str(c["id"]), "name": str(c["name"])} for c in candidates]
    if len({p["id"] for p in people}) != len(people):
        raise Refusal(f"the candidate {people[0]['id']} twice", "two different people", "take the other candidate's id")
    return people


def _piece(own: Piece, other: dict | None) -> Piece:
    try:
        return msgspec.convert({**msgspec.to_builtins(own), **(other or {})}, Piece)
    except msgspec.ValidationError as error:
        raise Refusal(f"a piece that cannot be read ({error})", "size, construction, metal, sleeve_metal and pin_to_pin_mm",
                      "correct the field") from None


def _set_numbers(tasks: list[Task], piece_set: dict | None) -> dict | None:
    rule = next((t.set for t in tasks if t.set), None)
    if rule is None or piece_set is None:
        return None
    numbers = [str(n) for n in piece_set.get("pieces", ())]
    if len(numbers) != rule.pieces or len(set(numbers)) != len(numbers) or not all(re.fullmatch(r"[A-Za-z0-9-]{1,8}", n) for n in numbers):
        raise Refusal(f"the pieces {', '.join(numbers) or 'none'}", f"{rule.pieces} different numbers of the sealed set",
                      "write the numbers that stand on the pieces")
    return {"id": str(piece_set["id"]), "pieces": numbers}


def _issue(task: Task, facts: Facts) -> dict:
    return {"pieces": task.issue.pieces, "note": task.issue.note, "source": task.issue.source,
            "material": [{"id": m.id, "text": m.text, "each_piece": m.each_piece, "issued": m.each_piece * task.issue.pieces}
                         for m in task.issue.material]}


def _stages(tasks: list[Task], facts: Facts, shop) -> list[dict]:
    """All screens in the order of time: a run of stages made for each eye is gone through eye by eye."""
    planned: list[tuple[Task, Stage, int | None]] = []
    for task in tasks:
        for (per, _), run in groupby(task.stage, key=lambda s: (s.per, s.hands)):
            together = list(run)
            for eye in range(1, facts.piece.eyes + 1) if per == "eye" else (None,):
                planned += [(task, stage, eye) for stage in together]
    # What is typed when the hands are done comes last, after every task.
    planned.sort(key=lambda p: p[1].words)
    pull = shop.pull_test(facts.piece.size, facts.piece.metal) is not None
    return [_stage(number, *plan, facts, shop, pull) for number, plan in enumerate(planned, 1)]


def _stage(number: int, task: Task, stage: Stage, eye: int | None, facts: Facts, shop, pull: bool) -> dict:
    points = [p for p in stage.checkpoint if eye is None or not p.eyes or eye in p.eyes]
    if not pull:
        points = [p for p in points if p.when != "pull"]
    items = []
    for point in points:
        limit = limit_of(point, facts, shop) if point.kind == "measure" else None
        if point.kind == "measure" and limit is None:
            continue
        items.append(_item(point, task, eye, f"{number}.{len(items) + 1}", limit, facts, pull))
    holds = stage.hold if stage.hold and (eye is None or not stage.hold_eyes or eye in stage.hold_eyes) else None
    return {"id": stage.id + (f"@{eye}" if eye else ""), "task": task.id, "number": number,
            "title": stage.title + (f", eye {eye}" if eye else ""), "per": stage.per, "eye": eye, "hold": holds,
            "hands": stage.hands, "words": stage.words, "items": items}


def _item(point: Checkpoint, task: Task, eye: int | None, number: str, limit: dict | None, facts: Facts, pull: bool) -> dict:
    item = {"key": f"{task.id}#{point.id}" + (f"@{eye}" if eye else ""), "id": f"{task.id}#{point.id}", "number": number,
            "eye": eye, "see": _filled(point.see, facts), "kind": point.kind, "skills": point.skills,
            "on_occasion": point.on_occasion, "critical": point.critical,
            "how": point.how, "at_hold": point.at_hold, "when": point.when, "throughout": point.throughout,
            "every_piece": point.every_piece, "required": point.required, "who": point.who}
    if limit is not None:
        item |= {"limit": limit, "instruments": point.instruments}
    if point.kind == "choose":
        item |= {"choices": [c for c in point.choices if pull or c != "pull"], "good": point.good, "must_be": point.must_be}
    if point.kind == "write":
        item["due"] = point.due
    if point.kind == "gauge":
        item["crimps"] = facts.row.count
    if point.kind == "count":
        item["counts"] = point.counts
    return item


def _filled(text: str, facts: Facts) -> str:
    return re.sub(r"\{(\w+)\}", lambda found: facts.words[found[1]], text)
