"""Held against published rules and tables on wire rope clips.

29 CFR 1918 App. II Table 1; WAC 296-874-30020, 296-24-29401, 296-155-33915, 296-96-24163; California Title 8 s 8497 Table 1;
NAVEDTRA 14026 p 1-8; FM 55-501 para 12-101; TM 5-3810-305-10 pp 4-36 and 4-38; Michigan R 408.15226(6); Quebec B-1.1 r.2 s 4.20;
Alberta OHS guide 2009 s 300; the New Brunswick clip sheet. The figures are this file's own transcript and never read from the package.
"""

import pytest

from rigcalc.clips import (
    built_in_rows,
    clip_efficiency,
    clips_needed,
    published_rules,
    rule_of_thumb,
    spacing_mm,
    where_forbidden,
)
from rigcalc.reference import table

EXACT = 1e-12  # the same figures, only converted

# 29 CFR 1918 App. II, Table 1, improved plow steel rope: rope, diameter in, clips drop-forged, other material, spacing in
TABLE_1 = (
    ("1/2 or less", 0.5, 3, 4, 3), ("5/8", 0.625, 3, 4, 3.75), ("3/4", 0.75, 4, 5, 4.5), ("7/8", 0.875, 4, 5, 5.25), ("1", 1, 5, 6, 6),
    ("1 1/8", 1.125, 6, 6, 6.75), ("1 1/4", 1.25, 6, 7, 7.5), ("1 3/8", 1.375, 7, 7, 8.25), ("1 1/2", 1.5, 7, 8, 9),
)


def test_29_cfr_1918_appendix_ii_table_1():
    rows = table("clip_numbers")
    assert [(row.rope, float(row.diameter_in), row.drop_forged, row.other_material, row.spacing_in) for row in rows] == list(TABLE_1)
    assert {(row.source, row.how_known) for row in rows} == {("29 CFR 1918 App. II", "read")}
    for size, forged, other in (("1/16", 3, 4), ("1/8", 3, 4), ("3/8", 3, 4), ("1/2", 3, 4), ("5/8", 3, 4), ("3/4", 4, 5), ("7/8", 4, 5)):
        assert (clips_needed(size, True), clips_needed(size, False)) == (forged, other)


@pytest.mark.parametrize("rope, diameter, forged, other, spacing", TABLE_1)
def test_the_printed_spacing_is_six_diameters_of_the_size_named(rope, diameter, forged, other, spacing):
    # 29 CFR 1918 App. II, Table 1: spacing / diameter = 6 in each row, so 3 in belongs to 1/2 in alone
    assert spacing / diameter == 6


def test_spacing_of_small_sizes_worked_by_hand():
    # 6 x 1/8 in = 0.75 in = 19.05 mm; 6 x 1/4 in = 1.5 in; 6 x 3/8 in = 2.25 in
    for size, inches in (("1/8", 0.75), ("1/4", 1.5), ("3/8", 2.25), ("1/2", 3.0)):
        assert spacing_mm(size) == pytest.approx(inches * 25.4, rel=EXACT)


# number, spacing, efficiency, rule of thumb: how it binds, figure, where
FIGURES = {
    "number": (("at least", 3, "WAC 296-874-30020, (1) to (5)"), ("at least", 3, "WAC 296-24-29401, (5)(c)")),
    "spacing": (("at least", 6, "WAC 296-874-30020, (1) to (5)"), ("about", 6, "NAVEDTRA 14026, p 1-8"), ("about", 6, "FM 55-501, para 12-101"),
                ("about", 6, "Michigan R 408.15226, (6)"), ("at most", 6, "Quebec B-1.1 r.2, s 4.20"),
                ("at most", 7, "Alberta OHS guide 2009, Part 21 s 300")),
    "efficiency": (("about", 0.80, "TM 5-3810-305-10, Table 4, p 4-36"), ("about", 0.80, "TM 5-3810-305-10, p 4-38"),
                   ("at most", 0.80, "Alberta OHS guide 2009, Part 21 s 300"), ("at most", 0.85, "New Brunswick clip sheet, introduction")),
    "thumb": (("about", 3, "NAVEDTRA 14026, p 1-8"),),
}


@pytest.mark.parametrize("topic", FIGURES)
def test_figures_of_the_rules(topic):
    assert tuple((rule.bound, rule.value, rule.source) for rule in published_rules(topic)) == FIGURES[topic]
    assert {rule.how_known for rule in published_rules(topic)} == {"read"}


def test_six_diameters_is_the_one_spacing_that_agrees_with_every_rule():
    for figure in (5.9, 6.0, 6.1):
        agrees = all({"at least": figure >= value, "at most": figure <= value, "about": abs(figure - value) <= 0.1 + EXACT}[bound]
                     for bound, value, _ in FIGURES["spacing"])
        assert agrees == (figure == 6.0)
    assert spacing_mm("1/1") == pytest.approx(6 * 25.4, rel=EXACT)


def test_clips_keep_eighty_per_cent():
    # TM 5-3810-305-10 Table 4, p 4-36; Alberta OHS guide 2009 s 300 as the upper bound
    assert clip_efficiency() == 0.80


