"""The blueprint of a written paper: which skills, how hard, what each is worth, and what it takes to pass."""

from __future__ import annotations

import re
import statistics
import tomllib
from collections import Counter
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Literal

import msgspec

from rigcalc.errors import Refusal
from rigcalc.home import installed_folder, working_folder
from rigcalc.papers.cut import Cut, Judge, judged_cut, judging_faults
from rigcalc.papers.records import sha256
from rigcalc.questions.family import Family, families_folder, own_families_folder, read_family
from rigcalc.questions.toml_slips import FileFault, dotted, line_of, read_toml
from rigcalc.skills import load_skills, no_such_skill

__all__ = ["Blueprint", "Cut", "Judge", "Place", "blueprint_names", "families_at", "installed_blueprint", "load_blueprint", "judged_cut",
           "own_blueprints_folder", "plan_notes", "rules_in_words"]


class Place(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One place of the paper: a skill, its level (1 to 3) and what a right answer is worth, in marks.

    `number` asks that many questions of it, each of another family; a loaded blueprint has one place for each.
    `families` names the families that may be asked here, where not every family of that skill and level will do.
    """

    skill: str
    level: int
    marks: int
    must_be_right: bool = False
    number: int = 1
    families: tuple[str, ...] = ()


class Blueprint(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A paper's plan. Marks of all places add up to 100; a must-be-right place missed fails alone."""

    form: Literal[1]
    id: str
    version: int
    title: str
    minutes: int
    book: Literal["open", "closed"]
    allowed: str
    calculator: bool
    partial_credit: Literal["none", "shares"]
    cut: Cut
    question: list[Place]
    invented: bool = False
    sha256: str = ""


def own_blueprints_folder(home: Path | None = None) -> Path:
    """Where a workplace keeps blueprints of its own (made by the trainer, or not there)."""
    return working_folder(home) / "quizzes" / "blueprints"


def installed_blueprint(name: str) -> Path:
    """The file of a blueprint as it came with the workbook."""
    return installed_folder() / "quizzes" / "blueprints" / f"{name}.toml"


def blueprint_names(home: Path | None = None) -> list[str]:
    """The names of all blueprints, those that ship and the workplace's own; the narrow one first."""
    names = {path.stem for folder in (installed_blueprint("narrow").parent, own_blueprints_folder(home)) for path in folder.glob("*.toml")
             if re.fullmatch(r"[a-z0-9-]{1,40}", path.stem)}
    return sorted(names, key=lambda name: (name != "narrow", name))


def load_blueprint(name: str | Path = "narrow", families=None, home: Path | None = None) -> Blueprint:
    """Read and check a blueprint: a name, for which the workplace's own file stands before the installed one; or the path of a file.

    Parameters
    ----------
    families : dict, optional
        The question families by id; without it their files say which skills and levels they ask. A place that no
        family asks is refused.
    home : Path, optional
        The workbook's folder, whose own families count too.

    Raises
    ------
    Refusal
        Naming the file, the field and what is accepted there.
    """
    path = Path(name)
    if path.suffix != ".toml":
        own = own_blueprints_folder(home) / f"{name}.toml"
        path = own if own.exists() else installed_blueprint(str(name))
    try:
        data = path.read_bytes()
    except OSError:
        raise Refusal(f"the blueprint {path}", "a blueprint file that can be read",
                      "give its name in quizzes/blueprints/ or its path") from None
    text, plan = read_toml(path.name, data, Blueprint)
    for steps, given, accepted in [*_faults(plan), *_unasked(plan, _asked_by(families, home)), *_against_installed(plan, path)]:
        raise FileFault(path.name, line_of(text, steps), dotted(steps), given, accepted, "mend the blueprint and try again")
    return msgspec.structs.replace(_spread_out(plan), sha256=sha256(data))


def _against_installed(plan: Blueprint, path: Path):
    """Where another paper goes by an installed one's id and version, or a cut was set for other questions: results would be mixed up."""
    for there in installed_blueprint("narrow").parent.glob("*.toml"):
        if there.resolve() == path.resolve():
            continue
        installed = read_toml(there.name, there.read_bytes(), Blueprint)[1]
        invented = sorted(_who_judged(plan.cut) & _who_judged(installed.cut))
        if installed.invented and not plan.invented and invented:
            yield (["invented"], f"a plan that is not invented with a cut by {', '.join(invented)}, an invented person of the installed {installed.id} {installed.version},",
                   "a cut by people of your own, with their names and expectations, or invented = true")
        if installed.id != plan.id:
            continue
        same = msgspec.structs.replace(plan, invented=installed.invented) == installed
        if plan.version <= installed.version and not same:
            yield (["version"], f"version {plan.version} with another content than the installed {plan.id} {installed.version}",
                   f"version {installed.version + 1} or more, or an id of its own")
        asks = [[(place.skill, place.level, place.marks, place.number) for place in one.question] for one in (plan, installed)]
        if asks[0] != asks[1] and plan.cut.judge and plan.cut == installed.cut:
            yield (["cut"], f"the cut of the installed {installed.id} {installed.version} ({plan.cut.set_by}, {plan.cut.set_on}) with other questions",
                   "a cut that was judged for these very questions, with its day")


def _who_judged(cut: Cut) -> set[str]:
    return {judge.name for judge in cut.judge} or {cut.set_by}


def _spread_out(plan: Blueprint) -> Blueprint:
    """One place for each question: a place of `number` 2 becomes two, and so do the judges' expectations of it."""
    single = [msgspec.structs.replace(place, number=1) for place in plan.question for _ in range(place.number)]
    judges = [msgspec.structs.replace(judge, judged=[share for place, share in zip(plan.question, judge.judged, strict=True)
                                                     for _ in range(place.number)]) for judge in plan.cut.judge]
    return msgspec.structs.replace(plan, question=single, cut=msgspec.structs.replace(plan.cut, judge=judges))


def families_at(families=None, home: Path | None = None) -> Counter:
    """How many families ask each (skill, level); of the files in force where none are given; refuses one that is no TOML."""
    return Counter(_asked_by(families, home).values())


def _asked_by(families=None, home: Path | None = None) -> dict[str, tuple]:
    """Each family's (skill, level), by its id."""
    if families is not None:
        return {name: (family.skill, family.level) for name, family in families.items()}
    folders = (families_folder(), own_families_folder(home))
    found = {}
    for path in {path.name: path for folder in folders for path in folder.glob("*.toml")}.values():  # an own one of that name stands
        try:
            now = path.stat()
            name, asked = _says(path, now.st_mtime_ns, now.st_size)
        except (OSError, ValueError):
            read_family(path)  # refuses it with its line
            raise
        found[name] = asked
    return found


@lru_cache(maxsize=1024)
def _says(path: Path, changed: int, size: int) -> tuple[str, tuple]:
    """A family's id and its (skill, level), as long as its file stays as it is."""
    family = tomllib.loads(path.read_text("utf-8"))
    return family.get("id", path.name), (family.get("skill"), family.get("level"))


def _unasked(plan: Blueprint, asked_by: dict[str, tuple]):
    """Places that no family asks, that name a family which asks something else, or that ask more questions than there are families."""
    wanted, there = Counter(), Counter(asked_by.values())
    for index, place in enumerate(plan.question):
        wanted[place.skill, place.level] += place.number
        has = there[place.skill, place.level]
        yield from _named_wrongly(index, place, asked_by)
        if not has:
            yield _not_asked(index, place, sorted(level for skill, level in there if skill == place.skill))
        elif wanted[place.skill, place.level] > has:
            yield (["question", index, "number"], f"{wanted[place.skill, place.level]} questions of '{place.skill}' at level "
                   f"{place.level}", f"up to {has}, one of each family")


def _not_asked(index: int, place: Place, levels: list[int]) -> tuple[list, str, str]:
    """Why no family asks a place: no such skill, one that is only shown by hand, or another level."""
    known = load_skills().get(place.skill)
    if known is None and not levels:
        return ["question", index, "skill"], *no_such_skill(place.skill)[:2]
    if not levels:
        how = "which is shown by hand and not asked in writing," if known.by_hand and not known.written else "which no family asks,"
        return ["question", index, "skill"], f"the skill '{place.skill}', {how}", "a skill that   rigcalc quiz --skills   shows"
    return (["question", index, "level"], f"the skill '{place.skill}' at level {place.level}, which no family asks,",
            f"that skill at level {', '.join(map(str, levels))}")


def _named_wrongly(index: int, place: Place, asked_by: dict[str, tuple]):
    """Families named for a place that do not ask its skill at its level, and fewer of them than it has questions."""
    fitting = sorted(name for name, asked in asked_by.items() if asked == (place.skill, place.level))
    for name in place.families:
        if name not in fitting:
            yield (["question", index, "families"], f"the family '{name}', which does not ask '{place.skill}' at level {place.level}",
                   f"one or more of {', '.join(fitting)}" if fitting else "a family of that skill and level")
    if len(set(place.families)) < len(place.families):
        yield ["question", index, "families"], "a family named twice", "each once"
    elif place.families and len(place.families) < place.number:
        yield (["question", index, "families"], f"{len(place.families)} families for {place.number} questions",
               f"{place.number} families or more, or none")


def _faults(plan: Blueprint):
    """Each fault as (steps to the field, what is given, what is accepted)."""
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", plan.id):
        yield ["id"], f"'{plan.id}'", "small letters, figures and hyphens, as in one-kind-of-eye"
    if plan.version < 1:
        yield ["version"], f"version {plan.version}", "1 or more, one higher at every change"
    for field, what in (("title", "what the paper is called, in words"), ("allowed", "what candidates may use, in words")):
        if not getattr(plan, field).strip():
            yield [field], "nothing", what
    if not plan.question:
        yield [], "no [[question]]", "at least one question"
    for index, place in enumerate(plan.question):
        if not 1 <= place.level <= 3:
            yield ["question", index, "level"], f"level {place.level}", "level 1, 2 or 3"
        if place.marks < 1:
            yield ["question", index, "marks"], f"{place.marks} marks", "1 mark or more"
        if not 1 <= place.number <= 20:
            yield ["question", index, "number"], f"{place.number} questions", "1 to 20 questions"
    total = sum(place.marks * place.number for place in plan.question)
    if total != 100:
        yield ["question"], f"marks adding up to {total}", "marks adding up to 100"
    if not 5 <= plan.minutes <= 240:
        yield ["minutes"], f"{plan.minutes} minutes", "5 to 240 minutes"
    yield from judging_faults(plan.cut, plan.question)


def plan_notes(plan: Blueprint, families: Mapping[str, Family]) -> list[str]:
    """What whoever sets this paper should know of the plan: skills that must be right and are not asked so, and time that is short."""
    skills = load_skills().values()
    must = {place.skill for place in plan.question if place.must_be_right}
    lacking = [one for one in skills if one.must_be_right and one.id not in must]
    notes = [f"Not asked as must be right, though the skill map says so: {'; '.join(f'{one.number} {one.sentence}' for one in lacking)} "
             "A certificate from this paper says so."] if lacking else []
    minutes = sum(statistics.fmean(known) for place in plan.question
                  if (known := [one.minutes for one in families.values() if one.skill == place.skill and one.level == place.level]))
    if minutes > plan.minutes:
        notes.append(f"The questions' own minutes come to about {minutes:.0f}; this plan gives {plan.minutes}.")
    return notes


def rules_in_words(plan: Blueprint) -> list[str]:
    """What a candidate is told before starting: time, aids, what it takes to pass and who said so."""
    must = sum(place.must_be_right for place in plan.question)
    said_by = "one named person" if plan.cut.method == "one named person" else "a panel of named judges"
    rules = [
        f"{len(plan.question)} question{'s' * (len(plan.question) != 1)}, {plan.minutes} minutes.",
        f"{'Open' if plan.book == 'open' else 'Closed'} book: {plan.allowed}",
        "A calculator is allowed." if plan.calculator else "No calculator.",
        f"To pass: {plan.cut.marks} of 100 marks. Cut set by {said_by}: {plan.cut.set_by}, {plan.cut.set_on}.",
    ]
    if must:
        some = "1 question" if must == 1 else f"{must} of the questions"
        rules.append(f"{some} must be right, whatever the rest. The assessment paper does not say which.")
    rules.append("No marks are taken off for a wrong answer, and none are given for half of one."
                 if plan.partial_credit == "none" else
                 "No marks are taken off for a wrong answer. Where a question has several parts, the parts that are right "
                 "get their share of its marks; wrongly chosen parts take away from that share.")
    return rules
