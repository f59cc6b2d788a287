"""What a shop file holds, as plain records: millimetres and newtons inside, names as the shop writes them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from rigcalc.errors import BenchMatter, Refusal
from rigcalc.shop.pressing import Gauge, Tool

if TYPE_CHECKING:
    from rigcalc.clips import ClipRow
    from rigcalc.fittings import Fitting
    from rigcalc.rating import DesignFactor
    from rigcalc.sleeve import ChartRow, CrimpChart

__all__ = ["Bench", "ChartCheck", "Cutting", "Gauge", "Growth", "Offcut", "PriceList", "ProofProcedure", "PullTest", "PulledLot",
           "Reel", "Shop", "ShopFitting", "Thimble", "Tool"]


@dataclass(frozen=True)
class Reel:
    """One reel on the rack, with what its label and its certificate say.

    `size` is an inch size by name ("1/8"), a nominal metric size ("6 mm") or "unknown"; only an inch size
    can be given a sleeve. `certificate_n` is the breaking force on the reel's certificate in newtons, or None;
    `mass_100m_kg` is what 100 m weigh with their coat, in kg, from the label or weighed by the shop, or None.
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
    mass_100m_kg: float | None = None

    @property
    def is_inch(self) -> bool:
        """Whether the reel carries an inch size, the only sort a sleeve of this trade fits."""
        return "mm" not in self.size and self.size != "unknown"


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
class Growth:
    """Three sleeves of one metal and size, measured before and after pressing with one tool, in mm.

    `edition` is the chart's edition they were pressed by: under another one they prove nothing.
    """

    sleeve_metal: str
    size: str
    tool: str
    edition: str
    before_mm: tuple[float, ...]
    after_mm: tuple[float, ...]
    measured_by: str
    measured_on: date

    @property
    def mean_growth_mm(self) -> float:
        """The mean of what the three sleeves grew by, in mm."""
        from rigcalc.sleeve import mean_growth_mm

        return mean_growth_mm(zip(self.before_mm, self.after_mm)).mean_mm

    @property
    def mean_before_mm(self) -> float:
        """The mean length of the three before pressing, in mm."""
        return sum(self.before_mm) / len(self.before_mm)

    @property
    def most_growth_mm(self) -> float:
        """The most that one of the three grew by, in mm."""
        return max(after - before for before, after in zip(self.before_mm, self.after_mm))

    @property
    def mean_after_mm(self) -> float:
        """The mean length of the three after pressing, in mm."""
        return sum(self.after_mm) / len(self.after_mm)


@dataclass(frozen=True)
class PulledLot:
    """Pieces of one make pulled until they gave way: each one's greatest force in newtons and how it ended.

    `what` is "eye" or "lap". A lot with `set_aside` is kept for the record and counts for nothing.
    """

    id: str
    what: str
    size: str
    construction: str
    metal: str
    sleeve_metal: str
    tool: str
    forces_n: tuple[float, ...]
    endings: tuple[str, ...]
    pulled_by: str
    pulled_on: date
    instrument: str
    instrument_due: date
    reel: str | None = None
    set_aside: str | None = None


@dataclass(frozen=True)
class Offcut:
    """A piece of cable back in stock, in mm, with the certificate of the reel it came from, or none.

    Without a certificate nobody knows what it is: it is scrap for this work.
    """

    id: str
    reel: str | None
    certificate: str | None
    length_mm: float
    size: str
    construction: str
    metal: str
    kept_by: str
    kept_on: date

    @property
    def certified(self) -> bool:
        """Whether a certificate says what this piece is."""
        return self.certificate is not None


@dataclass(frozen=True)
class ShopFitting:
    """A fitting on the shelf: what is marked on it, and the cable sizes and the pin it is kept for, in mm."""

    fitting: Fitting
    sizes: tuple[str, ...]
    pin_mm: float | None
    maker: str


