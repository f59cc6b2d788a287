"""Bench tasks as a trainer writes them: read from TOML, checked, and every problem named by its line."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Annotated, Literal

import msgspec

from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.shop.lines import Lines, syntax_problem

__all__ = ["CALL_KIND", "Cause", "Checkpoint", "Issue", "LIMITS", "Material", "Piece", "SetRule", "Stage", "Task", "TEXT_NAMES",
           "load_tasks", "read_task"]

CALL_KIND = "calls"
LIMITS = ("near the assessor's", "tail before", "tail after", "gaps", "pin to pin", "pull load")
# What a text may name in curly brackets; rigcalc.bench.limits fills them in.
TEXT_NAMES = ("size", "construction", "metal", "sleeve_metal", "crimps", "order", "tool", "cavity", "gauge", "pin_to_pin",
              "least_tail")
LARGEST_FILE = 200_000

Id = msgspec.Meta(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=40)
Text = msgspec.Meta(min_length=1, max_length=300)


class _Part(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A block of a task file: a name the block does not have is an error."""


class Piece(_Part):
    """What is made, unless the form is opened for another size."""

    size: str
    construction: str
    metal: str
    sleeve_metal: str
    pin_to_pin_mm: float
    eyes: Literal[1, 2]


class Material(_Part):
    """One thing that is counted out and back."""

    id: Annotated[str, Id]
    text: Annotated[str, Text]
    each_piece: Annotated[int, msgspec.Meta(ge=1, le=20)]


class Issue(_Part):
    """How many pieces the issued material is enough for, and what is counted."""

    pieces: Annotated[int, msgspec.Meta(ge=1, le=5)]
    material: list[Material]
    source: str
    note: str = ""


class SetRule(_Part):
    """What a sealed set of numbered pieces must hold and what a candidate must reach with it."""

    pieces: Annotated[int, msgspec.Meta(ge=2, le=12)]
    good_at_least: int
    critical_at_least: int
    right_at_least: int
    causes_right_at_least: int
    wrong_rejects_at_most: int
    source: str


class Cause(_Part):
    """One fault a candidate may name."""

    id: Annotated[str, Id]
    text: Annotated[str, Text]
    critical: bool = False


class Checkpoint(_Part):
    """One line of the form."""

    id: Annotated[str, Id]
    see: Annotated[str, Text]
    kind: Literal["see", "measure", "gauge", "choose", "count", "calls", "write"] = "see"
    skills: list[int] = []
    no_skill: bool = False
    on_occasion: list[int] = []
    critical: bool = False
    how: Literal["live", "piece", "record"] = "live"
    at_hold: bool = False
    eyes: list[int] | None = None
    when: Literal["always", "pull", "section", "second failure"] = "always"
    throughout: bool = False
    every_piece: bool = False
    required: bool = False
    due: bool = False
    who: Literal["candidate", "assessor"] = msgspec.field(default="candidate", name="for")
    limit: str | None = None
    instruments: list[str] = []
    choices: list[str] = []
    good: list[str] = []
    must_be: str | None = None
    counts: Literal["out", "back"] | None = None
    source: str = ""


class Stage(_Part):
    """One screen of the form."""

    id: Annotated[str, Id]
    title: Annotated[str, Text]
    checkpoint: list[Checkpoint]
    per: Literal["day", "piece", "eye"] = "day"
    hold: str | None = None
    hold_eyes: list[int] | None = None
    hands: bool = True
    words: bool = False


class Task(_Part):
    """One bench task."""

    form: Literal[1]
    id: Annotated[str, msgspec.Meta(pattern=r'^T[0-9]{1,2}$')]
    version: int
    title: Annotated[str, Text]
    text: Annotated[str, Text]
    minutes: Annotated[int, msgspec.Meta(ge=1, le=240)]
    stage: list[Stage]
    leaves_out: list[str] = []
    wrong_at_most: Annotated[int, msgspec.Meta(ge=0)] = 0
    wrong_source: str = ""
    piece: Piece | None = None
    issue: Issue | None = None
    set: SetRule | None = None
    cause: list[Cause] = []

    @property
    def checkpoints(self) -> tuple[Checkpoint, ...]:
        """Every checkpoint, in the order of time."""
        return tuple(c for stage in self.stage for c in stage.checkpoint)

    @property
    def checkpoint_ids(self) -> tuple[str, ...]:
        """Full ids such as "T1#tail-before" of the checkpoints that show a skill (the assessor's own left out)."""
        return tuple(f"{self.id}#{c.id}" for c in self.checkpoints if c.who == "candidate")


def load_tasks(folder: Path | str | None = None) -> dict[str, Task]:
    """All bench tasks of a folder (None: the installed quizzes/bench), by id such as "T1".

    Raises
    ------
    Refusal
        Naming file, line, what was given and what is accepted.
    """
    folder = Path(folder) if folder is not None else installed_folder() / "quizzes" / "bench"
    tasks: dict[str, Task] = {}
    for path in sorted(folder.glob("*.toml")):
        if path.stat().st_size > LARGEST_FILE:
            raise Refusal(f"{path.name} with {path.stat().st_size} bytes", f"at most {LARGEST_FILE}", "make the file shorter")
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            raise Refusal(f"{path.name}, which is no UTF-8 text", "a text file", "save it again as UTF-8 text") from None
        task = read_task(text, path.name)
        if task.id in tasks:
            raise Refusal(f"the task {task.id} a second time, in {path.name}", "one file a task", "remove one of the two")
        tasks[task.id] = task
    if not tasks:
        raise Refusal(f"the folder {folder}, which holds no bench task", "a folder with files such as T1.toml",
                      "name the folder quizzes/bench")
    return tasks


