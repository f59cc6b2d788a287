"""What a form holds, what it never holds, and that another size is data alone."""

from __future__ import annotations

import dataclasses
import json
from datetime import UTC, datetime

import pytest
from rigcalc._order_figures import exact_length
from rigcalc.bench.form import items_of, open_form
from rigcalc.bench.measured import within_limit
from rigcalc.bench.tasks import load_tasks
from rigcalc.errors import Refusal
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.units import read_length_mm

from .filled import DELA, KEY, NOW, NUMBERS, TOMO, opened, sample


def limit(form, key):
    return items_of(form)[key][0]["limit"]


def test_limits_of_the_sample_piece():
    form = opened()
    # 2 d of 1/8 in: 2 x 3.175 mm; common practice
    assert limit(form, "T1#tail-before@1")["least_mm"] == pytest.approx(6.35, abs=1e-9)
    assert "6.4 mm" in limit(form, "T1#tail-before@2")["said"]
    assert (limit(form, "T1#pin-to-pin")["target_mm"], limit(form, "T1#pin-to-pin")["within_mm"]) == (500, 3)
    assert limit(form, "T1#diameter")["within_mm"] == 0.05
    assert len(limit(form, "T1#gaps@1")["parts"]) == 2
    # 1800 lbf x 4.4482216152605 N: the sample shop's pull procedure
    assert limit(form, "T1#pull-load")["least_n"] == pytest.approx(8006.799, abs=0.001)
    assert all(limit(form, key)["source"] for key, (item, _) in items_of(form).items() if item["kind"] == "measure")
    assert items_of(form)["T1#crimps-gauged@2"][0]["crimps"] == 3
    assert form["gauge"]["id"] == "GB" and form["made"]["cavity"] == "P" and form["chart"]["id"] == "LB-AL"


def test_stages_go_eye_by_eye_with_their_stops():
    form = opened()
    stops = [s["hold"] for s in form["stages"] if s["hold"]]
    assert stops == ["cut end", "threaded and tail marked", "first stroke in the jaws", "first gauge",
                     "threaded and tail marked", "first stroke in the jaws"]
    order = [s["id"] for s in form["stages"]]
    assert order.index("gauge@1") < order.index("thread@2") < order.index("finished-eye@1") < order.index("end") == len(order) - 1
    numbers = [i["number"] for s in form["stages"] for i in s["items"]]
    assert len(set(numbers)) == len(numbers)


def test_a_form_holds_no_key():
    text = json.dumps(opened())
    assert "true_cause" not in text and '"S1"' in text
    assert not any(f'"{number}": "{cause}"' in text for number, cause in KEY["pieces"].items())


def test_another_size_is_data_alone(tmp_path):
    text = sample_shop_path().read_text(encoding="utf-8")
    row = text[text.index('[[chart.row]]\nsize = "5/32"\ncavity = "Q"'):]
    row = row[:row.index("\n\n")]
    # a size that tool LB does not list in the sample: its row, cavity, gauge slot and tolerance are typed, no Python
    text = text.replace(row, row + "\n\n" + row.replace('"5/32"', '"1/4"').replace('"Q"', '"S"').replace("count = 3", "count = 5")
                        .replace("[2, 1, 3]", "[3, 2, 4, 1, 5]").replace("5.5 mm", "4 mm").replace("10.1 mm", "15.8 mm"), 1)
    text = text.replace('"3/16" = "R" }', '"3/16" = "R", "1/4" = "S" }').replace('sizes = ["1/8", "5/32", "3/16"]', 'sizes = ["1/8", "5/32", "3/16", "1/4"]')
    text = text.replace('pin_to_pin_tolerance = "3 mm"', 'pin_to_pin_tolerance = "4 mm"')
    path = tmp_path / "shop.toml"
    path.write_text(text, encoding="utf-8")
    form = opened(shop=load_shop(path), piece={"size": "1/4", "pin_to_pin_mm": 700})
    # 2 d of 1/4 in: 2 x 6.35 mm
    assert limit(form, "T1#tail-before@1")["least_mm"] == pytest.approx(12.7, abs=1e-9)
    assert items_of(form)["T1#crimps-gauged@1"][0]["crimps"] == 5 and len(limit(form, "T1#gaps@1")["parts"]) == 4
    assert (limit(form, "T1#pin-to-pin")["target_mm"], limit(form, "T1#pin-to-pin")["within_mm"]) == (700, 4)
    # no pull procedure was entered for it: then only the section is offered, nothing is guessed
    assert "T1#pull-load" not in items_of(form)
    assert items_of(form)["T1#method"][0]["choices"] == ["section"]
    assert "1/4" in items_of(form)["T1#right-size"][0]["see"]


