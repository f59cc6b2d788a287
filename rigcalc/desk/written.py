"""The written paper at the desk: set it, watch who has handed in, type in what was written on paper, mark it."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

from rigcalc.bench.choices import bench_notes
from rigcalc.bench.tasks import load_tasks
from rigcalc.desk.charts import charts_now
from rigcalc.desk.classes import candidate_of, class_of
from rigcalc.desk.folder import Desk, exact_text, sha256_of
from rigcalc.desk.persons import no_candidate
from rigcalc.errors import Refusal
from rigcalc.papers.answers import DamagedAnswers, read_returned, typed_in
from rigcalc.papers.alike import alike
from rigcalc.papers.balance import Spread, class_spread, family_results
from rigcalc.papers.blueprint import Blueprint, blueprint_names, load_blueprint, plan_notes
from rigcalc.papers.correcting import entered_corrections
from rigcalc.papers.issue import issue_papers
from rigcalc.papers.of_shop import families_of_shop, stand_ins, unvaried
from rigcalc.papers.key_records import DamagedKey, key_record, whole_record
from rigcalc.papers.marking import MarkingRun, mark_returned
from rigcalc.papers.results import class_summary
from rigcalc.questions import load_families
from rigcalc.room.sitting import more_time

__all__ = ["blueprint_in_force", "blueprints", "class_of_paper", "corrections_of", "enter_result", "give_more_time", "issued_keys", "keep_families", "links", "mark_papers",
           "marked", "notes_before_setting", "paper_of", "paper_record", "question_paper", "results", "set_papers", "spread_before_setting", "summary",
           "type_in", "uncounted"]


def blueprints(desk: Desk) -> list[str]:
    """The names of all blueprints: those that ship and the workplace's own (working/quizzes/blueprints/)."""
    return blueprint_names(desk.home)


def blueprint_in_force(desk: Desk, name: str = "narrow", families=None) -> Blueprint:
    """A blueprint by its name: the workplace's own where one was written, else the sample that ships."""
    if name not in blueprints(desk):
        raise Refusal(f"the blueprint '{name[:40]}'", ", ".join(blueprints(desk)), "choose one of these")
    return load_blueprint(name, families or load_families(home=desk.home), desk.home)  # a broken family is named first: a plan that asks it is not at fault


def spread_before_setting(desk: Desk, class_id: str, blueprint: str = "narrow", families=None) -> Spread:
    """How evenly hard the papers of a class will be, told before they are set; nothing is entered or shown to anybody."""
    families = families or load_families(home=desk.home)
    plan = blueprint_in_force(desk, blueprint, families)
    people = [person["id"] for person in class_of(desk, class_id)["candidates"]]
    return class_spread(plan, families_of_shop(plan, families, desk.shop), class_id, people, desk.secret(class_id), _known(desk))


def notes_before_setting(desk: Desk, plan: Blueprint) -> list[str]:
    """What whoever sets papers of a plan should know of it, and of this workplace's shop file, first."""
    families = load_families(home=desk.home)
    bench = [note[:1].upper() + note[1:] for note in bench_notes(load_tasks(), desk.shop)]
    made_up = ["NO CERTIFICATE can come of papers set by this plan: its cut and whoever set it are INVENTED, and this shop is not. Write a plan of your "
               "own first (quizzes/blueprints/README.md)."] if plan.invented and not desk.invented else []
    return [*made_up, *plan_notes(plan, families), *stand_ins(plan, families, desk.shop), *unvaried(plan, families, desk.shop), *bench]


def _known(desk: Desk) -> dict:
    """What the desk's own results say of each family."""
    return family_results(desk.folder / "keys", desk.folder / "results")


def set_papers(desk: Desk, class_id: str, set_by: str, families=None, now: datetime | None = None,
               blueprint: str = "narrow") -> list[dict]:
    """Make every candidate's paper and address; entered as `paper issued`, one a candidate."""
    group = class_of(desk, class_id)
    set_by = no_candidate(group["candidates"], set_by, "person setting the papers")
    if desk.entries("paper issued", **{"class": class_id}):
        raise Refusal(f"the class '{group['name']}', whose papers are set already", "one set of papers a class",
                      "use the papers that are there, or set up a new class")
    families, known = families or load_families(home=desk.home), _known(desk)
    plan = blueprint_in_force(desk, blueprint, families)
    spread = spread_before_setting(desk, class_id, blueprint, families)
    issued = issue_papers(class_id, group["candidates"], plan, families, desk.shop, desk.secret(class_id), desk.room,
                          desk.folder, now, known)
    desk.keep("links", class_id, {one.paper_id: one.token for one in issued})
    keep_families(desk, families, {key["family_sha256"] for one in issued for key in paper_record(desk, one.paper_id)["keys"]})
    for one in issued:
        desk.note("paper issued", {
            "class": class_id, "paper_id": one.paper_id, "candidate": _who(one.candidate), "set_by": set_by,
            "blueprint": {"id": plan.id, "version": plan.version, "sha256": plan.sha256},
            "paper_sha256": one.paper_sha256, "key_sha256": one.key_sha256, "chart": desk.shop.chart_line(),
            "charts": charts_now(desk), "expected_marks": {"lowest": f"{spread.lowest:.1f}", "highest": f"{spread.highest:.1f}",
                               "standard_deviation": f"{spread.deviation:.2f}"}}, now)
    return links(desk, class_id)


