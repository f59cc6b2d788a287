"""Lesson 02: its printed example, its seven live figures in every state that matters, and what it must say."""

from __future__ import annotations

import hashlib
import re

import pytest
from boards import after, said, tones
from stored import stored

from rigcalc.cautions import INVENTED
from rigcalc.errors import Refusal
from rigcalc.figures.drawing import GREEN
from rigcalc.figures.reel_papers import signed_against_true
from rigcalc.home import installed_folder
from rigcalc.notebook.board import Board
from rigcalc.notebook.course import deliveries as door
from rigcalc.notebook.course import strength_boards as boards
from rigcalc.notebook.course import strength_sheets as sheets
from rigcalc.notebook.course import strengths as st
from rigcalc.notebook.form import Exercise
from rigcalc.shop import sample_shop_path
from rigcalc.units import LBF_N

LESSON = stored(installed_folder() / "lessons" / "02_how_strong_how_heavy.ipynb")
BOARDS = (door.which_figure, door.sign_three, boards.from_grade_to_force, boards.two_systems_beside, boards.pick_a_size, boards.mass_of_a_length,
          boards.load_and_stretch)
DRAWS = [hashlib.sha256(bytes([number])).digest()[:16].hex() for number in range(60)]


def drawn(kind: str) -> tuple[str, int, door.Delivery]:
    return next((fresh, at, one) for fresh in DRAWS for at, one in enumerate(door.three(fresh)) if one.kind == kind)


def opened(kind: str) -> tuple[Board, door.Delivery]:
    """The board with a delivery of that kind before it, all its papers read."""
    fresh, at, one = drawn(kind)
    board = door.sign_three()
    board.state = board.state | {"fresh": fresh}
    return after(board, ("at", at), *(("paper", paper) for paper in door.PAPERS)), one


def test_the_still_drawings_before_a_live_figure_tell_no_step_ahead():
    assert st.steps_figure("7x19", 3.0, 1770, 0).alt == boards.from_grade_to_force().seen.figures[0].alt and 'steps_figure("7x19", 3.0, 1770, 0)' in str([cell.source for cell in LESSON.cells])
    assert door.deliveries_still().alt == door.sign_three().seen.figures[0].alt


# --- Worked examples ------------------------------------------------------------------------------

@pytest.mark.parametrize("block, figures", [
    # ISO 10425, Table C.1, 6 mm 6x7 with a fibre core, grade 1770: 21.2 kN; by hand 0.332 x 36 x 1770 = 21155 N
    (st.printed_factor, ("36 mm²", "0.332, times that | 11.95 mm²", "21155 N", "three figures | 21.2 kN", "printed in the table | 21.2 kN")),
    # the same row: 12.4 kg in 100 m; by hand 0.345 x 36 = 12.42; 31.05 kg x 9.80665 = 304.5 N; 304.5 / 4.448 = 68.5
    (st.printed_mass, ("12.42 kg in 100 m", "printed in the table | 12.4 kg", "304 N", "one is 4.448 N", "68.5 lbf")),
    # AC 43.13-1B, Table 7-3: 480, 2000, 7000, 4200, 14400 lbf
    (st.thickness_table, ("480 lbf | 2000 lbf | 4.17 times", "2000 lbf | 7000 lbf | 3.50 times", "4200 lbf | 14400 lbf | 3.43 times")),
    # 0.362 x 3.175^2 x 1770 = 6459 N = 1452 lbf; 2000 / 1452 = 1.38
    (st.pairs_table, ("1/8 | 2000 lbf | 1452 lbf | 38 % more", "5/16 | 9800 lbf | 9075 lbf | 8 % more")),
    (st.wrong_figures, ("2000 lbf | 1760 lbf", "3500 lbf | 2000 lbf", "1500 lbf | refuse", "5185 lbf", "100 N | 981 N")),
])
def test_tables_give_the_printed_and_the_hand_worked_figures(block, figures):
    text = str(block())
    assert all(figure in text for figure in figures), text
    assert text in LESSON.shown


