"""Check values of the families on charts, gauges, laps and coated cable: each worked by hand beside its source."""

from __future__ import annotations

from fractions import Fraction

import pytest
from a_family import SECRET, composed, families, shop

from rigcalc.questions import Stream, compose, draw, mark


def _found(family: str, wanted, most: int = 4000):
    """The first drawn question of a family whose values are the wanted ones."""
    for number in range(most):
        stream = Stream(SECRET, f"check {family} {number}")
        drawn = draw(families()[family], stream, shop())
        if wanted(drawn.values):
            return compose(drawn, stream, 1)
    raise AssertionError(f"{family}: not drawn in {most}")


@pytest.mark.parametrize(("chart", "size", "right", "next_size", "circular"),
                         [("LA-AL", "1/16", 2, None, None), ("LB-AL", "1/8", 3, None, None), ("LB-AL", "5/32", 3, 4, None), ("LB-AL", "3/16", 4, None, None),
                          ("LC-AL", "1/4", 4, 5, 3), ("LC-AL", "5/16", 5, None, 3)])
def test_the_count_of_the_next_size_and_the_circulars_count(chart, size, right, next_size, circular):
    """The sample shop's charts. The circular's copper counts are from memory and accept nothing; they are told where no likelier slip has the same figure."""
    question, key = _found("crimps-in-all", lambda values: (values["row"]["chart"], values["row"]["size"]) == (chart, size))
    assert f"tool {chart[:2]}, cavity" in question["text"]
    sleeves = key["values"]["pieces"] * key["values"]["eyes"]
    assert mark(key, question, f"{sleeves * right}")["right"]
    told = {slip["id"]: Fraction(slip["exact"]) / sleeves for slip in key["missteps"]}
    assert told.get("count-of-the-next-size") == next_size
    assert told.get("circulars-copper-count") in (circular, None) and (circular is None) == ("circulars-copper-count" not in told)


def test_a_share_of_the_crimps_is_what_was_left_out_and_no_other_sleeves_count():
    """Two eyes, 4 crimps: 8 a piece. 4 is one eye each, 2 are the sleeves."""
    question, key = _found("crimps-in-all", lambda v: (v["row"]["count"], v["eyes"]) == (4, 2))
    pieces = key["values"]["pieces"]
    assert mark(key, question, f"{pieces * 8}")["right"]
    for crimps, slip in ((4, "one-eye-each"), (2, "sleeves-not-crimps")):
        assert mark(key, question, f"{pieces * crimps}")["missteps"] == [slip]


def test_two_tools_have_two_counts_and_a_third_has_none():
    """1/8 aluminium: 3 in LB, 2 in BB (the sample shop's charts)."""
    question, key = _found("eyes-in-two-tools", lambda v: v["known"] and (v["row"]["size"], v["chart"]["tool"]) == ("1/8", "LB"))
    first, second = key["values"]["first_eyes"], key["values"]["second_eyes"]
    assert mark(key, question, f"{3 * first + 2 * second}")["right"]
    assert mark(key, question, f"{3 * (first + second)}")["missteps"] == ["one-chart-for-both"]
    question, key = _found("eyes-in-two-tools", lambda v: not v["known"])
    assert mark(key, question, "refuse")["right"]


def test_a_coat_is_no_cable():
    """3/32-3/16 7x7 galvanised, factor 5: 920 x 0.90 / 5 = 165.6, down to 165; as 3/16 it would be 756 (AC 43.13-1B Table 7-3)."""
    question, key = _found("limit-of-a-coated-cable", lambda v: (v["label"]["core"], v["label"]["coat"], v["label"]["construction"],
                                                                  v["cable"]["metal"], v["factor"]) == ("3/32", "3/16", "7x7", "galvanised", 5))
    assert mark(key, question, "165 lbf")["right"]
    assert mark(key, question, "756 lbf")["missteps"] == ["coat-taken-as-the-size"]
    assert mark(key, question, "184 lbf")["missteps"] == ["efficiency-left-out"]


