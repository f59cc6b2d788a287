"""What an eye holds of the cable's strength: common practice under its conditions, or the shop's own pulled lot."""

from __future__ import annotations

from fractions import Fraction

from rigcalc._given import among, of_kind, said, texts
from rigcalc._records import record
from rigcalc.cable import sleeve_construction
from rigcalc.errors import Refusal
from rigcalc.pairing import refuse_never
from rigcalc.reference import constant
from rigcalc.sleeve import SLEEVE_METALS, refuse_size_without_sleeve
from rigcalc.units import exact

__all__ = ["EFFICIENCY", "EFFICIENCY_CONDITIONS", "Conditions", "Efficiency", "PulledShare", "efficiency", "pulled_share"]

EFFICIENCY: Fraction = constant("eye efficiency").value
MOST_OF_A_CABLE: Fraction = constant("most that a cable can hold").value  # times its breaking force
EFFICIENCY_CONDITIONS = ("bare 7x7 or 7x19 cable", "right sleeve metal and size", "full count of the chart in force",
                         "every crimp gauged", "tail showing")


@record
class Conditions:
    """What was done at the bench, each answered: only a plain True counts as done."""

    bare: bool = False
    construction: bool = False
    metal_and_size: bool = False
    full_count: bool = False
    every_crimp_gauged: bool = False
    tail_showing: bool = False

    @property
    def missing(self) -> tuple[str, ...]:
        """The conditions of the efficiency that were not met, in words."""
        words = ("bare cable under the sleeve", "7x7 or 7x19 cable", "right sleeve metal and size",
                 "full count of the chart in force", "every crimp gauged", "tail showing")
        done = (self.bare, self.construction, self.metal_and_size, self.full_count, self.every_crimp_gauged, self.tail_showing)
        return tuple(word for word, answer in zip(words, done) if answer is not True)


@record
class PulledShare:
    """What the shop's own pulled lot shows: the lot's bound as a part of the breaking force, and what was pulled.

    `splice` is "eye" or "lap"; `sleeves` is how many sleeves the splice had.
    """

    value: float
    splice: str
    sleeves: int
    sleeve_metal: str
    cable_metal: str
    construction: str
    size: str
    lot: str


@record
class Efficiency:
    """What an eye holds of the cable's strength, under which conditions, where the figure comes from, and for which make it holds."""

    value: float
    conditions: tuple[str, ...]
    note: str
    source: str
    how_known: str
    splice: str = "eye"
    size: str | None = None
    sleeve_metal: str = ""
    cable_metal: str = ""
    construction: str = ""


def pulled_share(bound_n: float, breaking_force_n: float, splice: str, sleeves: int, sleeve_metal: str, cable_metal: str,
                 construction_name: str, size: str, lot: str) -> PulledShare:
    """What the shop's own pulled lot shows, as a part of the breaking force.

    Parameters: the lot's lower tolerance bound (never its mean, never its lowest) and the cable's breaking force, in N;
    "eye" or "lap"; sleeves in the splice; sleeve metal, cable metal, construction and size; the name of the lot.
    Errors: `Refusal` for an unnamed lot, a splice that is neither, a lap with other than two sleeves, forces not above zero or in
    two different units, and a pair of metals, a construction or a size that no sleeve of this trade is for.
    Source: the shop's own pulled lot.

    >>> pulled_share(1750.0, 2000.0, "lap", 2, "aluminium", "galvanised", "7x19", "1/8", "lot 4").value
    0.875
    """
    bound, breaking = parts_above_zero(("bound of the lot", bound_n), ("breaking force", breaking_force_n))
    if not among(splice, ("eye", "lap")) or not isinstance(sleeves, int) or isinstance(sleeves, bool) or sleeves != {"eye": 1, "lap": 2}[splice]:
        raise Refusal(f"a {said(splice)} with {said(sleeves)} sleeves", "an eye with one sleeve, a lap with two",
                      "one sleeve holds no lap: about half, and nobody knows which half")
    if not named(lot):
        raise Refusal("a pulled lot without a name", "the lot's name", "take it from the shop's record")
    if bound > MOST_OF_A_CABLE * breaking:
        raise Refusal(f"a lot's bound of {float(bound):g} N for cable of {float(breaking):g} N", f"at most {float(MOST_OF_A_CABLE):g} times the breaking force",
                      "look at the units of both: no cable holds so much more than its table says")
    sleeve_construction(construction_name)
    refuse_never(cable_metal, sleeve_metal)
    refuse_size_without_sleeve(size)
    return PulledShare(float(bound / breaking), splice, sleeves, sleeve_metal, cable_metal, construction_name, size, lot)


