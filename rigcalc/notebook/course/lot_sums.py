"""Lesson 11, the sums of a lot: printed factors, order 8 step by step, the lot made again with gaps, sizes without a failure, wrong verdicts."""

from __future__ import annotations

from functools import cache
from statistics import fmean

from rigcalc.figures import Figure
from rigcalc.figures.lots import Pulled, lot_on_axis
from rigcalc.figures.wrong_pulls import WrongPull, wrong_pulls
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice
from rigcalc.notebook.course.hangings import short, system
from rigcalc.notebook.course.pulled_lots import CONFIDENCE, COVERAGE, axis, first_lot, held, lanyard_n, lot_figure, needed_n, needed_said, order_verdict, pulled_of, whole
from rigcalc.notebook.teaching import of_the_scene
from rigcalc.proof import cap_n, instrument_window_n, proof_loads
from rigcalc.pulltest import CANNOT_TELL, Bound, demonstrated_reliability, tolerance_bound_n, tolerance_factor, zero_failure_size
from rigcalc.units import LBF_N, show_force

__all__ = ["REMADE", "cannot_tell", "fill_step", "fill_view", "fill_the_gaps", "few_table", "order_still", "printed_factors", "remade", "remade_still", "worked_lot",
           "wrong_verdicts", "zero_failure_table"]

REMADE = "08_lanyards"  # order 8 after tool LA was set and the lot made again


def order_still() -> Figure:
    """Order 8's six with mean, lowest and bound, without the next forty."""
    return lot_figure("", 6, True, False)


def printed_factors() -> lesson.Block:
    """Printed one-sided factors beside the ones worked out here, as tests/validation/test_tolerance_factors.py holds them."""
    share, sure = f"{COVERAGE:.0%} / {CONFIDENCE:.0%}", "CMH-17 handbook, B-basis"
    rows = [(pieces, share, sure, printed, f"{tolerance_factor(pieces, coverage=COVERAGE, confidence=CONFIDENCE):.3f}")
            for pieces, printed in ((3, "6.157"), (5, "3.408"), (6, "3.007"), (10, "2.355"), (30, "1.778"))]
    rows.append((43, "90% / 99%", "NIST/SEMATECH e-Handbook 7.2.6.3", "1.875", f"{tolerance_factor(43, coverage=0.90, confidence=0.99):.3f}"))
    return lesson.table(("Pieces", "share / confidence", "printed in", "k there", "k worked here"), rows,
                        "k, how many standard deviations to take off (read, second-hand; the printed ones are rounded or by a short formula). B-basis is that handbook's name for 90 % of all with 95 % confidence", numbers=(0, 3, 4))


def finely(force_n: float) -> str:
    """A mean or a standard deviation with a figure more than the bound, so that whoever works with what is printed comes to the same bound."""
    return show_force(force_n, system(), step="0.01" if system() == "US" else "0.0001" if force_n >= 1000 else "0.1").partition(" [")[0]


def worked_lot() -> lesson.Block:
    """Order 8's first lot, step by step."""
    forces, ended = first_lot()
    found = order_verdict()
    bound = found.bound
    slipped = sum("slipped" in one for one in ended)
    rows = (("1. How did they end?", f"{len(forces) - slipped} at the sleeve's mouth, {slipped} slipped in the sleeve: find out why"),
            ("2. The forces", ", ".join(whole(force) for force in forces)), ("3. What is needed", f"90 % of {whole(lanyard_n())}: {needed_said()}"),
            ("4. Is one below it?", f"no: the lowest is {whole(found.lowest_n)}"), ("5. The mean", finely(bound.mean_n)), ("6. The standard deviation, the figure for the spread", finely(bound.spread_n)),
            (f"7. k for {bound.pieces} pieces, {bound.coverage:.0%} of all, {bound.confidence:.0%} confidence", f"{bound.factor:.3f}"),
            ("8. The bound: mean less k times that, rounded down", held(bound.bound_n)), ("9. Does it reach what is needed?", f"no: {found.verdict}"))
    return lesson.answer(lesson.table(("Step", "gives"), rows, "The sawmill's first lot (INVENTED order 8)"))


