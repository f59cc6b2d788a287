"""What is said beside each sourced table: its chapter and title, what it is, and what it may be used for.

A table that is not named here is printed all the same, in the last chapter, as one that only teaches.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["CHAPTERS", "Told", "chapter_of_constant", "constants_told", "heading", "told"]

CHAPTERS = ("cable", "sleeves", "pairing", "clips", "rating", "statics", "gauge and pull tests", "removal", "units")
RATES, DECIDES, PLANS, BESIDE, TEACHES = ("May rate.", "May decide.", "Plans only.", "Shown beside.", "Only teaches.")


@dataclass(frozen=True)
class Told:
    """A table's chapter, title, what it may do, and one sentence each on what it is and on how it is used."""

    chapter: str
    title: str
    may: str
    use: str
    grouped: tuple[str, ...] = ()


_TOLD = {
    "cable_strength": Told("cable", "Breaking force of inch cable, and how much thicker it may be", RATES,
                           "A limit takes the lower of this table and the reel's own certificate."),
    "constructions": Told("cable", "Constructions", DECIDES,
                          "It says which constructions a hand-pressed sleeve fits, and of how many wires broken ones are counted."),
    "lays": Told("cable", "Lay lengths", TEACHES, "They draw the section and tell how much longer its wires are. No limit is made from them."),
    "en_factors": Told("cable", "Factors of the European rope standard", BESIDE,
                       "K d² times the grade gives a breaking force to lay beside the inch table; they are two systems."),
    "wire_grades": Told("cable", "Wire grades offered with those factors", BESIDE,
                        "The grade is read from the reel's certificate; nothing is read in between."),
    "cable_mass": Told("cable", "Mass of inch cable", PLANS, "For weighing a drum or a parcel, and for the own weight of a span: the heavier of this and the European mass factor counts there. No limit is made from it."),
    "metric_sizes": Told("cable", "Metric sizes, and how much thicker they may be", BESIDE,
                         "It names what a caliper reading could also be; a label decides, never the reading."),
    "elastic_moduli": Told("cable", "Modulus of a whole cable", PLANS,
                           "Stretch is given as a range over all rows of a construction; no limit is made from it."),
    "constructional_stretch": Told("cable", "Stretch while a new cable settles", PLANS, "A range for planning; no limit is made from it."),
    "thermal_expansion": Told("cable", "Expansion with heat", PLANS, "A range for planning; no limit is made from it."),
    "bend_curve": Told("cable", "Strength of a cable's body over a bend", TEACHES, "It illustrates. It never enters a limit."),
    "crimps_common_practice": Told("sleeves", "Crimps on aluminium hourglass sleeves", TEACHES,
                                   "Without the tool maker's chart a sheet is a PRACTICE sheet: no tag, no record, no certificate."),
    "copper_counts_circular": Told("sleeves", "Presses on the circular's copper sleeves", TEACHES,
                                   "They belong to another sleeve. Copper is pressed by the shop's own chart, or not at all."),
    "pairing": Told("pairing", "Which sleeve metal on which cable, and where", DECIDES,
                    "The maker's chart governs where it differs. “Never” is this workbook's refusal.", ("cable", "sleeve")),
    "anodic_index": Told("pairing", "Anodic index", BESIDE, "The simple voltage rule, shown beside the verdict; it decides nothing here."),
    "anodic_limits": Told("pairing", "Greatest difference of the anodic index", BESIDE, "The other half of the simple voltage rule."),
    "galvanic_series": Told("pairing", "Potentials in flowing seawater", BESIDE, "It tells which metal is eaten, and not how fast."),
    "clip_numbers": Told("clips", "Number and spacing of clips", DECIDES,
                         "The number stands, and is never below three. The spacing printed for the first row is six diameters at 1/2 in only."),
    "clip_rows": Told("clips", "Turnback and torque of clips", TEACHES,
                      "A sheet for real work takes the clip maker's own row. The rows with two clips fall below the three that codes ask for."),
    "clip_rules": Told("clips", "Published rules on clips", DECIDES, "The figure on the safe side of all of them is taken.", ("topic",)),
    "uses": Told("rating", "Words for a use, and their class", DECIDES, "A refused use is refused with no override; it says whom to ask.",
                 ("class_of_use", "meaning", "ask")),
    "design_factors": Told("rating", "Design factors of other equipment", TEACHES,
                           "For comparison, never a menu. A factor here comes from a named person, for a stated scope."),
    "temperatures": Told("rating", "Temperatures", DECIDES,
                         "Only the coat's row is used, beside the two temperatures among the constants below. The rest is other equipment."),
    "proof_rules": Told("rating", "Rules for a proof load", BESIDE, "They conflict. All are shown; the shop's own procedure chooses."),
    "gauge_sees": Told("gauge and pull tests", "Faults, and whether the gauge sees them", TEACHES,
                       "A pass at the gauge is necessary and never sufficient.", ("seen",)),
    "removal_rules": Told("removal", "When a piece comes out of service", DECIDES,
                          "The house rule decides. The published rules are for other equipment, disagree, and are shown beside it.",
                          ("equipment",)),
}