def test_the_navys_printed_examples_of_the_rule_of_thumb():
    # NAVEDTRA 14026 p 1-8: D = 1 in gives 4; D = 1/2 in gives 2 1/2, taken as 3. The regulation asks five at 1 in.
    assert rule_of_thumb("1/2").gives == 3
    assert 3 * 1 + 1 == 4 < dict((row[0], row[2]) for row in TABLE_1)["1"]


def test_words_that_bind_without_a_figure():
    # WAC 296-874-30020, 296-155-33915(1), TM 5-3810-305-10 p 4-38, Alberta s 300
    assert [rule.source for rule in published_rules("retorque")] == [
        "WAC 296-874-30020, (1) to (5)", "WAC 296-155-33915, (1)(a), (c)", "TM 5-3810-305-10, p 4-38"]
    assert published_rules("saddle")[0].source == "WAC 296-874-30020, (1) to (5)"
    assert [rule.source.split(",")[0] for rule in where_forbidden()] == [
        "29 CFR 1926.251", "DOE-STD-1090-96", "EN 13411-5", "WAC 296-96-24163", "WAC 296-874-30020"]


# California Title 8 s 8497, Table 1, U-bolt with thimble, new rope: rope, clips, turnback in, torque lbf ft
CALIFORNIA = (
    ("1/2", 3, 11.5, 65), ("9/16", 3, 12, 95), ("5/8", 3, 12, 95), ("3/4", 4, 18, 130), ("7/8", 4, 19, 225), ("1", 5, 26, 225),
    ("1 1/8", 6, 34, 225), ("1 1/4", 6, 37, 360), ("1 3/8", 7, 44, 360), ("1 1/2", 7, 48, 360), ("1 5/8", 7, 51, 430),
    ("1 3/4", 7, 53, 590), ("2", 8, 71, 750), ("2 1/4", 8, 73, 750),
)
# New Brunswick clip sheet, installation table: its own text asks for three at least where the table prints two
NEW_BRUNSWICK = (("5/16", 2, 5.5, 30), ("7/16", 2, 7, 65), ("1/2", 3, 11.5, 65), ("9/16", 3, 12, 95), ("5/8", 3, 12, 95), ("3/4", 4, 18, 130))
# TM 5-3810-305-10, Table 6, p 4-38, double saddle; the page prints 279 mm and 88 N m beside it
ARMY = (("1/2", 3, 11, 65),)
# as shipped, from memory: kept from drifting, accepts nothing
REMEMBERED = (("1/8", 2, 3.25, 4.5), ("3/16", 2, 3.75, 7.5), ("1/4", 2, 4.75, 15), ("5/16", 2, 5.25, 30), ("3/8", 2, 6.5, 45), ("7/16", 2, 7, 65))


@pytest.mark.parametrize("source, clip, how_known, rows", [
    ("California Title 8 s.8497", "U-bolt", "read", CALIFORNIA), ("New Brunswick clip sheet", "U-bolt", "read", NEW_BRUNSWICK),
    ("TM 5-3810-305-10", "double saddle", "read", ARMY), ("common clip table", "U-bolt", "from memory", REMEMBERED),
])
def test_turnback_and_torque_rows(source, clip, how_known, rows):
    shipped = [row for row in table("clip_rows") if row.source == source]
    assert [(row.rope, row.number, row.turnback_in, row.torque_lbf_ft) for row in shipped] == list(rows)
    assert {(row.clip, row.how_known) for row in shipped} == {(clip, how_known)}


def test_no_other_row_ships():
    assert len(table("clip_rows")) == len(CALIFORNIA) + len(NEW_BRUNSWICK) + len(ARMY) + len(REMEMBERED) == 27


def test_conversion_against_the_metric_figures_printed_beside_the_inch_ones():
    # TM 5-3810-305-10 Table 6 prints 279 mm for 11 in and 88 N m for 65 lbf ft, both to whole units: half a unit is their rounding.
    # The California row of the same size has the same torque, and 11.5 in.
    row = built_in_rows("1/2")[0]
    assert row.torque_nm == pytest.approx(88, abs=0.5)
    assert row.turnback_mm - 0.5 * 25.4 == pytest.approx(279, abs=0.5)


def test_two_published_tables_agree_where_both_speak():
    california = {row[0]: row[1:] for row in CALIFORNIA}
    assert [row[0] for row in NEW_BRUNSWICK if row[0] in california] == ["1/2", "9/16", "5/8", "3/4"]
    for rope, *figures in NEW_BRUNSWICK:
        assert california.get(rope, tuple(figures)) == tuple(figures)


def test_what_is_remembered_differs_from_what_was_read():
    # 5/16: 5 1/2 in was read (New Brunswick), 5 1/4 in is remembered; the one that was read comes first
    first, second = built_in_rows("5/16")
    assert (first.turnback_mm, first.how_known) == (pytest.approx(5.5 * 25.4, rel=EXACT), "read")
    assert (second.turnback_mm, second.how_known) == (pytest.approx(5.25 * 25.4, rel=EXACT), "from memory")
    assert first.torque_nm == pytest.approx(30 * 4.4482216152605 * 0.3048, rel=EXACT)