def efficiency(sleeve_metal: str, cable_metal: str, construction_name: str, splice: str = "eye",
               done: Conditions | None = None, pulled: PulledShare | None = None) -> Efficiency:
    """What a hand-pressed eye is taken to hold: 0.90, tied to its conditions; a lap only what the shop's lot shows.

    Parameters: metals of sleeve and cable, construction, "eye" or "lap"; `done` once it is made: what was done, every
    condition of it; `pulled`: the shop's own pulled lot of that very make. No lot lifts it above 0.90.
    Errors: `Refusal` for a condition not met, for a pair of metals that no service allows, for a lap splice without the shop's own pulled lot, for a lot of another
    make, and for a sleeve that the figure does not cover. Source: common practice; the shop's own pulled lot.

    >>> efficiency("aluminium", "galvanised", "7x19").value
    0.9
    """
    sleeve_construction(construction_name)
    for given, kind, what in ((done, Conditions, "what was done"), (pulled, PulledShare, "the shop's own pulled lot")):
        if given is not None:
            of_kind(given, kind, what)
    if not among(splice, ("eye", "lap")) or splice == "lap" and pulled is None:
        raise Refusal(f"a {splice if isinstance(splice, str) else said(splice):.30} splice to be rated", "a thimble or soft eye with its full count of crimps",
                      "give it no limit: only the shop's own pulled lot can rate a lap splice of two sleeves")
    if not among(sleeve_metal, SLEEVE_METALS) or sleeve_metal == "stainless":
        raise Refusal(f"a {sleeve_metal if isinstance(sleeve_metal, str) else said(sleeve_metal):.30} sleeve to be rated", ", ".join(SLEEVE_METALS[:-1]),
                      "ask the tool maker for the efficiency of that sleeve")
    refuse_never(cable_metal, sleeve_metal)
    if done is not None and done.missing:
        raise Refusal(f"a piece without {', without '.join(done.missing)}", ", ".join(EFFICIENCY_CONDITIONS),
                      "give it no limit: 0.90 holds only where all of these were done")
    if pulled is not None:
        return _from_lot(pulled, (splice, sleeve_metal, cable_metal, construction_name))
    row = constant("eye efficiency")
    note = ""
    if cable_metal == "stainless":
        note = (f"For {sleeve_metal} on stainless 0.90 is carried over from aluminium: for real work name the sleeve "
                "maker's figure or the shop's own pulled lot.")
    return Efficiency(float(EFFICIENCY), EFFICIENCY_CONDITIONS, note, row.cited, row.how_known, "eye", None, sleeve_metal, cable_metal,
                      construction_name)


def _from_lot(pulled: PulledShare, asked: tuple[str, str, str, str]) -> Efficiency:
    """The lot's share, never above 0.90, for pieces made as the lot was."""
    texts(pulled, "splice sleeve_metal cable_metal construction size lot", "a pulled lot")
    made = (pulled.splice, pulled.sleeve_metal, pulled.cable_metal, pulled.construction)
    if made != asked:
        raise Refusal(f"the lot {said(pulled.lot)}, {' '.join(made)}, for {' '.join(asked)}", "a lot of the same make",
                      "pull a lot of this make: one make says nothing about another")
    share = exact(pulled.value)
    if not 0 < share <= MOST_OF_A_CABLE or not named(pulled.lot):
        raise Refusal(f"a share of {float(share):g} from the lot {said(pulled.lot)}", f"a named lot, a share above zero and at most {float(MOST_OF_A_CABLE):g}",
                      "work the lot again")
    refuse_size_without_sleeve(pulled.size)
    note = f"Only for {pulled.size} made as the lot {pulled.lot} was." + (" The lot's share is above 0.90: 0.90 stands."
                                                                           if share > EFFICIENCY else "")
    return Efficiency(float(min(share, EFFICIENCY)), EFFICIENCY_CONDITIONS, note, f"pulled lot {pulled.lot}",
                      "the lower of the shop's own pulled lot and common practice", pulled.splice, pulled.size,
                      pulled.sleeve_metal, pulled.cable_metal, pulled.construction)


def parts_above_zero(*figures: tuple[str, float]) -> list[Fraction]:
    """The figures of (name, figure) exactly, each refused by its name unless above zero."""
    parts = [exact(value) for _, value in figures]
    for (name, _), part in zip(figures, parts):
        if part <= 0:
            raise Refusal(f"the {name} {float(part):g}", "a figure above zero", "give the figure again")
    return parts


def named(text: str | None) -> bool:
    """Whether somebody or something is named at all: a dash is no name."""
    return isinstance(text, str) and any(sign.isalnum() for sign in text)


def of_a_person(text: str | None) -> bool:
    """Whether it can be somebody's name: a dash or a figure is none."""
    return isinstance(text, str) and any(map(str.isalpha, text))
