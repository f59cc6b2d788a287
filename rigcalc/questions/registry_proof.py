"""Calculations for lessons 11 and 12: proof loads, lots of pulls, the cut list and the figures of a job sheet."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions.registry import _calculation

__all__: list[str] = []

DUST = 1e-9  # floats on the way carry this much; a reading at the very end of the window counts


def _shown(force_n: float, system: str, direction: str = "nearest") -> str:
    """A force in the shop's unit alone, as an instrument shows it."""
    from rigcalc.units import show_force

    return show_force(force_n, system=system, direction=direction).partition(" [")[0]


@_calculation
def limit_as_stated_n(breaking_force_n: float, efficiency: float, factor: float, system: str) -> float:
    """The working load limit as a tag states it, in N, rounded down: to a whole lbf; in SI to 0.01 kN, below 1 kN to a whole N."""
    from rigcalc.questions.registry import CALCULATIONS
    from rigcalc.rating import working_load_limit_n

    return CALCULATIONS["as_shown_down_n"](working_load_limit_n(breaking_force_n, efficiency, factor), system)


@_calculation
def proof_by_rule_n(rule: str, limit_n: float, breaking_force_n: float) -> float:
    """The load in N that one published proof rule gives, whatever the shop's procedure says."""
    from rigcalc.proof import proof_loads

    return next(row.load_n for row in proof_loads(limit_n, breaking_force_n) if row.rule == rule)


@_calculation
def proof_cap_n(breaking_force_n: float, cap_share: float) -> float:
    """The shop's cap in N: the part of the breaking force that no proof load may pass."""
    from rigcalc.proof import cap_n

    return cap_n(breaking_force_n, cap_share)


@_calculation
def proof_or_refused(rule: str, limit_n: float, breaking_force_n: float, cap_share: float) -> float | None:
    """The proof load in N by the rule of the shop's procedure; None (refuse) where it would pass the shop's cap."""
    load = proof_by_rule_n(rule, limit_n, breaking_force_n)
    return None if load > proof_cap_n(breaking_force_n, cap_share) else load


@_calculation
def refuse_where(wanted: float | None) -> str:
    """'refuse', where a figure can be stated; refused where there is none."""
    if wanted is None:
        raise Refusal("no figure", "a figure that can be stated", "take another draw")
    return "refuse"


@_calculation
def readings_said(load_n: float, parts: list[float], system: str) -> list[str]:
    """One line a piece: what the instrument read, so many parts of a hundred above or below the proof load."""
    return [f"Piece {number}: {_shown(_reading_n(load_n, part), system)}" for number, part in enumerate(parts, 1)]


@_calculation
def readings_told(load_n: float, parts: list[float], system: str) -> list[dict[str, str]]:
    """Those lines as rows (`en`), each with its `id` and why it counts as a pull at the proof load or does not (`feedback`)."""
    from rigcalc.proof import instrument_window_n

    lowest, highest = instrument_window_n(load_n)
    rows = []
    for number, (line, part) in enumerate(zip(readings_said(load_n, parts, system), parts, strict=True), 1):
        read = _reading_n(load_n, part)
        one, why = ("below-the-window", "is below the window: it was no proof. Pull again, slowly.") if read < lowest * (1 - DUST) else (
            "above-the-load", "is above the proof load: the piece is set aside.") if read > highest * (1 + DUST) else ("inside-the-window", "lies in the window: its pull counts.")
        rows.append({"en": line, "id": one, "feedback": f"Piece {number} {why}"})
    return rows


def _reading_n(load_n: float, part: float) -> float:
    return load_n * (100 + part) / 100


@_calculation
def readings_that_count(load_n: float, parts: list[float], system: str) -> list[str]:
    """Of those lines, the readings that are a pull at the proof load: within the instrument window."""
    from rigcalc.proof import instrument_window_n

    lowest, highest = instrument_window_n(load_n)
    return [line for line, part in zip(readings_said(load_n, parts, system), parts, strict=True)
            if lowest * (1 - DUST) <= _reading_n(load_n, part) <= highest * (1 + DUST)]


