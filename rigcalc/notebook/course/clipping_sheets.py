"""The sheets of lesson 04: recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

from rigcalc.clips import clips_needed, published_rules, spacing_mm
from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import to_write
from rigcalc.notebook.course.clip_rows import beside_size, end, end_size, kit, plan, shown_mm, shown_nm, stands_in, torque_unit
from rigcalc.reference import constant, full_source
from rigcalc.sleeve import chart_line

__all__ = ["abilities", "practice_sheet", "recap", "sources"]

LESSON = "04"
COLUMNS = ("Own end", "End laid ready")  # who begins at the wrench finds there an end that the trainer clipped
INVENTED_ROW = "INVENTED row, for practice only: the clip maker's own table governs. No end made with it is hung."


def recap() -> lesson.Block:
    """The lesson on one page."""
    lines = (
        "A sleeve: short, smooth, stronger, for good. It needs its tool, its chart and its gauge.",
        "Clips: seen, undone, moved, with a torque wrench alone. They snag, are heavier in the hand, slip when loose, and want looking after.",
        "May it be done at all? Ask that first. Strength is another question.",
        "Lifting, people, aircraft, lifts, vehicles: neither of them.",
        "Three clips at least. Four, if they are not drop-forged, or if nobody knows.",
        "Spacing: six diameters of the cable in your hand. Not a figure out of the table's first row.",
        "A size without a row gets no clips: ask the clip maker, or take a sleeve.",
        "The saddle and its nuts sit on the live part. The U-bolt lies on the dead end.",
        "A live part that was bitten is cut off. The end is made again.",
        "First clip one base from the dead end, the next at the thimble, the others between.",
        "Torque from the clip maker's row; without it no nut is tightened. Load it, take the load off, the same torque again.",
        "Look again after the first days, then at the interval on the sheet. Try every nut: all click at the torque, note the day; one turns, load off and every nut to the torque.",
        "Beyond the torque is no safer: it crushes the cable and stretches the bolts.",
        "Coated cable: ask the clip maker before a clip goes on.",
    )
    return lesson.recap_sheet("Sleeve or clips: recap", lines, f"Chart in force: {chart_line(kit()[0].chart)}")


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def practice_sheet() -> lesson.Block:
    """One clipped end at the bench: turnback and torque by the row that the page goes by, or left blank where the shop has entered none.

    The invented sample's row, which then stands in on the page, and the rows that ship, which only teach, are on no sheet.
    """
    (one, note), own = kit(), not stands_in()
    shop, size = one.shop, end_size() if own else beside_size()
    unit = to_write(shop)
    if own:
        found = plan()
        invented = end()[1].invented
        whose = f"Row of this sheet: {found.source}. " + ("The table of the maker of the clips in hand lies beside it, and governs" if invented else "The clips in hand are that maker's")
        number = f"Number from the row: {found.number} at least"
        turnback = f"Turnback, thimble to dead end: {shown_mm(found.turnback_mm, 'up')} at least"
        torque = ((f"All nuts in turn to {shown_nm(found.torque_nm)}{', INVENTED: where the clip maker says another, take that' if invented else ''}", torque_unit()),)
    else:
        whose, number = "The clip maker's own table is here, and is for the clips in hand", f"Number by the clip maker's table, never under {clips_needed(size, True)}"
        turnback = "Turnback by the clip maker's table, thimble to dead end"
        torque = (("STOP: torque by the clip maker's table, read by ____________. No table, no torque: tighten nothing", torque_unit()), ("All nuts in turn to that torque", torque_unit()))
    row = (
        ("Clips looked at: drop-forged, new bolts, all of one maker",), (whose,), ("Cable bare, its size read and measured", unit), (number, "count"),
        (turnback, unit), ("Thimble seated, both parts side by side",), ("First clip: one base from the dead end",),
        ("STOP: saddle and nuts on the live part, before any nut is tight",), ("Second clip at the thimble; the others between",), (f"Spacing, {shown_mm(spacing_mm(size), 'up')} at least", unit),
        ("STOP: slack taken up, all saddles shown",))
    wrench = (
        *torque, ("Loaded behind the guard, nobody in line; load off",),
        ("STOP: the same torque again, every nut", torque_unit()), ("Paint mark at the clip next to the dead end; next look noted", "date"),
        ("End of a week ago: A, B, C, each nut tried", "tight / loose"))
    marks = f"{INVENTED_ROW} " if own and end()[1].invented else ""
    foot = f"{marks}Eye protection on. Practice ends carry PRACTICE tape and are taken apart the same day. Seen by: ______________________"
    return lesson.bench_sheet(f"Bench practice sheet: a clipped end, {size} in with a thimble", lesson.by_place({"At the row": row, "At the wrench": wrench}), COLUMNS,
                              "", shop.invented, note, foot, ("Torque wrench no.",))


def sources() -> lesson.Block:
    """Statement, source and how it is known, for what the lesson says."""
    one, found = kit()[0], plan()
    rule = {topic: published_rules(topic)[0] for topic in ("number", "spacing", "efficiency", "saddle", "retorque", "turnback", "thumb", "coated", "new bolts")}
    rows = [("number of clips, forged and not", f"29 CFR 1918 App. II, Table 1; {rule['number'].source}", "read"),
            ("spacing of six diameters", "; ".join(dict.fromkeys(one.source for one in published_rules("spacing"))), "read"),
            ("a clipped end keeps 80 %: the lowest figure read", rule["efficiency"].source, rule["efficiency"].how_known),
            ("a pressed eye keeps 90 %", constant("eye efficiency").locator, constant("eye efficiency").how_known),
            ("saddle on the live part", rule["saddle"].source, rule["saddle"].how_known), ("load, let off, tighten again", published_rules("retorque")[1].source, "read"),
            ("loaded cable grows thinner", published_rules("retorque")[2].source, "read"), ("a longer turnback for more clips", rule["turnback"].source, rule["turnback"].how_known),
            ("rule of thumb, which fails here", rule["thumb"].source, rule["thumb"].how_known), ("coated cable: ask first", rule["coated"].source, rule["coated"].how_known),
            ("new bolts", rule["new bolts"].source, rule["new bolts"].how_known), ("where clips are forbidden", "each beside its rule, in the table above", "read"),
            (f"turnback and torque for {end_size()} in", found.source, "INVENTED" if end()[1].invented else found.how_known), _of_the_sheet(),
            ("turnback of sizes for which no clip maker's row is entered, Side by side", "the rows that ship, in Tables and their sources", "from memory, or read: they teach, and are on no sheet"), ("prices, minutes", "the shop file in force", "INVENTED" if one.shop.invented else "the shop's own"),
            ("order of fitting; which end for which job", "the trade", "common practice"), ("NAVEDTRA 14026", full_source("NAVEDTRA 14026"), "read")]
    return lesson.sources(rows)


def _of_the_sheet() -> tuple[str, str, str]:
    """Where the practice sheet has turnback and torque from."""
    what = "turnback and torque on the practice sheet"
    if stands_in():
        return what, "left blank: your shop file has no clip maker's row for this cable. The clip maker's own table; without it nothing is tightened", "read at the bench"
    return what, f"the same row: {plan().source}", "INVENTED: for practice only, the clip maker's own table governs" if end()[1].invented else plan().how_known
