"""What a shop file holds, as plain records: millimetres and newtons inside, names as the shop writes them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from rigcalc.errors import Refusal

if TYPE_CHECKING:
    from rigcalc.rating import DesignFactor
    from rigcalc.sleeve import CrimpChart

__all__ = ["Bench", "ChartCheck", "Gauge", "PullTest", "Reel", "Shop", "Thimble", "Tool"]


@dataclass(frozen=True)
class Reel:
    """One reel on the rack, with what its label and its certificate say.

    `size` is an inch size by name ("1/8"), a nominal metric size ("6 mm") or "unknown"; only an inch size
    can be given a sleeve. `certificate_n` is the breaking force on the reel's certificate in newtons, or None.
    """

    id: str
    label: str
    size: str
    construction: str
    metal: str
    coating_to: str | None
    certificate_n: float | None
    certificate: str | None
    lot: str
    length_m: float | None

    @property
    def is_inch(self) -> bool:
        """Whether the reel carries an inch size, the only sort a sleeve of this trade fits."""
        return "mm" not in self.size and self.size != "unknown"


@dataclass(frozen=True)
class Tool:
    """A swaging tool: its id, its name and the mark of the cavity for each size, ((size, mark), ...)."""

    id: str
    name: str
    cavities: tuple[tuple[str, str], ...]

    @property
    def sizes(self) -> tuple[str, ...]:
        """The sizes this tool has a cavity for."""
        return tuple(size for size, _ in self.cavities)

    def cavity(self, size: str) -> str | None:
        """The mark on the cavity for `size`, or None."""
        return dict(self.cavities).get(size)


@dataclass(frozen=True)
class Gauge:
    """An after-swage gauge: the sizes it has slots for, when it was checked and when the check runs out."""

    id: str
    sizes: tuple[str, ...]
    sleeve_metals: tuple[str, ...]
    checked_on: date
    due_on: date

    def in_date(self, on: date) -> bool:
        """Whether the check still holds on that day."""
        return self.checked_on <= on <= self.due_on


@dataclass(frozen=True)
class Thimble:
    """A thimble: cable in its loop, and bearing point to the sleeve's near edge, both in mm."""

    size: str
    metal: str
    loop_mm: float
    bearing_to_sleeve_mm: float


@dataclass(frozen=True)
class PullTest:
    """The load one piece of a size must hold when it is pulled, in newtons, and by which procedure."""

    size: str
    metal: str
    hold_n: float
    procedure: str
    set_by: str
    set_on: date


@dataclass(frozen=True)
class Bench:
    """The shop's own limits at the bench, in mm."""

    pin_to_pin_tolerance_mm: float
    gap_tolerance_mm: float
    diameter_tolerance_mm: float


@dataclass(frozen=True)
class ChartCheck:
    """Who read a chart again after it was copied, and when."""

    chart_id: str
    checked_by: str
    checked_on: date


@dataclass(frozen=True)
class Shop:
    """A workplace's own data, as its shop file gives them.

    `digest` is the SHA-256 of the file, so that a result can name the very text it was worked from.
    """

    name: str
    invented: bool
    system: str
    language: str
    people: tuple[tuple[str, str], ...]
    bench: Bench
    reels: tuple[Reel, ...]
    charts: tuple[CrimpChart, ...]
    chart_checks: tuple[ChartCheck, ...]
    tools: tuple[Tool, ...]
    gauges: tuple[Gauge, ...]
    thimbles: tuple[Thimble, ...]
    pull_tests: tuple[PullTest, ...]
    factors: tuple[DesignFactor, ...]
    path: Path
    digest: str

    @property
    def has_maker_chart(self) -> bool:
        """Whether any tool maker's chart has been entered; without one, sheets are PRACTICE sheets."""
        return any(chart.kind == "maker" for chart in self.charts)

    def reel(self, reel_id: str) -> Reel:
        """The reel with that id; refuses an unknown one, naming those on the rack."""
        return _one("reel", reel_id, self.reels)

    def tool(self, tool_id: str) -> Tool:
        """The tool with that id; refuses an unknown one."""
        return _one("tool", tool_id, self.tools)

    def gauge(self, gauge_id: str) -> Gauge:
        """The gauge with that id; refuses an unknown one."""
        return _one("gauge", gauge_id, self.gauges)

    def thimble(self, size: str, metal: str) -> Thimble:
        """The thimble for that cable size and metal; refuses when the shop has entered none."""
        for thimble in self.thimbles:
            if (thimble.size, thimble.metal) == (size, metal):
                return thimble
        entered = ", ".join(f"{t.size} {t.metal}" for t in self.thimbles) or "none so far"
        raise Refusal(f"a thimble for {size} cable in {metal} metal", f"the thimbles in the shop file ({entered})",
                      "measure one and add a [[thimble]] block to the shop file")

    def pull_test(self, size: str, metal: str) -> PullTest | None:
        """The shop's load for pulling one piece of that size and cable metal, or None where none was set."""
        return next((t for t in self.pull_tests if (t.size, t.metal) == (size, metal)), None)

    def person(self, role: str) -> str | None:
        """The person entered for a role such as "trainer" or "assessor", or None."""
        return dict(self.people).get(role)

    def chart_line(self, sleeve_metal: str | None = None, size: str | None = None, tool: str | None = None) -> str:
        """One line naming the chart in force: for one sleeve metal, size and tool, or for the whole shop."""
        from rigcalc.sleeve import built_in_chart, chart_in_force, chart_line

        if sleeve_metal is not None and size is not None:
            return chart_line(chart_in_force(self.charts, sleeve_metal, size, tool)[0])
        if not self.has_maker_chart:
            return chart_line(built_in_chart())
        named = "; ".join(f"{c.id} ({c.sleeve_metal}, tool {c.tool}, edition {c.edition})" for c in self.charts)
        return f"{'INVENTED charts' if self.invented else 'Charts'} in force: {named}"


def _one(what: str, wanted: str, among: tuple):
    for thing in among:
        if thing.id.casefold() == str(wanted).strip().casefold():
            return thing
    known = ", ".join(thing.id for thing in among) or "none so far"
    raise Refusal(f"the {what} '{wanted}'", f"a {what} of the shop file ({known})",
                  f"take one of these, or add a [[{what}]] block to the shop file")
