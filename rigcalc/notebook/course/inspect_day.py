"""Lesson 07, the trainer's day: what each part takes, what is laid out before, and how six share one gauge."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

from rigcalc.notebook import lesson

__all__ = ["GROUP", "PARTS", "ROUND_MIN", "STATIONS", "Part", "day", "totals"]


@dataclass(frozen=True)
class Part:
    """A part of the page: its place there, its heading, and what it takes, in minutes: read, drilled on the page, done at the bench."""

    place: str
    name: str
    reading: int
    drill: int
    bench: int

    @property
    def all(self) -> int:
        """All of it, in minutes."""
        return self.reading + self.drill + self.bench


PARTS = (  # judgement: a class of six; reading at the pace of this page's words, drill by its exercises and live figures
    Part("the-scene", "The scene", 1, 1, 0),
    Part("before-the-first-press", "Before the first press", 1, 3, 10),
    Part("using-the-gauge", "Using the gauge", 1, 2, 10),
    Part("press-again", "Press again, once", 1, 3, 5),
    Part("containment", "Containment: what goes back", 2, 6, 5),
    Part("what-the-gauge-cannot-see", "What the gauge cannot see", 2, 6, 5),
    Part("pass-fail-not-proven", "Pass, fail, not proven", 4, 6, 10),
    Part("faults-and-causes", "Faults and causes", 3, 2, 0),
    Part("what-is-done-with-a-reject", "What is done with a reject", 2, 0, 5),
    Part("no-second-life", "No second life", 1, 2, 0),
    Part("end-of-life", "End of life", 2, 4, 5),
    Part("what-goes-wrong", "What goes wrong", 1, 10, 5),
    Part("what-it-may-not-do", "What it may not do", 1, 0, 0),
    Part("recap", "Recap", 3, 0, 0),
)
GROUP, ROUND_MIN = 6, 20
STATIONS = ("the tool: paper, first-off, own eye, press again", "the gauge: every crimp of a piece of the sealed set, and of the own eye as soon as it is made",
            "the caliper: readings of one crimp; then cloth and lens along a wire; the reject cut through")
LAY_OUT = (
    "a tool that closes, a mis-set one (tagged NOT FOR WORK), thin paper, cloths",
    "a gauge in date, one out of date, a worn one (tagged NOT FOR WORK), the pins",
    "one fat crimp; one that stays fat after a second press, with its tag",
    "twelve cards, one a piece, two of them with a blank; tape for the line on the bench",
    "a 3/32 cable in a 1/8 sleeve and a coated piece, pressed; lever, guard, eye protection",
    "an aluminium sleeve, a plated copper one, a scale",
    "a caliper with its certificate; paper for the readings",
    "a filed crimp and an unfiled one, both cut through; a saw or a cutter",
    "an old wire with a broken wire at the sleeve and a mark that moved; a lens",
    "the sealed faulty set, numbered and counted; a sheet for each hand",
)


def totals() -> tuple[int, int, int]:
    """Reading, drill and bench of the whole lesson, in minutes.

    >>> totals()
    (25, 45, 60)
    """
    return sum(one.reading for one in PARTS), sum(one.drill for one in PARTS), sum(one.bench for one in PARTS)


def day() -> lesson.Block:
    """The trainer's own: the times of all parts, what to lay out, and the rounds at the bench. Folded, and never on the wall."""
    clock, rows = 0, []
    for one in PARTS:
        clock += one.reading + one.drill
        rows.append((one.name, one.reading, one.drill, one.bench or "–", clock))
    reading, drill, bench = totals()
    times = lesson.table(("Part", "reading", "drill", "bench", "clock"),
                         [*rows, ("All", reading, drill, bench, clock)], f"Minutes (judgement): {clock} with the page, then {bench} at the bench", numbers=(1, 2, 3, 4))
    rounds = lesson.table(("Round", *(f"pair {name}" for name in "ABC")),
                          [(f"{turn + 1}: {ROUND_MIN} min", *(STATIONS[(turn + pair) % 3] for pair in range(3))) for turn in range(3)],
                          f"{GROUP} people, one gauge, one caliper: three pairs, three places, {bench} min (judgement)")
    items = "".join(f"<li>{escape(one)}</li>" for one in LAY_OUT)
    words = ("In each pair one does it and one watches and writes; half-way they change. The gauge stays at its place: who needs it comes to it, says its number, its day and the slot aloud. "
             "An own eye that is not gauged when the round ends waits there, tagged: not gauged.")
    short = f"Short of time? Leave out the sums of the caliper and half of the tray. Never leave out: the paper strip, every crimp gauged, the second failure. A break fits after {_middle()}."
    html = (f'<details class="trainer"><summary>Trainer: the day, part by part</summary>{times.html}<p>{escape(short)}</p><p><strong>Laid out before they come:</strong></p>'
            f"<ul>{items}</ul>{rounds.html}<p>{escape(words)}</p></details>")
    return lesson.Block(html, "\n".join(["Trainer: the day, part by part", times.text, short, "Laid out before they come:", *LAY_OUT, rounds.text, words]))


def _middle() -> str:
    """The part after which half of the time with the page is gone."""
    half, gone = sum(totals()[:2]) / 2, 0
    for one in PARTS:
        gone += one.reading + one.drill
        if gone >= half:
            return one.name
    raise AssertionError("the parts have no middle")
