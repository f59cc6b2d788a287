"""The trainer's day of a lesson: what each part takes, what is laid out before, and how a class shares what there is one of.

A lesson gives its data in `days/NN.toml`; everything else is the same for all.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from html import escape
from importlib.resources import files

from rigcalc.notebook import lesson

__all__ = ["NUMBERS", "Day", "Part", "day", "day_of"]

NUMBERS = "none one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty".split()
TOGETHER = {2: "pair", 3: "three"}  # how many stand at one place -> what they are called


@dataclass(frozen=True)
class Part:
    """A part of the page: its place there, its heading, and what it takes, in minutes: read, drilled on the page, done at the bench."""

    place: str
    name: str
    reading: int
    drill: int
    bench: int


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
    ((25, 45, 60), 'Pass, fail, not proven')
    """
    told = tomllib.loads(files(__package__).joinpath("days", f"{number}.toml").read_text(encoding="utf-8"))
    return Day(**told | {"parts": tuple(Part(*one) for one in told["parts"]), "stations": tuple(told["stations"]), "lay_out": tuple(told["lay_out"])})


def day(number: str) -> lesson.Block:
    """The trainer's own: the times of all parts, what to lay out, and the rounds at the bench. Folded, and never on the wall."""
    of = day_of(number)
    clock, rows = 0, []
    for one in of.parts:
        clock += one.reading + one.drill
        rows.append((one.name, one.reading, one.drill, one.bench or "–", clock))
    reading, drill, bench = of.totals
    times = lesson.table(("Part", "reading", "drill", "bench", "clock"), [*rows, ("All", reading, drill, bench, clock)],
                         f"Minutes (judgement): {clock} with the page, then {bench} at the bench", numbers=(1, 2, 3, 4))
    rounds = _rounds(of)
    short = f"Short of time? Leave out {of.leave_out}. Never leave out: {of.keep}. A break fits after {of.middle}."
    items = "".join(f"<li>{escape(one)}</li>" for one in of.lay_out)
    html = (f'<details class="trainer"><summary>Trainer: the day, part by part</summary>{times.html}<p>{escape(short)}</p><p><strong>Laid out before they come:</strong></p>'
            f"<ul>{items}</ul>{rounds.html}<p>{escape(of.in_the_rounds)}</p></details>")
    return lesson.Block(html, "\n".join(["Trainer: the day, part by part", times.text, short, "Laid out before they come:", *of.lay_out, rounds.text, of.in_the_rounds]))


def _rounds(of: Day) -> lesson.Block:
    """Who is where in which round: each group comes to each place once."""
    places = len(of.stations)
    called, many = TOGETHER[of.group // places], NUMBERS[places]
    rows = [(f"{turn + 1}: {of.round_min} min", *(of.stations[(turn + group) % places] for group in range(places))) for turn in range(places)]
    return lesson.table(("Round", *(f"{called} {name}" for name in "ABC"[:places])), rows,
                        f"{of.group} people, {of.scarce}: {many} {called}s, {many} places, {places * of.round_min} min (judgement)")
