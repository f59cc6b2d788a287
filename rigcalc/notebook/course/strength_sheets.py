"""The sheets of lesson 02: recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

from rigcalc.cable import breaking_force
from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import to_write
from rigcalc.notebook.course.deliveries import force_words
from rigcalc.notebook.course.hangings import kit
from rigcalc.notebook.kits import CABLE_METAL
from rigcalc.notebook.teaching import shop_for_teaching
from rigcalc.reference import constant, full_source
from rigcalc.sleeve import chart_line

__all__ = ["abilities", "practice_sheet", "recap", "sources"]

LESSON = "02"


def recap() -> lesson.Block:
    """The lesson on one page."""
    lines = (
        "Look it up by three things: size, construction, metal. Write the table's name beside the figure.",
        "Read the reel's label, its certificate and the wall chart, all three, before you sign.",
        "Label and certificate must name one lot. If not, nobody knows which reel this is.",
        "The lower of table and certificate counts. A better certificate lets nobody go above the table.",
        "Only one of the two there? It counts alone. Neither? Refuse, and ask for a certificate.",
        "What a label boasts or a seller says by telephone never counts.",
        "Inch table and EN factor are two systems. They were not made to agree, and no one number turns one into the other.",
        "The factor: d times d, times the construction's factor, times the wire grade. The grade is read, never guessed.",
        "Twice as thick is neither twice nor always four times as strong. Look it up.",
        "Between two rows nothing is read. A metric cable is not its inch neighbour.",
        "A coat carries nothing: look up the bare size.",
        "A mass is no force until somebody states g. Kilograms are never written as newtons or pounds-force.",
        "A new cable beds in first, for good, and then springs. Both are ranges. Tighten again after the first load.",
        "A breaking force is no limit. Nothing hangs on it by itself.",
    )
    return lesson.recap_sheet("How strong, how heavy: recap", lines, f"Chart in force: {chart_line(kit().chart)}")


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def _reel():
    one = kit()
    return next(reel for reel in shop_for_teaching()[0].reels if (reel.size, reel.metal, reel.coating_to) == (one.size, CABLE_METAL, None))


def practice_sheet() -> lesson.Block:
    """A sheet for the bench: three reels booked in by their papers, a coil weighed; what to check with at the foot."""
    (shop, note), reel = shop_for_teaching(), _reel()
    found, unit = breaking_force(reel.size, reel.construction, reel.metal, reel.certificate_n, reel.certificate), "lbf" if shop.system == "US" else "kN"
    papers = (
        ("Reel on its brake, end taped; label read aloud",), ("Size, construction, metal from the label", "write"), ("Lot on the label, lot on the certificate", "lots", False, 2),
        ("STOP: two lots? Tagged, put aside",), ("Wall chart: finger on the row, column said",), ("Chart's breaking force, with its table's name", unit),
        ("Certificate's breaking force", unit), ("The lower, ringed. One missing: the other. None: refuse", unit),
        ("Size over the bare cable: does it agree with the label? If not: refuse", to_write(shop)),
        ("STOP: measured size, ringed figure and its source shown; only now the card is signed",))
    scale = (
        ("One coil of known length on the balance", "m, kg", True, 2), ("What that coil pulls, with the g used", "g, N", True, 2),
        ("New cord, pulled twice by hand: the mark moved", to_write(shop), True, 2),
        ("Inch cable and metric one over crowns, each under its own row", to_write(shop), True, 2))
    steps = lesson.by_place({"At the papers": papers, "At the scale": scale})
    at = f"certificate {force_words(found.from_certificate_n)}" if found.from_certificate_n is not None else "no certificate"
    chart = f"table {force_words(found.from_table_n)}" if found.from_table_n is not None else "no row in the table"
    foot = (f"Fold under, and check with it at the end. {reel.label}: {chart}, {at}; counts: {force_words(found.force_n)}. Of other reels the trainer writes here, before you begin, "
            "table / certificate / what counts: ________________________ and ________________________. No limit is made on this sheet, and nothing is hung.")
    return lesson.bench_sheet("Bench practice sheet: book in three reels by their papers, weigh a coil", steps, ("Reel 1", "Reel 2", "Reel 3"), chart_line(kit().chart), shop.invented, note, foot)


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    steel, pound = constant("steel density"), constant("pound-force")
    rows = (
        ("the wall chart: breaking force by size, construction, metal", f"{full_source('AC 43.13-1B')}, Table 7-3, p 7-28", "read"),
        ("the lower of table and certificate counts; neither: refuse", "this workbook's rule: the cable's own certificate counts", "judgement"),
        ("another lot's certificate is cleared up before anybody signs", "the trade", "common practice"),
        ("factors for strength, metal and mass", f"{full_source('EN 12385-4')}; factor table, quoted in a technical note", "read, second-hand"),
        ("wire grades 1770 and 1960", f"{full_source('ISO 10425')}, Table C.1", "read"),
        ("wire grade 1570", "EN 12385-4, rope grades", "from memory"),
        ("the printed example: force and mass of one rope", "ISO 10425, Table C.1", "read"),
        ("why two systems differ", "each reason with its own source beside it", "computed; judgement"),
        ("how far apart they stand, size by size", "worked from the two tables above", "computed"),
        ("mass in the inch table", "MIL-DTL-83420, Table I", "from memory"),
        ("one pound-force in newtons", f"{full_source(pound.source)}; {pound.locator}", pound.how_known),
        ("mass by geometry", f"equal wires that touch, their lay, and {steel.locator}", "computed"),
        ("bedding in of a new cable", full_source("wire rope users manual"), "from memory"),
        ("spring of a cable under load", "Hooke's law, moduli as a range over all sources held", "read, second-hand; from memory"),
        ("nothing is read between two rows", "this workbook's refusal", "judgement"),
        ("deliveries, lots, certificates; order 1; sample reels", "the course's own", "INVENTED"),
    )
    return lesson.sources(rows)