def keep_families(desk: Desk, families, digests: set[str]) -> None:
    """Copy the files of these families, by which keys were worked out."""
    for family in families.values():
        if family.sha256 in digests:
            desk.keep_text(Path(family.folder) / family.file, family.sha256)


def _who(candidate: dict) -> dict:
    return {"id": candidate["id"], "name": candidate["name"]}


def links(desk: Desk, class_id: str) -> list[dict]:
    """Each candidate's paper and the last part of its address in the room."""
    tokens = desk.kept("links", class_id) or {}
    return [{"paper_id": entry.body["paper_id"], "candidate": entry.body["candidate"],
             "address": f"/sit/{tokens[entry.body['paper_id']]}" if entry.body["paper_id"] in tokens else ""}
            for entry in desk.entries("paper issued", **{"class": class_id})]


def paper_of(desk: Desk, class_id: str, candidate_id: str) -> str | None:
    """The id of a candidate's paper, or None where none was set."""
    found = desk.entries("paper issued", **{"class": class_id, "candidate": candidate_id})
    return found[-1].body["paper_id"] if found else None


def class_of_paper(desk: Desk, paper_id: str) -> dict:
    """The class that a paper was set for."""
    return class_of(desk, desk.entries("paper issued", paper_id=paper_id)[-1].body["class"])


def paper_record(desk: Desk, paper_id: str) -> dict:
    """The kept key record of a paper: the paper itself, its keys and its cut score."""
    keys = desk.folder / "keys"
    try:
        return whole_record(keys, paper_id, key_record(keys, paper_id)[0].whole_sha256)
    except (OSError, ValueError):
        raise Refusal(f"the paper '{paper_id[:40]}'", "a paper set at this desk", "choose it from the class's list") from None
    except DamagedKey:
        raise Refusal(f"the damaged key record of paper {paper_id}", "the record as the desk filed it",
                      "put it back from a copy of the desk's folder") from None


def question_paper(desk: Desk, paper_id: str) -> dict:
    """The paper as the candidate has it."""
    return paper_record(desk, paper_id)["paper"]


def alike_in_words(desk: Desk, class_id: str) -> list[str]:
    """A sentence for each question that stands the same on two or more papers of a class."""
    whose, papers = {}, []
    for row in links(desk, class_id):
        whose[row["paper_id"]] = row["candidate"]["name"]
        try:
            papers.append(question_paper(desk, row["paper_id"]))
        except Refusal:  # a damaged record is told where it is opened
            continue
    return [", ".join(f"question {slot} of {whose[paper]}" for paper, slot in where) for where in alike(papers)]


def type_in(desk: Desk, paper_id: str, answers: dict[int, object], by: str, second_reader: str,
            now: datetime | None = None) -> dict:
    """Hand in what was written on paper, with who typed it and who read it a second time."""
    return typed_in(question_paper(desk, paper_id), answers, by, second_reader, desk.room / "returned", now)


def uncounted(desk: Desk, paper_id: str) -> dict[int, object]:
    """What a paper was handed in with that does not count, by question: typed and not confirmed, or too late."""
    try:
        returned = read_returned(desk.room / "returned" / f"{paper_id}.json")
    except DamagedAnswers:
        return {}
    counted = {answer.slot for answer in returned.answers}
    return {answer.slot: answer.typed for answer in (*returned.drafts, *returned.late) if answer.slot not in counted}


def give_more_time(desk: Desk, class_id: str, paper_id: str, minutes: int, by: str, why: str,
                   now: datetime | None = None) -> None:
    """Give one sitting more minutes; who gave them and why stands in its journal, and is entered as `more time given`."""
    sitting = next((one for one in links(desk, class_id) if one["paper_id"] == paper_id), None)
    if sitting is None:
        raise Refusal(f"the paper '{paper_id[:40]}'", "a paper of this class", "choose the candidate from the list")
    by = no_candidate(class_of(desk, class_id)["candidates"], by, "person giving more time")
    more_time(desk.room, paper_id, minutes, by, why, now)
    desk.note("more time given", {"class": class_id, "paper_id": paper_id, "candidate": sitting["candidate"], "minutes": minutes,
                                  "by": by, "why": " ".join(why.split())}, now)


