"""Lesson 01, the caliper: Dela's reading, a caliper turned on any section, three places in two directions, readings that mislead."""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from rigcalc.cable import (band_mm, breaking_force, flats_mistaken_for, flats_reading_mm, metric_band_mm, metric_sizes_agreeing, possible_sizes, sizes,
                           sizes_agreeing)
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.cable_ends import Offcut, offcuts
from rigcalc.figures.caliper import caliper_closed, places_on_offcut, wrong_readings
from rigcalc.figures.constructions import jaws_on, outline
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, slider
from rigcalc.notebook.course.inside_a_cable import NAMES
from rigcalc.notebook.teaching import shop_for_teaching
from rigcalc.questions.template import FORMATS
from rigcalc.reference import table

__all__ = ["KEPT", "Piece", "answer_of", "bands", "bin_still", "dela_says", "dela_view", "measure_step", "measure_view", "misleading", "misleading_table",
           "parvels_pieces", "place_mm", "places_still", "reading", "three_places", "turn_step", "turn_the_caliper", "turn_view", "two_calipers", "worked_reading"]

SIZES = sizes()
APART = 45  # degrees: two readings nearer than that are one direction
PLACES = (1, 2, 3)
HALF_UP = 1e-9  # mm: a half is rounded up, as a caliper's display does


def reading(value_mm: float) -> str:
    """A caliper's reading in both systems, to 0.001 in and 0.01 mm."""
    return FORMATS["reading"](value_mm + HALF_UP, shop_for_teaching()[0].system)


# --- the five offcuts -----------------------------------------------------------------------------

@dataclass(frozen=True)
class Piece:
    """An offcut and its story: "sound", "flats" (its flats look like another size), "coat", "metric" or "squeezed"."""

    offcut: Offcut
    story: str
    turned: tuple[int, int, int]
    squeeze: tuple[float, float] = (1.0, 1.0)
    squeezed_at: int = 0

    def squeeze_at(self, place: int) -> tuple[float, float]:
        """How far it is squeezed at a place."""
        return self.squeeze if place == self.squeezed_at else (1.0, 1.0)


KEPT = (
    Piece(Offcut("A", "7x19", band_mm("3/16")[0] + 0.01), "flats", (30, 14, 47)),
    Piece(Offcut("B", "7x7", band_mm("3/32")[0] + 0.06, band_mm("3/16")[0] + 0.05), "coat", (11, 40, 25)),
    Piece(Offcut("C", "7x19", metric_band_mm(6)[0] + 0.12), "metric", (20, 52, 37)),
    Piece(Offcut("D", "7x19", band_mm("1/8")[0] + 0.13), "squeezed", (41, 8, 30), (0.86, 1.08), 3),
    Piece(Offcut("E", "7x7", band_mm("1/16")[0] + 0.09), "sound", (17, 34, 50)),
)
COATS = (("1/16", "1/8", "7x7"), ("3/32", "3/16", "7x7"), ("1/8", "3/16", "7x19"))  # cores and outsides, INVENTED
MADE = {row.size: row.construction for row in table("cable_strength")}


def parvels_pieces(secret: str) -> tuple[Piece, ...]:
    """The five offcuts: those of the scene, or others drawn from a secret, each story once."""
    if not secret:
        return KEPT
    from rigcalc.questions import Stream

    stream = Stream(bytes.fromhex(secret), "offcuts without labels")
    stories = ["flats", "coat", "metric", "squeezed", "sound"]
    for at in range(len(stories) - 1, 0, -1):
        other = stream.below(at + 1)
        stories[at], stories[other] = stories[other], stories[at]
    return tuple(_drawn(letter, story, stream) for letter, story in zip("ABCDE", stories))


