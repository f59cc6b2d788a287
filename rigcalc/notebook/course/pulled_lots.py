"""Lesson 11, lots: order 8's six pulls, a lot to pull piece by piece and sign, and six drawn again and again."""

from __future__ import annotations

import math
import secrets
from dataclasses import dataclass
from functools import cache, lru_cache
from statistics import NormalDist

from rigcalc import _job_lot
from rigcalc.cable import breaking_force
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.lots import Axis, Judged, Pulled, Sample, lot_on_axis, samples_on_axis
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice
from rigcalc.notebook.course.hangings import short, system
from rigcalc.notebook.teaching import of_order, of_the_scene, sample_shop
from rigcalc.pulltest import LEAST_PIECES, MODES, LotVerdict, lot_verdict, tolerance_bound_n, zero_failure_size
from rigcalc.questions.draws import Stream
from rigcalc.units import LBF_N, show_force

__all__ = ["CONFIDENCE", "COVERAGE", "FIRST_LOT", "LOTS", "Lot", "axis", "drawn_again", "first_lot", "held", "lanyard_n", "lot_figure", "lot_of", "lot_step",
           "lot_view", "needed_n", "needed_said", "order_verdict", "own_stream", "pull_the_lot", "pulled_of", "samples_of", "samples_step", "samples_still", "samples_view", "share_that_holds",
           "whole"]

FIRST_LOT, ORDERED, MOST_PULLED, MOST_SAMPLES = "08b_lanyards_first_lot", 40, 12, 300
COVERAGE, CONFIDENCE = 0.90, 0.95  # order 8 asks for these
START = "11" * 16  # the draw that the live figures begin with
MOUTH, SLIPPED = MODES[1:3]


# --- order 8 --------------------------------------------------------------------------------------

@cache
def lanyard_n() -> float:
    """The breaking force of order 8's cable in N: lower of table and certificate, from the invented sample shop."""
    reel = sample_shop().reel(of_order(FIRST_LOT).reel)
    return float(breaking_force(reel.size, reel.construction, reel.metal, reel.certificate_n, reel.certificate).force_n)


@cache
def pulled_of(name: str) -> tuple[tuple[float, ...], tuple[str, ...]]:
    """The pulls written on one of the course's orders, by its file's name: forces in N, and how each ended."""
    order = of_order(name)
    forces = _job_lot._forces(order.pull_forces)
    return forces, _job_lot._endings(order.pull_endings, len(forces))


def first_lot() -> tuple[tuple[float, ...], tuple[str, ...]]:
    """Order 8's first six: forces in N, and how each ended."""
    return pulled_of(FIRST_LOT)


@cache
def order_verdict() -> LotVerdict:
    """The verdict on order 8's first lot."""
    forces, ended = first_lot()
    return lot_verdict(forces, lanyard_n(), coverage=COVERAGE, confidence=CONFIDENCE, modes=ended)


def needed_n() -> float:
    """What a lanyard's eyes must hold, in N."""
    return order_verdict().needed_n


def whole(force_n: float, direction: str = "nearest") -> str:
    """A force as the bench writes it: whole lbf, or N, in the shop's own system alone."""
    return show_force(force_n, system(), direction).partition(" [")[0]


def held(force_n: float) -> str:
    """What pieces held, or their bound, as a drawing writes it: as finely as a pull and rounded down, in the shop's own system alone."""
    return show_force(force_n, system(), "down", step="0.1" if system() == "US" else None).partition(" [")[0]


def needed_said() -> str:
    """What a lanyard must hold, in words, rounded up."""
    return whole(needed_n(), "up")


# --- invented lots --------------------------------------------------------------------------------