# The one table of constants is shown in parts, each in the chapter where a person would look for it.
_CONSTANTS = {
    "cable": ("steel density", "smallest EN diameter", "largest EN diameter", "highest elastic stress", "greatest elastic strain", "least of a worn cable"),
    "sleeves": ("tail before pressing", "tail to be seen after pressing", "greatest growth of a sleeve", "pin of a soft eye", "length of a soft eye", "clear length between terminations",
                "gap of a lap splice, least", "gap of a lap splice, most", "least ring", "bare band, least", "bare band, most",
                "greatest correction", "reading of a rule",
                "aluminium density", "copper density"),
    "clips": ("time for two pressed eyes", "time for one clipped end"),
    "rating": ("eye efficiency", "lowest temperature", "highest temperature", "proof load, instrument below", "proof load, instrument above"),
    "statics": ("lowest leg angle", "greatest parabola sag", "greatest parabola rise", "least sag", "greatest share of own weight", "lightest of a cable",
                "heaviest of a cable", "heaviest of a coated cable"),
    "gauge and pull tests": ("least reading of a crimp", "least coverage and confidence of a pulled lot",
                             "confidence of a shop's own lot", "most that a cable can hold"),
    "units": ("inch", "foot", "pound", "pound-force", "standard gravity"),
}
_PARTS = {
    "cable": Told("cable", "Constants of cable", DECIDES, "The bounds refuse what lies outside them; the density of steel plans only."),
    "sleeves": Told("sleeves", "Constants of an eye, a lap and a length", DECIDES,
                    "An eye, a lap or a length outside them is refused. The two densities only tell sleeves apart on a scale."),
    "clips": Told("clips", "Times at the bench", PLANS, "Stand-ins for the shop's own minutes when sleeves and clips are compared."),
    "rating": Told("rating", "Constants of a rating", RATES,
                   "The efficiency enters a limit once, where its conditions are met; the temperatures and the instrument's bounds refuse."),
    "statics": Told("statics", "Bounds of the statics", DECIDES, "Outside them a leg or a span is refused."),
    "gauge and pull tests": Told("gauge and pull tests", "Bounds of a gauging and of a pulled lot", DECIDES,
                                 "A reading, a pull or a lot outside them is refused."),
    "units": Told("units", "Units, exact by definition", RATES, "Every figure is turned into mm, N or kg with these."),
}

_HEADINGS = {
    "galvanised_lbf": "galvanised, lbf", "stainless_lbf": "stainless, lbf", "tolerance_plus_in": "tolerance, plus only, in",
    "wires_per_strand": "wires in a strand", "least_lay": "least lay, diameters", "most_lay": "greatest lay, diameters",
    "sleeves": "a sleeve fits", "named": "in the standard's words", "strength_k": "K, strength", "area_c": "C, area",
    "mass_w": "W, kg per 100 m and mm²", "grade_n_mm2": "grade, N/mm²", "lb_per_100ft": "mass, lb per 100 ft",
    "nominal_mm": "size, mm", "plus_percent": "plus only, %", "low_gpa": "least, GPa", "high_gpa": "greatest, GPa",
    "low_percent": "least, %", "high_percent": "greatest, %", "low_per_million_c": "least, millionths per °C",
    "high_per_million_c": "greatest, millionths per °C", "bend_ratio": "D/d", "share_percent": "strength left, %",
    "count": "crimps", "before_in": "sleeve before, in", "after_in": "sleeve after, in", "allowed": "may be made",
    "inspect_months": "inspect every, months", "index_v": "index, V", "most_v": "at most, V", "described": "which is",
    "low_v": "from, V", "high_v": "to, V", "rope": "rope, in", "drop_forged": "clips, drop-forged",
    "other_material": "clips, not forged", "says": "in words", "class_of_use": "class", "lowest_c": "lowest, °C",
    "highest_c": "highest, °C", "stands_for": "which is", "share": "part", "part_of": "of the", "hold_s": "held for, s",
    "seen": "the gauge sees it", "measure": "what is measured", "when": "out when", "size": "size, in", "designation": "construction",
}
_UNITS = (("_lbf_ft", "lbf ft"), ("_lbf", "lbf"), ("_n_mm2", "N/mm²"), ("_mm2", "mm²"), ("_mm", "mm"), ("_in", "in"), ("_gpa", "GPa"),
          ("_percent", "%"), ("_c", "°C"), ("_v", "V"), ("_kg", "kg"), ("_n", "N"), ("_s", "s"), ("_months", "months"))


def told(name: str) -> Told:
    """What is said of a table; one that nobody has described yet stands in the last chapter and only teaches."""
    plain = name.replace("_", " ").capitalize()
    return _TOLD.get(name, Told(CHAPTERS[-1], plain, TEACHES, "Nobody has said yet what else it may be used for."))


def chapter_of_constant(name: str) -> str:
    """The chapter in which a constant is shown; the last one for a constant that no chapter names."""
    return next((chapter for chapter, names in _CONSTANTS.items() if name in names), CHAPTERS[-1])


def constants_told(chapter: str) -> Told:
    """What is said of the constants that are shown in one chapter."""
    return _PARTS.get(chapter, Told(chapter, "Constants", DECIDES, "Each row says what it is."))


def heading(column: str) -> str:
    """A column's heading in plain words, with the unit that its name ends in."""
    if column in _HEADINGS:
        return _HEADINGS[column]
    for ending, unit in _UNITS:
        if column.endswith(ending):
            return f"{column.removesuffix(ending).replace('_', ' ')}, {unit}"
    return column.replace("_", " ")