def _drawn(letter: str, story: str, stream) -> Piece:
    turned = tuple(stream.below(60) for _ in PLACES)
    if story == "coat":
        core, outside, made = COATS[stream.below(len(COATS))]
        steel = _named_alone(core)
        return Piece(Offcut(letter, made, steel[stream.below(len(steel))], band_mm(outside)[0] + 0.01 * stream.below(9)), story, turned)
    if story == "metric":
        fitting = [(nominal, mm) for nominal in (2, 3, 4, 5, 6, 8) for mm in _steps(*metric_band_mm(nominal)) if not sizes_agreeing(mm)]
        return Piece(Offcut(letter, "7x19", fitting[stream.below(len(fitting))][1]), story, turned)
    if story == "flats":
        near = [(name, band_mm(name)[0] + 0.01) for name in SIZES if MADE[name] == "7x19"]
        fitting = [(name, mm) for name, mm in near if sizes_agreeing(flats_reading_mm(mm)) and not metric_sizes_agreeing(mm)]
    else:
        fitting = [(name, mm) for name in SIZES[1:6] for mm in _named_alone(name)]
    name, mm = fitting[stream.below(len(fitting))]
    if story == "squeezed":
        return Piece(Offcut(letter, MADE[name], mm), story, turned, (0.86, 1.08), 1 + stream.below(3))
    return Piece(Offcut(letter, MADE[name], mm), story, turned)


def _named_alone(name: str) -> list[float]:
    """Diameters in mm that name this size and no other, inch or metric."""
    return [mm for mm in _steps(*band_mm(name)) if sizes_agreeing(mm) == (name,) and not metric_sizes_agreeing(mm)]


def _steps(least: float, most: float) -> list[float]:
    return [least + 0.02 * step for step in range(1, int((most - least - 0.03) / 0.02) + 1)]


def place_mm(piece: Piece, place: int, turn_deg: float, stripped: bool) -> float:
    """What the caliper reads on a piece at a place, turned so far, in mm as it shows it."""
    if piece.offcut.coat_mm and not stripped:
        return round(piece.offcut.coat_mm, 2)
    jaws = jaws_on(piece.offcut.designation, turn_deg + piece.turned[place - 1], piece.squeeze_at(place))
    return round(jaws.apart * piece.offcut.steel_mm, 2)


def _greatest(piece: Piece, place: int, stripped: bool) -> float:
    return max(place_mm(piece, place, turn, stripped) for turn in range(180))


def answer_of(piece: Piece, stripped: bool) -> str:
    """The one size that the crowns name at every place; "" where none can be named."""
    if piece.offcut.coat_mm and not stripped:
        return ""
    named = {sizes_agreeing(_greatest(piece, place, stripped)) for place in PLACES}
    agreed = named.pop() if len(named) == 1 else ()
    if piece.squeezed_at or len(agreed) != 1 or metric_sizes_agreeing(_greatest(piece, 1, stripped)):
        return ""
    return agreed[0]


def bin_still() -> Figure:
    """Parvel's five offcuts."""
    return offcuts([piece.offcut for piece in KEPT])


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
    return Board("Offcut A in Dela's caliper", {"said": ""}, dela_view)


# --- turn the caliper -----------------------------------------------------------------------------

STANDS = {"crowns": "on one crown each", "flats": "on two strands each: flats", "between": "a little beside the crowns"}
STANDS_ONE = {"crowns": "on one wire each", "flats": "on two wires each: flats", "between": "a little beside the highest wires"}


def _stands(made: str, stands: str) -> str:
    if len(outline(made)) == 3:
        return "on one side a crown, on the other two" if stands != "flats" else STANDS[stands]
    return (STANDS if len(outline(made)) == 6 and made != "1x7" else STANDS_ONE)[stands]


