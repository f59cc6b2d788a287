"""Lesson 01, the five offcuts without labels: what is in the bin, and each measured at three places in two ways."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, replace
from functools import lru_cache

from rigcalc.cable import band_mm, flats_reading_mm, metric_band_mm, metric_sizes_agreeing, possible_sizes, sizes, sizes_agreeing
from rigcalc.figures import Figure
from rigcalc.figures.cut_ends import Offcut, offcuts
from rigcalc.figures.caliper import caliper_closed, places_on_offcut
from rigcalc.figures.constructions import jaws_on
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, slider
from rigcalc.notebook.course.hangings import system
from rigcalc.notebook.course.plainly import NotYet
from rigcalc.notebook.teaching import of_the_scene, shop_for_teaching
from rigcalc.questions.template import FORMATS
from rigcalc.reference import table

__all__ = ["KEPT", "PLACES", "SIZES", "Piece", "answer_of", "bin_still", "carried", "greatest_mm", "measure_step", "measure_view", "parvels_pieces", "place_mm", "places_still",
           "reading", "three_places"]

SIZES = sizes()
APART = 50  # degrees: two readings nearer than that are one direction; crowns of six strands are 60 apart
PLACES = (1, 2, 3)


def reading(value_mm: float) -> str:
    """A caliper's reading in both systems, to 0.001 in and 0.01 mm (a half up)."""
    inch, mm = FORMATS["inch"](value_mm, "US"), f"{value_mm + 1e-9:.2f} mm"
    return f"{inch} [{mm}]" if system() == "US" else f"{mm} [{inch}]"


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


@lru_cache(maxsize=8)
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


def greatest_mm(piece: Piece, place: int, stripped: bool) -> float:
    """The most that the caliper reads at a place, in mm."""
    return max(place_mm(piece, place, turn, stripped) for turn in range(180))


def answer_of(piece: Piece, stripped: bool) -> str:
    """The one size that the crowns name at every place; "" where none can be named."""
    if piece.offcut.coat_mm and not stripped:
        return ""
    named = {sizes_agreeing(greatest_mm(piece, place, stripped)) for place in PLACES}
    agreed = named.pop() if len(named) == 1 else ()
    if piece.squeezed_at or len(agreed) != 1 or metric_sizes_agreeing(greatest_mm(piece, 1, stripped)):
        return ""
    return agreed[0]


def bin_still() -> Figure:
    """Parvel's five offcuts."""
    return offcuts([piece.offcut for piece in KEPT])


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
               replace(caliper_closed(piece.offcut, turn + piece.turned[place - 1], reading(mm), "", piece.squeeze_at(place), coated), caption=""))
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
    return lesson.table(("", "one way", f"the other way, {APART}° or more on"), rows, f"Written down of offcut {state['piece']}")


def _measure_words(state: dict, piece: Piece, stripped: bool) -> tuple[Said, ...]:
    notes = _noted(state)
    if not state["told"]:
        tag = f"{state['tag']} in" if state["tag"] else "no size"
        would = () if state["tag"] == "?" else (Said(f"On the tag would stand: {tag}. Say it when all six are written."),)
        return (Said(f"{len(notes)} of six written. " + ("Three places, two ways at each: turn until it reads most, then write." if len(notes) < 6 else "Now say what stands on the tag.")), *would)
    tag = f"{state['tag']} in" if state["tag"] else "no size"
    if piece.offcut.coat_mm and not stripped:
        if state["tag"]:
            return (Said(f"You wrote {tag}. Over what do the jaws stand here? Look at the drawing: is that steel?", "no"),)
        return Said("Right: no size. The jaws stand on a coat. It hides the steel. Strip a piece and measure that.", "ok"), _unlabelled(notes)
    again = _to_read_again(piece, notes)
    if again:
        return Said("Your six readings carry no word yet, whatever stands on the tag.", "no"), Said(again, "no")
    named, why = carried(notes)
    if state["tag"] != named:
        return Said(f"You wrote {tag}. {_why_not(notes)}", "no"), Said("Your readings were taken at the most, crown to crown.", "ok")
    return Said(f"Right: {tag}. {why}", "ok"), Said("Your readings were taken at the most, crown to crown.", "ok"), _unlabelled(notes)


def _unlabelled(notes: list[tuple[int, int, float]]) -> Said:
    return Said(f"And still no label. For practice only: {possible_sizes(_largest(notes)).do}.")


def _largest(notes) -> float:
    return max(mm for _, _, mm in notes)


def _allowed() -> float:
    """By how much two readings of one thing may differ, mm: the shop's."""
    return shop_for_teaching()[0].bench.diameter_tolerance_mm + 1e-9


def _at(notes, place: int) -> list[float]:
    return [mm for at, _, mm in notes if at == place]


