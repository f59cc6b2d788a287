"""The values and tables of lesson 02: which figure counts, two systems, the printed example, masses, the rows and their gaps."""

from __future__ import annotations

import math
from functools import lru_cache

from rigcalc.cable import band_mm, breaking_force, cable_mass, en_breaking_force_n, mass_kg, metallic_area_mm2, two_systems, weight_n
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.breaking_forces import Force, Gap, factor_steps, systems_beside, table_ladder
from rigcalc.figures.load_and_stretch import Band
from rigcalc.figures.reel_papers import ScaledCable, cables_to_scale, signed_against_true
from rigcalc.notebook import lesson
from rigcalc.notebook.course.deliveries import GRADE, least, least_words, short
from rigcalc.notebook.course.hangings import kit, system
from rigcalc.notebook.teaching import of_order, sample_shop, shop_for_teaching
from rigcalc.reference import constant, table
from rigcalc.sleeve import chart_line
from rigcalc.stretch import constructional_stretch_mm, elastic_stretch_mm
from rigcalc.units import FOOT_MM, GRAVITY_M_S2, INCH_MM, LBF_N, POUND_KG, size_inches

__all__ = ["band_of", "beside", "chart_rows", "diameter_mm", "ladder", "ladder_places", "length_words", "mass_words", "masses_table", "opening",
           "order_cables", "pairs_table", "printed_factor", "printed_mass", "reel_of", "reels", "steps_figure", "steps_table", "systems_still", "thickness_table", "wrong_drawn",
           "wrong_figures"]


def opening() -> lesson.Block:
    """The chart in force and whether the shop is invented."""
    shop, note = shop_for_teaching()
    return lesson.opening_lines(chart_line(kit().chart), shop.invented, note)


def diameter_mm(size: str) -> float:
    """An inch size in mm."""
    return float(size_inches(size) * INCH_MM)


def order_cables() -> Figure:
    """The two cables that order 1's gate was thought of with, to one scale: what table and certificate say of each."""
    shop, made = sample_shop(), []
    chosen = of_order("01_gate_brace").reel
    for reel in shop.reels:
        if reel.size in ("1/8", "3/16") and reel.metal == "galvanised" and not reel.coating_to:
            found = breaking_force(reel.size, reel.construction, reel.metal, reel.certificate_n, reel.certificate)
            lines = (f"table {short(found.from_table_n)}", f"certificate {short(found.from_certificate_n)}",
                     "order 1 takes this one" if reel.id == chosen else "strong enough, but thin for livestock")
            made.append(ScaledCable(f"{reel.size} {reel.construction} {reel.metal}", reel.construction, diameter_mm(reel.size), lines))
    return cables_to_scale(made, "INVENTED reels and certificates of the sample shop; table: AC 43.13-1B, Table 7-3, p 7-28.")


def chart_rows() -> lesson.Block:
    """The wall chart: the whole table, in the shop's own unit."""
    unit = "lbf" if system() == "US" else "kN"
    rows = [(row.size, row.construction, *(short(float(one * LBF_N)).partition(" ")[0] if one else "none" for one in (row.galvanised_lbf, row.stainless_lbf)))
            for row in table("cable_strength")]
    return lesson.table(("Size", "Construction", f"galvanised, {unit}", f"stainless, {unit}"), rows, "Wall chart: least breaking force, AC 43.13-1B, Table 7-3, p 7-28", (2, 3))


def thickness_table() -> lesson.Block:
    """What half and twice as thick comes to in the table: neither by line nor by square."""
    rows = []
    for thin, thick in (("1/16", "1/8"), ("1/8", "1/4"), ("3/16", "3/8")):
        low, high = (breaking_force(size, "7x19", "galvanised").force_n for size in (thin, thick))
        rows.append((f"{thin} to {thick}", short(low), short(high), f"{high / low:.2f} times"))
    return lesson.answer(lesson.table(("Twice as thick", "from", "to", "that is"), rows, "Neither two times nor always four times (computed from AC 43.13-1B, Table 7-3)"))


# --- Two systems ----------------------------------------------------------------------------------

def _newtons(force_n: float) -> str:
    """A least force in whole newtons, what is over dropped."""
    return f"{math.floor(round(force_n, 6))} N"


def reels() -> tuple:
    """The reels of the shop that the lessons are worked with."""
    return shop_for_teaching()[0].reels


def reel_of(size: str, construction: str, metal: str):
    """The shop's first bare reel of this cable with a certificate, or None."""
    return next((reel for reel in reels() if (reel.size, reel.construction, reel.metal) == (size, construction, metal)
                 and reel.certificate_n is not None and not reel.coating_to), None)