# --- All boards -----------------------------------------------------------------------------------

@pytest.mark.parametrize("make", BOARDS)
def test_every_offer_of_every_control_gives_a_view_that_says_something(make):
    for control in make().seen.controls:
        more = dict(control.more)
        offers = more["values"] if control.kind == "choice" else (more["least"], more["most"]) if control.kind == "slider" else (None,)
        for offer in offers:
            one = after(make(), (control.name, offer))
            assert one.seen.said and one.seen.controls, (control.name, offer)
            assert one.seen.figures or make is door.which_figure, (control.name, offer)


# --- The first answer -----------------------------------------------------------------------------

@pytest.mark.parametrize("taken, tone, words", [("chart", "no", "38 % more"), ("middle", "no", "19 % more"), ("label", "no", "65 % more"), ("certificate", "ok", "1452 lbf")])
def test_only_the_lower_goes_on_the_sheet(taken, tone, words):
    board = after(door.which_figure(), ("taken", taken))
    assert tones(board) == [tone] and words in said(board)
    assert ("drawn parted" in board.seen.figures[0].alt) == (tone == "no")


@pytest.mark.parametrize("signed, words", [(1000.0, "drawn opening"), (1100.0, "drawn parted"), (900.0, "ends short of the line"), (None, "Nothing is pulled")])
def test_no_wire_is_shown_holding_a_breaking_force(signed, words):
    alt, svg = (getattr(signed_against_true(signed, "it", 1000.0, "the edge", "1/8 7x19"), name) for name in ("alt", "svg"))
    assert words in alt and "may part: no load hangs there" in alt and GREEN not in svg and "drawn whole" not in alt


# --- Three deliveries -----------------------------------------------------------------------------

def test_a_signature_before_the_papers_are_read_is_refused():
    board = after(door.sign_three(), ("sign_blind", None))
    assert "0 of 3 papers are read" in said(board) and board.state["signed"] == ["", "", ""]
    assert "2 of 3" in said(after(board, ("paper", "label"), ("paper", "chart"), ("sign_blind", None)))


def test_papers_face_down_say_nothing():
    board = after(door.sign_three(), ("paper", "label"))
    one = door.three()[0]
    alt, svg = board.seen.figures[0].alt, board.seen.figures[0].svg
    assert one.lot in svg and "Wall chart: not read yet" in alt and "2800 | 2400" not in svg


def test_a_page_can_point_at_a_paper():
    board = door.sign_three()
    board.hear({"name": "paper", "value": "certificate", "picked": True})
    assert board.state["read"][0] == ["certificate"]


def test_every_draw_has_one_lower_certificate_one_other_and_one_to_send_back():
    for fresh in DRAWS:
        found = door.three(fresh)
        assert len({one.size for one in found if one.kind not in door.BACK}) == 2
        for group in (door.LOWER, door.OTHER, door.BACK):
            assert sum(one.kind in group for one in found) == 1
        for one in found:
            keys = [key for _, key, _ in door.offers(one)]
            assert len(set(keys)) == len(keys) and door.right_key(one) in keys
            assert (door.right_key(one) == "back") == (one.kind in door.BACK)
            assert (door.right_key(one) == "certificate") == (one.kind in (*door.LOWER, "no row"))


@pytest.mark.parametrize("kind", [*door.LOWER, *door.OTHER, *door.BACK])
def test_each_trap_is_told_by_its_reason(kind):
    board, one = opened(kind)
    right = after(board, ("sign", door.right_key(one)))
    assert tones(right)[0] == "ok" and door.WHY[kind] in said(right)
    wrong = after(board, ("sign", "label"))
    assert tones(wrong)[0] == "no" and door.WHY[kind] in said(wrong)
    assert len(wrong.seen.figures) == 2


