"""Making the demonstration: twelve invented people through every act of the desk, in a folder of its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from rigcalc.demonstration.answers import sit_paper, typed_by
from rigcalc.demonstration.cast import ASSESSOR, CAST, CLASS_NAME, DECIDER, SEALED_SET, TRAINER, roster_text
from rigcalc.demonstration.hands import watch
from rigcalc.desk import work
from rigcalc.errors import Refusal
from rigcalc.home import desk_folder, shop_file
from rigcalc.shop.load import load_shop, sample_shop_path

__all__ = ["Made", "MARKER", "make"]

MARKER = "DEMONSTRATION.txt"


@dataclass(frozen=True)
class Made:
    """What was made: where, which class, and how it came out."""

    home: Path
    class_id: str
    marked: int
    problems: list[dict]
    competent: list[str]
    not_yet: dict[str, str]
    certificates: list[str]


def make(home: Path, tell: Callable[[str], None] = lambda sentence: None) -> Made:
    """Make the class in `home`, which must be empty or hold an earlier demonstration."""
    desk = _own_desk(Path(home))
    class_id = _class(desk)
    tell(f"Class list: {len(CAST)} invented names.")
    papers = work.set_papers(desk, class_id, TRAINER)
    tell(f"Papers: {len(papers)} set, each with its own values; keys in the desk's folder alone.")
    person, _ = _people(desk, class_id)[0]
    work.give_more_time(desk, class_id, work.paper_of(desk, class_id, person["id"]), 10, TRAINER, "Invented: the lamp failed.")
    _answer(desk, class_id, tell)
    run = work.mark_papers(desk, class_id, ASSESSOR)
    _put_right(desk, class_id, tell)
    tell(f"Marked: {len(run.results)} papers, {sum(one['passed'] for one in run.results)} passed; not marked: "
         + "; ".join(f"{one['file']} ({one['what']})" for one in run.problems))
    _bench(desk, class_id, tell)
    competent, not_yet = _decide(desk, class_id)
    tell(f"Decided: {len(competent)} competent, {len(not_yet)} not yet.")
    numbers = [work.certify(desk, class_id, one)["statement"]["number"] for one in competent]
    tell(f"Certificates: {len(numbers)} signed with the demonstration key.")
    _suspend_and_lift(desk, numbers[0], tell)
    wrong = desk.register.check()
    if wrong:
        raise Refusal(f"a register that is not whole ({wrong[0]})", "a register nobody touched", "make it again in a new folder")
    tell(f"Register: {len(desk.register.entries())} entries, checked and whole.")
    names = {person["id"]: person["name"] for person in work.class_of(desk, class_id)["candidates"]}
    return Made(desk.home, class_id, len(run.results), run.problems, [names[one] for one in competent],
                {names[one]: why for one, why in not_yet.items()}, numbers)


def _suspend_and_lift(desk: work.Desk, number: str, tell) -> None:
    """One certificate suspended and its suspension lifted, with reasons; it ends in force."""
    work.change_standing(desk, number, "suspended", DECIDER, "Invented: the force gauge was doubted.")
    work.change_standing(desk, number, "lifted", DECIDER, "Invented: the force gauge was checked and is in order.")
    tell(f"Certificate {number}: suspended, and the suspension lifted.")


def _own_desk(home: Path) -> work.Desk:
    """The demonstration's own desk; refuses a folder that holds anything else."""
    marker = home / MARKER
    if home.exists() and not marker.exists() and (not home.is_dir() or any(home.iterdir())):
        kind = "a desk of its own" if desk_folder(home).exists() else "other things"
        raise Refusal(f"the folder {home}, which holds {kind}", "a new folder, or one of an earlier demonstration",
                      "name another folder")
    if shop_file(home).exists() and not load_shop(shop_file(home)).invented:
        raise Refusal(f"the folder {home}, which holds a real shop's file", "a folder of the invented shop", "name another folder")
    home.mkdir(parents=True, exist_ok=True)
    marker.write_text("Everything in this folder is INVENTED and made by   rigcalc demonstration   .\n"
                      "It may be deleted at any time.\n", encoding="utf-8")
    desk = work.open_desk(home, load_shop(sample_shop_path()))
    if any(not entry.body["invented"] for entry in desk.register.entries()):
        raise Refusal(f"the folder {home}, whose register holds genuine entries", "a folder without genuine entries",
                      "name another folder")
    return desk