def beside(size: str, construction: str, metal: str, grade: int, shown: bool = True) -> tuple[Figure, tuple]:
    """Both systems and the shop's certificate, drawn; and the reasons why they differ."""
    pair, reel = two_systems(size, construction, metal, grade), reel_of(size, construction, metal)
    names = ["inch table, AC 43.13-1B", f"EN factor, grade {grade}, carbon steel", f"reel {reel.id} on this rack: its certificate" if reel else "a reel on this rack: its certificate"]
    forces = [Force(names[0], pair.inch.force_n, short(pair.inch.force_n), shown), Force(names[1], pair.en.force_n, least(pair.en.force_n), shown),
              Force(names[2], reel.certificate_n if reel else None, short(reel.certificate_n) if reel else "none here", shown)]
    counts = ""
    if shown:
        found = breaking_force(size, construction, metal, reel.certificate_n if reel else None, reel.certificate if reel else None)
        counts = names[2] if found.system == "reel certificate" else names[0]
    caption = "INVENTED certificate; " * bool(reel and shop_for_teaching()[0].invented) + "EN 12385-4 factors: read, second-hand; their forces rounded down. Underlined: what counts for a reel on this rack."
    return systems_beside(forces, construction, size, diameter_mm(size), band_mm(size)[1], counts, caption), pair.reasons


def systems_still() -> Figure:
    """1/8 in both systems, at the grade of the scene's certificate."""
    return beside("1/8", "7x19", "galvanised", GRADE)[0]


def pairs_table() -> lesson.Block:
    """How far the two systems stand apart, size by size: no one factor turns one into the other."""
    rows = []
    for size in ("1/16", "1/8", "3/16", "1/4", "5/16", "3/8"):
        pair = two_systems(size, "7x19", "galvanised", GRADE)
        rows.append((size, short(pair.inch.force_n), least(pair.en.force_n), f"{100 * (pair.ratio - 1):.0f} % more"))
    return lesson.table(("7x19 galvanised", "inch table", f"EN factor, {GRADE}", "the inch table has"), rows,
                        "One size, two systems (computed; AC 43.13-1B, Table 7-3, and EN 12385-4 factors)")


def printed_factor() -> lesson.Block:
    """The printed example: ISO 10425, Table C.1, 6 mm 6x7 with a fibre core, grade 1770, worked by the EN factor."""
    found = en_breaking_force_n("6x7", 6.0, GRADE)
    factor = next(row for row in table("en_factors") if row.construction == "6x7")
    rows = (("thickness, times itself", "6 mm × 6 mm = 36 mm²"), (f"the factor for this construction, {factor.strength_k:g}, times that", f"{factor.strength_k * 36:.2f} mm²"),
            (f"the wire grade, {GRADE} N on each mm², times that", _newtons(found.force_n)), ("in kN, three figures", f"{found.force_n / 1000:.1f} kN"),
            ("printed in the table", "21.2 kN"))
    return lesson.answer(lesson.table(("Step", "gives"), rows, "Printed: ISO 10425, Table C.1, 6 mm rope 6x7 with a fibre core, grade 1770. No sleeve of ours goes on it"))


def printed_mass() -> lesson.Block:
    """The printed mass of the same row, by the mass factor, and the step from mass to force."""
    mass = mass_kg("6x7", 6.0, 100_000, "EN")
    pull = weight_n(2.5 * mass, float(GRAVITY_M_S2))
    factor = next(row for row in table("en_factors") if row.construction == "6x7")
    rows = ((f"the mass factor, {factor.mass_w:g}, times 6 mm × 6 mm", f"{mass:.2f} kg in 100 m"), ("printed in the table", "12.4 kg in 100 m"),
            ("a length of 250 m: two and a half times that", f"{2.5 * mass:.1f} kg"),
            (f"its pull on a hook: times g, {float(GRAVITY_M_S2):g} m/s²", f"{pull:.0f} N"),
            (f"the same in pounds-force: one is {float(LBF_N):.4g} N ({constant('pound-force').source}: {constant('pound-force').locator}), so divided by that", f"{pull / float(LBF_N):.1f} lbf"))
    return lesson.answer(lesson.table(("Step", "gives"), rows, "Printed: the same row of ISO 10425, Table C.1; the last three steps are ours"))


def steps_figure(construction: str, diameter: float, grade: int, reached: int) -> Figure:
    """The factor's three steps for one cable."""
    factor = next(row for row in table("en_factors") if row.construction == construction)
    found, square = en_breaking_force_n(construction, diameter, grade), diameter * diameter
    return factor_steps(construction, f"{diameter:g} mm", f"{square:.2f} mm²", factor.strength_k, f"{factor.strength_k * square:.2f} mm²", f"{grade} N",
                        _newtons(found.force_n), reached, f"EN 12385-4, factor {factor.named} (read, second-hand). Forces: what is over a whole newton is dropped.")


def steps_table(construction: str, diameter: float, grade: int, reached: int) -> lesson.Block:
    """The same steps in words, with what the factor is made of."""
    factor = next(row for row in table("en_factors") if row.construction == construction)
    found, square = en_breaking_force_n(construction, diameter, grade), diameter * diameter
    metal = metallic_area_mm2(construction, diameter, "EN")
    rows = [("d × d", f"{square:.2f} mm²", "a square round the cable"),
            ("times the factor", f"{factor.strength_k * square:.2f} mm²", f"metal is {metal:.2f} mm² of the square; laid in strands, {100 * factor.strength_k / factor.area_c:.0f} % of its strength is left"),
            ("times the grade", _newtons(found.force_n), f"{least_words(found.force_n)}; {found.how_known}")]
    return lesson.table(("Step", "gives", "what it stands for"), rows[:reached])