# --- the same with gaps ---------------------------------------------------------------------------

@cache
def remade() -> tuple[tuple[float, ...], tuple[str, ...], Bound]:
    """The lot made again: forces in N, endings, bound."""
    forces, ended = pulled_of(REMADE)
    return forces, ended, tolerance_bound_n(forces, coverage=COVERAGE, confidence=CONFIDENCE)


def remade_still() -> Figure:
    """The six of the lot made again, nothing worked out."""
    forces, _, _ = remade()
    return lot_on_axis(axis(), 46, [Pulled(force, whole(force)) for force in forces], needed_n(), f"needed: {needed_said()}")


def _gaps() -> tuple[tuple[str, str, tuple[tuple[str, str], ...]], ...]:
    """Each gap: name, question, options (words, value); the value "right" is the right one."""
    forces, _, bound = remade()
    k_swapped = tolerance_factor(bound.pieces, coverage=CONFIDENCE, confidence=COVERAGE)
    k_fewer = tolerance_factor(bound.pieces - 1, coverage=COVERAGE, confidence=CONFIDENCE)
    bounds = ((bound.bound_n, "right"), (min(forces), "lowest"), (bound.mean_n - bound.spread_n, "one"), (bound.mean_n + bound.factor * bound.spread_n, "added"))
    told = {held(force): value for force, value in reversed(bounds)}  # two that read alike in the shop's unit are one option
    return (
        ("k", "k for these pieces", ((f"{k_fewer:.3f}", "fewer"), (f"{k_swapped:.3f}", "swapped"), (f"{bound.factor:.3f}", "right"))),
        ("bound", "The bound", tuple((held(force), value) for force, value in bounds if told[held(force)] == value)),
        ("verdict", "Under the lot you write", (("shown", "right"), ("not shown", "not"), ("rejected", "rejected"))))


WHY = {"k right": "Right: six pieces, 90 % of all, 95 % confidence.", "k fewer": "That is the k of one piece fewer. Count the pieces.",
       "k swapped": "That k has share and confidence changed for each other. Read both by name.",
       "bound right": "Right: mean less k times the standard deviation.", "bound lowest": "That is the lowest of the six. It speaks for itself alone.",
       "bound one": "You took off one standard deviation and left k out.", "bound added": "You added. The bound lies below the mean.",
       "verdict right": "Right: all six ended in one way, none is below, and the bound reaches what is needed.", "verdict not": "Hold the bound against what is needed once more.",
       "verdict rejected": "None slipped and none is below. Nothing rejects it."}


def fill_view(state: dict) -> View:
    """The sums of the lot made again, three parts left out."""
    forces, _, bound = remade()
    rows = [("how they ended", "all six at the sleeve's mouth"), ("the forces", ", ".join(whole(force) for force in forces)), ("needed", needed_said()),
            ("the mean", finely(bound.mean_n)), ("the standard deviation", finely(bound.spread_n))]
    controls, said = [], []
    for name, words, options in _gaps():
        took = state[name]
        controls.append(choice(name, words, (("?", ""), *options), took))
        rows.append((words, next(text for text, value in options if value == "right") if took == "right" else "?"))
        if took:
            said.append(Said(WHY[f"{name} {took}"], "ok" if took == "right" else "no"))
    controls.append(button("again", "Empty the gaps", any(state.values()), second=True))
    return View((), tuple(controls), tuple(said) or (Said("Three parts are left out. Fill them from the top."),), lesson.table(("Step", "gives"), rows, "The lot made again (INVENTED order 8)"))


def fill_step(state: dict, name: str, value=None) -> dict:
    """A gap is filled, or all are emptied."""
    return _fill_start() if name == "again" else state | {name: value}


def _fill_start() -> dict:
    return {"k": "", "bound": "", "verdict": ""}


def fill_the_gaps() -> Board:
    """The lot made again, with gaps."""
    return Board(of_the_scene("Fill the gaps"), _fill_start(), fill_view, fill_step)


