"""Checking a family when it is loaded: every name it uses must exist, every field its kind needs must stand."""

from __future__ import annotations

import re
from difflib import get_close_matches
from functools import lru_cache
from typing import Any

from rigcalc.questions import registry, template
from rigcalc.questions.check_statements import check_together, drawn_rows, fitting
from rigcalc.questions.family import BOX_KINDS, KINDS, Answer, Drawn, Family, Misstep, refuse
from rigcalc.questions.members import MEMBERS
from rigcalc.questions.naming import calculations_like
from rigcalc.questions.scale import UNITS, dimension
from rigcalc.skills import frame, load_skills, no_such_skill, owed_sections, skills_file

__all__ = ["check_family"]

WAYS = ("member_of", "one_of", "range", "some_of", "shuffle", "calculation")
GIVEN = ("system", "shop")
ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
DIRECTIONS = ("down", "up", "nearest")


class _Check:
    """One family and its text, so that every refusal names its line."""

    def __init__(self, family: Family, text: str) -> None:
        self.family, self.text = family, text

    def no(self, steps: list[str | int], given: str, accepted: str, do: str) -> None:
        raise refuse(self.family.file, self.text, steps, given, accepted, do)

    def named(self, steps: list[str | int], given: str) -> None:
        """An id of small letters, figures and hyphens."""
        if not ID.fullmatch(given):
            plain = "-".join(re.findall(r"[a-z0-9]+", given.casefold())) or "rope-for-a-fence"
            self.no(steps, f"'{given}'", "small letters and figures, with hyphens between words", f"write {plain}")

    def one_of(self, steps: list[str | int], given: Any, accepted: Any) -> None:
        if given not in accepted:
            self.no(steps, f"'{given}'", ", ".join(str(one) for one in accepted), "take one of these")

    def call(self, steps: list[str | int], name: str | None, arguments: dict[str, Any], known: set[str]) -> None:
        if name is not None:
            if name not in registry.CALCULATIONS:
                near = calculations_like(name)[:3]
                self.no([*steps, "calculation"], f"'{name}'", "a calculation of the list that   rigcalc quiz --calculations   shows"
                        + (f", perhaps {', '.join(near)}" if near else ""), "take one of these")
            fault = registry.signature_fault(name, arguments)
            if fault:
                self.no([*steps, "with"], fault, f"the arguments of {name}", "mend the names under 'with'")
        self.names([*steps, "with"], arguments, known)

    def names(self, steps: list[str | int], value: Any, known: set[str]) -> None:
        """Every $name in a field must be drawn above it."""
        if isinstance(value, str) and value.startswith("$"):
            if value[1:].split(".")[0] not in known:
                self.no(steps, f"'{value}'", ", ".join(sorted(known)), "draw that value above, or mend the name")
            self.field(steps, value[1:], f"'{value}'")
        elif isinstance(value, dict):
            for name, one in value.items():
                self.names([*steps, name], one, known)
        elif isinstance(value, list):
            for one in value:
                self.names(steps, one, known)

    def dollars(self, steps: list[str | int], arguments: dict[str, Any], known: set[str]) -> None:
        """A text that is the name of something drawn has lost its dollar sign."""
        for name, value in arguments.items():
            if isinstance(value, str) and value in known:
                self.no([*steps, name], f"the text '{value}'", f"a figure, another text, or ${value} for what is drawn under that name", f'write "${value}", or give what is drawn another name')

    def field(self, steps: list[str | int], path: str, given: str) -> None:
        """What is read from a row of a pool must stand in the pool."""
        name, _, field = path.partition(".")
        rows = drawn_rows(self.family, name)
        there = {key for row in rows or [] for key in row}
        if rows and field and field.split(".")[0] not in there:
            self.no(steps, given, ", ".join(f"{name}.{one}" for one in sorted(there)), "mend the name, or write the field into the pool")

    def needs(self, steps: list[str | int], answer: Answer, name: str, known: set[str]) -> None:
        """A field that this kind cannot do without."""
        if getattr(answer, name) is None:
            self.no([*steps, "answer"], f"no {name}", f'{name} = "$a drawn list"', "add it")
        self.names([*steps, "answer", name], getattr(answer, name), known)

    def words(self, steps: list[str | int], words: dict[str, str] | None, known: set[str], needed: bool = True) -> None:
        if words is None and not needed:
            return
        if not words or not words.get("en"):
            self.no(steps, "no English text", 'en = "..."', "write the sentence")
        self.braces([*steps, "en"], words["en"])
        for name, form in template.gaps(words["en"]):
            if name.split(".")[0] not in known:
                self.no([*steps, "en"], f"the gap {{{name}}}", ", ".join(sorted(known)), "mend the name in the text")
            self.field([*steps, "en"], name, f"the gap {{{name}}}")
            if form and form not in template.FORMATS:
                self.no([*steps, "en"], f"the form '{form}'", ", ".join(template.FORMATS), "take one of these")


    def braces(self, steps: list[str | int], text: str) -> None:
        """Every brace must be part of a gap; else it would be printed as it stands."""
        left = template.no_gap(text)
        if left is not None:
            self.no(steps, f"a brace that makes no gap, at '{left}'", "gaps such as {size}, {cable.size} or {load_n:force}",
                    "close the brace, mend the name in it, or take it out")