def turn_view(state: dict) -> View:
    """A caliper turned on any section: where the jaws stand, what it reads, and all that the figure could mean."""
    made, size, turn = state["made"], state["size"], state["turn"]
    one = Offcut("", made, band_mm(size)[0])
    jaws = jaws_on(made, turn)
    mm = jaws.apart * one.steel_mm
    most = max(jaws_on(made, at).apart for at in range(180)) * one.steel_mm
    figure = caliper_closed(one, turn, reading(mm), _stands(made, jaws.stands))
    controls = (choice("made", "Construction", NAMES, made), choice("size", "Size in the jaws", SIZES, size),
                slider("turn", "Turn the cable in the jaws", 0, 180, 1, turn, f"{turn}°"))
    words = [Said(f"The jaws stand {_stands(made, jaws.stands)}. It reads {reading(mm)}, {jaws.apart:.1%} of {size} in.")]
    if len(outline(made)) == 3:
        words.append(Said(f"Three strands: the most that two flat jaws read is {reading(most)}. They never reach the full size. Read the label."))
    return View((figure,), controls, tuple(words), could_be(mm))


def could_be(mm: float) -> lesson.Block:
    """All that a reading could mean when nobody knows how it was taken; none is chosen."""
    found = possible_sizes(mm)
    rows = [(one.kind, ", ".join(one.sizes), one.why, one.how_known) for one in found.possibilities]
    fits = ", ".join(found.mistaken_for) or "no inch size"
    return lesson.table(("It could be", "named", "why", "known"), rows,
                        f"The figure alone, {reading(mm)}: believed over the crowns, it fits {fits}. (Flats: for cable with six outer strands.)")


def turn_step(state: dict, name: str, value) -> dict:
    """A move of the caliper's controls."""
    return state | {name: int(value) if name == "turn" else value}


def turn_the_caliper() -> Board:
    """Turn the caliper on any section."""
    return Board("Turn the cable in the jaws", {"made": "7x19", "size": "3/16", "turn": 18}, turn_view, turn_step)


def two_calipers() -> Figure:
    """Crowns and flats side by side."""
    from rigcalc.figures import caliper_on_section

    return caliper_on_section(KEPT[0].offcut.steel_mm, KEPT[0].offcut.designation, "both")


# --- three places, two directions -----------------------------------------------------------------

def _measure_start(secret: str = "") -> dict:
    return {"piece": "A", "place": 1, "turn": 0, "notes": {}, "stripped": [], "tag": "?", "told": False, "fresh": secret}


def _piece(state: dict) -> Piece:
    return next(one for one in parvels_pieces(state["fresh"]) if one.offcut.letter == state["piece"])


def _noted(state: dict) -> list[tuple[int, int, float]]:
    """What is written down of the piece in hand: (place, turn, reading in mm)."""
    return [tuple(one) for one in state["notes"].get(state["piece"], [])]


def measure_view(state: dict) -> View:
    """An offcut with three places: turn, write down, then say what stands on the tag."""
    piece, place, turn = _piece(state), state["place"], state["turn"]
    stripped = piece.offcut.letter in state["stripped"]
    coated = bool(piece.offcut.coat_mm) and not stripped
    mm = place_mm(piece, place, turn, stripped)
    figures = (places_on_offcut(piece.offcut, place, coated),
               caliper_closed(piece.offcut, turn + piece.turned[place - 1], reading(mm), "", piece.squeeze_at(place), coated))
    full = len(_noted(state)) == 6
    controls = [choice("piece", "Offcut", "ABCDE", state["piece"]), choice("place", "Place", [(str(n), n) for n in PLACES], place),
                slider("turn", "Turn it", 0, 175, 1, turn, f"{turn}°"), button("note", "Write it down"), button("rub", "Rub out this place", second=True)]
    if piece.offcut.coat_mm:
        controls.append(button("strip", "Strip a piece", coated, second=True))
    controls += [choice("tag", "On the tag", [("not said yet", "?"), ("no size can be named", ""), *((f"{name} in", name) for name in SIZES)], state["tag"], as_list=True),
                 button("say", "Say it", full), button("fresh", "Five other offcuts", second=True)]
    return View(figures, tuple(controls), _measure_words(state, piece, stripped), _notes_table(state))


