"""The sheets of lesson 04: recap, abilities, bench practice sheet, sources."""

from __future__ import annotations

from rigcalc.clips import ClipPlan, clip_plan, clip_row, published_rules
from rigcalc.notebook import lesson
from rigcalc.notebook.bench_units import by_rule, to_write
from rigcalc.notebook.course.clip_rows import beside_size, end, end_size, kit, plan, stands_in
from rigcalc.reference import constant, full_source
from rigcalc.sleeve import chart_line

__all__ = ["abilities", "practice_sheet", "recap", "sources"]

LESSON = "04"


def recap() -> lesson.Block:
    """The lesson on one page."""
    lines = (
        "A sleeve: short, smooth, stronger, for good. It needs its tool, its chart and its gauge.",
        "Clips: seen, undone, moved, with a wrench alone. They snag, weigh, slip when loose, and want looking after.",
        "May it be done at all? Ask that first. Strength is another question.",
        "Lifting, people, aircraft, lifts, vehicles: neither of them.",
        "Three clips at least. Four, if they are not drop-forged, or if nobody knows.",
        "Spacing: six diameters of the cable in your hand. Not a figure out of the table's first row.",
        "A size without a row gets no clips: ask the clip maker, or take a sleeve.",
        "The saddle and its nuts sit on the live part. The U-bolt lies on the dead end.",
        "A live part that was bitten is cut off. The end is made again.",
        "First clip one base from the dead end, the next at the thimble, the others between.",
        "Torque from the clip maker's row. Load it, take the load off, the same torque again.",
        "Look again after the first days, then at the interval on the sheet. Try every nut.",
        "Beyond the torque is no safer: it crushes the cable and stretches the bolts.",
        "Coated cable: ask the clip maker before a clip goes on.",
    )
    return lesson.recap_sheet("Sleeve or clips: recap", lines, f"Chart in force: {chart_line(kit()[0].chart)}")


def abilities() -> lesson.Block:
    """What can be shown after the lesson, each line tied to its skill."""
    return lesson.abilities(LESSON)


def _sheet_plan() -> ClipPlan:
    """What the bench sheet goes by: the row in force; where the sample's stands in on the page, the row that ships and only teaches."""
    if not stands_in():
        return plan()
    return clip_plan(beside_size(), True, clip_row(beside_size(), kit()[0].shop.clips))


def practice_sheet() -> lesson.Block:
    """One clipped end at the bench, its figures from the row in force."""
    (one, note), found = kit(), _sheet_plan()
    shop = one.shop
    row = (
        ("Clips looked at: drop-forged, new bolts, all of one maker",), ("Cable bare, its size read and measured", to_write(shop)), (f"Number from the table: {found.number} at least", "count"),
        (f"Turnback, thimble to dead end: {by_rule(found.turnback_mm, shop, 'up')}", to_write(shop)), ("Thimble seated, both parts side by side",), ("First clip: one base from the dead end",),
        ("STOP: saddle and nuts on the live part, before any nut is tight",), ("Second clip at the thimble; the others between",), (f"Spacing, {by_rule(found.spacing_mm, shop, 'up')} at least", to_write(shop)),
        ("STOP: slack taken up, all saddles shown",))
    wrench = (
        (f"All nuts in turn to {found.torque_nm:.3g} N m", "N m"), ("Loaded behind the guard, nobody in line; load off",),
        ("STOP: the same torque again, every nut", "N m"), ("Paint mark at the clip next to the dead end; next look noted", "date"))
    steps = lesson.by_place({"At the row": row, "At the wrench": wrench})
    marks = "This row teaches: no end made with it is hung. " if found.teaching_only else ""
    foot = f"{marks}Eye protection on. Practice ends carry PRACTICE tape and are taken apart the same day. Seen by: ______________________"
    return lesson.bench_sheet(f"Bench practice sheet: a clipped end, {found.size} in with a thimble", steps, ("End 1", "End 2"), chart_line(one.chart), shop.invented, note, foot)


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
            (f"turnback and torque for {end_size()} in", found.source, "INVENTED" if end()[1].invented else found.how_known), ("prices, minutes", "the shop file in force", "INVENTED" if one.shop.invented else "the shop's own"),
            ("order of fitting; which end for which job", "the trade", "common practice"), ("NAVEDTRA 14026", full_source("NAVEDTRA 14026"), "read")]
    return lesson.sources(rows)
