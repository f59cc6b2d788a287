"""Lesson 01, the caliper: Dela's reading, a caliper turned on any section, what each size may measure, readings that mislead."""

from __future__ import annotations

from dataclasses import dataclass

from rigcalc.cable import (band_mm, breaking_force, construction, flats_mistaken_for, flats_reading_mm, metric_band_mm, metric_sizes_agreeing, possible_sizes,
                           sizes_agreeing)
from rigcalc.figures import Figure, caliper_on_section
from rigcalc.figures.cut_ends import Offcut
from rigcalc.figures.caliper import caliper_closed, wrong_readings
from rigcalc.figures.constructions import Jaws, jaws_on, outline
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, choice, slider
from rigcalc.notebook.course.five_offcuts import KEPT, PLACES, SIZES, Piece, greatest_mm, reading
from rigcalc.notebook.course.hangings import system
from rigcalc.notebook.course.inside_a_cable import NAMES
from rigcalc.notebook.teaching import of_the_scene, shop_for_teaching
from rigcalc.questions.template import FORMATS

__all__ = ["bands", "could_be", "dela_says", "dela_view", "misleading", "misleading_table", "misleading_told", "turn_step", "turn_the_caliper", "turn_view",
           "two_calipers", "worked_reading"]

# --- the first answer -----------------------------------------------------------------------------

def dela_view(state: dict) -> View:
    """Dela's caliper on offcut A, and what she says."""
    piece, said = KEPT[0], state["said"]
    turn = 30 if said != "turn" else 0
    shown = reading(jaws_on(piece.offcut.designation, turn).apart * piece.offcut.steel_mm)
    figure = caliper_closed(piece.offcut, turn, shown)
    options = [("5/32: write it on the tag", "5/32"), ("too small for 5/32: it is 1/8", "1/8"), ("turn the cable in the jaws first", "turn")]
    return View((figure,), (choice("said", "What do you do?", [("not said yet", ""), *options], said),), (_dela_words(said, piece),))


def _dela_words(said: str, piece: Piece) -> Said:
    flat = flats_reading_mm(piece.offcut.steel_mm)
    if not said:
        return Said(f"Dela reads {reading(flat)} and says 5/32. Look where the jaws stand.")
    if said == "turn":
        full = piece.offcut.steel_mm
        return Said(f"Turned, it reads {reading(full)}. That is {' or '.join(sizes_agreeing(full))}, not {' or '.join(sizes_agreeing(flat))}. "
                    "Nothing about the cable has changed. Only the place of the jaws has.", "ok")
    if said == "5/32":
        return Said("The figure fits 5/32, it is true. Does each jaw stand on one ridge, or on two?", "no")
    return Said("The figure is larger than 1/8 may be. But is it the figure to look at? See where the jaws stand.", "no")


def dela_says() -> Board:
    """Dela's reading: what do you do?"""
    return Board(of_the_scene("Offcut A in Dela's caliper"), {"said": ""}, dela_view)


# --- turn the caliper -----------------------------------------------------------------------------

STANDS = {"crowns": "on one crown each", "flats": "on two strands each: flats", "between": "a little beside the crowns"}
STANDS_ONE = {"crowns": "on one wire each", "flats": "on two wires each: flats", "between": "a little beside the highest wires"}


def _stands(made: str, jaws: Jaws) -> str:
    if len(outline(made)) == 3:
        return "on one strand on one side, on two on the other" if sum(jaws.touched) == 3 else "on one strand each, beside its crown"
    return (STANDS_ONE if construction(made).strands == 1 else STANDS)[jaws.stands]


