"""The trainer's day of a lesson: what each part takes, what is laid out before, and how a class shares what there is one of.

A lesson gives its data in `days/NN.toml`; everything else is the same for all.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from functools import cache
from html import escape
from importlib.resources import files

from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import laid_out
from rigcalc.notebook.teaching import shop_for_teaching

__all__ = ["NUMBERS", "Day", "Part", "day", "day_of"]

NUMBERS = "none one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty".split()
TOGETHER = {2: "pair", 3: "three"}  # how many stand at one place -> what they are called


@dataclass(frozen=True)
class Part:
    """A part of the page: its place there, its heading, and what it takes, in minutes: read, drilled on the page, done at the bench; `at`: the place of the rounds where that is done."""

    place: str
    name: str
    reading: int
    drill: int
    bench: int
    at: str = ""


@dataclass(frozen=True)
class Day:
    """A lesson's day for a class. All times are judgement.

    Parameters
    ----------
    parts : tuple of Part
        In the order of the page.
    group : int
        How many people the rounds are for.
    scarce : str
        What they share.
    round_min : int
        Minutes of one round at the bench.
    stations : tuple of str
        The places of a round; as many groups go round as there are places.
    in_the_rounds : str
        Who does what there.
    leave_out, keep : str
        What a short day leaves out, and what it never does.
    lay_out : tuple of str
        What lies ready before they come.
    shown : dict
        Minutes of what the trainer shows or plays with all, by the part's place on the page.
    pause_min : int
        Minutes of the break, where the clock counts it.
    rota : tuple
        A row a round, in it the number of each group's station; () for a turn round all of them.
    made : tuple
        What is made up before: (piece, how many, how it is made).
    marked : str
        How these pieces are told from others.
    making : str
        When these pieces are made, and by how many hands.
    making_min : int
        Minutes that takes.
    after : str
        What is done together when the rounds are over.
    after_min : int
        Minutes of that.
    with_less : str
        What is done where the shop has fewer tools or gauges than the notes ask for.
    others : tuple of dict
        Other numbers of people: `group`, their `rota`, where a number past the stations is the page, the `after_min` of so many, and in `words` what else changes.
    """

    parts: tuple[Part, ...]
    group: int
    scarce: str
    round_min: int
    stations: tuple[str, ...]
    in_the_rounds: str
    leave_out: str
    keep: str
    lay_out: tuple[str, ...]
    shown: dict[str, int] = field(default_factory=dict)
    pause_min: int = 0
    rota: tuple[tuple[int, ...], ...] = ()
    made: tuple[tuple[str, int, str], ...] = ()
    marked: str = "each with a number and a tag NOT FOR WORK"
    making: str = ""
    making_min: int = 0
    after: str = ""
    after_min: int = 0
    with_less: str = ""
    others: tuple[dict, ...] = ()

    @property
    def rounds(self) -> tuple[tuple[int, ...], ...]:
        """A row a round, in it the number of each group's station."""
        places = range(len(self.stations))
        return self.rota or tuple(tuple((turn + group) % len(self.stations) for group in places) for turn in places)

    @property
    def totals(self) -> tuple[int, int, int]:
        """Reading, drill and bench of the whole lesson, in minutes."""
        return sum(one.reading for one in self.parts), sum(one.drill for one in self.parts), sum(one.bench for one in self.parts)

    @property
    def middle(self) -> str:
        """The part after which half of the time with the page is gone."""
        half, gone = sum(self.totals[:2]) / 2, 0
        for one in self.parts:
            gone += one.reading + one.drill
            if gone >= half:
                break
        return one.name


@cache
def day_of(number: str) -> Day:
    """The day of a lesson.

    >>> day_of("07").totals, day_of("07").middle
    ((27, 80, 60), 'Pass, fail, not proven')
    """
    told = tomllib.loads(files(__package__).joinpath("days", f"{number}.toml").read_text(encoding="utf-8"))
    rows = {name: tuple(map(tuple, told[name])) for name in ("rota", "made") if name in told}
    return Day(**told | rows | {"parts": tuple(Part(*one) for one in told["parts"]), "stations": tuple(told["stations"]), "lay_out": tuple(told["lay_out"])})