def _notes_table(state: dict) -> lesson.Block:
    rows = []
    for place in PLACES:
        here = [reading(mm) for at, _, mm in _noted(state) if at == place]
        rows.append((f"place {place}", *(here + ["", ""])[:2]))
    return lesson.table(("", "one way", "about square to it"), rows, f"Written down of offcut {state['piece']}")


def _measure_words(state: dict, piece: Piece, stripped: bool) -> tuple[Said, ...]:
    notes = _noted(state)
    if not state["told"]:
        left = 6 - len(notes)
        return (Said(f"{len(notes)} of six written down. " + (f"{left} to go: three places, two ways at each. Turn until it reads most, then write." if left else "Now say what stands on the tag.")),)
    right, allowed = answer_of(piece, stripped), shop_for_teaching()[0].bench.diameter_tolerance_mm
    said = []
    short = [f"place {place}: {reading(mm)}" for place, turn, mm in notes if place != piece.squeezed_at and _near_best(piece, place, turn, stripped) - mm > allowed + 1e-9]
    named = f"{right} in" if right else "no size"
    if state["tag"] == right:
        said.append(Said(f"Right: {named}. {_why(piece, stripped)}", "ok"))
    else:
        said.append(Said(f"You wrote {state['tag'] + ' in' if state['tag'] else 'no size'}. {_why_not(piece, stripped)}", "no"))
    if short:
        said.append(Said(f"Not at the most, so not over the crowns: {'; '.join(short)}. Turn on a little at these places.", "no"))
    elif not (piece.offcut.coat_mm and not stripped):
        said.append(Said("Your readings were taken at the most, crown to crown.", "ok"))
    if state["tag"] == right:
        said.append(Said(f"And still no label. For practice only: {possible_sizes(_greatest(piece, 1, stripped)).do}."))
    return tuple(said)


def _near_best(piece: Piece, place: int, turn: int, stripped: bool) -> float:
    """The most that could have been read within half a strand's step of where it was written."""
    return max(place_mm(piece, place, turn + off, stripped) for off in range(-30, 31))


def _why(piece: Piece, stripped: bool) -> str:
    if piece.offcut.coat_mm and not stripped:
        return "The jaws stand on a coat. It hides the steel. Strip a piece and measure that."
    if piece.squeezed_at:
        return f"At place {piece.squeezed_at} its two ways do not agree: it was squeezed there. It is scrap."
    if piece.story == "metric":
        fitting = " or ".join(metric_sizes_agreeing(_greatest(piece, 1, stripped)))
        return f"No inch size may measure that. {fitting} may; metric cable is another cable."
    return "At all three places, over the crowns, it lies from that size to a little over."


def _why_not(piece: Piece, stripped: bool) -> str:
    if piece.offcut.coat_mm and not stripped:
        return "Over what do the jaws stand here? Look at the drawing: is that steel?"
    if piece.squeezed_at:
        return "Hold the two ways at each place against each other. Do all three places tell one story?"
    if piece.story == "metric":
        return "Hold your largest reading against the bands in the table above. Does it lie in one of them?"
    return "Take the largest readings, and hold them against the bands. From a size to a little over it: which?"


def measure_step(state: dict, name: str, value) -> dict:
    """An act at the bench: a reading written or rubbed out, a piece stripped, a tag said, five others drawn."""
    notes, letter = _noted(state), state["piece"]
    if name == "note":
        piece, place, turn = _piece(state), state["place"], int(state["turn"])
        here = [one for one in notes if one[0] == place]
        if len(here) == 2:
            raise Refusal(f"a third reading at place {place}", "two", "go on to another place, or rub out this one")
        if here and min(abs(turn - here[0][1]), 180 - abs(turn - here[0][1])) < APART:
            raise Refusal(f"a second reading {min(abs(turn - here[0][1]), 180 - abs(turn - here[0][1]))}° from the first", f"{APART}° or more",
                          "turn it further: about a right angle, and then to the most that it reads")
        mm = place_mm(piece, place, turn, letter in state["stripped"])
        return state | {"notes": state["notes"] | {letter: [*notes, (place, turn, mm)]}, "told": False}
    if name == "rub":
        return state | {"notes": state["notes"] | {letter: [one for one in notes if one[0] != state["place"]]}, "told": False}
    if name == "strip":
        return state | {"stripped": [*state["stripped"], letter], "notes": state["notes"] | {letter: []}, "told": False}
    if name == "say":
        if len(notes) < 2 * len(PLACES):
            raise Refusal(f"a size from {len(notes)} readings", "six: three places, two ways at each", "write down the rest first")
        if state["tag"] == "?":
            raise Refusal("no word for the tag", "a size, or that no size can be named", "choose one, then say it")
        return state | {"told": True}
    if name == "fresh":
        return _measure_start(secrets.token_bytes(16).hex())
    if name == "piece":
        return state | {"piece": value, "place": 1, "turn": 0, "tag": "?", "told": False}
    return state | {name: int(value) if name in ("turn", "place") else value, "told": False}


