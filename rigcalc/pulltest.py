"""A lot of pull tests: what the pieces that were pulled show of those that were not, and what they cannot tell."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from statistics import NormalDist, fmean, stdev

from rigcalc._given import among, listed, said
from rigcalc._records import record
from rigcalc.errors import Refusal
from rigcalc.reference import constant
from rigcalc.units import exact, show_force

__all__ = ["CANNOT_TELL", "MODES", "Bound", "Demonstrated", "LotVerdict", "ZeroFailure", "demonstrated_reliability", "lot_verdict",
           "tolerance_bound_n", "tolerance_factor", "zero_failure_size"]

BROKE, MOUTH, SLIPPED, THIMBLE, STOPPED = MODES = (
    "broke in the cable", "broke at the sleeve's mouth", "slipped in the sleeve", "thimble or fitting gave way", "not broken: stopped short of breaking")
CANNOT_TELL = (
    "Nothing of other sizes, constructions or metals of cable and sleeve.",
    "Nothing of another tool, cavity or gauge, nor of other hands.",
    "Nothing of later days: wear of the jaws, corrosion, loads in service.",
    "Nothing of pieces from another lot of cable or sleeves, nor of pieces that were picked out for pulling.",
    "Pieces pulled to break, or stopped short of breaking, are thrown away: none of them is delivered.",
)
LEAST_SHARE: Fraction = constant("least coverage and confidence of a pulled lot").value
MOST_OF_A_CABLE: Fraction = constant("most that a cable can hold").value  # times its breaking force
PRESS_NOT_CABLE = "the pull measured the press, not the cable"
NOT_ONE_NORMAL = "one normal distribution does not describe them"
UNKNOWN = "their strength is unknown, so there is no bound"
LEAST_PIECES = 3
MOST_PIECES = 500
HIGHEST_RELIABILITY = 0.9999


@record
class Bound:
    """The force in N that at least `coverage` of all pieces reach, said with `confidence`; mean, spread and factor."""

    bound_n: float
    mean_n: float
    spread_n: float
    factor: float
    pieces: int
    coverage: float
    confidence: float


@record
class Demonstrated:
    """The reliability that pieces without a failure show: by the binomial n, and by the n + 1 convention that others print."""

    reliability: float
    by_n_plus_1: float
    pieces: int
    confidence: float


@record
class ZeroFailure:
    """How many pieces must all hold: by the binomial n, which is the one to use, and by the n + 1 convention."""

    pieces: int
    by_n_plus_1: int
    reliability: float
    confidence: float
    words: str


@record
class LotVerdict:
    """Shown, not shown or rejected; the force needed in N, the bound if there is one, modes, reasons, what stays unknown."""

    verdict: str
    needed_n: float
    bound: Bound | None
    held: int
    pieces: int
    lowest_n: float
    modes: tuple[tuple[str, int], ...]
    reasons: tuple[str, ...]
    cannot_tell: tuple[str, ...]
    coverage: float
    confidence: float

    @property
    def by_count_alone(self) -> bool:
        """Whether the lot is shown by the count of pieces that held, with no bound behind it."""
        return self.verdict == "shown" and not _bound_shows(self.bound, self.needed_n, len(self.modes))

    @property
    def against(self) -> tuple[str, ...]:
        """Everything that keeps the lot from being shown, the gravest first; nothing for a lot that is shown."""
        if self.verdict == "shown":
            return ()
        ended, short, needed = dict(self.modes), self.pieces - self.held, show_force(self.needed_n, direction="up")
        enough = zero_failure_size(reliability=self.coverage, confidence=self.confidence).pieces
        told = ((self.verdict == "rejected", "a piece slipped below the force needed, so the lot is rejected whatever the others did"),
                (SLIPPED in ended, f"{ended.get(SLIPPED)} of {self.pieces} slipped in the sleeve: {PRESS_NOT_CABLE}"),
                (short, f"{short} of {self.pieces} did not reach the {needed} needed, the lowest {show_held(self.lowest_n)}"),
                (len(ended) > 1, f"the pieces ended in {len(ended)} ways: {NOT_ONE_NORMAL}"),
                (STOPPED in ended, f"{ended.get(STOPPED)} of {self.pieces} were stopped short of breaking: {UNKNOWN}"),
                (self.bound and not _reaches(self.bound.bound_n, self.needed_n),
                 f"the bound of {show_held(self.bound.bound_n) if self.bound else ''} does not reach the {needed} needed"),
                (not short and SLIPPED not in ended, f"{self.pieces} pieces without a failure are fewer than the {enough} that would show it by their count"))
        return tuple(words for counts, words in told if counts)


def show_held(force_n: float) -> str:
    """What pieces held, or their bound, in N: rounded down to 0.1 lbf and in SI, so that what falls short never looks as if it reached."""
    return show_force(force_n, "US", "down", Decimal("0.1"))


def _reaches(force_n: float, needed_n: float) -> bool:
    return force_n >= needed_n * (1 - 1e-12)


def _bound_shows(bound: Bound | None, needed_n: float, ways: int) -> bool:
    """Whether a bound by itself shows a lot: it reaches, and the pieces ended in one way."""
    return bound is not None and _reaches(bound.bound_n, needed_n) and ways == 1


# --- bounds and sizes -------------------------------------------------------------------------

def tolerance_factor(pieces: int, *, coverage: float, confidence: float) -> float:
    """How many sample standard deviations the one-sided bound lies below the mean of normally spread forces.

    Parameters: number of pieces, 2 to 500; coverage (the share of all pieces that the bound claims) and confidence (how sure
    the claim is), each above 0.5 and below 1, by name: "90/95" means opposite things in different books.
    Errors: `Refusal` outside. Uses SciPy.
    Source: noncentral t, k = t(confidence; n - 1; z sqrt n) / sqrt n (NIST/SEMATECH e-Handbook 7.2.6.3; read, second-hand).

    >>> round(tolerance_factor(6, coverage=0.90, confidence=0.95), 3), round(tolerance_factor(6, coverage=0.95, confidence=0.90), 3)
    (3.006, 3.092)
    """
    number = _count(pieces, 2, MOST_PIECES, "the number of pieces")
    share, sure = _share(coverage, "the coverage"), _share(confidence, "the confidence")
    from scipy.special import nctdtrit

    root = math.sqrt(number)
    return float(nctdtrit(number - 1, NormalDist().inv_cdf(share) * root, sure)) / root


def tolerance_bound_n(forces_n: Sequence[float], *, coverage: float, confidence: float) -> Bound:
    """The force, in N, that the stated share of all pieces reaches, if forces are spread normally.

    Parameters: forces at break in N, three or more, all of pieces that broke; coverage and confidence by name.
    Errors: `Refusal` for fewer than three, forces not above zero, or forces all alike (no spread, no bound).
    Source: mean - k s; NIST/SEMATECH e-Handbook 7.2.6.3 (read, second-hand).

    >>> round(tolerance_bound_n([470, 505, 512, 441, 498, 489], coverage=0.90, confidence=0.95).bound_n, 1)
    406.6
    """
    forces = _forces(forces_n)
    mean, spread = fmean(forces), stdev(forces)
    if spread <= 1e-9 * mean:
        raise Refusal(f"{len(forces)} forces that are all alike", "forces as the instrument read them, with their spread",
                      "read the instrument to a finer step, and never copy one reading for the next")
    factor = tolerance_factor(len(forces), coverage=coverage, confidence=confidence)
    return Bound(mean - factor * spread, mean, spread, factor, len(forces), float(coverage), float(confidence))


def zero_failure_size(*, reliability: float, confidence: float) -> ZeroFailure:
    """How many pieces must be pulled and all hold, to show a reliability with a confidence.

    Parameters: reliability above 0.5 and to 0.9999, confidence above 0.5 and below 1, by name.
    The least n with reliability to the n at most 1 - confidence; others print the n + 1 convention, one fewer.
    Errors: `Refusal` outside. Source: binomial with no failure; both conventions printed (success-run table).

    >>> found = zero_failure_size(reliability=0.90, confidence=0.95)
    >>> found.pieces, found.by_n_plus_1
    (29, 28)
    """
    wanted, sure = exact(_share(reliability, "the reliability")), exact(_share(confidence, "the confidence"))
    if wanted > exact(HIGHEST_RELIABILITY):
        raise Refusal(f"the reliability {reliability}", f"at most {HIGHEST_RELIABILITY}", "ask for less: no bench pulls so many pieces")
    pieces = max(1, math.ceil(math.log(1 - sure) / math.log(wanted)) - 1)
    while wanted ** pieces > 1 - sure:
        pieces += 1
    words = f"{pieces} pieces without one failure (binomial, n); the n + 1 convention would ask for {pieces - 1}; use {pieces}"
    return ZeroFailure(pieces, pieces - 1, float(wanted), float(sure), words)


def demonstrated_reliability(pieces: int, *, confidence: float) -> Demonstrated:
    """The reliability shown by pieces that all held, in both printed conventions; the binomial one is lower and counts.

    Parameters: number of pieces from 1; confidence above 0.5 and below 1, by name. Errors: `Refusal` outside.
    Source: (1 - C) to the power 1/n, binomial; (1 - C) to the power 1/(n + 1), success-run convention.

    >>> found = demonstrated_reliability(29, confidence=0.95)
    >>> round(found.reliability, 6), round(found.by_n_plus_1, 6)
    (0.901855, 0.904966)
    """
    number, sure = _count(pieces, 1, 10 ** 6, "the number of pieces"), _share(confidence, "the confidence")
    return Demonstrated((1 - sure) ** (1 / number), (1 - sure) ** (1 / (number + 1)), number, sure)


# --- the verdict on a lot ----------------------------------------------------------------------

def lot_verdict(forces_n: Sequence[float], breaking_force_n: float, *, coverage: float, confidence: float,
                modes: Sequence[str]) -> LotVerdict:
    """Whether a pulled lot shows that its pieces reach 90 % of the cable's breaking force.

    Parameters: the greatest force of each piece in N, three pieces or more; the cable's breaking force in N (lower of table and
    certificate); coverage and confidence, each 0.90 or more and below 1, by name; how each piece ended, one of `MODES` each.
    *Rejected*: a piece slipped below the force needed. *Shown*: the one-sided bound of a lot that broke in one way reaches
    the force needed and no piece lies below it; or enough pieces held without a failure, whatever the distribution.
    *Not shown*: everything else, and every lot of which a piece slipped in its sleeve. A run stopped before break is cut short, so its lot has no bound.
    Errors: `Refusal` for fewer than three pieces, a force not above zero or of more than 1.5 times the breaking force (another unit),
    a lower coverage or confidence, a mode missing or unknown.
    Source: NIST/SEMATECH e-Handbook 7.2.6.3 (bound; read, second-hand); binomial with no failure; 0.90 common practice;
    the verdicts of mixed and stopped lots are judgement.

    >>> found = lot_verdict([470, 505, 512, 441, 498, 489], 480, coverage=0.90, confidence=0.95, modes=["broke in the cable"] * 6)
    >>> found.verdict, found.needed_n, round(found.bound.bound_n, 1), found.lowest_n
    ('not shown', 432.0, 406.6, 441.0)
    """
    forces = _forces(forces_n)
    ended = _modes(modes, len(forces))
    needed = float(exact(_above_zero(breaking_force_n, "the breaking force")) * constant("eye efficiency").value)
    share, sure = _share(coverage, "the coverage", LEAST_SHARE), _share(confidence, "the confidence", LEAST_SHARE)
    _refuse_other_unit(max(forces), breaking_force_n)
    reached = [_reaches(force, needed) for force in forces]
    slipped = [place + 1 for place, mode in enumerate(ended) if mode == SLIPPED and not reached[place]]
    no_bound = STOPPED in ended or (slipped and max(forces) == min(forces))
    bound = None if no_bound else tolerance_bound_n(forces, coverage=share, confidence=sure)
    verdict, reasons = _decide(bound, reached, ended, needed, share, sure)
    if slipped:
        verdict = "rejected"
        reasons.insert(0, f"Piece {', '.join(map(str, slipped))} slipped below the force needed: the lot is rejected, whatever the others did. "
                          "Find the cause before anything else is pressed.")
    modes_of = tuple(Counter(ended).items())
    by_bound = bound is not None and (verdict != "shown" or _bound_shows(bound, needed, len(modes_of)))
    return LotVerdict(verdict, needed, bound, sum(reached), len(forces), min(forces), modes_of, tuple(reasons),
                      (_normality(bound), *CANNOT_TELL) if by_bound else CANNOT_TELL, share, sure)


def _decide(bound: Bound | None, reached: list[bool], ended: list[str], needed: float, coverage: float, confidence: float) -> tuple[str, list[str]]:
    reasons = _about_modes(ended)
    below = reached.count(False)
    if below:
        short = sum(not held and mode == STOPPED for held, mode in zip(reached, ended))
        reasons.append(f"{below} of {len(reached)} pieces did not reach the {show_force(needed, direction='up')} needed"
                       + (f", {short} of them because the pull was stopped before it" if short else "") + ".")
    enough = zero_failure_size(reliability=coverage, confidence=confidence)
    counted = _without_failure(reached, enough.pieces, coverage, confidence)
    by_bound = _bound_shows(bound, needed, len(set(ended)))
    by_count = len(reached) >= enough.pieces
    shown = not below and SLIPPED not in ended and (by_bound or by_count)
    if bound is not None and (by_bound or not shown):
        reasons.append(_about_bound(bound, needed))
    return ("shown" if shown else "not shown"), [*reasons, counted]


def _about_modes(ended: list[str]) -> list[str]:
    found = []
    counts = Counter(ended)
    if len(counts) > 1:
        found.append(f"The pieces ended in {len(counts)} ways ({'; '.join(f'{mode}: {count}' for mode, count in counts.items())}): "
                     f"{NOT_ONE_NORMAL}, so the bound alone shows nothing.")
    if SLIPPED in counts:
        found.append(f"{counts[SLIPPED]} of {len(ended)} slipped in the sleeve: {PRESS_NOT_CABLE}, "
                     "so the lot shows nothing. Look for the cause.")
    if STOPPED in counts:
        found.append(f"{counts[STOPPED]} of {len(ended)} were stopped short of breaking: {UNKNOWN}, only the count of pieces that held.")
    return found


def _about_bound(bound: Bound, needed: float) -> str:
    reach = "reaches" if _reaches(bound.bound_n, needed) else "does not reach"
    return (f"Mean {show_force(bound.mean_n)}, standard deviation {show_force(bound.spread_n)}, k {bound.factor:.3f} for {bound.pieces} pieces: "
            f"bound {show_held(bound.bound_n)}, which {reach} the {show_force(needed, direction='up')} needed. "
            f"It says with {100 * bound.confidence:g} % confidence what {100 * bound.coverage:g} % of such pieces hold.")


def _without_failure(reached: list[bool], enough: int, coverage: float, confidence: float) -> str:
    if not all(reached):
        return "The count without failure shows nothing, because not every piece held."
    shown = demonstrated_reliability(len(reached), confidence=confidence)
    return (f"All {len(reached)} reached the force needed: that alone shows {100 * shown.reliability:.1f} % with {100 * confidence:g} % confidence; "
            f"{enough} pieces without a failure would show {100 * coverage:g} %, whatever the distribution.")


def _normality(bound: Bound) -> str:
    return f"Whether the forces are spread normally: the bound assumes it, and {bound.pieces} pieces cannot prove it."


# --- checks of what was given -------------------------------------------------------------------

def _forces(forces_n: Sequence[float]) -> list[float]:
    forces = [_above_zero(force, "the force") for force in listed(forces_n, "the forces in N")]
    if not LEAST_PIECES <= len(forces) <= MOST_PIECES:
        raise Refusal(f"{len(forces)} piece(s)", f"{LEAST_PIECES} to {MOST_PIECES} pieces", "pull more pieces of the same lot: with fewer nothing can be said of the others")
    return forces


def _modes(modes: Sequence[str], pieces: int) -> list[str]:
    ended = listed([modes] if isinstance(modes, str) else modes, "the failure modes")
    if len(ended) != pieces:
        raise Refusal(f"{len(ended)} failure mode(s) for {pieces} piece(s)", "one for each piece", "write how each piece ended")
    for mode in ended:
        if not among(mode, MODES):
            raise Refusal(f"the failure mode {said(mode)}", "; ".join(MODES), "name one of these for each piece")
    return list(ended)


def _refuse_other_unit(greatest_n: float, breaking_force_n: float) -> None:
    most = MOST_OF_A_CABLE * exact(breaking_force_n)
    if exact(greatest_n) > most:
        raise Refusal(f"a pull of {show_force(greatest_n)} on cable of {show_force(breaking_force_n)}", f"at most {float(MOST_OF_A_CABLE):g} times the breaking force",
                      "look at the units of both: one of them may be in lbf")


def _share(value: float, what: str, least: Fraction | None = None) -> float:
    if not exact(0.5) < exact(value) < 1:
        raise Refusal(f"{what} {said(value)}", "a share above 0.5 and below 1, such as 0.90", "give it as a share, not in per cent")
    if least is not None and exact(value) < least:
        raise Refusal(f"{what} {said(value)} of a lot", f"{float(least):g} or more, below 1", "claim more, or pull more pieces")
    return float(value)


def _count(value: int, least: int, most: int, what: str) -> int:
    number = exact(value)
    if number.denominator != 1 or not least <= number <= most:
        raise Refusal(f"{what} {value}", f"a whole number from {least} to {most}", "count the pieces again")
    return int(number)


def _above_zero(value: float, what: str) -> float:
    number = exact(value)
    if number <= 0:
        raise Refusal(f"{what} {value} N", "a figure above 0 N", "measure or read it again")
    return float(number)