def turn_view(state: dict) -> View:
    """A caliper turned on any section: where the jaws stand, what it reads, and all that the figure could mean."""
    made, size, turn = state["made"], state["size"], state["turn"]
    one = Offcut("", made, band_mm(size)[0])
    jaws = jaws_on(made, turn)
    mm = jaws.apart * one.steel_mm
    most = max(jaws_on(made, at).apart for at in range(180)) * one.steel_mm
    figure = caliper_closed(one, turn, reading(mm), _stands(made, jaws))
    controls = (choice("made", "Construction", NAMES, made), choice("size", "Size in the jaws", SIZES, size),
                slider("turn", "Turn the cable in the jaws", 0, 180, 1, turn, f"{turn}°"))
    words = [Said(f"The jaws stand {_stands(made, jaws)}. It reads {reading(mm)}, {jaws.apart:.1%} of {size} in.")]
    if len(outline(made)) == 3:
        words.append(Said(f"Three strands: the most that two flat jaws read is {reading(most)}. They never reach the full size. Read the label."))
    return View((figure,), controls, tuple(words), could_be(mm))


def could_be(mm: float) -> lesson.Block:
    """All that a reading could mean when nobody knows how it was taken; none is chosen."""
    found = possible_sizes(mm)
    rows = [(one.kind, ", ".join(one.sizes), one.why, one.how_known) for one in found.possibilities if one.sizes]
    for made, kind, why in (("3x7", "three strands, however the jaws lie", "three strands never fill two flat jaws: they read less than the size"),
                            ("1x19", "one strand of 19 wires, beside its highest wires", "two wires under a jaw read a little less than the size")):
        named = _could_be_of(made, mm)
        if named:
            rows.append((kind, ", ".join(named), why, "computed"))
    fits = ", ".join(found.mistaken_for) or "no inch size"
    return lesson.table(("It could be", "named", "why", "known"), rows,
                        f"The figure alone, {reading(mm)}: believed over the crowns, it fits {fits}. (Flats: for cable with six outer strands.)")


def _could_be_of(made: str, mm: float) -> list[str]:
    """The inch sizes of a construction that reads less than its size, which a reading fits somewhere round the cable."""
    shares = [jaws_on(made, turn).apart for turn in range(180)]
    return [name for name in SIZES if band_mm(name)[0] * min(shares) - 1e-9 <= mm <= band_mm(name)[1] * max(shares) + 1e-9]


def turn_step(state: dict, name: str, value) -> dict:
    """A move of the caliper's controls."""
    return state | {name: int(value) if name == "turn" else value}


def turn_the_caliper() -> Board:
    """Turn the caliper on any section."""
    return Board("Turn the cable in the jaws", {"made": "7x19", "size": "3/16", "turn": 18}, turn_view, turn_step)


def two_calipers() -> Figure:
    """Crowns and flats side by side."""
    return caliper_on_section(KEPT[0].offcut.steel_mm, KEPT[0].offcut.designation, "both")


# --- from a reading to a size ---------------------------------------------------------------------

def bands() -> lesson.Block:
    """For each size: what it may measure over its crowns, what its flats then read, and for which other size that can be taken."""
    rows = []
    for name in SIZES:
        low, high = band_mm(name)
        flat = flats_reading_mm(low), flats_reading_mm(high)
        other = [one for one in SIZES if one != name and band_mm(one)[0] <= flat[1] + 1e-9 and flat[0] <= band_mm(one)[1] + 1e-9]
        thin, thick = (any(band_mm(one)[0] - 1e-9 <= read <= band_mm(one)[1] + 1e-9 for one in other) for read in flat)
        where = "" if thin == thick else ", where it is made thin" if thin else ", where it is made thick"
        like = " or ".join(other) + where if other else "no other size"
        rows.append((name, f"{reading(low)} to {reading(high)}", f"{reading(flat[0])} to {reading(flat[1])}", like))
    return lesson.table(("Size", "Over crowns", "Its flats read", "and can look like"), rows,
                        "AC 43.13-1B, Table 7-3: the size, or a little over (read). Flats: worked out for the thinnest and the thickest cable of each size, six outer strands")