def _class(desk: work.Desk) -> str:
    """A class name not used here yet."""
    taken = {one["name"] for one in work.classes(desk)}
    name = next(name for name in (CLASS_NAME, *(f"{CLASS_NAME} {n}" for n in range(2, 1000))) if name not in taken)
    return work.set_class(desk, name, roster_text(), TRAINER)


def _people(desk: work.Desk, class_id: str) -> list[tuple[dict, object]]:
    return list(zip(work.class_of(desk, class_id)["candidates"], CAST, strict=True))


def _answer(desk: work.Desk, class_id: str, tell) -> None:
    for person, learner in _people(desk, class_id):
        paper_id = work.paper_of(desk, class_id, person["id"])
        record = work.paper_record(desk, paper_id)
        typed = typed_by(learner, record["paper"], record["keys"])
        if learner.paper == "on paper":
            work.type_in(desk, paper_id, typed, ASSESSOR, TRAINER)
        else:
            sit_paper(desk.room, paper_id, typed)
        if learner.paper == "damaged":
            path = desk.room / "returned" / f"{paper_id}.json"
            path.write_bytes(path.read_bytes()[:-200])
    tell(f"Answered: {len(CAST)} papers handed in, one of them on paper, one file damaged on the way.")


def _put_right(desk: work.Desk, class_id: str, tell) -> None:
    """One question struck and one appeal turned down: nobody moves across the cut."""
    keys = [work.paper_record(desk, row["paper_id"])["keys"] for row in work.links(desk, class_id)]
    family = next(key["family"] for key in keys[0] if key["skill"] == "follows-the-order")
    done = work.correct_marking(desk, class_id, "struck", family, TRAINER, "Invented: the drawing was pale on some sheets.")
    tell(f"Marked again: question family {family} struck, {len(done['moves'])} papers, "
         f"{sum(bool(row['crosses']) for row in done['moves'])} across the cut.")
    person = next(person for person, learner in _people(desk, class_id) if "works-the-limit" in learner.blank)
    slot = next(one["slot"] for one in work.marked(desk, class_id, person["id"])["result"]["slots"] if one["skill"] == "works-the-limit")
    work.decide_appeal(desk, class_id, person["id"], slot, "the mark stands", DECIDER, "Nothing was written there.", "I ran out of time.")
    tell(f"Appeal: {person['name']}, question {slot}, the mark stands.")


def _bench(desk: work.Desk, class_id: str, tell) -> None:
    set_id = work.keep_set(desk, class_id, "sealed set 1", SEALED_SET, TRAINER)
    key = desk.kept("sets", set_id)
    people = _people(desk, class_id)
    mistaken = work.open_bench(desk, class_id, [people[0][0]["id"]], DECIDER, "LB", set_id)["form"]
    work.set_aside(desk, mistaken["form_id"], TRAINER, "Invented: opened with the wrong assessor.")
    for first in range(0, len(people), 2):
        pair = people[first:first + 2]
        form = work.open_bench(desk, class_id, [person["id"] for person, _ in pair], ASSESSOR, "LB", set_id)["form"]
        watch(form, desk.room / "bench" / f"{form['form_id']}.jsonl", {p["id"]: one.bench for p, one in pair}, key)
        for person, _ in pair:
            found = work.assess(desk, form["form_id"], person["id"])
            tell(f"Bench: {person['name']}, {'passed' if found['passed'] else 'not passed'}.")


def _decide(desk: work.Desk, class_id: str) -> tuple[list[str], dict[str, str]]:
    competent, not_yet = [], {}
    for person, learner in _people(desk, class_id):
        declared = work.Declared("photo card seen and compared on the day", True, "", True)
        wrong = work.blockers(desk, class_id, person["id"], declared)
        outcome = "not yet" if wrong else "competent"
        work.decide(desk, class_id, person["id"], outcome, DECIDER, learner.reasons, declared)
        if wrong:
            not_yet[person["id"]] = wrong[0]
        else:
            competent.append(person["id"])
    return competent, not_yet