@dataclass(frozen=True)
class Lot:
    """An INVENTED lot in parts of the breaking force: middle and spread, the share of pieces that slip, and where those lie."""

    middle: float
    spread: float
    slips: float = 0.0
    slip_middle: float = 0.86
    slip_spread: float = 0.03

    def draw(self, stream: Stream) -> tuple[float, str]:
        """One piece: its force in N to the instrument's step, and how it ended."""
        slipped = stream.below(1000) < 1000 * self.slips
        middle, spread = (self.slip_middle, self.slip_spread) if slipped else (self.middle, self.spread)
        share = middle + spread * NormalDist().inv_cdf((stream.below(1_000_000) + 0.5) / 1_000_000)
        step = float(LBF_N) if system() == "US" else 5.0
        return round(share * lanyard_n() / step) * step, SLIPPED if slipped else MOUTH

    def density(self, force_n: float) -> float:
        """How thick the pieces lie at a force in N, up to a factor."""
        share = force_n / lanyard_n()
        return (1 - self.slips) * NormalDist(self.middle, self.spread).pdf(share) + (self.slips and self.slips * NormalDist(self.slip_middle, self.slip_spread).pdf(share))

    def holds(self) -> float:
        """The share of all its pieces that hold what is needed."""
        line = needed_n() / lanyard_n()
        held = (1 - self.slips) * (1 - NormalDist(self.middle, self.spread).cdf(line))
        return held + (self.slips and self.slips * (1 - NormalDist(self.slip_middle, self.slip_spread).cdf(line)))


LOTS = {"even": Lot(1.03, 0.02), "wide": Lot(0.97, 0.06), "slips": Lot(1.02, 0.02, 0.125)}
LOT_WORDS = (("all pressed alike", "even"), ("pressed unevenly", "wide"), ("one in eight slips", "slips"))
# What is in a box: the lot that the pulled ones come from, the lot of the next forty, and what is told of it afterwards.
BOXES = (("even", "even", "The forty were pressed like the ones you pulled."),
         ("even", "wide", "But the forty were pressed later, by a tool that had gone out of set. No pull of the first ones can tell you that."),
         ("wide", "wide", "The forty were pressed like the ones you pulled: unevenly."),
         ("slips", "slips", "The forty were pressed like the ones you pulled: about one in eight was not closed fully."))
ORDER_TOLD = "The forty were pressed after them, with the same tool LA, and it closed less and less."
ORDER_REST, ORDER_NEXT = Lot(1.01, 0.055), Lot(0.97, 0.065)


def share_that_holds(name: str) -> float:
    """The share of all pieces of an invented lot that hold what is needed.

    >>> [round(share_that_holds(name), 2) for name in ("even", "wide", "slips")]
    [1.0, 0.88, 0.89]
    """
    return LOTS[name].holds()


def lot_of(fresh: str) -> tuple[tuple[tuple[float, str], ...], tuple[float, ...], str]:
    """A box of lanyards: the twelve that may be pulled (N, ending), the next forty (N), and what is told afterwards. "" is order 8's."""
    return _lot_of(fresh, system())


@lru_cache(maxsize=64)
def _lot_of(fresh: str, unit: str) -> tuple[tuple[tuple[float, str], ...], tuple[float, ...], str]:
    stream = Stream(bytes.fromhex(fresh or START), "lanyard lot")
    if fresh:
        first, after, told = stream.pick(BOXES)
        pulled, box, rest = (), LOTS[first], LOTS[after]
    else:
        pulled, box, rest, told = tuple(zip(*first_lot(), strict=True)), ORDER_REST, ORDER_NEXT, ORDER_TOLD
    pulled += tuple(box.draw(stream) for _ in range(MOST_PULLED - len(pulled)))
    return pulled, tuple(rest.draw(stream)[0] for _ in range(ORDERED)), told


@cache
def _axis(unit: str) -> Axis:
    low, high = 0.70 * lanyard_n(), 1.14 * lanyard_n()
    step = 25 * float(LBF_N) if unit == "US" else 100.0
    ticks = [place * step for place in range(math.ceil(low / step), int(high / step) + 1)]
    return Axis(low, high, tuple((force, f"{force / float(LBF_N):.0f}" if unit == "US" else f"{force / 1000:.1f}") for force in ticks),
                f"force at break, {'lbf' if unit == 'US' else 'kN'}")