# --- Mass -----------------------------------------------------------------------------------------

def masses_table() -> lesson.Block:
    """100 m of a cable by three systems: they do not agree, so each carries its name."""
    rows = []
    for size in ("1/8", "3/16", "1/4"):
        found = [cable_mass("7x19", size, 100_000, name) for name in ("EN", "geometry", "inch table, from memory")]
        rows.append((size, *(f"{one.mass_kg:.2f} kg" for one in found)))
    return lesson.table(("7x19, 100 m", "EN factor", "geometry", "inch table, from memory"), rows, "One length, three masses (no limit is made from any of them)", (1, 2, 3))


# --- Between sizes --------------------------------------------------------------------------------

GAPS = ("5/64", "7/64", "9/64", "11/64", "5 mm", "6 mm")
STEPS = ("1/16", "3/32", "1/8", "5/32", "3/16", "7/32", "1/4")


@lru_cache(maxsize=8)
def _places(shown_in: str, construction: str, metal: str) -> tuple[Gap, ...]:
    made = []
    for size in (*STEPS, *GAPS):
        thick = float(size[0]) if "mm" in size else diameter_mm(size)
        try:
            found = breaking_force(size, construction, metal)
        except Refusal:
            made.append(Gap(size, thick, None, "no row. Refused without a certificate" if "mm" not in size else "another cable. Refused"))
        else:
            made.append(Gap(size, thick, found.force_n, f"{short(found.force_n)}, from its own row"))
    return tuple(sorted(made, key=lambda one: one.diameter_mm))


def ladder_places(construction: str = "7x19", metal: str = "galvanised") -> tuple[Gap, ...]:
    """Rows and gaps of one sort of cable from 1/16 to 1/4, thinnest first."""
    return _places(system(), construction, metal)


def ladder(construction: str = "7x19", metal: str = "galvanised", mark=None, on: str = "") -> Figure:
    """The table's rows as steps, with the open places between them."""
    return table_ladder(ladder_places(construction, metal), mark, on, f"{construction} {metal}, AC 43.13-1B, Table 7-3, p 7-28. 5 mm and 6 mm are metric cables: other cables.")


# --- Stretch --------------------------------------------------------------------------------------

def band_of(construction: str, size: str, metal: str, length_mm: float, force_n: float) -> Band:
    """Settling and spring of one length under one force, mm. Errors: `Refusal` where no stretch or modulus is held, or the force is too great."""
    settle = constructional_stretch_mm(length_mm, construction)
    spring = elastic_stretch_mm(force_n, length_mm, metallic_area_mm2(construction, diameter_mm(size), "EN"), construction, metal)
    return Band((settle.low, settle.high), (spring.low, spring.high))


# --- What goes wrong ------------------------------------------------------------------------------

def wrong_figures() -> lesson.Block:
    """Five wrong figures from the bench: what was written, what is right, and by how much it misses."""
    eighth, steel, quarter = (breaking_force(size, "7x19", metal).force_n for size, metal in (("1/8", "galvanised"), ("1/8", "stainless"), ("1/4", "galvanised")))
    low, high = (breaking_force(size, "7x19", "galvanised").force_n for size in ("3/32", "1/8"))
    metric = en_breaking_force_n("7x19", 6.0, GRADE).force_n
    rows = (
        ("stainless, read in the galvanised column", short(eighth), short(steel)),
        ("1/8 is half of 1/4, so half the force", short(quarter / 2), short(eighth)),
        ("7/64: the middle of two rows", short((low + high) / 2), "refuse"),
        ("6 mm called 1/4", short(quarter), f"refuse (the factor, at {GRADE}: {least(metric)})"),
        ("a mass of 100 kg, written as 100 N", "100 N", f"{weight_n(100, float(GRAVITY_M_S2)):.0f} N"))
    return lesson.answer(lesson.table(("What was done", "written", "right"), rows, "Five wrong figures (computed; AC 43.13-1B, Table 7-3; EN 12385-4 factors)"))


def wrong_drawn() -> Figure:
    """A coated reel signed for at the row of its coat: that pull beside the one at which the bare cable may part."""
    coat, bare = breaking_force("3/16", "7x19", "galvanised").force_n, breaking_force("3/32", "7x7", "galvanised").force_n
    return signed_against_true(coat, f"{short(coat)},\nthe row of its coat", bare, short(bare), "3/32 7x7 galvanised, coated to 3/16",
                               "AC 43.13-1B, Table 7-3, p 7-28. A coat carries nothing.")


def length_words(length_mm: float) -> str:
    """A length of cable in metres and feet."""
    return f"{length_mm / 1000:g} m [{length_mm / float(FOOT_MM):.0f} ft]"


def mass_words(kilograms: float) -> str:
    """A mass in kg and lb, to a tenth."""
    return f"{kilograms:.1f} kg [{kilograms / float(POUND_KG):.1f} lb]"
