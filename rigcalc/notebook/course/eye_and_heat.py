"""Lesson 09: pin and eye, how cold and how warm."""

from __future__ import annotations

from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.drawing import millimetres
from rigcalc.figures.soft_eyes import SoftEyeDrawn, soft_eyes
from rigcalc.figures.warmth import Stretch, warmth
from rigcalc.layout import EYE_PINS, PIN_DIAMETERS, least_pin_mm, side_force_fraction, soft_eye, tail_to_set_mm
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, choice, slider
from rigcalc.notebook.teaching import of_order, of_the_scene
from rigcalc.questions.registry_rating import soft_eye_verdict
from rigcalc.reference import constant, table
from rigcalc.temperature import HIGHEST_C, LOWEST_C, Stands, published_temperatures, refuse_temperature, temperature_range
from rigcalc.units import read_length_mm, read_size

__all__ = ["ask_the_makers", "eyes_still", "eyes_told", "heat_still", "heat_table", "lay_it_over_the_pin", "side_push", "worked_eye"]

CURTAIN = "04_glasshouse_curtain"
CORE = "3/32"
EXAMPLES = ((12, 36), (12, 20), (4, 14))  # pin, eye length in mm: kept, eye too short, pin too thin
SLEEVE_MM = 10.0  # INVENTED: any sleeve does, the rules of pin and eye do not ask for it
VERDICTS = ("both kept", "pin too thin", "eye too short", "both broken")
SIZES = ("1/16", "3/32", "1/8")
LEAST_PIN, MOST_PIN, LEAST_EYE, MOST_EYE = 3, 18, 11, 60


def _diameter(size: str) -> float:
    return float(read_size(size).diameter_mm)


def side_push(pin_mm: float, length_mm: float) -> str:
    """The push across the sleeve's mouth as a part of the load, in words."""
    return f"side push {side_force_fraction(pin_mm, length_mm):.0%} of the load"


def _judged(pin: float, cable: float, length: float) -> tuple[str, str]:
    """A short verdict, and the package's refusal in full or nothing."""
    verdict = soft_eye_verdict(pin, cable, length)
    try:
        soft_eye(pin, cable, SLEEVE_MM, tail_to_set_mm(cable), length)
    except Refusal as refusal:
        return verdict, str(refusal)
    return verdict, ""


def _drawn(pin: float, cable: float, length: float, told: bool = True) -> SoftEyeDrawn:
    verdict, refused = _judged(pin, cable, length)
    return SoftEyeDrawn(pin, cable, length, verdict if told else "kept, or not?", not refused if told else None, side_push(pin, length))


def eyes_still() -> Figure:
    """Three soft eyes of the curtain's core, to one scale, not judged yet."""
    return soft_eyes([_drawn(pin, _diameter(CORE), length, told=False) for pin, length in EXAMPLES],
                     f"Bare {CORE} cable. Side push by statics: each leg carries half the load, aslant.")


def eyes_told() -> lesson.Block:
    """The same three, judged."""
    cable = _diameter(CORE)
    rows = [(f"pin {pin} mm, eye {length} mm", f"{pin / cable:.1f} cables", f"{length / pin:.1f} pins", _judged(pin, cable, length)[0]) for pin, length in EXAMPLES]
    return lesson.when_said(lesson.table(("Eye", "the pin is", "the eye is", "verdict"), rows, f"The three eyes in bare {CORE} cable"))


def worked_eye() -> lesson.Block:
    """Order 4's soft eye on its hook, step by step."""
    pin, cable = float(read_length_mm(of_order(CURTAIN).pin).value), _diameter(CORE)
    eye = soft_eye(pin, cable, SLEEVE_MM, tail_to_set_mm(cable))
    rows = (("the hook", millimetres(pin)), (f"the bare cable, {CORE}", millimetres(cable, 3)), (f"least pin: {float(PIN_DIAMETERS):g} cable diameters, rounded up", f"{millimetres(least_pin_mm(cable))}: kept"),
            (f"least eye: {float(EYE_PINS):g} pin diameters, sleeve to the pin's centre, after pressing", millimetres(eye.length_mm)), ("before pressing", "that, and what the sleeve grows towards the eye"),
            ("at the sleeve's mouth", side_push(pin, eye.length_mm)))
    return lesson.answer(lesson.table(("Step", "gives"), rows, "The curtain's soft eye (INVENTED order 4)"))