def day(number: str) -> lesson.Block:
    """The trainer's own: the times of all parts, what to lay out, and the rounds at the bench. Folded, and never on the wall."""
    of = day_of(number)
    pause = "" if of.pause_min else f" A break fits after {of.middle}."
    short = f"Short of time? Leave out {of.leave_out}. Never leave out: {of.keep}.{pause}"
    shop = shop_for_teaching()[0]
    ready = [laid_out(one, shop) for one in of.lay_out]
    laid = lesson.Block("<p><strong>Laid out before they come:</strong></p><ul>" + "".join(f"<li>{escape(one)}</li>" for one in ready) + "</ul>", "\n".join(["Laid out before they come:", *ready]))
    blocks = [_times(of), _words(short), laid]
    if of.made:
        blocks.append(lesson.table(("Made up before", "how many", "how"), of.made, f"{sum(one[1] for one in of.made)} pieces, {of.marked}, counted out and back (judgement)", numbers=(1,)))
    if of.making:
        blocks.append(_words(f"To make them up: {of.making_min} minutes (judgement). {of.making}"))
    blocks += [*([_words(of.with_less)] if of.with_less else []), _rounds(of), _words(of.in_the_rounds)]
    for other in of.others:
        blocks += [_other_rounds(of, other), _words(other["words"])]
    if of.after:
        blocks.append(_words(f"After the rounds, {of.after_min} minutes (judgement): {of.after}"))
    html = "".join(one.html for one in blocks)
    return lesson.Block(f'<details class="trainer"><summary>Trainer: the day, part by part</summary>{html}</details>', "\n".join(["Trainer: the day, part by part", *(one.text for one in blocks)]))


def _words(words: str) -> lesson.Block:
    return lesson.Block(f"<p>{escape(words)}</p>", words)


def _times(of: Day) -> lesson.Block:
    """A part a row, with the break where half of the time with the page is gone; the clock runs without the bench."""
    clock, rows = 0, []
    shows, goes = bool(of.shown), any(one.at for one in of.parts)

    def row(name, reading, drill, shown, bench, at, by) -> tuple:
        return (name, reading, drill, *((shown,) if shows else ()), bench, *((at,) if goes else ()), by)

    for one in of.parts:
        shown = of.shown.get(one.place, 0)
        clock += one.reading + one.drill + shown
        rows.append(row(one.name, one.reading, one.drill, shown or "–", one.bench or "–", one.at or "–", clock))
        if of.pause_min and one.name == of.middle:
            clock += of.pause_min
            rows.append(row(f"Break of {of.pause_min}", "–", "–", "–", "–", "–", clock))
    reading, drill, bench = of.totals
    rows.append(row("All", reading, drill, sum(of.shown.values()), bench, "–", clock))
    head = row("Part", "reading", "drill", "shown by you", "bench", "where", "clock")
    numbers = tuple(at for at, word in enumerate(head) if word not in ("Part", "where"))
    end = f", then {of.after_min} together: {clock + bench + of.after_min} in all" if of.after_min else ""
    return lesson.table(head, rows, f"Minutes (judgement): {clock} with the page, then {bench} at the bench{end}", numbers=numbers)


def _rounds(of: Day) -> lesson.Block:
    """Who is where in which round: each group comes to each place once."""
    groups = len(of.rounds[0])
    called = TOGETHER[of.group // groups]
    rows = [(f"{turn}: {of.round_min} min", *(of.stations[at] for at in places)) for turn, places in enumerate(of.rounds, 1)]
    return lesson.table(("Round", *(f"{called} {name}" for name in "ABC"[:groups])), rows,
                        f"{of.group} people, {of.scarce}: {NUMBERS[groups]} {called}s, {NUMBERS[len(of.stations)]} places, {len(rows) * of.round_min} min (judgement)")


def _other_rounds(of: Day, other: dict) -> lesson.Block:
    """Who is where in which round, for another number of people: the places by their names alone."""
    places, rota = (*(one.partition(":")[0] for one in of.stations), "the page"), other["rota"]
    called, bench, groups = TOGETHER[other["group"] // len(rota[0])], len(rota) * of.round_min, len(rota[0])
    rows = [(f"{turn}: {of.round_min} min", *(places[at] for at in row)) for turn, row in enumerate(rota, 1)]
    page = sum(of.totals[:2]) + sum(of.shown.values()) + of.pause_min
    clock = f"{bench} min at the bench, then {other['after_min']} together: {page + bench + other['after_min']} in all"
    return lesson.table(("Round", *(f"{called} {name}" for name in "ABCD"[:groups])), rows, f"With {NUMBERS[other['group']]} people: {NUMBERS[groups]} {called}s, {NUMBERS[len(rota)]} rounds, {clock} (judgement)")