def carried(notes: list[tuple[int, int, float]]) -> tuple[str, str]:
    """The size that six readings as written down carry ("" for none), and why; nothing else is looked at."""
    for place in PLACES:
        one, other = _at(notes, place)
        if abs(one - other) > _allowed():
            return "", f"At place {place} its two ways do not agree: {reading(one)} and {reading(other)}. It was squeezed there. It is scrap."
    most = [max(_at(notes, place)) for place in PLACES]
    if max(most) - min(most) > _allowed():
        return "", f"The places do not agree: {reading(min(most))} at place {PLACES[most.index(min(most))]}, {reading(max(most))} at place {PLACES[most.index(max(most))]}. It is scrap."
    inch, metric = sizes_agreeing(max(most)), metric_sizes_agreeing(max(most))
    if len(inch) == 1 and not metric:
        low, high = band_mm(inch[0])
        return inch[0], f"All three places agree, and {reading(max(most))} lies in its band: {reading(low)} to {reading(high)}."
    if metric and not inch:
        return "", f"No inch size may measure {reading(max(most))}. {' or '.join(metric)} may; metric cable is another cable."
    return "", f"{reading(max(most))} fits {' and '.join((*inch, *metric)) or 'no size at all'}."


def _to_read_again(piece: Piece, notes: list[tuple[int, int, float]]) -> str:
    """What has to be read again before the readings can carry a word; "" where nothing has."""
    short = [f"place {place}: {reading(mm)}" for place, turn, mm in notes if place != piece.squeezed_at and _near_best(piece, place, turn) - mm > _allowed()]
    if short:
        return f"Not at the most, so not over the crowns: {'; '.join(short)}. Turn on a little at these places."
    named = carried(notes)[0]
    if piece.squeezed_at and named:
        return "They agree, but not every crown was looked at. Turn each place all the way round. Where one crown reads less than another, write both."
    if not piece.squeezed_at and named != answer_of(piece, True):
        return f"Your largest, {reading(_largest(notes))}, is not the most yet. Turn a few degrees on at each place, and write the most that it reads."
    return ""


def _near_best(piece: Piece, place: int, turn: int) -> float:
    """The most that could have been read within half a strand's step of where it was written."""
    return max(place_mm(piece, place, turn + off, True) for off in range(-30, 31))


def _why_not(notes: list[tuple[int, int, float]]) -> str:
    """Where to look again among one's own readings, without the answer."""
    largest = _largest(notes)
    if max(abs(one - other) for one, other in (_at(notes, place) for place in PLACES)) > _allowed():
        return "Hold the two ways at each place against each other. Do they agree at all three?"
    if largest - min(max(_at(notes, place)) for place in PLACES) > _allowed():
        return "At each place your two ways agree. Now hold the places against one another. Do all three tell one story?"
    if not sizes_agreeing(largest):
        return "Hold your largest reading against the bands in the table above. Does it lie in one of them?"
    return "Take the largest readings, and hold them against the bands. From a size to a little over it: which?"


def measure_step(state: dict, name: str, value) -> dict:
    """An act at the bench: a reading written or rubbed out, a piece stripped, a tag said, five others drawn."""
    notes, letter = _noted(state), state["piece"]
    if name == "note":
        piece, place, turn = _piece(state), state["place"], int(state["turn"])
        here = [one for one in notes if one[0] == place]
        if len(here) == 2:
            raise NotYet(f"Two readings of place {place} are written already. Go on to another place, or rub out this one.")
        turned = min(abs(turn - here[0][1]), 180 - abs(turn - here[0][1])) if here else APART
        if turned < APART:
            raise NotYet(f"This is only {turned}° from the first reading here. Turn on by {APART}° or more, to the next crown, and write the most that it reads there.")
        mm = place_mm(piece, place, turn, letter in state["stripped"])
        return state | {"notes": state["notes"] | {letter: [*notes, (place, turn, mm)]}, "told": False}
    if name == "rub":
        return state | {"notes": state["notes"] | {letter: [one for one in notes if one[0] != state["place"]]}, "told": False}
    if name == "strip":
        return state | {"stripped": [*state["stripped"], letter], "notes": state["notes"] | {letter: []}, "told": False}
    if name == "say":
        if len(notes) < 2 * len(PLACES):
            raise NotYet(f"There {'is' if len(notes) == 1 else 'are'} {len(notes)} of six readings. Write down the rest first: three places, two ways at each.")
        if state["tag"] == "?":
            raise NotYet("Nothing is chosen for the tag yet. Choose a size, or that no size can be named, then say it.")
        return state | {"told": True}
    if name == "fresh":
        return _measure_start(secrets.token_bytes(16).hex())
    if name == "piece":
        return state | {"piece": value, "place": 1, "turn": 0, "tag": "?", "told": False}
    return state | {name: int(value) if name in ("turn", "place") else value, "told": False}


def three_places() -> Board:
    """Measure the five offcuts at three places in two directions."""
    return Board(of_the_scene("Five offcuts, three places, two ways"), _measure_start(), measure_view, measure_step)


def places_still() -> Figure:
    """An offcut with its three places."""
    return places_on_offcut(KEPT[0].offcut, 2)