@_calculation
def readings_between(load_n: float, parts: list[float], below: float, above: float, system: str) -> list[str]:
    """Of those lines, the readings from so many parts of a hundred below the proof load to so many above it."""
    return [line for line, part in zip(readings_said(load_n, parts, system), parts, strict=True)
            if -below <= part <= above]


# --- lots ---------------------------------------------------------------------------------------

@_calculation
def lot_n(middle_n: float, spread_n: float, pattern: list[float], system: str) -> list[float]:
    """The forces of a lot as the instrument shows them, in N: the middle and so many spreads beside it."""
    from rigcalc.questions.registry import as_shown_n

    return [as_shown_n(middle_n + spread_n * each, system) for each in pattern]


@_calculation
def forces_said(forces_n: list[float], system: str) -> str:
    """The forces of a lot in one line, in the shop's unit."""
    figures = [_shown(force, system).split(" ") for force in forces_n]
    if len({unit for _, unit in figures}) > 1:
        raise Refusal("forces in two units", "forces that read in one unit", "take another lot")
    return f"{', '.join(figure for figure, _ in figures)} {figures[0][1]}"


@_calculation
def lot_mean_n(forces_n: list[float]) -> float:
    """The mean of a lot, in N."""
    from statistics import fmean

    return fmean(forces_n)


@_calculation
def lot_spread_n(forces_n: list[float]) -> float:
    """The sample standard deviation of a lot, in N."""
    from statistics import stdev

    return stdev(forces_n)


@_calculation
def lot_lowest_n(forces_n: list[float]) -> float:
    """The lowest force of a lot, in N."""
    return min(forces_n)


@_calculation
def lot_factor(pieces: int, coverage: float, confidence: float) -> float:
    """How many standard deviations the bound lies below the mean, to three places as a table prints it."""
    from rigcalc.pulltest import tolerance_factor

    return round(tolerance_factor(pieces, coverage=coverage, confidence=confidence), 3)


@_calculation
def mean_less_n(forces_n: list[float], times: float) -> float:
    """The mean of a lot less so many of its standard deviations, in N."""
    return lot_mean_n(forces_n) - times * lot_spread_n(forces_n)


@_calculation
def mean_less_error_n(forces_n: list[float], times: float) -> float:
    """The mean of a lot less so many standard errors (the spread divided by the root of the count), in N."""
    return lot_mean_n(forces_n) - times * lot_spread_n(forces_n) / len(forces_n) ** 0.5


@_calculation
def needed_n(breaking_force_n: float) -> float:
    """What an eye must hold: the breaking force times the efficiency of an eye, in N, not rounded."""
    from rigcalc.questions.registry import eye_efficiency

    return breaking_force_n * eye_efficiency()


@_calculation
def lot_says(forces_n: list[float], breaking_force_n: float, mode: str, slipped: int, coverage: float, confidence: float) -> str:
    """What a lot says of its pieces: its verdict, and for 'not shown' whether a piece lies below what is needed.

    `slipped` pieces, the lowest ones, slipped in the sleeve; the others ended as `mode` says.
    """
    from rigcalc.pulltest import lot_verdict

    order = sorted(range(len(forces_n)), key=lambda place: forces_n[place])[:slipped]
    modes = ["slipped in the sleeve" if place in order else mode for place in range(len(forces_n))]
    found = lot_verdict(forces_n, breaking_force_n, coverage=coverage, confidence=confidence, modes=modes)
    if found.verdict != "not shown":
        return found.verdict
    return "one below" if found.held < found.pieces else "bound below"


@_calculation
def lot_line(forces_n: list[float], system: str) -> str:
    """A lot in one line: its mean, its standard deviation and its lowest, in the shop's unit."""
    return (f"mean {_shown(lot_mean_n(forces_n), system)}, standard deviation {_shown(lot_spread_n(forces_n), system)}, "
            f"lowest {_shown(min(forces_n), system)}")