def _draws(check: _Check) -> set[str]:
    known = set(GIVEN)
    for name, one in check.family.draw.items():
        steps: list[str | int] = ["draw", name]
        ways = [way for way in WAYS if getattr(one, way) is not None]
        if len(ways) != 1:
            check.no(steps, f"{len(ways)} ways to draw ({', '.join(ways) or 'none'})", f"one of {', '.join(WAYS)}",
                     "keep one of them")
        _draw(check, steps, one, known)
        known.add(name)
    return known


def _draw(check: _Check, steps: list[str | int], one: Drawn, known: set[str]) -> None:
    for way in ("member_of", "some_of"):
        if getattr(one, way) is not None:
            check.one_of([*steps, way], getattr(one, way), [*MEMBERS, *check.family.pools])
    if one.some_of is not None and not one.count:
        check.no([*steps, "count"], "nothing", "how many to take", "write count = 4, for instance")
    if one.range is not None:
        _range(check, steps, one)
    if one.one_of is not None and not one.one_of:
        check.no([*steps, "one_of"], "an empty list", "at least one value", "add a value")
    check.names([*steps, "where"], one.where, known)
    pool = check.family.pools.get(one.member_of or one.some_of)
    if pool is not None and not fitting(pool, one.where):
        check.no([*steps, "where" if one.where else "member_of"], f"{one.where}, which no row of '{one.member_of or one.some_of}' fits,",
                 f"fields and values of its rows, which have {', '.join(sorted({key for row in pool for key in row})) or 'nothing'}", "mend the name or the value")
    check.names(steps, one.one_of, known)
    check.names(steps, one.shuffle, known)
    check.call(steps, one.calculation, one.with_, known)


def _range(check: _Check, steps: list[str | int], one: Drawn) -> None:
    if len(one.range) != 2 or one.range[0] > one.range[1]:
        check.no([*steps, "range"], f"{one.range}", "[least, most]", "mend it")
    if one.step is None or one.step <= 0:
        check.no([*steps, "step" if one.step is not None else "range"], f"the step {one.step:g}" if one.step is not None else "a range without a step",
                 "a step above zero", "write step = 1 for whole numbers, or step = 20 for round ones")


def _number(check: _Check, steps: list[str | int], answer: Answer) -> None:
    if answer.unit is None or not answer.accept:
        check.no([*steps, "answer"], "no unit or no accepted units", 'unit = "lbf" and accept = ["lbf", "N"]', "add them")
    at = [*steps, "answer", "accept"]
    for unit in answer.accept:
        if dimension(unit) is None:
            check.no(at, f"'{unit}', a unit that nothing reads,", ", ".join(one for own in UNITS.values() for one in own if one), "mend it")
    if len({dimension(unit) for unit in answer.accept}) != 1:
        check.no(at, ", ".join(answer.accept), "units of one quantity, such as lbf, N, kN", "mend them")
    for field in ("unit", "unit_si"):
        unit = getattr(answer, field)
        if unit is not None and unit not in answer.accept:
            check.no([*steps, "answer", field], f"'{unit}', which does not stand in accept,", ", ".join(answer.accept) or '""', "write it into accept too, or mend it")
    for name, value in answer.tolerance.items():
        check.one_of([*steps, "answer", "tolerance", name], name, ["relative", "absolute", *answer.accept])
        if value < 0:
            check.no([*steps, "answer", "tolerance", name], f"{value}", "0 or more", "mend it")
    if answer.round:
        check.one_of([*steps, "answer", "round", "direction"], answer.round.direction, DIRECTIONS)
    for unit in answer.accept if answer.round else ():
        if unit not in answer.round.step:
            check.no([*steps, "answer", "round", "step"], f"no step for {unit}", "a step for each accepted unit", "add it")


def _options(check: _Check, steps: list[str | int], answer: Answer) -> None:
    if not answer.options or not 2 <= answer.options <= 8:
        check.no([*steps, "answer", "options"], f"{answer.options}", "how many options, 2 to 8", "write options = 4")


