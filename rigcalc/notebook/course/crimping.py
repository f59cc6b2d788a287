"""Lesson 06, how a sleeve is pressed stroke by stroke, and how the finished piece is judged by the chart in force."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from rigcalc.errors import Refusal
from rigcalc.layout import least_tail_mm
from rigcalc.notebook.teaching import page_chart, sample_shop, shop_for_teaching
from rigcalc.shop import Shop
from rigcalc.sleeve import ChartRow, CrimpChart, CrimpPlan, chart_line, crimp_plan
from rigcalc.units import read_size, size_inches

__all__ = ["JAW_STEP", "Piece", "Row", "bend_of", "disagreeing", "finished_plan", "gaps_of", "jobs", "judge", "lesson_job", "marks_mm", "page_line", "pressed", "stands_in", "start"]

BANANA = 16.0  # px by which a curved sleeve's middle is lifted: a sketch
JAW_STEP = 0.25  # mm, the least step of the jaws on the page


@dataclass(frozen=True)
class Row:
    """A row of a shop's chart that can be pressed on the page, with its chart and its shop."""

    shop: Shop
    chart: CrimpChart
    row: ChartRow

    @property
    def key(self) -> str:
        """Chart and size: its name on the page."""
        return f"{self.chart.id} {self.row.size}"

    @property
    def words(self) -> str:
        """What stands in the list."""
        return f"{self.row.size} {self.chart.sleeve_metal}, tool {self.chart.tool or 'not named'}"

    @property
    def growth_mm(self) -> float:
        """What one stroke adds: the chart's growth shared evenly over its count (a sketch)."""
        return (self.row.sleeve_after_mm - self.row.sleeve_before_mm) / self.row.count

    @property
    def tail_mm(self) -> float:
        """The tail that is set before pressing: the least, to a whole mm."""
        return float(-(-least_tail_mm(read_size(self.row.size).diameter_mm) // 1))


@dataclass(frozen=True)
class Piece:
    """A sleeve while it is pressed: its length, the middle of each crimp with its stroke, and each pen mark still to be seen with its place, in mm from the thimble end."""

    length_mm: float
    crimps: tuple[tuple[float, int], ...] = ()
    marks: tuple[tuple[float, int], ...] = ()

    def spans(self, jaw_mm: float) -> list[tuple[float, float]]:
        """Each crimp from edge to edge, in the order of places."""
        return [(at - jaw_mm / 2, at + jaw_mm / 2) for at, _ in sorted(self.crimps)]

    @property
    def turns(self) -> tuple[int, ...]:
        """The places in the order in which they were pressed, counted from the thimble."""
        places = {turn: place for place, (_, turn) in enumerate(sorted(self.crimps), 1)}
        return tuple(places[turn] for turn in sorted(places))


def _pressable(shop: Shop) -> list[Row]:
    found = [Row(shop, chart, row) for chart in shop.charts for row in chart.rows
             if chart.kind == "maker" and row.sleeve_before_mm and row.sleeve_after_mm and row.crimp_width_mm]
    return [one for one in found if _can_be_aimed(one)]


def _can_be_aimed(job: Row) -> bool:
    """Whether the chart leaves more room than the least gap by one step of the jaws: tighter ones want a stop and a rule, not a page."""
    plan = finished_plan(job)
    return plan.fits and all(gap >= (job.row.minimum_gap_mm or 0.0) + JAW_STEP for gap in plan.gaps_mm)


@lru_cache(maxsize=1)
def jobs() -> tuple[Row, ...]:
    """Every row that can be pressed on the page: the shop's own where one has three crimps or more, else the invented sample's."""
    own = _pressable(shop_for_teaching()[0])
    return tuple(own if any(one.row.count > 2 for one in own) else _pressable(sample_shop()))


def lesson_job() -> Row:
    """The lesson's own row: 1/8 aluminium of three crimps or more where there is one."""
    wanted = sorted((one for one in jobs() if one.row.count > 2), key=lambda one: (one.chart.sleeve_metal != "aluminium", one.row.size != "1/8"))
    return wanted[0]


def page_line(job: Row) -> str:
    """The line of the chart that a page of that row goes by, and why, where it is not the reader's own."""
    return page_chart(chart_line(job.chart), job.shop, "your charts have no row of three crimps or more with its lengths")


def stands_in() -> str:
    """What is said where the invented sample stands in for the two charts of the lesson or for its sleeve; nothing where it does not."""
    shop = shop_for_teaching()[0]
    needed = (("the two charts that disagree", disagreeing()[0]), ("the sleeve to press", lesson_job()))
    parts = [words for words, one in needed if one.shop.name != shop.name]
    return f"Your shop file has no rows for {' and '.join(parts)}, so the invented sample shop's stand here." if parts else ""


@lru_cache(maxsize=1)
def disagreeing() -> tuple[Row, Row]:
    """Two rows for one sleeve that give different counts in two tools: the shop's own, else the invented sample's. The larger count first."""
    for shop in (shop_for_teaching()[0], sample_shop()):
        rows = sorted((Row(shop, chart, row) for chart in shop.charts for row in chart.rows if chart.kind == "maker"),
                      key=lambda one: (one.row.size != "1/8", size_inches(one.row.size), -one.row.count))
        for one in rows:
            for other in rows:
                same = (one.row.size, one.chart.sleeve_metal) == (other.row.size, other.chart.sleeve_metal)
                if same and one.chart.tool != other.chart.tool and one.row.count > other.row.count:
                    return one, other
    raise Refusal("a sample shop whose charts agree everywhere", "two charts of two tools whose counts differ", "put the sample shop file back as it was")


def start(job: Row) -> Piece:
    """The sleeve before the first stroke, its places marked with a pen."""
    return Piece(job.row.sleeve_before_mm, marks=tuple((at, place) for place, at in enumerate(marks_mm(job), 1)))


def marks_mm(job: Row) -> tuple[float, ...]:
    """Where the pen marks stand on the unpressed sleeve, mm from the thimble end: the jaws' middle on them makes even shares.

    Each place of the finished sleeve, less what will have grown up to there: all of the strokes before it, half of its own.

    >>> [round(at, 2) for at in marks_mm(lesson_job())]
    [3.04, 7.5, 11.96]
    """
    return tuple(at - (place - 0.5) * job.growth_mm for place, at in enumerate(finished_plan(job).places_mm, 1))


def pressed(piece: Piece, at_mm: float, job: Row) -> Piece:
    """The sleeve after one more stroke with the jaws' middle at `at_mm`: half of what the stroke adds goes to either side.

    Where the jaws lie on another crimp, or stand over an end, nothing grows between: it stays so.

    >>> job = lesson_job()
    >>> once = pressed(start(job), 7.5, job)
    >>> round(once.length_mm, 2), round(once.crimps[0][0], 2)
    (16.67, 8.33)
    """
    half, jaw = job.growth_mm / 2, job.row.crimp_width_mm
    before = max([0.0, *(at + jaw / 2 for at, _ in piece.crimps if at <= at_mm)])
    after = min([piece.length_mm, *(at - jaw / 2 for at, _ in piece.crimps if at > at_mm)])
    left = half if at_mm - jaw / 2 >= before - 1e-6 else 0.0
    right = half if at_mm + jaw / 2 <= after + 1e-6 else 0.0
    moved, marks = ([(at + left + right if at > at_mm else at, name) for at, name in kept]
                    for kept in (piece.crimps, [one for one in piece.marks if abs(one[0] - at_mm) > jaw / 2]))
    return Piece(piece.length_mm + left + right, (*moved, (at_mm + left, len(moved) + 1)), tuple(marks))


def finished_plan(job: Row) -> CrimpPlan:
    """Where the chart's crimps come to lie on the finished sleeve: even gaps, none over the end."""
    row = job.row
    return crimp_plan(row.sleeve_after_mm, row.crimp_width_mm, row.count, row.minimum_gap_mm or 0.0, 0.0)


def bend_of(piece: Piece, job: Row) -> float:
    """How far a sleeve is bent: pressed from one end to the other where its chart says another order (common practice)."""
    turns, order = piece.turns, job.row.order or ()
    along = tuple(range(1, len(turns) + 1))
    if len(turns) < 3 or turns not in (along, along[::-1]) or order in (along, along[::-1]):
        return 0.0
    return BANANA


def gaps_of(piece: Piece, jaw_mm: float) -> tuple[list[float], float, float]:
    """The gaps between the crimps, and the bare ends at the thimble and at the tail, in mm; below zero where crimps lie on each other or over."""
    spans = piece.spans(jaw_mm)
    return [b[0] - a[1] for a, b in zip(spans, spans[1:], strict=False)], spans[0][0], piece.length_mm - spans[-1][1]


def judge(piece: Piece, job: Row) -> tuple[tuple[str, str], ...]:
    """What is found on a piece that is said to be done: (fault by name, one sentence), the gravest first; nothing where it may go to the gauge.

    Errors: `Refusal` where nothing is pressed.
    """
    if not piece.crimps:
        raise Refusal("a sleeve without a crimp, called done", f"the chart's {job.row.count}", "press first, then say done")
    row, found, made = job.row, [], len(piece.crimps)
    gaps, near, far = gaps_of(piece, row.crimp_width_mm)
    if min(near, far) < -1e-6:
        found.append(("over the end", "A crimp runs over the sleeve's end: the end splits."))
    if any(gap < -1e-6 for gap in gaps):
        found.append(("overlap", "Two crimps lie on each other: the metal between is thinned."))
    if made > row.count:
        found.append(("too many", f"{made} crimps, and the chart says {row.count}. One more is no stronger: it thins the sleeve."))
    if made < row.count:
        found.append(("too few", f"{made} crimp{'s' if made > 1 else ''}, and the chart says {row.count}."))
    found += _spacing(piece, job, gaps, near, far)
    found += _order(piece, job)
    return tuple(found)


def _spacing(piece: Piece, job: Row, gaps, near, far) -> list[tuple[str, str]]:
    row, within, found = job.row, job.shop.bench.gap_tolerance_mm, []
    least = row.minimum_gap_mm or 0.0
    if any(0 <= gap + 1e-6 and gap < least - 1e-6 for gap in gaps):
        found.append(("too close", f"A gap of {min(gap for gap in gaps if gap > -1e-6):.2f} mm: the chart asks for {least:g} mm at least."))
    mean = sum(gaps) / len(gaps) if gaps else 0.0
    if len(piece.crimps) == row.count and any(abs(gap - mean) > within + 1e-6 for gap in gaps):
        found.append(("uneven", f"The gaps are uneven: {', '.join(map(_gap_words, gaps))}. The shop wants each within {within:g} mm of their mean."))
    plan, end = finished_plan(job), max(near, far)
    if plan.fits and len(piece.crimps) >= row.count and end > plan.end_mm + within + 1e-6:
        which = "tail" if far >= near else "thimble"
        found.append(("bare end", f"The {which} end is bare for {end:.1f} mm: evenly shared it would be {plan.end_mm:.1f} mm. That end is not held."))
    return found


def _gap_words(gap_mm: float) -> str:
    return f"{gap_mm:.1f} mm" if gap_mm > -0.05 else f"a crimp that overlaps by {-gap_mm:.1f} mm"


def _order(piece: Piece, job: Row) -> list[tuple[str, str]]:
    row, turns = job.row, piece.turns
    if row.order is None:
        return [("no order", "The chart gives no order. The maker is asked before the first stroke, not after the last.")]
    if len(turns) != row.count and bend_of(piece, job):
        return [("order", "The sleeve is curved: it was pressed from one end to the other.")]
    if len(turns) != row.count or turns == tuple(row.order):
        return []
    said = " The sleeve is curved: it was pressed from one end to the other." if bend_of(piece, job) else ""
    return [("order", f"Pressed in the order {', '.join(map(str, turns))}. The chart says {', '.join(map(str, row.order))}.{said}")]