def test_a_lap_has_no_limit():
    """1/8 7x19 galvanised, factor 5: an eye 360; a lap none, and 360 is the eye's figure (2000 x 0.90 / 5)."""
    question, key = _found("limit-of-a-lap", lambda v: (v["cable"]["size"], v["factor"], v["end"]["end"]) == ("1/8", 5, "lap"))
    assert mark(key, question, "refuse")["right"]
    assert mark(key, question, "360 lbf")["missteps"] == ["lap-rated-as-an-eye"]
    assert mark(key, question, "200 lbf")["missteps"] == ["lap-at-half"]
    question, key = _found("limit-of-a-lap", lambda v: (v["cable"]["size"], v["factor"], v["end"]["end"]) == ("1/8", 5, "eye"))
    assert mark(key, question, "360 lbf")["right"]


def test_a_ring_and_its_lap():
    """1/8: tails 7, sleeves 15, gap 11 (growth 5 and under two diameters): 55 mm more than once round."""
    question, key = _found("ring-with-a-lap", lambda v: (v["row"]["size"], v["row"]["tool"], v["tail"]) == ("1/8", "LB", 7))
    once = key["values"]["round_mm"]
    assert key["values"]["gap"] == 11
    assert mark(key, question, f"{once + 55} mm")["right"]
    assert mark(key, question, f"{once + 48} mm")["missteps"] == ["one-tail-forgotten"]
    assert mark(key, question, f"{once + 29} mm")["missteps"] == ["one-sleeve-no-gap"]
    assert mark(key, question, f"{once} mm")["missteps"] == ["lap-forgotten"]
    coarse = mark(key | {"missteps": [slip | {"exact": "9000"} for slip in key["missteps"] if slip["id"] == "lap-forgotten"], "right": key["right"] | {"exact": "9040"}}, question, "9 m")
    assert coarse["missteps"] == ["lap-forgotten"] and "too coarse" in coarse["feedback"]  # the slip's very figure


def test_a_small_cable_fills_little_of_a_sleeve_and_passes():
    """(3/32 over 1/8) squared is 9/16: 56 per cent; the diameters alone would say 75."""
    question, key = _found("filled-by-the-cable", lambda v: v["pair"]["cable"] == "3/32")
    assert mark(key, question, "56")["right"]
    assert mark(key, question, "75")["missteps"] == ["diameters-not-areas"]
    assert "3/32 ÷ 1/8 = 0.75; 0.75 × 0.75 = 0.56" in key["working"]
    assert mark(key, question, "100")["missteps"] == ["passes-so-it-is-full"]


def test_a_tenth_of_the_wires_is_rounded_down():
    """49 wires: 4.9, so 4 may stay and 5 may not. 133 wires: 13.3, so 13. (Michigan R 408.15226(3), 10 per cent.)"""
    seen = set()
    for number in range(120):
        question, key = composed("wires-that-may-stay", number)
        construction = key["values"]["built"]["construction"]
        assert key["right"]["shown"] == {"7x7": "4", "7x19": "13"}[construction]
        seen |= {(construction, slip["shown"]) for slip in key["missteps"] if slip["id"] == "rounded-up"}
    assert seen == {("7x7", "5"), ("7x19", "14")}


def test_a_guard_band_has_two_edges():
    question, key = _found("pass-fail-or-not-proven", lambda v: v["known"] and abs(v["steps"]) == 0.5)
    assert key["right"]["shown"] == "not proven"
    question, key = _found("pass-fail-or-not-proven", lambda v: not v["known"])
    assert key["right"]["shown"].startswith("nothing")


@pytest.mark.parametrize("kind", ["tool", "gauge"])
def test_pieces_go_back_by_time_and_by_what_made_them(kind):
    """Worked again, by hand: made with the bad one, and not certainly before the check."""
    question, key = _found("pieces-back-to-the-gauge", lambda v: v["found"]["kind"] == kind and any(not one["at"] for one in v["pieces"]))
    values = key["values"]
    rows = sorted(values["pieces"], key=lambda one: one["at"] or "99")
    wanted = {at for at, row in enumerate(rows, 1)
              if row[kind] == values["found"]["bad"] and (not row["at"] or row["at"] > values["checked_at"])}
    texts = {one["letter"]: one["text"] for one in question["options"]}
    assert {int(texts[letter].split(":")[0].split()[1]) for letter in key["right"]["letters"]} == wanted