@dataclass(frozen=True)
class PriceList:
    """What things cost in this shop, in its own currency, and how many minutes one end takes with a sleeve or with clips.

    Each list is ((name, price), ...): a metre of cable by reel id, a sleeve and a thimble by "size metal", a clip by size.
    """

    currency: str
    cable_metre: tuple[tuple[str, float], ...]
    sleeve: tuple[tuple[str, float], ...]
    thimble: tuple[tuple[str, float], ...]
    clip: tuple[tuple[str, float], ...]
    minute: float
    sleeve_minutes: float | None
    clip_minutes: float | None
    set_by: str
    set_on: date


@dataclass(frozen=True)
class Cutting:
    """What a cut costs: kerf and the shortest remainder worth keeping, in mm, and trial pieces a new size or lot."""

    kerf_mm: float
    keep_mm: float
    trial_pieces: int


@dataclass(frozen=True)
class ProofProcedure:
    """The shop's own procedure for proof loads by name: the rule it chose, its cap, the hold, and who set it.

    `cap_share` is the part of the breaking force that no proof may pass.
    """

    procedure: str
    rule: str
    cap_share: float
    instrument: str
    instrument_due: date
    hold_s: int
    set_by: str
    set_on: date

    def out_of_date(self, on: date) -> str:
        """Why the instrument proves nothing on that day, as "was due on 2026-03-02"; '' where its check holds."""
        return f"was due on {self.instrument_due}" if on > self.instrument_due else ""


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
    growths: tuple[Growth, ...] = ()
    prices: PriceList | None = None
    pulled_lots: tuple[PulledLot, ...] = ()
    offcuts: tuple[Offcut, ...] = ()
    fittings: tuple[ShopFitting, ...] = ()
    clips: tuple[ClipRow, ...] = ()
    cutting: Cutting | None = None
    proof: ProofProcedure | None = None

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

    def growth(self, sleeve_metal: str, size: str, tool: str) -> Growth | None:
        """The measured growth that still stands for that sleeve and tool, or None: measured by the chart in force."""
        return next((g for g in self.growths if (g.sleeve_metal, g.size, g.tool) == (sleeve_metal, size, tool)
                     and self.growth_stands(g)), None)

    def growth_stands(self, growth: Growth) -> bool:
        """Whether the chart for that sleeve and tool is still of the edition the sleeves were pressed by."""
        return any((c.sleeve_metal, c.tool, c.edition) == (growth.sleeve_metal, growth.tool, growth.edition)
                   and any(row.size == growth.size for row in c.rows) for c in self.charts)

    def lots(self, what: str, size: str, construction: str, metal: str, sleeve_metal: str,
             tool: str | None = None) -> tuple[PulledLot, ...]:
        """The pulled lots that count for that piece ("eye" or "lap"), the newest first; those set aside left out."""
        wanted = (what, size, construction, metal, sleeve_metal)
        found = [lot for lot in self.pulled_lots if lot.set_aside is None and tool in (None, lot.tool)
                 and (lot.what, lot.size, lot.construction, lot.metal, lot.sleeve_metal) == wanted]
        return tuple(sorted(found, key=lambda lot: lot.pulled_on, reverse=True))

    def offcut(self, offcut_id: str) -> Offcut:
        """The offcut with that id; refuses an unknown one."""
        return _one("offcut", offcut_id, self.offcuts)

    def clip_row(self, size: str) -> ClipRow | None:
        """The clip maker's row for that size, or None where the shop has entered none."""
        return next((row for row in self.clips if row.size == size), None)

    def fittings_for(self, size: str) -> tuple[ShopFitting, ...]:
        """The fittings kept for that cable size."""
        return tuple(f for f in self.fittings if size in f.sizes)

    def rows_for(self, tool_id: str) -> tuple[tuple[CrimpChart, ChartRow], ...]:
        """Every chart row entered for a tool, with its chart."""
        return tuple((chart, row) for chart in self.charts if chart.tool == tool_id for row in chart.rows)

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
    raise BenchMatter(f"the {what} '{wanted}'", f"a {what} of the shop file ({known})",
                  f"take one of these, or add a [[{what}]] block to the shop file")