@_calculation
def lots_by(lots: list[list[float]], what: str, times: float, system: str) -> list[str]:
    """The lines of some lots, the highest first: by 'bound' (mean less so many standard deviations), 'mean' or 'lowest'.

    Refused where two of them lie within 1 % of each other.
    """
    ways = {"bound": lambda lot: mean_less_n(lot, times), "mean": lot_mean_n, "lowest": min, "spread": lambda lot: -lot_spread_n(lot)}
    row = sorted(lots, key=ways[what], reverse=True)
    if any(abs(ways[what](one) - ways[what](other)) < abs(ways[what](one)) * 0.01 for one, other in zip(row, row[1:])):
        raise Refusal("two lots that lie too near to each other", "lots that can be told apart", "take others")
    return [lot_line(lot, system) for lot in row]


@_calculation
def bounds_said(lots: list[list[float]], times: float, system: str) -> str:
    """The bound of each of some lots with its sum, mean less so many standard deviations, the highest first."""
    def said(lot: list[float]) -> str:
        mean, spread, bound = (_shown(one, system) for one in (lot_mean_n(lot), lot_spread_n(lot), mean_less_n(lot, times)))
        return f"{mean} − {times:g} × {spread} is about {bound}"
    return "; ".join(said(lot) for lot in sorted(lots, key=lambda lot: mean_less_n(lot, times), reverse=True))


@_calculation
def pieces_without_failure(reliability: float, confidence: float) -> int:
    """How many pieces must be pulled and all hold, to show a reliability with a confidence."""
    from rigcalc.pulltest import zero_failure_size

    return zero_failure_size(reliability=reliability, confidence=confidence).pieces


# --- job sheet, cut list, tag -----------------------------------------------------------------------

def _cut(length_mm: float, count: int, trial: int, reel_mm: float, kerf_mm: float, keep_mm: float) -> Any:
    from rigcalc.cutlist import Material, Piece, Stock, cut_list

    material = Material("1/8", "7x19", "galvanised")
    found = cut_list([Piece("piece", length_mm, count, material, trial=trial)], [Stock("reel", reel_mm, material)],
                     kerf_mm=kerf_mm, keep_mm=keep_mm)
    return found.stock[0]


@_calculation
def left_on_the_reel_mm(length_mm: float, count: int, trial: int, reel_mm: float, kerf_mm: float) -> float:
    """What is left of a reel after so many pieces and trial pieces, each parted by one cut, in mm."""
    return _cut(length_mm, count, trial, reel_mm, kerf_mm, 1).remainder_mm


@_calculation
def weakest_n(cable_limit_n: float, fittings: list[dict[str, Any]]) -> float:
    """The least working limit of a line, in N: the cable's at its eyes, and the marked limits as they stand."""
    return _weakest(cable_limit_n, fittings).limit_n


@_calculation
def weakest_named(cable_limit_n: float, fittings: list[dict[str, Any]]) -> str:
    """Which link governs a line: 'cable', or the fitting's kind; refused where two tie."""
    found = _weakest(cable_limit_n, fittings)
    if found.ties:
        raise Refusal("two links of one limit", "one link that governs", "take other fittings")
    return next((link.kind for link in _links(fittings) if found.governs == link.called), "cable")


def _links(fittings: list[dict[str, Any]]) -> list[Any]:
    from rigcalc.fittings import Fitting

    return [Fitting(one["kind"], one["name"], one["limit_n"]) for one in fittings]


def _weakest(cable_limit_n: float, fittings: list[dict[str, Any]]) -> Any:
    from rigcalc.fittings import weakest_link

    return weakest_link(cable_limit_n, _links(fittings))


@_calculation
def marked_fitting(kind: str, name: str, pounds: float, system: str) -> dict[str, Any]:
    """A fitting with the working limit marked on it, given in lbf; in an SI shop the mark is the next lower 10 N."""
    from rigcalc.units import LBF_N

    limit = Fraction(str(pounds)) * Fraction(LBF_N)
    return {"kind": kind, "name": name, "limit_n": float(limit if system == "US" else limit // 10 * 10)}


@_calculation
def least_eye_mm(pin_mm: float) -> float:
    """The least length of a soft eye, from the sleeve to the pin's centre, in mm: three pin diameters."""
    from rigcalc.reference import constant

    return float(constant("length of a soft eye").value * Fraction(str(pin_mm)))


@_calculation
def those_but(items: list[Any], one: Any) -> list[Any]:
    """The items without `one`, in their order."""
    return [item for item in items if item != one]