def eye_view(state: dict) -> View:
    """A soft eye on a pin, as thick and as long as the sliders say; judged once the reader has."""
    cable, pin, length = _diameter(state["size"]), state["pin"], state["length"]
    verdict, refused = _judged(pin, cable, length)
    told = bool(state["call"])
    figure = soft_eyes([_drawn(pin, cable, length, told)], f"Bare {state['size']} cable, {millimetres(cable)}.")
    controls = (choice("size", "Cable", SIZES, state["size"]), slider("pin", "Pin", LEAST_PIN, MOST_PIN, 1, pin, f"{pin} mm"),
                slider("length", "Eye, from sleeve to the pin's centre", LEAST_EYE, MOST_EYE, 1, length, f"{length} mm"),
                choice("call", "You say", (("not said yet", ""), *((verdict, verdict) for verdict in VERDICTS)), state["call"]))
    if not told:
        return View((figure,), controls, (Said("Hold the pin against the cable, and the eye against the pin. Then say."),))
    said = [Said(f"Right: {verdict}." if state["call"] == verdict else f"Not so: {verdict}.", "ok" if state["call"] == verdict else "no")]
    if refused:
        said.append(Said(refused))
    return View((figure,), controls, (*said, Said(f"The pin is {pin / cable:.1f} cable diameters thick, the eye {length / pin:.1f} pins long. {side_push(pin, length).capitalize()}. {_bend(pin / cable)}")))


def _bend(ratio: float) -> str:
    rows = [row for row in table("bend_curve") if row.bend_ratio <= ratio]
    if not rows:
        return "The bend curve does not reach down to such a pin."
    row = max(rows, key=lambda one: one.bend_ratio)
    lower = "" if row.bend_ratio == ratio else "The bend curve has no row for that; by the next lower one it reads so. "
    return (f"{lower}A cable bent over a pin {float(row.bend_ratio):g} times as thick keeps about {float(row.share_percent):g} % (from memory: it shows, it rates nothing). "
            "In the eye two legs share the load, so even half would do.")


def eye_step(state: dict, name: str, value=None) -> dict:
    """Pin, eye and cable are changed, then somebody has to say again."""
    if name == "call":
        return state | {"call": value}
    return state | {name: value if name == "size" else int(value), "call": ""}


def lay_it_over_the_pin() -> Board:
    """A soft eye on a pin: kept, or not?"""
    return Board(of_the_scene("Kept, or not?"), {"size": CORE, "pin": 12, "length": 30, "call": ""}, eye_view, eye_step)


# --- cold and warm --------------------------------------------------------------------------------

def heat_still() -> Figure:
    """The curtain's coated wire: what is known of each part, and the glasshouse."""
    found = temperature_range(coat="plain vinyl")
    low, high = (float(word) for word in of_order(CURTAIN).temperature.removesuffix(" C").split(" to "))
    refuse_temperature(low, high, found)
    military = next(row for row in published_temperatures() if row.part == "coat, MIL-DTL-83420 type II")
    rows = (Stretch("cable", None, None), Stretch("aluminium sleeve", None, None), Stretch("coat, plain vinyl", None, None),
            Stretch("common practice, while one maker is silent", float(LOWEST_C), float(HIGHEST_C), True), Stretch("military coat, if it were one", None, float(military.highest_c)),
            Stretch("the glasshouse", low, high, place=True))
    return warmth(rows, found.lowest_c, found.highest_c, f"{constant('lowest temperature').source}; {military.cited}; the glasshouse is INVENTED order 4's.")


def heat_table() -> lesson.Block:
    """What published limits say, and of what."""
    rows = [(row.part, "" if row.lowest_c is None else f"{float(row.lowest_c):g} °C", "" if row.highest_c is None else f"+{float(row.highest_c):g} °C", row.stands_for, row.cited, row.how_known)
            for row in published_temperatures()]
    return lesson.table(("Part", "down to", "up to", "what it is", "From", "Known"), rows, "Published limits, each for a thing of its own", numbers=(1, 2))


def ask_the_makers() -> lesson.Block:
    """Four answers from makers, and what the whole piece then stands."""
    letters = (("nobody has answered", {}), ("the sleeve's maker alone, -40 to +95", {"sleeve": Stands(-40, 95, "sleeve maker's letter")}),
             ("cable -40 to +120 and sleeve -40 to +95, bare", {"cable": Stands(-40, 120, "cable maker's letter"), "sleeve": Stands(-40, 95, "sleeve maker's letter")}),
             ("the same, with the military coat, its maker -40 to +100", {"cable": Stands(-40, 120, "cable maker's letter"), "sleeve": Stands(-40, 95, "sleeve maker's letter"), "coat": "MIL-DTL-83420 type II",
                                                   "coat_stands": Stands(-40, 100, "coat maker's letter")}))
    rows = []
    for words, given in letters:
        found = temperature_range(**given)
        rows.append((words, f"{found.lowest_c:g} to +{found.highest_c:g} °C", found.highest_from))
    asked = lesson.table(("The makers say (INVENTED)",), [row[:1] for row in rows], "Four answers")
    told = lesson.when_said(lesson.table(("The makers say (INVENTED)", "the piece may hang in", "the upper end is from"), rows, "The least of all parts; silence is no yes"))
    return lesson.Block(asked.html + told.html, f"{asked.text}\n{told.text}")