def test_refusals():
    with pytest.raises(Refusal, match="gauge that is in date"):
        opened(piece={"size": "1/4"}, tool="LC")
    bad = {"found_bad": "2026-03-01", "found_bad_by": "Ines Varrow", "why": "jaws do not close"}
    for name, said in (("tools", "tool LB, which was found bad on 2026-03-01 by Ines Varrow"), ("gauges", "gauge GB, which was found bad on 2026-03-01")):
        kept = getattr(sample(), name)
        shop = dataclasses.replace(sample(), **{name: tuple(dataclasses.replace(one, **bad) if one.id in ("LB", "GB") else one for one in kept)})
        with pytest.raises(Refusal, match=said):
            opened(shop=shop)
    with pytest.raises(Refusal, match="one or two"):
        opened(TOMO, DELA, {"id": "c3", "name": "Yara Quent"})
    with pytest.raises(Refusal, match="two different people"):
        opened(TOMO, TOMO)
    with pytest.raises(Refusal, match="name the tool"):
        opened(tool=None)
    with pytest.raises(Refusal, match="6 different numbers"):
        opened(piece_set={"id": "S1", "pieces": NUMBERS[:5]})
    with pytest.raises(Refusal, match="time zone"):
        open_form(load_tasks(), [TOMO], sample(), "Osk Tamberlin", "F1", datetime(2026, 11, 20), tool="LB")
    with pytest.raises(Refusal, match="on 2050-01-01"):
        open_form(load_tasks(), [TOMO], sample(), "Osk Tamberlin", "F1", datetime(2050, 1, 1, tzinfo=UTC), tool="LB")


def test_without_a_set_the_six_pieces_are_named_as_left_out():
    form = opened(piece_set=None)
    assert form["left_out"] == ["T7"] and form["set"] is None and NOW.isoformat() == form["opened_at"]


def test_without_a_makers_chart_it_is_practice(tmp_path):
    text = sample_shop_path().read_text(encoding="utf-8")
    path = tmp_path / "shop.toml"
    path.write_text(text[:text.index('[[chart]]\nid = "LA-AL"')], encoding="utf-8")
    form = opened(shop=load_shop(path), tool=None)
    assert form["practice"] and form["gauge"] is None and items_of(form)["T1#crimps-gauged@1"][0]["crimps"] == 3


def test_a_us_shop_reads_its_own_inches_and_is_compared_exactly(tmp_path):
    text = sample_shop_path().read_text(encoding="utf-8")
    for field, mm, inch in (("diameter", "0.05 mm", "0.002 in"), ("gap", "1 mm", "1/32 in"), ("pin_to_pin", "3 mm", "1/8 in")):
        text = text.replace(f'{field}_tolerance = "{mm}"', f'{field}_tolerance = "{inch}"')
    said = {}
    for system in ("US", "SI"):
        path = tmp_path / f"{system}.toml"
        path.write_text(text.replace('\nsystem = "US"', f'\nsystem = "{system}"'), encoding="utf-8")
        form = opened(shop=load_shop(path))
        said[system] = {key: limit(form, f"T1#{key}")["said"] for key in ("diameter", "tail-before@1", "gaps@1", "pin-to-pin")}
        assert limit(form, "T1#diameter")["units"] == (["in", "mm"] if system == "US" else ["mm", "in"])
        assert limit(form, "T1#diameter")["within_mm"] == pytest.approx(0.0508, abs=1e-12)
    assert said["US"] == {"diameter": "within 0.002 in [0.05 mm] of your own reading, and yours from 0.123 in [3.13 mm] to 0.141 in [3.58 mm], "
                                      "as 1/8 cable reads over its crowns", "tail-before@1": "at least 2 d = 1/4 in [6.4 mm]",
                          "gaps@1": "each within 1/32 in [0.8 mm] of their mean, none under 0.020 in [0.5 mm]",
                          "pin-to-pin": "19 11/16 in [500 mm], give or take 1/8 in [3.2 mm]"}
    # 1/8 in is 3.175 mm: in an SI shop the tenth of a millimetre never allows more than it does
    assert "yours from 3.13 mm [0.123 in] to 3.58 mm [0.141 in]" in said["SI"]["diameter"]
    assert said["SI"]["pin-to-pin"] == "500 mm, give or take 3.1 mm [1/8 in]" and said["SI"]["tail-before@1"] == "at least 2 d = 6.4 mm"
    for reading, within in (("0.1270", True), ("0.1271", False)):
        values = [{"base": read_length_mm(f"{one} in").value} for one in (reading, "0.125")]
        assert within_limit({"rule": "near the assessor's", "within_mm": 0.0508}, values) is within


@pytest.mark.parametrize(("mm", "at_most", "at_least"), [
    # what was set in millimetres stands as it was set; the inches beside it never allow more
    (0.05, "0.001 in [0.05 mm]", "0.002 in [0.05 mm]"), (3, "7/64 in [3 mm]", "1/8 in [3 mm]"), (2.54, "0.100 in [2.54 mm]", "0.100 in [2.54 mm]")])
def test_a_limit_set_in_millimetres_is_rounded_to_the_safe_side_in_inches(mm, at_most, at_least):
    assert (exact_length(mm, "US", "down"), exact_length(mm, "US", "up"), exact_length(mm, "SI", "down")) == (at_most, at_least, f"{mm:g} mm")