def test_the_true_figure_is_the_lower_of_two_and_none_without_papers():
    # AC 43.13-1B, Table 7-3: 1/8 7x19 galvanised 2000 lbf
    one = {"size": "1/8", "construction": "7x19", "metal": "galvanised", "lot": "L-1", "claim": "2500 lbf", "certificate_lot": "L-1"}
    for stated, lbf in (("1900 lbf", 1900), ("2100 lbf", 2000), (None, 2000)):
        assert door.counts(door.Delivery("x", **one, stated=stated)).force_n == pytest.approx(lbf * float(LBF_N))
    for change, words in (({"stated": "900 kg"}, "mass"), ({"stated": "1900 lbf", "certificate_lot": "L-2"}, "another|L-2"), ({"construction": "7x7"}, "without a certificate"),
                          ({"size": "7/64"}, "without a certificate"), ({"size": "6 mm"}, "metric")):
        with pytest.raises(Refusal, match=words):
            door.counts(door.Delivery("x", **one | change))


def test_a_needless_refusal_and_a_lucky_figure_are_told_apart():
    board, one = opened("higher")
    assert "Sent back without need" in said(after(board, ("sign", "back")))
    lower = next(key for _, key, force in door.offers(one) if force and force < door.counts(one).force_n and key.startswith("chart"))
    assert "by luck" in said(after(board, ("sign", lower)))


def test_three_signatures_are_counted():
    board = door.sign_three()
    for at, one in enumerate(door.three()):
        after(board, ("at", at), *(("paper", paper) for paper in door.PAPERS), ("sign", door.right_key(one)))
    assert "3 of 3 rightly" in said(board)


def test_the_question_done_unaided_is_not_the_one_asked_further_up():
    name = "lower-of-table-and-certificate"
    assert LESSON.families.count(name) == 2
    first, own = repr(Exercise(name)), repr(Exercise(name, stream=door.own_stream()))
    assert first != own and first in LESSON.shown and own in LESSON.shown


def test_fresh_deliveries_are_kept_as_what_they_were_drawn_from():
    board = after(door.sign_three(), ("paper", "label"), ("fresh", None))
    assert board.state["read"] == [[], [], []] and re.fullmatch(r"[0-9a-f]{32}", board.state["fresh"])


# --- From grade to force; two systems -------------------------------------------------------------

def test_three_steps_and_twice_as_thick_is_four_times_by_the_factor():
    board = boards.from_grade_to_force()
    shown = []
    for _ in range(3):
        after(board, ("next", None))
        shown.append(len(board.seen.under.text.splitlines()))
    # 0.362 x 9 x 1770 = 5766.66 N, and what is over is dropped
    assert shown == [2, 3, 4] and "5766 N" in board.seen.under.text
    assert "4.00 times" in said(after(board, ("double", None))) and "23066 N" in board.seen.under.text
    assert "from memory" in said(after(board, ("grade", 1570)))
    assert "Step 1" in said(after(board, ("again", None)))


def test_figures_and_reasons_come_after_the_guess():
    board = boards.two_systems_beside()
    assert "4200" not in board.seen.figures[0].svg and board.seen.under is None
    after(board, ("guess", "inch"))
    assert tones(board)[0] == "ok" and "29 %" in said(board) and len(board.seen.under.text.splitlines()) == 7
    after(board, ("size", "3/8"), ("metal", "stainless"), ("grade", 1960), ("guess", "en"))
    assert tones(board)[0] == "ok" and "17 % less" in said(board)
    assert "7x7" in said(after(board, ("made", "7x7"))) and tones(board) == ["no"]


# --- Between sizes --------------------------------------------------------------------------------

