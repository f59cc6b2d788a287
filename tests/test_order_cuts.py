"""The cut list of an order: offcuts that help, a reel that is too short, a shop without kerf."""

import dataclasses

from test_orders import SHOP, sheet

from rigcalc.units import LBF_N


def reels(reel_id, **changes):
    return dataclasses.replace(SHOP, reels=tuple(dataclasses.replace(r, **changes) if r.id == reel_id else r for r in SHOP.reels))


def test_an_offcut_gives_what_the_reel_lacks_where_its_certificate_is_known():
    # Two legs of 1574 and 2004 mm and two cuts leave 18 mm of 3.6 m: the trial piece comes from the offcut of that very reel.
    made = sheet("05_kayak_bridle", reels("R4", length_m=3.6))
    offcut = next(line for line in made.cut_list if line.startswith("Offcut O1"))
    assert "AQ-104" in offcut and "trial piece" in offcut and "O2" not in " ".join(made.cut_list)
    assert made.before_starting == ()


def test_an_offcut_of_a_weaker_or_uncertified_reel_is_left_alone():
    for changes in ({"certificate_n": None, "certificate": None}, {"certificate_n": 1900 * LBF_N}, {"coating_to": "3/16"}):
        shop = reels("R4", **changes)
        other = dataclasses.replace(SHOP.reel("R4"), id="R4B", length_m=3.6)
        made = sheet("05_kayak_bridle", dataclasses.replace(shop, reels=(*shop.reels, other)), reel="R4B")
        assert made.before_starting[0].startswith("STOP: not enough cable"), changes


def test_a_reel_too_short_stops_the_work():
    made = sheet("02_cafe_wires", quantity="40")                                         # 40 x 2.524 m on 76 m
    # By hand: 40 x 2524 + 624 + 40 cuts of 2 mm (the 41st ends the stock) = 101 664 mm; less 76 000 mm = 25 664 mm.
    assert made.before_starting == (
        "STOP: not enough cable. No place for 10 x 'piece' of 99 3/8 in [2524 mm] and 1 x 'trial piece' of 24 5/8 in [624 mm] on R5 (2992 1/8 in [76000 mm]): "
        "1010 7/16 in [25664 mm] more in one length would do, what the cuts take included. Get another reel, or cut fewer pieces.",)
    assert made.cut_list[0].startswith("No cut list")


def test_a_reel_too_short_for_one_piece_says_what_the_first_lacks():
    stop = sheet("02_cafe_wires", reels("R5", length_m=1.0)).before_starting[0]
    assert "60 in [1524 mm] more in one length are lacking for the first of them" in stop


def test_without_kerf_and_keep_length_there_is_no_cut_list():
    assert "[cutting]" in sheet("02_cafe_wires", dataclasses.replace(SHOP, cutting=None)).cut_list[0]
