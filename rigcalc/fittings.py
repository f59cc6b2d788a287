"""Fittings: what is marked on them, what an angle takes away, and the weakest link among working limits."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from fractions import Fraction

from rigcalc._given import among, listed, of_kind, said, words
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.units import exact, read_force_n

__all__ = ["KINDS", "AngleChart", "Fitting", "Weakest", "fitting_limit_n", "marked_fitting", "weakest_link"]

KINDS = ("shackle", "turnbuckle", "snap hook", "eyebolt", "eye screw", "wall anchor")
_ANGLE_IS_ASKED = ("eyebolt", "eye screw")
_SAME = Fraction(1, 10**12)  # two limits this near to each other, as parts of the larger, are the same limit
_IN_LINE = Fraction(1, 10**9)  # rad


@record
class AngleChart:
    """The fitting's own chart: limits in N, each up to an angle in rad off the line of the shank, and who gives it.

    `rows` is ((angle_rad, limit_n), ...), angles rising, limits never rising.
    """

    rows: tuple[tuple[float, float], ...]
    given_by: str


@record
class Fitting:
    """A fitting in the line: one of `KINDS`, its name, its own working limit in N as marked, or None without a mark.

    The mark is a working limit: it is never divided by the design factor again.
    """

    kind: str
    name: str
    limit_n: float | None
    angle_chart: AngleChart | None = None
    marked: str = ""

    @property
    def called(self) -> str:
        """Its kind and its name; the name alone where that says the kind."""
        return _called(self.kind, self.name)


def _called(kind: str, name: str) -> str:
    return name if kind.casefold() in name.casefold() else f"{kind} {name}"


@record
class Weakest:
    """The least working limit in N, the link that governs, those that tie with it, and every link with its limit in N."""

    limit_n: float
    governs: str
    ties: tuple[str, ...]
    links: tuple[tuple[str, float], ...]


def marked_fitting(kind: str, name: str, mark: str, angle_chart: AngleChart | None = None) -> Fitting:
    """A fitting from what is marked on it, such as "WLL 5 kN": the unit must stand in the mark.

    Range: a force above zero in lbf, N or kN. Errors: `Refusal` without a mark or a unit; a mark in kg, t or lb is
    a mass, and is entered as the force that its maker confirms.
    Source: the mark on the fitting.

    >>> marked_fitting("shackle", "bow shackle", "WLL 5 kN").limit_n
    5000.0
    """
    words(name, "the fitting's name")
    if not isinstance(mark, str) or not mark.strip():
        raise _unmarked(said(kind), name)
    plain = re.sub(r"^\s*(WLL|SWL|working load limit)\s*[:=]?\s*", "", mark, flags=re.IGNORECASE)
    made = Fitting(kind, name, float(read_force_n(plain).value), angle_chart, mark.strip())
    fitting_limit_n(made, 0.0)
    if angle_chart is not None:
        _from_chart(made, Fraction(0), exact(made.limit_n))
    return made


def fitting_limit_n(fitting: Fitting, angle_rad: float = 0.0) -> float:
    """A fitting's own working limit in N for a pull at an angle in rad off its line; 0 rad is in line.

    Under an angle only the fitting's own chart speaks: the row of the next larger angle, nothing read in between.
    Range: 0 to a right angle. Errors: `Refusal` for an unknown kind, no mark, an angle without a chart or beyond
    its last row, a chart that is not in order.
    Source: the mark on the fitting; its maker's or the shop's chart.

    >>> bolt = Fitting("eyebolt", "M10", 2000.0, AngleChart(((0.7854, 500.0),), "the maker's sheet, edition 2"))
    >>> fitting_limit_n(bolt, 0.0), fitting_limit_n(bolt, 0.5)
    (2000.0, 500.0)
    """
    limit = _marked(fitting)
    angle = exact(angle_rad)
    if not 0 <= angle <= exact(math.pi / 2):
        raise Refusal(f"a pull at {float(angle):g} rad off the line of the {fitting.name}", "0 to a right angle",
                      "measure the angle from the line of its shank")
    if angle <= _IN_LINE:
        return float(limit)
    if fitting.angle_chart is None:
        raise Refusal(f"a pull at {math.degrees(angle):.0f} degrees off the line of the {fitting.called}",
                      "a pull in line, or the fitting's own chart of limits under an angle",
                      "ask its maker, or turn it into the line of the pull: no general table stands in for its chart")
    return _from_chart(fitting, angle, limit)


def _marked(fitting: Fitting) -> Fraction:
    if not among(of_kind(fitting, Fitting, "a fitting").kind, KINDS):
        raise Refusal(f"the fitting {said(fitting.kind)}", ", ".join(KINDS), "take one of these, with its own marked limit")
    words(fitting.name, "the fitting's name")
    if fitting.limit_n is None:
        raise _unmarked(fitting.kind, fitting.name)
    limit = exact(fitting.limit_n)
    if limit <= 0:
        raise Refusal(f"{float(limit):g} N marked on the {fitting.called}", "a force above zero", "read the mark again")
    return limit


def _unmarked(kind: str, name: str) -> Refusal:
    return Refusal(f"the {_called(kind, name)} without a marked limit", "a fitting marked with its working limit and unit",
                   "take a marked one; one whose mark has worn off is out of use, and of a new one its maker gives the limit in writing: none is guessed")


def _from_chart(fitting: Fitting, angle: Fraction, straight: Fraction) -> float:
    chart = fitting.angle_chart
    of_kind(chart, AngleChart, "a chart of limits under an angle")
    rows = [tuple(map(exact, pair)) for pair in _pairs(chart.rows, fitting)]
    angles, limits = [Fraction(0), *(row[0] for row in rows)], [straight, *(row[1] for row in rows)]
    in_order = all(a < b for a, b in zip(angles, angles[1:])) and all(a >= b > 0 for a, b in zip(limits, limits[1:]))
    if not rows or not in_order or not isinstance(chart.given_by, str) or not chart.given_by.strip():
        raise Refusal(f"the angle chart of the {fitting.called}",
                      "rising angles, limits above zero that never rise with the angle nor pass the mark, and who gives it",
                      "copy it again from the maker's sheet")
    for upto, limit in rows:
        if angle <= upto + _IN_LINE:
            return float(limit)
    raise Refusal(f"a pull at {math.degrees(angle):.0f} degrees off the line of the {fitting.called}",
                  f"at most {math.degrees(rows[-1][0]):.0f} degrees, the last row of its chart", "ask its maker")


def _pairs(rows: object, fitting: Fitting) -> list[tuple]:
    pairs = [listed(row, "a row of an angle chart") for row in listed(rows, "the rows of an angle chart")]
    if any(len(pair) != 2 for pair in pairs):
        raise Refusal(f"the angle chart of the {fitting.called}", "an angle and a limit in each row", "copy it again from the maker's sheet")
    return pairs


def weakest_link(cable_limit_n: float, fittings: Sequence[Fitting | tuple[Fitting, float]]) -> Weakest:
    """The least working limit of a line, which link governs, and which tie with it.

    Parameters: the working limit of the cable at its eyes, in N, already divided by the design factor; the
    fittings, each alone or as (fitting, angle in rad off its line). Marked limits are compared as they stand,
    never divided again. An eyebolt or eye screw must come with its angle: it loses under angular pull.
    Errors: `Refusal` as for `fitting_limit_n`, and for a cable limit not above zero.
    Source: statics: links in one line carry the same force.

    >>> weakest_link(1601.0, [Fitting("shackle", "bow shackle", 4448.0), Fitting("turnbuckle", "M8", 1200.0)]).governs
    'turnbuckle M8'
    """
    cable = exact(cable_limit_n)
    if cable <= 0:
        raise Refusal(f"a cable limit of {float(cable):g} N", "a force above zero", "work the cable's limit first")
    links = [("cable at its eyes", float(cable)), *(_link(item) for item in listed(fittings, "the fittings"))]
    least = min(links, key=lambda link: link[1])
    same = [name for name, limit_n in links if exact(limit_n) - exact(least[1]) <= _SAME * exact(limit_n)]
    return Weakest(least[1], same[0], tuple(same[1:]), tuple(links))


def _link(item: Fitting | tuple[Fitting, float]) -> tuple[str, float]:
    fitting, angle_rad = item if isinstance(item, tuple) and len(item) == 2 else (item, None)
    _marked(fitting)
    if angle_rad is None and fitting.kind in _ANGLE_IS_ASKED:
        raise Refusal(f"the {fitting.called} without the angle of its pull", "the angle off the line of its shank, 0 in line",
                      "ask how it will be pulled: it loses strength under an angle")
    return fitting.called, fitting_limit_n(fitting, 0.0 if angle_rad is None else angle_rad)