def test_between_two_rows_is_refused_and_the_middle_is_nobodys():
    board = after(boards.pick_a_size(), ("place", "7/64"))
    assert tones(board) == ["no"] and "3/32 or 1/8" in said(board)
    assert "1500 lbf" in said(after(board, ("read", None)))
    assert "6 mm is another cable" in said(after(board, ("place", "6 mm")))
    assert tones(after(board, ("size", "1/8"))) == ["ok"] and "2000 lbf" in said(board)
    assert tones(after(board, ("made", "7x7"))) == ["no"] and "1/8: no row" in board.seen.figures[0].svg
    assert "beyond its end" in said(after(board, ("read", None)))


# --- Mass and force -------------------------------------------------------------------------------

def test_no_force_without_g():
    board = boards.mass_of_a_length()
    # 0.381 x 3.175^2 = 3.8407 kg in 100 m; times 9.81: 37.7 N
    assert "3.8 kg" in said(board) and "no g, no force" in board.seen.figures[0].svg and "37.7" not in said(board)
    assert "37.7 N" in said(after(board, ("g", "9.81")))
    assert "from memory" in said(after(board, ("by", "inch table, from memory"))) and tones(after(board, ("made", "1x19"))) == ["no"]


# --- Stretch --------------------------------------------------------------------------------------

def test_bedding_in_stays_and_comes_once():
    board = boards.load_and_stretch()
    # 10 m: 0.25 to 0.5 % stays
    assert "25 to 50 mm stay" in said(board)
    spring = re.search(r"(\d+) to (\d+) mm spring back", said(board)).groups()
    assert f"only {spring[0]} to {spring[1]} mm more" in said(after(board, ("bedded", "loaded")))
    once = st.band_of("7x19", "1/8", "galvanised", 10_000, 1000)
    twice = st.band_of("7x19", "1/8", "galvanised", 10_000, 2000)
    assert twice.settle_mm == once.settle_mm and twice.spring_mm == pytest.approx([2 * part for part in once.spring_mm])


def test_a_stretch_that_is_not_held_and_too_great_a_load_are_refused():
    board = after(boards.load_and_stretch(), ("made", "1x19"))
    assert tones(board) == ["no"] and "no curve" in board.seen.figures[0].svg
    board = after(boards.load_and_stretch(), ("size", "1/16"), ("load", 300))
    assert tones(board) == ["no"] and "springs back" in said(board) and "no curve: refused" in board.seen.figures[0].svg


def test_a_wire_that_is_broken_is_said_to_be_broken():
    # AC 43.13-1B, Table 7-3: 1/16 7x19 galvanised 480 lbf, stainless 480 lbf
    for load, parted in ((460, False), (480, True), (600, True)):
        board = after(boards.load_and_stretch(), ("size", "1/16"), ("load", load))
        assert ("The wire is broken" in said(board)) == parted and ("the wire has parted" in board.seen.figures[0].svg) == parted
        assert ("480 lbf" in said(board)) == parted


def test_loaded_before_is_not_told_to_be_tightened_again():
    assert "goes slack" in said(boards.load_and_stretch())
    loaded = said(after(boards.load_and_stretch(), ("bedded", "loaded")))
    assert "goes slack" not in loaded and "need not be tightened again" in loaded


def test_captions_and_columns_follow_the_choice():
    for made, metal in (("7x7", "galvanised"), ("7x7", "stainless")):
        board = after(boards.two_systems_beside(), ("made", made), ("metal", metal))
        assert board.seen.figures[0].caption.startswith(f"{made} {metal}, AC 43.13-1B")
    assert after(boards.pick_a_size(), ("made", "7x7")).seen.figures[0].caption.startswith("7x7 galvanised")
    assert {one.name: one.force_n for one in st.ladder_places("7x19", "stainless")}["1/8"] == pytest.approx(1760 * float(LBF_N))