def read_task(text: str, name: str = "task") -> Task:
    """One task from its text; `name` stands in the error, with the line.

    Example
    -------
    >>> read_task('form = 1\\nid = "T1"\\nversion = "one"', "T1.toml")
    Traceback (most recent call last):
    rigcalc.errors.Refusal: Refused: T1.toml line 3, version: a text was given; accepted: a whole number; correct line 3 of T1.toml.
    """
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line, what, do = syntax_problem(text, error)
        raise Refusal(f"{name} line {line}: {what}", "a TOML file as the sample", do) from None
    try:
        task = msgspec.convert(document, Task)
    except msgspec.ValidationError as error:
        raise _at_line(text, name, *_said(str(error))) from None
    for path, given, accepted in _contradictions(task):
        raise _at_line(text, name, path, given, accepted)
    return task


_TYPES = {"str": "a text", "int": "a whole number", "float": "a number", "bool": "true or false", "array": "a list",
          "object": "a block", "null": "nothing"}


def _said(message: str) -> tuple[tuple, str, str]:
    """msgspec's message as path, what was given and what is accepted."""
    text, _, where = message.partition(" - at `")
    path: list = []
    for key, number in re.findall(r"\.([A-Za-z_]+)|\[(\d+)\]", where):
        path.append(key or int(number))
    kinds = re.match(r"Expected `(.+?)`(?:, got `(.+?)`)?$", text)
    if kinds and kinds[2]:
        accepted = " or ".join(_TYPES.get(k, k) for k in kinds[1].split(" | "))
        return tuple(path), _TYPES.get(kinds[2], kinds[2]), accepted
    unknown = re.match(r"Object contains unknown field `(.+)`", text)
    if unknown:
        return (*path, unknown[1]), f"the unknown name {unknown[1]}", "the names of the sample"
    missing = re.match(r"Object missing required field `(.+)`", text)
    if missing:
        return tuple(path), f"a block without {missing[1]}", f"a line   {missing[1]} = ..."
    enum = re.match(r"Invalid enum value (.+)", text)
    if enum:
        return tuple(path), enum[1], "one of the words listed at the top of T1.toml"
    pattern = re.match(r"Expected `str` matching regex (.+)", text)
    if pattern:
        return tuple(path), "an id with other signs", "small letters, figures and single hyphens, as tail-before"
    return tuple(path), text.replace("`", ""), "a value within these bounds"


def _at_line(text: str, name: str, path: tuple, given: str, accepted: str) -> Refusal:
    line = Lines(text).of(path)
    field = next((str(p) for p in reversed(path) if isinstance(p, str)), "file")
    return Refusal(f"{name} line {line}, {field}: {given}", accepted, f"correct line {line} of {name}")


def _contradictions(task: Task):
    """What types alone cannot see: (path, given, accepted), first one first."""
    seen: set[str] = set()
    for s, stage in enumerate(task.stage):
        if stage.per != "day" and task.piece is None:
            yield ("stage", s, "per"), f'"{stage.per}" in a task without [piece]', '"day", or a [piece] block'
        for c, point in enumerate(stage.checkpoint):
            here = ("stage", s, "checkpoint", c)
            if point.id in seen:
                yield (*here, "id"), f"the id {point.id} a second time", "an id of its own for each checkpoint"
            seen.add(point.id)
            yield from _of_point(task, point, here)
        texts = [(("stage", s, "checkpoint", c, "see"), p.see) for c, p in enumerate(stage.checkpoint)]
        for path, written in [*texts, (("text",), task.text)]:
            for named in re.findall(r"\{(\w*)\}", written):
                if named not in TEXT_NAMES:
                    yield path, "{" + named + "}", ", ".join("{" + n + "}" for n in TEXT_NAMES)
    if any(p.kind == CALL_KIND for p in task.checkpoints) and (task.set is None or not task.cause):
        yield ("stage", 0), "a checkpoint of calls without [set] or [[cause]]", "both blocks"


def _of_point(task: Task, point: Checkpoint, here: tuple):
    if not point.skills and point.who == "candidate" and not point.no_skill:
        yield here, f"{point.id} without skills", 'skills = [numbers of the skill map], no_skill = true, or for = "assessor"'
    if point.skills and point.no_skill:
        yield (*here, "no_skill"), f"{point.id} with no_skill and with skills", "one of the two"
    for number in point.skills:
        if not 1 <= number <= 78:
            yield (*here, "skills"), str(number), "numbers from 1 to 78"
    for number in point.on_occasion:
        if number not in point.skills:
            yield (*here, "on_occasion"), str(number), "one of the line's own skills"
    if point.on_occasion and (point.kind not in ("see", "gauge") or point.kind == "see" and point.critical):
        yield (*here, "on_occasion"), f"{point.id} with on_occasion", "a line of the kind gauge, or of the kind see that is not critical"
    if point.kind == "measure" and point.limit not in LIMITS:
        yield (*here, "limit"), f'"{point.limit}"', ", ".join(f'"{limit}"' for limit in LIMITS)
    if point.kind == "measure" and not point.instruments:
        yield here, f"{point.id} without instruments", 'a list such as ["caliper 0.01 mm"]'
    if point.due and not (point.kind == "write" and point.required):
        yield (*here, "due"), f"{point.id} with due", "a line of the kind write with required = true"
    if point.kind == "choose" and not point.choices:
        yield here, f"{point.id} without choices", "a list of choices"
    for field, words in (("good", point.good), ("must_be", [point.must_be] if point.must_be else [])):
        for word in words:
            if word not in point.choices:
                yield (*here, field), f'"{word}"', "one of its own choices"
    if point.kind == "count" and (task.issue is None or point.counts is None):
        yield here, f"{point.id}, a count without [issue] or counts", 'an [issue] block, and counts = "out" or "back"'