def _statements(check: _Check, known: set[str]) -> None:
    family = check.family
    for number, one in enumerate(family.right):
        check.words(["right", number], {"en": one.en}, known)
        check.words(["right", number, "feedback"], one.feedback, known, needed=False)
        _section(check, ["right", number, "section"], one.section)
    for number, one in enumerate(family.wrong):
        check.words(["wrong", number], {"en": one.en}, known)
        if not one.id or not one.feedback:
            check.no(["wrong", number], "a wrong statement without id or feedback", "both", "say which misstep it is")
        check.named(["wrong", number, "id"], one.id)
        check.words(["wrong", number, "feedback"], one.feedback, known)
        _section(check, ["wrong", number, "section"], one.section)
    if family.answer.topic:
        check.names(["answer", "topic"], family.answer.topic, known)


def _several(check: _Check, known: set[str]) -> None:
    """From statements: how many, and how many of them right. From items: which they are, and what makes one right."""
    answer = check.family.answer
    span = answer.right_options
    if span is not None and (len(span) != 2 or not 1 <= span[0] <= span[1]):
        check.no(["answer", "right_options"], f"{span}", "[least, most], at least 1", "mend it")
    if check.family.right:
        _options(check, [], answer)
        if span is None or span[1] >= answer.options:
            check.no(["answer", "right_options"], f"{span}", f"[least, most], fewer than the {answer.options} options",
                     "write right_options = [2, 4]")
        return
    check.needs([], answer, "items", known)
    if (answer.right is None) == (not answer.true_if):
        check.no(["answer"], "neither or both of right and true_if", "one of them", "say which items are right")
    check.names(["answer", "right"], answer.right, known)
    check.names(["answer", "true_if"], answer.true_if, known)


def _rows(check: _Check, known: set[str]) -> None:
    """The lists that a row, a match or a place is made of."""
    answer, kind = check.family.answer, check.family.kind
    for name in {"match": ("left", "right_side"), "place": ("letters",), "order": ()}[kind]:
        check.needs([], answer, name, known)
    check.names(["answer", "items"], answer.items, known)
    if kind == "place" and check.family.figure is None:
        check.no(["figure"], "no drawing", "[figure] with a lettered drawing", "add it")


def _boxes(check: _Check, known: set[str]) -> None:
    boxes = check.family.box
    if not 2 <= len(boxes) <= 8:
        check.no(["box"], f"{len(boxes)} boxes", "2 to 8 [[box]]", "add or remove some")
    for number, box in enumerate(boxes):
        steps: list[str | int] = ["box", number]
        check.one_of([*steps, "kind"], box.kind, BOX_KINDS)
        check.named([*steps, "id"], box.id)
        _section(check, [*steps, "section"], box.section)
        if box.id in [other.id for other in boxes[:number]]:
            check.no([*steps, "id"], f"'{box.id}' twice", "an id of its own for each box", "rename one")
        check.words([*steps, "label"], {"en": box.label} if isinstance(box.label, str) else box.label, known)
        _part(check, steps, box.kind, box.answer, box.misstep, known)
        _number(check, steps, box.answer) if box.kind == "number" else _options(check, steps, box.answer)


def _part(check: _Check, steps: list[str | int], kind: str, answer: Answer, missteps: list[Misstep],
          known: set[str], needed: bool = True) -> None:
    """What every kind has: a right answer, and missteps worked like it."""
    if needed and answer.calculation is None and answer.value is None:
        check.no([*steps, "answer"], "no right answer", "a calculation, a value, or [[right]] statements", "add one")
    check.call([*steps, "answer"], answer.calculation, answer.with_, known)
    check.dollars([*steps, "answer", "with"], answer.with_, known)
    check.names([*steps, "answer", "value"], answer.value, known)
    check.words([*steps, "answer", "option"], answer.option, known | {"value"}, needed=False)
    told = known | {"value"} if kind == "one choice" else known
    for number, one in enumerate(missteps):
        at = [*steps, "misstep", number]
        check.named([*at, "id"], one.id)
        if one.id in [other.id for other in missteps[:number]]:
            check.no([*at, "id"], f"'{one.id}' a second time", "an id of its own for each [[misstep]]", "rename one of the two")
        _same_as_right(check, at, one, answer)
        check.call(at, one.calculation, one.with_, known)
        check.dollars([*at, "with"], one.with_, known)
        check.names([*at, "value"], one.value, known)
        check.words([*at, "feedback"], one.feedback, told)
        _section(check, [*at, "section"], one.section)
        if one.yields and not (one.where_it_shows and kind == "number"):
            check.no([*at, "yields"], "true without where_it_shows, or for no figure", "yields beside where_it_shows, of a question or box of the kind 'number'", "take it out")
        if one.each_line and kind != "match":
            check.no([*at, "each_line"], f"true in a question of the kind '{kind}'", "each_line in a match alone", "take it out")
        check.words([*at, "option"], one.option, known | {"value"}, needed=False)