def test_no_is_said_in_plain_sentences():
    for board in (after(boards.pick_a_size(), ("place", "6 mm")), after(boards.pick_a_size(), ("place", "7/64")), after(boards.two_systems_beside(), ("made", "7x7")),
                  after(boards.mass_of_a_length(), ("made", "1x19")), after(boards.mass_of_a_length(), ("made", "7x7"), ("size", "3/8"), ("by", "inch table, from memory")),
                  after(boards.load_and_stretch(), ("made", "1x19")), after(boards.load_and_stretch(), ("size", "1/16"), ("load", 300)), after(door.sign_three(), "sign_blind")):
        assert not re.search("was given|accepted:|enter the|constructional|6x7", said(board)), said(board)
    assert "such as" not in said(after(boards.pick_a_size(), ("place", "6 mm")))
    assert "By the EN factor or by geometry it can be worked" in said(after(boards.mass_of_a_length(), ("made", "7x7"), ("size", "3/8"), ("by", "inch table, from memory")))


# --- What the page must say -----------------------------------------------------------------------

def test_the_sheets_say_what_is_owed():
    lines = str(sheets.recap()).splitlines()
    assert 10 <= len(lines) <= 16 and sum(-(-len(line) // 80) for line in lines) <= 40
    practice = str(sheets.practice_sheet())
    assert practice.count("STOP:") == 2 and "table 2000 lbf [8.90 kN], certificate 2040 lbf [9.07 kN]; counts: 2000 lbf" in practice
    lines = practice.splitlines()
    measured, signed = (next(at for at, line in enumerate(lines) if words in line) for words in ("Size over the bare cable", "card is signed"))
    assert measured < signed and "nothing is hung" in practice and not re.search("hook|sand|loaded|weight", practice)
    assert "Of other reels the trainer writes here" in practice
    rows = [line.split(" | ") for line in str(sheets.sources()).splitlines()[1:]]
    assert all(len(row) == 3 and row[2] for row in rows) and {"read", "common practice", "from memory", "computed", "INVENTED"} <= {row[2] for row in rows}
    assert INVENTED in str(st.opening())


def test_order_ones_cable_is_drawn_and_stretch_rates_nothing():
    assert "order 1 takes this one" in st.order_cables().alt and "4300 lbf" in st.order_cables().alt
    assert "rate nothing" in boards.stretch_still().caption and "Never rate a cable by its stretch" in LESSON.markdown
    assert "920 lbf" in st.wrong_drawn().alt and "4200 lbf" in st.wrong_drawn().alt


# --- Another shop ---------------------------------------------------------------------------------

@pytest.mark.parametrize("change, note", [(('system = "US"', 'system = "SI"'), ""), (('"aluminium"', '"tin-plated copper"'), "no aluminium chart row")])
def test_another_shop_is_shown_in_its_own_units_or_the_sample_stands_in(tmp_path, monkeypatch, change, note):
    text = sample_shop_path().read_text(encoding="utf-8")
    assert change[0] in text
    (tmp_path / "shop.toml").write_text(text.replace(*change), encoding="utf-8")
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    assert note in str(st.opening())
    for make in BOARDS:
        assert make().seen.said and make().seen.controls
    assert ("8.90 kN" in door.scene_still().alt or "8.90 |" in door.scene_still().alt) == (not note)
    for fresh in DRAWS[:20]:
        for one in door.three(fresh):
            assert door.right_key(one) in [key for _, key, _ in door.offers(one)]
            assert (door.right_key(one) == "back") == (one.kind in door.BACK)
    for block in (st.chart_rows, st.pairs_table, st.printed_factor, st.wrong_figures, sheets.practice_sheet, sheets.recap, sheets.sources):
        assert str(block())


def test_a_shop_whose_reels_have_no_certificates_shows_the_table_alone(tmp_path, monkeypatch):
    text = re.sub(r"(?m)^certificate(_force)? = .*\n", "", sample_shop_path().read_text(encoding="utf-8"))
    (tmp_path / "shop.toml").write_text(text, encoding="utf-8")
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    assert "none here" in st.systems_still().alt and "no certificate; counts: 2000 lbf" in str(sheets.practice_sheet())