def own_stream() -> Stream:
    """Where the questions that are done unaided take their first figures from: not those that the page has asked before."""
    return Stream(bytes.fromhex(START), "lesson 11, on your own")


def axis() -> Axis:
    """The axis of the lanyards' forces, in the shop's unit."""
    return _axis(system())


# --- pull one at a time and sign ------------------------------------------------------------------

def _judged(verdict: LotVerdict, forces) -> Judged:
    mean, bound = sum(forces) / len(forces), verdict.bound
    return Judged(mean, f"mean {short(mean)}", verdict.lowest_n, f"lowest {held(verdict.lowest_n)}", bound and bound.bound_n,
                  f"bound {held(bound.bound_n)}" if bound else "no bound")


def _verdict(pieces) -> LotVerdict:
    return lot_verdict([force for force, _ in pieces], lanyard_n(), coverage=COVERAGE, confidence=CONFIDENCE, modes=[ended for _, ended in pieces])


def _verdict_or_why(pieces) -> LotVerdict | Refusal:
    """The verdict on the pieces that were pulled, or why they allow none: holding a lot waits for neither."""
    try:
        return _verdict(pieces)
    except Refusal as refusal:
        return refusal


def _bad(pieces) -> str:
    """The pieces that are each a reason to hold the lot at once, in words: slipped, or below what is needed; "" for none."""
    found = [(place, ended == SLIPPED, force < needed_n()) for place, (force, ended) in enumerate(pieces, 1) if ended == SLIPPED or force < needed_n()]
    return "; ".join(f"piece {place} {' and '.join(['slipped'] * slipped + [f'lies below {needed_said()}'] * below)}" for place, slipped, below in found)


def lot_figure(fresh: str, count: int, judged: bool, following: bool = True) -> Figure:
    """A box with so many pulled; judged, with mean, lowest, bound and the next forty."""
    pieces, forty, _ = lot_of(fresh)
    done = pieces[:count]
    verdict = _verdict_or_why(done) if judged else None
    return lot_on_axis(axis(), ORDERED + (6 if count <= 6 else count), [Pulled(force, f"{whole(force)}{', slipped' if ended == SLIPPED else ''}", ended == SLIPPED) for force, ended in done],
                       needed_n(), f"needed: {needed_said()}", _judged(verdict, [force for force, _ in done]) if isinstance(verdict, LotVerdict) else None,
                       forty if judged and following else ())


def lot_view(state: dict) -> View:
    """The box: pull the next, sign or hold; mean, lowest, bound and the next forty come after the decision only. It may be held at any time."""
    fresh, count, decided = state["fresh"], state["pulled"], state["decided"]
    controls = (button("pull", "Pull the next one", not decided and count < MOST_PULLED), button("sign", "Sign: the lot goes out", not decided, second=True),
                button("hold", "Hold the lot, find the cause", decided in ("", "sign"), second=True), button("fresh", "Another lot", second=True))
    if decided:
        verdict = _verdict_or_why(lot_of(fresh)[0][:count])
        head, why = (f"{verdict.verdict.capitalize()}: why", verdict.reasons) if isinstance(verdict, LotVerdict) else ("No verdict: why", (_no_verdict(count, verdict),))
        return View((lot_figure(fresh, count, True),), controls, _decided(fresh, count, decided), lesson.table((head,), [(reason,) for reason in why]))
    if not count:
        words = f"The box holds {ORDERED} lanyards to deliver, and some more to pull. Each eye must hold {needed_said()}. Pull one. You may hold the lot at any time."
    else:
        force, ended = lot_of(fresh)[0][count - 1]
        words = f"Piece {count}: {whole(force)}, {ended}. Pull another, sign, or hold? What you pull is thrown away."
    return View((lot_figure(fresh, count, False),), controls, (Said(words),))