def three_places() -> Board:
    """Measure the five offcuts at three places in two directions."""
    return Board("Five offcuts, three places, two ways", _measure_start(), measure_view, measure_step)


def places_still() -> Figure:
    """An offcut with its three places."""
    return places_on_offcut(KEPT[0].offcut, 2)


# --- from a reading to a size ---------------------------------------------------------------------

def bands() -> lesson.Block:
    """For each size: what it may measure over its crowns, what its flats read, and for which size that is taken."""
    rows = [(name, reading(band_mm(name)[0]), reading(band_mm(name)[1]), reading(flats_reading_mm(band_mm(name)[0])), flats_mistaken_for(name) or "fits none") for name in SIZES]
    return lesson.table(("Size", "Over crowns, at least", "at most", "Its flats read", "and look like"), rows,
                        "AC 43.13-1B, Table 7-3: the size, or a little over (read). Flats: worked out, smallest cable of the size, six outer strands")


def worked_reading() -> lesson.Block:
    """Offcut A, from six readings to its size, against the printed band."""
    piece = KEPT[0]
    first = [_greatest(piece, place, True) for place in PLACES]
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

def _cases():
    metric = Offcut("C", "7x19", metric_band_mm(6)[1])
    return ((KEPT[0].offcut, 30.0, (1.0, 1.0), False, "on the flats", "taken for 5/32"),
            (KEPT[1].offcut, 0.0, (1.0, 1.0), True, "on the coat", "taken for 3/16"),
            (KEPT[3].offcut, 0.0, (0.86, 1.08), False, "one way only, on a squeezed place", "fits none; it is scrap"),
            (metric, 0.0, (1.0, 1.0), False, "metric taken for inch", f"6 mm taken for {' or '.join(sizes_agreeing(metric.steel_mm))}"))


def misleading() -> Figure:
    """Four calipers that mislead."""
    shown = []
    for one, turn, squeeze, coated, fault, taken in _cases():
        mm = one.coat_mm if coated else jaws_on(one.designation, turn, squeeze).apart * one.steel_mm
        shown.append((one, turn, squeeze, coated, reading(mm), fault, taken))
    return wrong_readings(shown)


def misleading_table() -> lesson.Block:
    """What two of the wrong sizes would have cost: the strength believed against the true one."""
    rows = []
    for what, believed, true in (("3/32 7x7 in a coat, taken for 3/16", ("3/16", "7x19"), ("3/32", "7x7")), ("3/16 on its flats, taken for 5/32", ("5/32", "7x19"), ("3/16", "7x19"))):
        taken, there = (breaking_force(*one, "galvanised") for one in (believed, true))
        rows.append((what, FORMATS["force"](taken.force_n, "US"), FORMATS["force"](there.force_n, "US"), f"{taken.force_n / there.force_n:.2f} times"))
    return lesson.answer(lesson.table(("Read wrong", "strength believed", "strength there", "believed over true"), rows,
                                      "Galvanised, AC 43.13-1B, Table 7-3. The second errs small, and then its sleeve does not go on: somebody forces it"))