# --- what six cannot tell -------------------------------------------------------------------------

def zero_failure_table() -> lesson.Block:
    """How many pieces must all hold, for several shares and confidences; the convention that asks for one fewer beside it."""
    rows = []
    for share, sure in ((0.90, 0.90), (0.90, 0.95), (0.95, 0.95), (0.99, 0.95)):
        found = zero_failure_size(reliability=share, confidence=sure)
        rows.append((f"{share:.0%}", f"{sure:.0%}", found.pieces, found.by_n_plus_1))
    return lesson.answer(lesson.table(("so many of all hold", "confidence", "must all hold", "others print"), rows,
                                      "Not one failure, whatever the spread. Each piece counts as held or not held, no more (books call the sum binomial). So many of all: the share, or coverage. Confidence: how often a lot as small as this one says it rightly. Other books print one piece fewer, in the last column. Pull the larger number", numbers=(2, 3)))


def few_table() -> lesson.Block:
    """What pieces that all held show by the count alone."""
    rows = [(pieces, f"{demonstrated_reliability(pieces, confidence=CONFIDENCE).reliability:.1%}") for pieces in (3, 6, 12, 29, 59)]
    return lesson.answer(lesson.table(("pulled, and all held", f"so many of all hold, with {CONFIDENCE:.0%} confidence"), rows, "By the count alone", numbers=(0, 1)))


def cannot_tell() -> lesson.Block:
    """What six pulled pieces do not tell."""
    rows = [(line,) for line in (order_verdict().cannot_tell[0], *CANNOT_TELL)]
    return lesson.answer(lesson.table((f"What {len(first_lot()[0])} pulled pieces cannot tell",), rows))


# --- what goes wrong ------------------------------------------------------------------------------

def wrong_verdicts() -> Figure:
    """Six wrong verdicts, drawn on their axes."""
    forces, _ = first_lot()
    bound, lowest, line = order_verdict().bound, min(forces), f"needed {needed_said()}"
    rest = [force for force in forces if force != lowest]
    without = tolerance_bound_n(rest, coverage=COVERAGE, confidence=CONFIDENCE)
    low, high = axis().low_n, axis().high_n
    breaking, limit = 2000 * float(LBF_N), 360 * float(LBF_N)
    sixty, cap = next(row for row in proof_loads(limit, breaking) if row.load_n > 0.55 * breaking), cap_n(breaking, 0.5)
    load = proof_loads(limit, breaking)[0].load_n
    over = load * 1.03
    window = instrument_window_n(load)
    return wrong_pulls((
        WrongPull("“All six held. Signed.”", "the bound lies below: not shown", needed_n(), line, (("lowest", lowest, ""), ("bound", bound.bound_n, f"bound {held(bound.bound_n)}")), low, high),
        WrongPull("“The mean is far above.”", "about half lie below a mean", needed_n(), line, (("mean", fmean(forces), f"mean {short(bound.mean_n)}"), ("bound", bound.bound_n, "")), low, high),
        WrongPull("“The low one is odd. Leave it out.”", "it is of the lot: find its cause", needed_n(), line,
                  (*(("broke", force, "") for force in rest), ("slipped", lowest, ""), ("bound", without.bound_n, "bound without it")), low, high),
        WrongPull("“60 %, it stands in a book.”", "above this shop's cap: refused", cap, f"cap {whole(cap, 'down')}", (("broke", sixty.load_n, whole(sixty.load_n)),), 0, breaking),
        WrongPull("“A bit more is safer.”", "above the load: set it aside", window[1], f"load {whole(window[1])}", (("slipped", over, f"read {whole(over)}"),), 0.9 * load, 1.1 * load),
        WrongPull("“It held, so deliver it.”", "stopped short of breaking: scrap", needed_n(), line, (("broke", needed_n(), "stopped here"),), low, high),
    ), "Computed; 4 and 5 for a piece with a limit of " + whole(limit) + ". INVENTED pieces.")