def _decided(fresh: str, count: int, decided: str) -> tuple[Said, ...]:
    pieces, forty, told = lot_of(fresh)
    verdict, bad = _verdict_or_why(pieces[:count]), _bad(pieces[:count])
    shown, short_ones = isinstance(verdict, LotVerdict) and verdict.verdict == "shown", sum(force < needed_n() for force in forty)
    if decided == "sign":
        first = ("You signed, and the pulls show it.", "ok") if shown else (f"You signed, and the pulls do not show it.{f' A reason to hold at once: {bad}.' if bad else ''}", "no")
    else:
        first = (_held_words(verdict, bad, decided), "ok")
    tail = " You had luck, and the next lot need not." if decided == "sign" and not shown and not short_ones else ""
    return (Said(*first), Said(f"Of the next {ORDERED}, {f'{short_ones} would not' if short_ones else 'all would'} have held {needed_said()}.{tail} {told} (INVENTED pieces)"))


def _no_verdict(count: int, refusal: Refusal) -> str:
    return f"{count or 'None'} pulled so far. Of fewer than {LEAST_PIECES} pieces nothing can be said of the others." if count < LEAST_PIECES else str(refusal)


def _held_words(verdict: LotVerdict | Refusal, bad: str, decided: str) -> str:
    """Why holding was right; it always is."""
    start = "You called back what you had signed. That is always right" if decided == "called back" else "You held it. That is always right"
    if bad:
        return f"{start}, and here there was a reason to do it at once: {bad}."
    if isinstance(verdict, Refusal):
        return f"{start}, and nobody may sign yet: so few pieces show nothing of the others."
    if verdict.verdict == "shown":
        return f"{start}: whoever has a doubt may stop a lot. These pulls do show it, so say what your doubt is, and let somebody look."
    return f"{start}, and the pulls do not show it."


def lot_step(state: dict, name: str, value=None) -> dict:
    """One more is pulled; or the lot is signed, which needs three pulls at least; or held, which needs nothing; or another box is brought."""
    if name == "fresh":
        return {"fresh": secrets.token_bytes(16).hex(), "pulled": 0, "decided": ""}
    if name == "hold":
        return state | {"decided": {"": "hold", "sign": "called back"}.get(state["decided"], state["decided"])}
    if state["decided"]:
        raise Refusal("another pull or signature after the decision", "one decision on a lot", "take another lot; hold this one if you doubt it")
    if name == "pull":
        if state["pulled"] == MOST_PULLED:
            raise Refusal("one more pull", f"{MOST_PULLED} pulls of this box", "decide, or take another lot")
        return state | {"pulled": state["pulled"] + 1}
    done = lot_of(state["fresh"])[0][:state["pulled"]]
    if not done:
        raise Refusal("a signature for a lot of which nothing was pulled", "three pieces or more", "pull some first")
    found, bad = _verdict_or_why(done), _bad(done)
    if isinstance(found, Refusal):
        raise Refusal(f"a signature after {found.given}", found.accepted, f"hold the lot: {bad}" if bad else found.do)
    return state | {"decided": name}


def pull_the_lot(fresh: str = "") -> Board:
    """Pull one lanyard at a time and decide when to sign the lot: order 8's, or the lot of a draw."""
    return Board(of_the_scene("Pull the lot, one at a time"), {"fresh": fresh, "pulled": 0, "decided": ""}, lot_view, lot_step)


# --- drawn again and again ------------------------------------------------------------------------