def worked_reading() -> lesson.Block:
    """Offcut A, from six readings to its size, against the printed band."""
    piece = KEPT[0]
    first = [greatest_mm(piece, place, True) for place in PLACES]
    low, high = band_mm("3/16")
    flat = flats_reading_mm(piece.offcut.steel_mm)
    rows = [("1. What was Dela's reading?", f"{reading(flat)}, two strands under each jaw: flats"),
            ("2. Turn until it reads most", "; ".join(f"place {place}: {reading(mm)}" for place, mm in zip(PLACES, first))),
            ("3. The second way, about square", "turn on to the next crown: the same three again"),
            ("4. Do the places agree?", f"yes: all within {shop_for_teaching()[0].bench.diameter_tolerance_mm:g} mm"),
            ("5. The printed band of 3/16", f"{reading(low)} to {reading(high)}"),
            ("6. Any other size, inch or metric?", ", ".join((*(n for n in sizes_agreeing(first[0]) if n != "3/16"), *metric_sizes_agreeing(first[0]))) or "none, over the crowns"),
            ("7. Named", f"{' or '.join(sizes_agreeing(first[0]))} in. Dela would have written {flats_mistaken_for('3/16')}")]
    return lesson.answer(lesson.table(("Step", "Offcut A"), rows, "Offcut A (INVENTED) against the printed band: AC 43.13-1B, Table 7-3"))


# --- what goes wrong ------------------------------------------------------------------------------

@dataclass(frozen=True)
class Misled:
    """A caliper that misleads: what is in it, how, what is wrong, what it is taken for and what to do."""

    offcut: Offcut
    turn_deg: float
    squeeze: tuple[float, float]
    coated: bool
    fault: str
    taken: str
    do: str

    @property
    def mm(self) -> float:
        """What it reads, in mm."""
        return self.offcut.coat_mm if self.coated else jaws_on(self.offcut.designation, self.turn_deg, self.squeeze).apart * self.offcut.steel_mm


def _misled() -> tuple[Misled, ...]:
    metric, round_ = Offcut("C", "7x19", metric_band_mm(6)[1]), (1.0, 1.0)
    return (Misled(KEPT[0].offcut, 30.0, round_, False, "on the flats", flats_mistaken_for("3/16"), "turn until it reads most"),
            Misled(KEPT[1].offcut, 0.0, round_, True, "on the coat", "3/16", "strip a piece, measure the core"),
            Misled(KEPT[3].offcut, 0.0, KEPT[3].squeeze, False, "one way only, on a squeezed place", "no size", "measure the second way; lay it aside"),
            Misled(metric, 0.0, round_, False, "metric cable", " or ".join(sizes_agreeing(metric.steel_mm)), "ask for the label: its makers call it 6 mm"))


def misleading() -> Figure:
    """Four calipers that mislead, a letter each."""
    return wrong_readings([(one.offcut, one.turn_deg, one.squeeze, one.coated, reading(one.mm)) for one in _misled()])


def misleading_told() -> lesson.Block:
    """What is wrong with each of the four."""
    rows = [(letter, reading(one.mm), one.fault, one.taken, one.do) for letter, one in zip("PQRS", _misled())]
    return lesson.answer(lesson.table(("", "It reads", "What is wrong", "Taken for", "Do"), rows))


def misleading_table() -> lesson.Block:
    """What two of the wrong sizes would have cost: the strength believed against the true one."""
    rows = []
    for what, believed, true in (("3/32 7x7 in a coat, taken for 3/16", ("3/16", "7x19"), ("3/32", "7x7")), ("3/16 on its flats, taken for 5/32", ("5/32", "7x19"), ("3/16", "7x19"))):
        taken, there = (breaking_force(*one, "galvanised") for one in (believed, true))
        rows.append((what, FORMATS["force"](taken.force_n, system()), FORMATS["force"](there.force_n, system()), f"{taken.force_n / there.force_n:.2f} times"))
    return lesson.answer(lesson.table(("Read wrong", "strength believed", "strength there", "believed over true"), rows,
                                      "Galvanised, AC 43.13-1B, Table 7-3. The second errs small, and then its sleeve does not go on: somebody forces it"))