def _same_as_right(check: _Check, at: list[str | int], one: Misstep, answer: Answer) -> None:
    """A misstep that is worked and shown as the right answer is."""
    worked = (one.calculation, one.with_, one.value) == (answer.calculation, answer.with_, answer.value)
    if worked and one.round in (None, answer.round) and one.option in (None, answer.option) and (one.calculation or one.value is not None):
        check.no(at, f"the misstep '{one.id}', which is the right answer itself,", "another calculation, value or rounding than that of [answer]",
                 "work the misstep as somebody who goes wrong works it")


def _pools(check: _Check) -> None:
    """No text of a pool may hold a brace that would be printed as it stands."""
    for pool, rows in check.family.pools.items():
        for number, row in enumerate(rows):
            for name, text in row.items():
                if isinstance(text, str):
                    check.braces(["pools", pool, number, name], text)
            if "id" in row:
                _section(check, ["pools", pool, number, "section"], row.get("section"))


def check_family(family: Family, text: str) -> None:
    """Refuse a family that names what is not there; the sentence names file, line and field."""
    check = _Check(family, text)
    check.one_of(["form"], family.form, (1,))
    check.one_of(["kind"], family.kind, KINDS)
    check.one_of(["level"], family.level, (1, 2, 3))
    check.named(["id"], family.id)
    if family.version < 1:
        check.no(["version"], f"{family.version}", "1 or more, one higher at every change", "write version = 1")
    if family.minutes < 1:
        check.no(["minutes"], f"{family.minutes:g}", "1 minute or more", "say how long the question takes")
    _place(check)
    _pools(check)
    known = _draws(check)
    check.words(["ask"], family.ask, known)
    check.words(["chart"], family.chart, known, needed=False)
    check.words(["instruction"], family.instruction, known, needed=False)
    check.words(["hint"], family.hint, known | {"right"})
    check.words(["working"], family.working, known | {"right"})
    needed = not family.right and family.kind not in ("several choices", "sheet")
    _part(check, [], family.kind, family.answer, family.misstep, known, needed)
    _kind(check, known)
    if family.figure:
        _figure(check, known)


@lru_cache(maxsize=2)
def _map(changed: int) -> tuple[frozenset[str], frozenset[str]]:
    """The skills of the map, and the sections that lessons have or owe, as the map stands."""
    skills = load_skills()
    return frozenset(skills), frozenset({place for one in skills.values() for place in one.sections} | set(owed_sections(skills))
                                        | set(frame()))


def _place(check: _Check) -> None:
    """The skill must be in the map, and the section one that a lesson has, or owes to a skill."""
    skills, _ = _map(skills_file().stat().st_mtime_ns)
    if check.family.skill not in skills:
        raise refuse(check.family.file, check.text, ["skill"], *no_such_skill(check.family.skill))
    _section(check, ["section"], check.family.section)


def _section(check: _Check, steps: list[str | int], given: str | None) -> None:
    """A section, where one is named, must be one that a lesson has, or owes to a skill."""
    _, places = _map(skills_file().stat().st_mtime_ns)
    if given is not None and given not in places:
        own = sorted(one for one in places if one[:3] == given[:3])
        near = get_close_matches(given, own or sorted(places), 3) or own[:3] or sorted(places)[:3]
        check.no(steps, f"'{given}', which no lesson has or owes", f"a section of quizzes/skills.toml, such as {', '.join(near)}", "mend the name")


def _kind(check: _Check, known: set[str]) -> None:
    kind = check.family.kind
    if kind == "number":
        _number(check, [], check.family.answer)
    elif kind == "sheet":
        _boxes(check, known)
    elif kind in ("order", "match", "place"):
        _rows(check, known)
    else:
        _statements(check, known)
        _options(check, [], check.family.answer) if kind == "one choice" else _several(check, known)
        check_together(check.family, check.no)
    if kind != "sheet" and check.family.box:
        check.no(["box"], f"boxes in a question of the kind '{kind}'", "[[box]] with kind = \"sheet\" only", "remove them")


def _figure(check: _Check, known: set[str]) -> None:
    from rigcalc.figures import FIGURES

    check.one_of(["figure", "name"], check.family.figure.name, sorted(FIGURES))
    check.names(["figure", "with"], check.family.figure.with_, known)
