"""Lesson 09, the third live figure: the usual missteps and the load that each would have let somebody hang."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from rigcalc.cable import breaking_force, en_breaking_force_n
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.hung_loads import hung_loads
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, choice
from rigcalc.notebook.course.hangings import system
from rigcalc.notebook.course.limits import designers_factor, down, fine, pull_words, stated_n
from rigcalc.notebook.teaching import of_the_scene, sample_shop, shop_for_teaching
from rigcalc.rating import EFFICIENCY, load_from_mass_n, working_load_limit_n
from rigcalc.reference import table
from rigcalc.units import GRAVITY_M_S2, LBF_N, in_unit

__all__ = ["Misstep", "missteps", "missteps_still", "missteps_table", "what_would_have_hung"]

SHARE = float(EFFICIENCY)
CALLS = (("not said yet", ""), ("too much", "more"), ("too little", "less"), ("something, where nothing may", "refuse"))


@dataclass(frozen=True)
class Misstep:
    """A misstep: its name, what was done, cable and factor in words, right and wrong load in N (right None: refused), and why."""

    key: str
    name: str
    done: str
    cable: str
    right_n: float | None
    right: str
    wrong_n: float
    wrong: str
    why: str

    @property
    def call(self) -> str:
        """Which way it goes wrong, one of `CALLS`."""
        return "refuse" if self.right_n is None else "more" if self.wrong_n > self.right_n else "less"


def _factor() -> float:
    return sample_shop().factors[0].value


def _stated(strength_n: float, share: float = SHARE, factor: float | None = None) -> float:
    """A limit in N as a tag states it."""
    return stated_n(strength_n, share, _factor() if factor is None else factor)


def _table(size: str, construction: str = "7x19", metal: str = "galvanised") -> float:
    return float(breaking_force(size, construction, metal).force_n)


def _right_or_none(size: str) -> float | None:
    """What a size may carry, or None where the package refuses it."""
    try:
        return _stated(_table(size))
    except Refusal:
        return None


def _bend_share() -> tuple[int, float]:
    """The ratio of pin to cable that is told of, and the share that a curve from memory gives a cable bent so."""
    row = next(row for row in table("bend_curve") if row.bend_ratio == 4)
    return int(row.bend_ratio), float(row.share_percent) / 100


@lru_cache(maxsize=4)
def _missteps(digest: str) -> tuple[Misstep, ...]:
    base, factor, mean = _table("1/8"), _factor(), (_table("3/32") + _table("1/8")) / 2
    right = _stated(base)
    cable = "1/8 7x19 galvanised"
    strength, shackle = f"{cable}, {pull_words(base)}", next(one.fitting for one in sample_shop().fittings if one.fitting.kind == "shackle")
    stainless, core, outside = _table("1/8", metal="stainless"), _table("3/32", "7x7"), _table("3/16")
    metric, quarter = float(en_breaking_force_n("7x19", 6.0, 1770).force_n), _table("1/4")
    fine_cable = _table("3/32", metal="stainless")
    exactly = working_load_limit_n(fine_cable, SHARE, factor)
    up = _stated(fine_cable) + (float(LBF_N) if system() == "US" else 1.0)
    number = int(in_unit(right, "lbf"))
    weighs = load_from_mass_n(number, float(GRAVITY_M_S2))
    ratio, bent = _bend_share()
    owner = designers_factor()

    def one(key, name, done, why, wrong_n, right_n=right, on=strength, wrong="", right_words=""):
        return Misstep(key, name, done, on, right_n, right_words or ("nothing: refused" if right_n is None else down(right_n)), wrong_n, wrong or down(wrong_n), why)

    return (
        one("left-out", "efficiency left out", f"{pull_words(base)} ÷ {factor:g}", "The eyes hold a part of the cable. That part stands in the sum, once.", _stated(base, 1.0)),
        one("squared", "efficiency taken twice, for two eyes", f"{pull_words(base)} × {SHARE:.2f} × {SHARE:.2f} ÷ {factor:g}",
            "The two ends are one behind the other. The same pull goes through both, so the share counts once. It errs to the safe side here; a wrong rule will not always.", _stated(base, SHARE * SHARE)),
        one("multiplied", "multiplied by the factor", f"{pull_words(base)} × {SHARE:.2f} × {factor:g}", "More than the cable breaks at. A limit above the breaking force is seen at once, if one looks.", _stated(base, SHARE, 1 / factor)),
        one("divided", "divided by the efficiency", f"{pull_words(base)} ÷ {SHARE:.2f} ÷ {factor:g}", "An eye makes the cable weaker, never stronger. After the eyes less must be left.", _stated(base, 1 / SHARE)),
        one("wrong-metal", "galvanised strength for stainless", f"{pull_words(base)} read in the galvanised column", "Stainless of the same size is weaker. Read the metal on the reel, then the column.", right, _stated(stainless),
            f"1/8 7x19 stainless, {pull_words(stainless)}"),
        one("coat", "size taken over the coat", f"{pull_words(outside)} read for 3/16", "The coat carries nothing. The label names core and coat: the core is the cable.", _stated(outside), _stated(core),
            f"3/32 7x7 coated to 3/16, {pull_words(core)}"),
        one("doubled", "half as thick, so half as strong", f"half of 1/4: {pull_words(quarter / 2)}", "Half as thick leaves about a quarter of the metal. Strength is read, size by size.", _stated(quarter / 2)),
        one("between", "read between two rows", f"7/64, half-way: {pull_words(mean)}", "The table has no such row, and no sleeve is made for it. Between rated sizes there is no answer.", _stated(mean), _right_or_none("7/64"), "7/64 7x19 galvanised, no row"),
        one("metric", "metric read as inch", f"6 mm taken for 1/4: {pull_words(quarter)}",
            f"By the metric factors a 6 mm cable of grade 1770 breaks at {down(metric)}. And no inch sleeve fits it: it is not made into an eye here.", _stated(quarter), _right_or_none("6 mm"), "6 mm 7x19, grade 1770"),
        one("up", "rounded up", f"{fine(exactly)} became {pull_words(up)}", "It looks like nothing. But then the limit is no longer what the sum allows. A limit goes down, always.", up, _stated(fine_cable),
            f"3/32 7x19 stainless, {pull_words(fine_cable)}", wrong=pull_words(up)),
        one("kilograms", "pounds-force hung as kilograms", f"a load of {number} kg on a limit of {number} lbf", "A mass is not a force. Multiply the mass by g, then compare forces.", weighs,
            wrong=f"{number} kg: {pull_words(weighs)}", right_words=f"{down(right)}, a mass of {math.floor(right / float(GRAVITY_M_S2))} kg"),
        one("bend", "a bend factor on the eye", f"{pull_words(base)} × {SHARE:.2f} × {bent:.2f} ÷ {factor:g}",
            f"The curve (from memory: pin {ratio} times the cable) is for a cable that is loaded through a bend. In an eye each leg carries half, so the crown does not govern. Pin and eye have rules of their own.",
            _stated(base, SHARE * bent)),
        one("shackle", "the shackle divided again", f"a {pull_words(shackle.limit_n)} shackle ÷ {factor:g}", "The mark is a working limit already: its maker has divided. Here the cable governs, not the shackle.", shackle.limit_n / factor),
        one("scope", "the shop's factor over visitors", f"factor {factor:g} taken for the kayak", f"Visitors walk below. Only {owner.owner}'s factor, {owner.value:g}, holds for this order. The sum was right; the factor was not theirs to use.",
            right, _stated(base, SHARE, owner.value)),
    )


def missteps() -> tuple[Misstep, ...]:
    """The missteps, worked with the package's calculations for the invented shop's factor."""
    return _missteps(shop_for_teaching()[0].digest)


def _figure(one: Misstep, told: bool) -> Figure:
    return hung_loads(one.right_n, one.right, one.wrong_n, one.wrong, one.cable, told, f"Done: {one.done}. Strengths from the tables; factor {_factor():g} of the INVENTED shop"
                      + (", or the designer's." if one.key == "scope" else "."))


def missteps_still() -> Figure:
    """The first misstep, told."""
    return _figure(missteps()[0], True)


def missteps_table() -> lesson.Block:
    """All of them: what was done, right and wrong, and how many times too much."""
    rows = [(one.name, one.done, one.right, one.wrong, f"{one.wrong_n / one.right_n:.2f} ×" if one.right_n else "not allowed at all") for one in missteps()]
    return lesson.when_said(lesson.table(("Misstep", "Done", "Right", "It lets hang", "of the right one"), rows, "The usual missteps", numbers=(4,)))


def hang_view(state: dict) -> View:
    """A misstep, what was done, and the load once the reader has said which way it goes."""
    one = next(each for each in missteps() if each.key == state["misstep"])
    told = state["call"] != ""
    controls = (choice("misstep", "Misstep", [(each.name, each.key) for each in missteps()], one.key, as_list=True), choice("call", "It would let you hang", CALLS[1:] if told else CALLS, state["call"]))
    if not told:
        return View((_figure(one, False),), controls, (Said(f"On the sheet stands: {one.done}. The cable is {one.cable}. Work out what is right. What would the sheet have let you hang?"),))
    words = dict((key, text) for text, key in CALLS)
    how = f"Right: {words[one.call]}." if state["call"] == one.call else f"Not so: {words[one.call]}."
    times = f" That is {one.wrong_n / one.right_n:.2f} times the right load." if one.right_n else ""
    return View((_figure(one, True),), controls, (Said(f"{how} {one.wrong}, and right is {one.right}.{times}", "ok" if state["call"] == one.call else "no"), Said(one.why)))


def hang_step(state: dict, name: str, value=None) -> dict:
    """Another misstep, or a word on it."""
    if name == "misstep":
        return {"misstep": value, "call": ""}
    return state | {"call": value}


def what_would_have_hung() -> Board:
    """Choose a misstep, say which way it goes, and see the load; it begins with another than the still figure tells."""
    return Board(of_the_scene("What would it have let you hang?"), {"misstep": "divided", "call": ""}, hang_view, hang_step)