def mark_papers(desk: Desk, class_id: str, marked_by: str, now: datetime | None = None, progress=None) -> MarkingRun:
    """Mark all that the class has handed in; each new result is entered as `answers marked`.

    Damaged files are named in the run's problems and the rest are marked. Marking again is harmless.
    """
    marked_by = no_candidate(class_of(desk, class_id)["candidates"], marked_by, "person marking")
    returned = desk.room / "returned"
    if not returned.is_dir():
        raise Refusal("a room in which nobody has handed in yet", "at least one paper handed in",
                      "wait, or type in what was written on paper")
    run = mark_returned(returned, desk.folder / "keys", desk.folder / "results", now, progress, corrections_of(desk),
                        issued_keys(desk))
    ours = {entry.body["paper_id"] for entry in desk.entries("paper issued", **{"class": class_id})}
    mine = [result for result in run.results if result["paper_id"] in ours]
    others = {entry.body["paper_id"] for entry in desk.register.entries("paper issued")} - ours
    problems = [one for one in run.problems if one["file"].removesuffix(".json") not in others]
    new = sum(enter_result(desk, class_id, result, marked_by, now) for result in mine)
    return MarkingRun(mine, problems, [one for one in run.not_returned if one["paper_id"] in ours], new)


def corrections_of(desk: Desk, class_id: str | None = None) -> list[dict]:
    """The corrections that the register names (of one class), the oldest first; refuses one changed since it was entered."""
    entries = desk.register.entries("answers re-marked")
    found = entered_corrections(entries, desk.folder / "corrections")
    return [kept for entry, kept in zip(entries, found, strict=True) if class_id in (None, entry.body["class"])]


def issued_keys(desk: Desk) -> dict[str, str]:
    """The hash of each paper's key record, as the register has it since the paper was issued."""
    return {entry.body["paper_id"]: entry.body["key_sha256"] for entry in desk.register.entries("paper issued")}


def enter_result(desk: Desk, class_id: str, result: dict, marked_by: str, now: datetime | None) -> bool:
    """Enter a result as `answers marked`, unless it stands entered as it is; says whether it was new."""
    digest = sha256_of(exact_text(result))
    if any(entry.body["result_sha256"] == digest
           for entry in desk.entries("answers marked", paper_id=result["paper_id"])):
        return False
    desk.note("answers marked", {
        "class": class_id, "paper_id": result["paper_id"], "candidate": _who(result["candidate"]),
        "marked_by": marked_by, "answers_sha256": result["answers_sha256"], "paper_sha256": result["paper_sha256"],
        "key_sha256": result["key_sha256"], "result_sha256": digest, "blueprint": result["blueprint"],
        "score": result["score"], "out_of": result["out_of"], "cut": result["cut"]["marks"],
        "cut_set": {name: value for name, value in result["cut"].items() if name != "how"},
        "corrections": [one["number"] for one in result["corrections"]],
        "must_be_right_missed": result["must_be_right_missed"], "passed": result["passed"],
        "practice": result["practice"], "handed_in_at": result["handed_in_at"], "typed_in": result["typed_in"], "settled": _settled(desk, result),
        "typings_sha256": sha256_of(exact_text(desk.kept("typed", result["paper_id"]) or {})) if result["typed_in"] else ""}, now)
    return True


def _settled(desk: Desk, result: dict) -> dict:
    """Who settled where the two typings of a sheet differ, and why nobody else could; empty where nothing was to settle."""
    found = (desk.kept("typed", result["paper_id"]) or {}).get("settled") if result["typed_in"] else None
    return {name: found.get(name, "") for name in ("by", "alone")} if found and found["differences"] else {}


def results(desk: Desk, class_id: str) -> list[dict]:
    """The kept results of a class, as they were entered last."""
    found = (marked(desk, class_id, person["id"]) for person in class_of(desk, class_id)["candidates"])
    return [one["result"] for one in found if one]


def marked(desk: Desk, class_id: str, candidate_id: str) -> dict | None:
    """A candidate's last marked result with its register entry; refuses a result changed since it was entered."""
    candidate_of(desk, class_id, candidate_id)
    entries = desk.entries("answers marked", **{"class": class_id, "candidate": candidate_id})
    if not entries:
        return None
    entry = entries[-1]
    try:
        result = json.loads(desk.path("results", f"{entry.body['paper_id']}.json").read_bytes())
    except (OSError, ValueError):
        result = None
    if result is None or sha256_of(exact_text(result)) != entry.body["result_sha256"]:
        raise Refusal(f"the kept result of paper {entry.body['paper_id']}, which was changed since it was entered",
                      f"the result that register entry {entry.number} names",
                      "put it back from a copy of the desk's folder, or mark the papers again")
    return {"result": result, "entry": entry}


def summary(desk: Desk, class_id: str) -> dict:
    """The class put together, in the skills' own words."""
    return class_summary(results(desk, class_id), skill_sentences())


def skill_sentences() -> dict[str, str]:
    """Each skill's sentence by its id."""
    from rigcalc.skills import load_skills
    return {skill.id: skill.sentence for skill in load_skills().values()}