@lru_cache(maxsize=4096)
def _sample(fresh: str, lot: str, pieces: int, place: int, unit: str) -> Sample:
    stream = Stream(bytes.fromhex(fresh), f"sample {lot} {place}")
    forces, ended = zip(*(LOTS[lot].draw(stream) for _ in range(pieces)), strict=True)
    try:
        found = tolerance_bound_n(forces, coverage=COVERAGE, confidence=CONFIDENCE)
    except Refusal:  # all alike to the instrument's step: no spread, no bound; another is drawn
        return _sample(fresh, lot, pieces, place + MOST_SAMPLES, unit)
    return Sample(found.mean_n, min(forces), found.bound_n, SLIPPED in ended)


def samples_of(state: dict) -> list[Sample]:
    """Every sample drawn so far."""
    return [_sample(state["fresh"], state["lot"], state["pieces"], place, system()) for place in range(state["count"])]


def _samples_figure(state: dict) -> Figure:
    lot = LOTS[state["lot"]]
    return samples_on_axis(axis(), lot.density, samples_of(state), needed_n(), f"needed: {needed_said()}",
                           "all the pieces\n(nobody can pull them all)")


def samples_view(state: dict) -> View:
    """Samples of one invented lot on an axis, and how often mean, lowest and bound said yes."""
    sizes = (3, 6, 12, zero_failure_size(reliability=COVERAGE, confidence=CONFIDENCE).pieces)
    controls = (choice("lot", "The lot", LOT_WORDS, state["lot"]), choice("pieces", "Pulled each time", [(str(size), size) for size in sizes], state["pieces"]),
                button("one", f"Pull {state['pieces']} again", state["count"] < MOST_SAMPLES), button("many", "Fifty times more", state["count"] + 50 <= MOST_SAMPLES),
                button("fresh", "Begin anew", second=True))
    return View((_samples_figure(state),), controls, _samples_said(state), _samples_table(state))


def _samples_said(state: dict) -> tuple[Said, ...]:
    last, true = samples_of(state)[-1], share_that_holds(state["lot"])
    yes = [name for name, force in (("mean", last.mean_n), ("lowest", last.lowest_n), ("bound", last.bound_n)) if force >= needed_n()]
    first = f"This time: {' and '.join(yes) if yes else 'none of the three'} at or above the line."
    may = f"{true:.0%} of all its pieces hold" if true < 0.995 else "nearly every piece holds"
    return Said(first), Said(f"In truth {may} {needed_said()}: {'each yes is right' if true >= COVERAGE else f'fewer than the {COVERAGE:.0%} asked, so each yes is wrong'}.")


def _samples_table(state: dict) -> lesson.Block:
    drawn, line = samples_of(state), needed_n()
    n = state["pieces"]
    rows = [(words, sum(getattr(one, name) >= line for one in drawn), len(drawn)) for words, name in
            (("by the mean", "mean_n"), (f"by the lowest: all {n} held", "lowest_n"), ("by the bound alone", "bound_n"))]
    rows.append(("by the bound, and none slipped", sum(one.bound_n >= line and not one.slipped for one in drawn), len(drawn)))
    return lesson.table(("Who signs", "said yes", "of"), rows, f"{len(drawn)} times {n} pieces of one lot (INVENTED lot; drawn by chance)", numbers=(1, 2))


def samples_step(state: dict, name: str, value=None) -> dict:
    """Draws again, once or fifty times; another lot or number of pieces begins with one sample."""
    if name in ("one", "many"):
        return state | {"count": min(MOST_SAMPLES, state["count"] + (1 if name == "one" else 50))}
    if name == "fresh":
        return state | {"fresh": secrets.token_bytes(16).hex(), "count": 1}
    return state | {name: value, "count": 1}


def _samples_start() -> dict:
    return {"fresh": START, "lot": "wide", "pieces": 6, "count": 1}


def drawn_again() -> Board:
    """Six of one lot, again and again."""
    return Board(of_the_scene("Six again, and again"), _samples_start(), samples_view, samples_step)


def samples_still() -> Figure:
    """Ten samples of six from an uneven lot."""
    return _samples_figure(_samples_start() | {"count": 10})
