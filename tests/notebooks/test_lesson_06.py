"""Lesson 06: sleeves pressed stroke by stroke and judged, its live figures in every state that matters, and what it must say."""

from __future__ import annotations

import re

import pytest
from boards import after, said, verdicts
from stored import stored
from test_other_shops import own_text

from rigcalc.cautions import INVENTED, INVENTED_GAUGE
from rigcalc.errors import Refusal
from rigcalc.home import installed_folder
from rigcalc.notebook.board import Board
from rigcalc.notebook.course import chart_boards as wall
from rigcalc.notebook.course import crimp_boards as press
from rigcalc.notebook.course import crimp_sheets as sheets
from rigcalc.notebook.course import crimping
from rigcalc.questions import load_families
from rigcalc.shop import check_shop
from rigcalc.sleeve import ChartRow

LESSON = stored(installed_folder() / "lessons" / "06_crimps.ipynb")
BOARDS = (wall.first_look, wall.find_the_row, wall.find_the_tool, press.one_more, press.place_the_crimps, press.six_sleeves, press.tilting)


def strokes(*places):
    return [act for at in places for act in (("jaws", at), "press")]


def faults(job, *places) -> list[str]:
    piece = crimping.start(job)
    for at in places:
        piece = crimping.pressed(piece, at, job)
    return [name for name, _ in crimping.judge(piece, job)]


# --- The worked example, by hand from chart LB-AL, 1/8: 15 to 20 mm, 3 crimps of 4.5 mm, gaps from 0.5 mm ---------------

def test_the_worked_example_is_the_charts_and_the_hand_worked_shares():
    text = str(sheets.spacing())
    assert "13.5 mm" in text and "left bare | 6.5 mm" in text and "gaps 1.6 mm, ends 1.6 mm" in text  # 6.5 / 4 = 1.625
    worked = str(sheets.worked())
    for words in ("LB-AL", "edition 5", "cavity P: 3 crimps", "press place 2, then 1, then 3", "slot 1/8", "upright", "INVENTED"):
        assert words in worked, words
    assert text in LESSON.shown and worked in LESSON.shown


def test_another_sleeves_order_and_counts_say_whose_they_are():
    text = str(sheets.another_order())
    assert "Another sleeve's order" in text and "7-148c: read" in text
    counts = [line for line in text.splitlines() if line.startswith("counts")]
    assert len(counts) == 1 and "FROM MEMORY" in counts[0] and "presses nothing here" in counts[0]
    assert "3/32: 1; 1/8: 3; 5/32: 3; 3/16: 4" in text and "1/4: 3; 5/16: 3" in text and text in LESSON.shown


def test_the_page_says_what_is_known_and_how():
    text = str(sheets.sources())
    for words in ("from memory: accepts nothing", "common practice", "INVENTED", "7-148b(2)", "7-148c", "read; another sleeve's"):
        assert words in text, words
    assert INVENTED in LESSON.shown and INVENTED_GAUGE in LESSON.shown


def test_recap_and_practice_sheet_are_filled_from_the_chart_in_force():
    assert 10 <= len(re.findall(r"(?m)^\d+\. ", str(sheets.recap()))) <= 16
    text = str(sheets.practice_sheet())
    assert text.count("STOP: ") >= 4
    for words in ("cavity P", "none under 0.020 in [0.5 mm]", "within 0.039 in [1 mm]", "slot 1/8", "25/32 in [20 mm]"):
        assert words in text, words


def test_a_wrong_answer_points_to_this_lesson_and_no_order_is_asked_twice():
    asked = re.findall(r'Exercise\("([\w-]+)"\)', " ".join(cell.source for cell in LESSON.code))
    assert len(asked) >= 10 and "order-of-crimps" not in asked  # lesson 05 asks that one
    assert not [name for name in asked if not load_families()[name].section.startswith("06#")]


# --- Pressing ---------------------------------------------------------------------------------------

def test_a_sleeve_grows_to_the_charts_length_and_its_crimps_move():
    job = crimping.lesson_job()
    piece = crimping.start(job)
    for at in (7.5, 3, 15.25):
        piece = crimping.pressed(piece, at, job)
    assert not piece.marks and piece.length_mm == pytest.approx(20) and piece.turns == (2, 1, 3)
    # by hand: 7.5 -> 8.333; 3 -> 3.833, the first -> 10; 15.25 -> 16.083
    assert [at for at, _ in sorted(piece.crimps)] == pytest.approx([3.8333, 10, 16.0833], abs=1e-3)
    gaps, near, far = crimping.gaps_of(piece, 4.5)
    assert gaps == pytest.approx([1.6667, 1.5833], abs=1e-3) and (near, far) == pytest.approx((1.5833, 1.6667), abs=1e-3)


@pytest.mark.parametrize("places, found", [
    ((7.5, 3, 15.25), []),
    ((3, 9.25, 15.25), ["order"]),  # from one end to the other
    ((7.5, 15, 3), ["order"]),  # 2, 3, 1
    ((7.5, 3), ["too few"]),
    ((7.5, 3, 18), ["over the end"]),
    ((7.5, 5.5, 15.25), ["overlap"]),
    ((0, 7.5, 14), ["over the end"]),
])
def test_a_finished_piece_is_judged_by_the_chart(places, found):
    names = faults(crimping.lesson_job(), *places)
    assert set(found) <= set(names) and bool(found) == bool(names)


def test_one_too_many_and_a_bare_end_are_found():
    job = crimping.lesson_job()
    assert "too many" in faults(job, 7.5, 3, 15.25, 9.5)
    assert "bare end" in [name for name, _ in crimping.judge(press._made("bare end")[0], job)]
    assert [name for name, _ in crimping.judge(crimping.Piece(20, ((3.85, 2), (8.85, 1), (16.1, 3))), job)] == ["uneven"]  # gaps 0.5 and 2.75
    uneven = dict(crimping.judge(crimping.Piece(20, ((3.85, 2), (7.35, 1), (16.1, 3))), job))["uneven"]
    assert "a crimp that overlaps by 1.0 mm, 4.3 mm" in uneven and "-" not in uneven
    assert [name for name, _ in crimping.judge(crimping.Piece(20, ((5, 2), (9.9, 1), (14.8, 3))), job)] == ["too close", "bare end"]  # gaps 0.4


def test_only_end_to_end_without_the_charts_order_curves_the_sleeve():
    job, two = crimping.lesson_job(), next(one for one in crimping.jobs() if one.key == "BB-AL 1/8")
    for places, curved in (((3, 8, 13.5), True), ((12, 7.5, 3), True), ((7.5, 3, 15.25), False)):
        piece = crimping.start(job)
        for at in places:
            piece = crimping.pressed(piece, at, job)
        assert bool(crimping.bend_of(piece, job)) == curved
    piece = crimping.pressed(crimping.pressed(crimping.start(two), 4, two), 13.5, two)
    assert not crimping.bend_of(piece, two) and not crimping.judge(piece, two)  # its chart says 1, 2


def by_the_chart(job):
    """A person who presses in the chart's order with room left for what is still to grow, the jaws on whole steps of the page."""
    piece, row, grown, placed = crimping.start(job), job.row, job.growth_mm, []
    for place in row.order:
        spans, done, width = piece.spans(row.crimp_width_mm), sorted(placed), row.crimp_width_mm
        low = max((one for one in placed if one < place), default=0)
        high = min((one for one in placed if one > place), default=row.count + 1)
        a = spans[done.index(low)][1] if low else 0.0
        b = spans[done.index(high)][0] if high <= row.count else piece.length_mm
        here, first = high - low - 1, place - low
        gap = (b - a + here * grown - here * width) / (here + 1)
        at = a + first * gap + (first - 0.5) * (width - grown)
        at = crimping.JAW_STEP * round(at / crimping.JAW_STEP)
        yield at
        piece = crimping.pressed(piece, at, job)
        placed.append(place)


@pytest.mark.parametrize("key", [one.key for one in crimping.jobs()])
def test_every_sleeve_on_offer_can_be_pressed_right_on_the_page(key):
    job = next(one for one in crimping.jobs() if one.key == key)
    board = after(press.place_the_crimps(), ("job", key), *strokes(*by_the_chart(job)), "done")
    assert verdicts(board) == ["ok"], said(board)


@pytest.mark.parametrize("key", [one.key for one in crimping.jobs()])
def test_the_jaws_on_the_pen_marks_in_the_charts_order_make_even_shares(key):
    job = next(one for one in crimping.jobs() if one.key == key)
    board = after(press.place_the_crimps(), ("job", key))
    for place in job.row.order:
        at = next(at for at, name in board.state["piece"].marks if name == place)
        assert f"pen mark of place {place}, " in board.seen.figures[0].svg
        after(board, ("spot", f"{at:.4f}"), "press")
    gaps, near, far = crimping.gaps_of(board.state["piece"], job.row.crimp_width_mm)
    plan = crimping.finished_plan(job)
    assert gaps == pytest.approx(list(plan.gaps_mm), abs=1e-3) and (near, far) == pytest.approx((plan.end_mm, plan.end_mm), abs=1e-3)
    assert not board.state["piece"].marks and verdicts(after(board, "done")) == ["ok"]


def test_the_page_says_where_the_jaws_are_set_on_the_unpressed_sleeve():
    assert "pen marks, from the thimble end | 3.0, 7.5, 12.0 mm" in str(press.place_the_crimps()) and "goes on a pen mark" in said(press.place_the_crimps())
    assert "3.0, 7.5, 12.0 mm" in str(sheets.spacing())  # by hand: 3.875 - 0.833; 10 - 2.5; 16.125 - 4.167
    assert "place 1 at 3 mm; place 2 at 7.5 mm; place 3 at 12 mm" in press.place_the_crimps().seen.figures[0].alt


@pytest.mark.parametrize("places, words, never", [
    ((7.5, 2), "Reject, for 2 reasons", "added"),  # over the end, and one short
    ((7.5, 3), "the missing one is added", "Reject"),
    ((7.5, 3, 18), "Reject", "added"),
    ((3, 9.25, 15.25), "Reject", "added"),
])
def test_one_drawing_gets_one_verdict(places, words, never):
    board = after(press.place_the_crimps(), *strokes(*places), "done")
    assert verdicts(board) == ["no"] and words in said(board) and never not in said(board) and said(board).count("Reject") == words.count("Reject"), said(board)


def test_without_an_order_in_the_chart_the_maker_is_asked_first():
    job = crimping.lesson_job()
    row = ChartRow("1/8", "P", 3, None, "", 15.0, 20.0, minimum_gap_mm=0.5, crimp_width_mm=4.5)
    silent = crimping.Row(job.shop, job.chart, row)
    assert faults(silent, 7.5, 3, 15.25) == ["no order"]


@pytest.fixture
def own_shop(tmp_path, monkeypatch):
    """Write a shop file of one's own that lacks some charts."""
    def write(*without: str):
        monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
        parts = re.split(r"(?m)^(?=\[\[)", own_text())
        kept, left = [], False
        for part in parts:
            left = part.startswith("[[chart") and (any(f'id = "{one}"' in part for one in without) if part.startswith("[[chart]]") else left)
            kept += [] if left else [part]
        (tmp_path / "shop.toml").write_text("".join(kept), encoding="utf-8")
        assert not check_shop(tmp_path / "shop.toml")
        forget()

    def forget():
        crimping.jobs.cache_clear()
        crimping.disagreeing.cache_clear()

    yield write
    forget()


@pytest.mark.parametrize("without, stands", [((), ""), (("BB-AL",), "the two charts that disagree"), (("LB-AL", "LC-AL", "LB-ZC"), "the sleeve to press")])
def test_another_shop_is_taught_with_its_own_charts_and_what_stands_in_is_said(own_shop, without, stands):
    own_shop(*without)
    text = str(wall.opening())
    assert stands in text and ("the invented sample shop's stand here" in text) == bool(stands)
    assert stands in wall.opening().html.split("</div>")[-1], "outside what the page's head has said, or the clean view hides it"
    assert all(make().seen.said for make in BOARDS)
    assert "STOP" in str(sheets.practice_sheet()) and str(sheets.recap()) and str(sheets.worked())


# --- All boards -------------------------------------------------------------------------------------

@pytest.mark.parametrize("make", BOARDS)
def test_every_offer_of_every_control_gives_a_view_that_says_something(make):
    for control in make().seen.controls:
        more = dict(control.more)
        offers = more["values"] if control.kind == "choice" else (more["least"], more["most"]) if control.kind == "slider" else (True, False) if control.kind == "tick" else (None,)
        for offer in offers:
            one = after(make(), (control.name, offer))
            assert one.seen.said and one.seen.controls, (control.name, offer)


@pytest.mark.parametrize("make", BOARDS)
def test_no_part_to_point_at_has_the_name_of_a_control(make):
    seen = make().seen
    picks = {name for figure in seen.figures for name in re.findall(r'data-pick="([^"]+)"', figure.svg)}
    assert not picks & {control.name for control in seen.controls}


@pytest.mark.parametrize("make, name, value", [
    (wall.find_the_row, "row", "LB-AL 1/8"), (wall.find_the_tool, "hole", "LB R"), (press.place_the_crimps, "spot", "7.5"), (press.six_sleeves, "piece", "D")])
def test_a_page_can_point_at_the_parts(make, name, value):
    board = make()
    before = dict(board.state)
    board.hear({"name": name, "value": value, "picked": True})
    assert board.state != before


@pytest.mark.parametrize("make", [press.place_the_crimps, press.six_sleeves, press.tilting, wall.find_the_tool])
def test_fresh_ones_keep_their_secret_as_hex(make):
    board = after(make(), "fresh")
    assert re.fullmatch(r"[0-9a-f]{32}", board.state["fresh"]) and board.seen.said


# --- Place the crimps -------------------------------------------------------------------------------

def test_nothing_is_judged_before_done_and_nothing_is_pressed_after():
    board = after(press.place_the_crimps(), *strokes(3, 9.25, 15.25))
    assert not verdicts(board) and board.state["piece"].turns == (1, 2, 3)
    after(board, "done")
    assert verdicts(board) == ["no"] and "Pressed in the order 1, 2, 3. The chart says 2, 1, 3" in said(board) and "curved" in said(board)
    assert not {"press", "jaws", "done"} & {one.name for one in board.seen.controls} and "data-pick" not in board.seen.figures[0].svg
    with pytest.raises(Refusal):
        press.place_step(board.state, "press")


def test_done_with_no_crimp_is_refused_and_strokes_have_an_end():
    board = after(press.place_the_crimps(), "done")
    assert "a sleeve without a crimp" in said(board) and not board.state["done"]
    after(board, *strokes(*[5] * press.MOST_STROKES))
    assert len(board.state["piece"].crimps) == press.MOST_STROKES and "press" not in {one.name for one in board.seen.controls}
    with pytest.raises(Refusal):
        press.place_step(board.state, "press")


def test_the_drawing_grows_and_tells_no_verdict():
    board = press.place_the_crimps()
    lengths = [re.search(r"eye, ([\d.]+) mm long", after(board, *acts).seen.figures[0].alt)[1] for acts in ([], strokes(7.5), strokes(3), strokes(15.25))]
    assert lengths == ["15", "16.7", "18.3", "20"]
    assert "reject" not in board.seen.figures[0].alt.lower()


# --- The chart in force -----------------------------------------------------------------------------

def look(metal, size, tool, pointed, cavity="") -> Board:
    board = after(wall.find_the_row(), ("metal", metal), ("size", size), ("tool", tool))
    if cavity:
        after(board, ("cavity", cavity))
    return after(board, ("none", None) if pointed == "none" else ("row", pointed))


@pytest.mark.parametrize("metal, size, tool, pointed, tone, words", [
    ("aluminium", "1/8", "LB", "LB-AL 1/8", "ok", "3 crimps, press place 2, then 1, then 3"),
    ("aluminium", "1/8", "BB", "LB-AL 1/8", "no", "BB-AL, 1/8: 2 crimps"),
    ("aluminium", "1/8", "", "none", "ok", "two charts must not be mixed"),
    ("aluminium", "7/32", "LB", "none", "ok", "nearest sizes 3/16"),
    ("aluminium", "7/32", "", "none", "ok", "nearest sizes 3/16 or 1/4"),
    ("aluminium", "7/32", "", "LC-AL 1/4", "no", "nearest sizes 3/16 or 1/4"),
    ("zinc-plated copper", "1/8", "LB", "LB-ZC 1/8", "ok", "4 crimps"),
    ("tin-plated copper", "1/8", "LB", "none", "ok", "ask the maker"),
    ("stainless", "1/8", "", "none", "ok", "no chart in the shop file"),
    ("aluminium", "1/8", wall.BORROWED, "none", "ok", "nothing that will ever be used is pressed in it. Ask its maker"),
    ("aluminium", "1/8", wall.BORROWED, "LB-AL 1/8", "no", "for a practice piece alone: the trainer looks on"),
])
def test_the_row_in_force_or_the_refusal_that_names_its_neighbours(metal, size, tool, pointed, tone, words):
    board = look(metal, size, tool, pointed)
    assert verdicts(board) == [tone] and words in said(board), said(board)


def test_a_row_tells_its_edition_and_who_copied_and_checked_it():
    under = look("aluminium", "1/8", "LB", "LB-AL 1/8", "P").seen.under.text
    for words in ("edition | 5", "copied by | Parvel Minch", "checked by | Ines Varrow", "tool and cavity | LB, P", "drawing 1"):
        assert words in under, words
    assert wall.find_the_row().seen.under is None


def test_the_wrong_cavity_is_refused_by_name():
    assert "the 5/32 sleeve there" in said(look("aluminium", "1/8", "LB", "LB-AL 1/8", "Q"))


def test_what_else_is_printed_for_a_size_is_marked():
    text = after(wall.find_the_row(), ("others", True)).seen.under.text
    assert "FROM MEMORY" in text and "common practice: a practice piece alone" in text and "7-148c, read" in text and "No piece that will be used" in text
    assert "nothing is printed" in str(wall.other_counts("11/32"))


# --- The scene, tools, one more, six pieces, the tilt ------------------------------------------------

def test_the_missing_sizes_are_named_and_the_leaning_sleeve_is_not_given_away():
    assert wall.missing_sizes().html.startswith('<div class="answer">') and "3/64, 7/32, 9/32, 11/32, 3/8" in str(wall.missing_sizes())
    assert "stand it up" not in press.tilt_still().svg and "reject" not in repr(press.tilt_still())
    assert press.tilt_told().html.startswith('<div class="answer">') and "open and stand it up" in str(press.tilt_told())


@pytest.mark.parametrize("took, tone", [("first", "no"), ("second", "no"), ("more", "no"), ("both", "ok")])
def test_both_charts_stand_each_at_its_bench(took, tone):
    board = after(wall.first_look(), took)
    assert verdicts(board) == [tone] and ("3 in LB, 2 in BB" in said(board)) == (took == "both")


@pytest.mark.parametrize("metal, size, pointed, tone, words", [
    ("aluminium", "1/8", "LB P", "ok", "tool LB, cavity P"), ("aluminium", "1/8", "BB 2", "ok", "So would LB, cavity P"),
    ("aluminium", "1/8", "LB Q", "no", "larger sleeve"), ("aluminium", "1/8", "BB 1", "no", "smaller sleeve"),
    ("aluminium", "7/32", "none", "ok", "skip sizes"), ("aluminium", "3/8", "LC Y", "no", "smaller sleeve"),
    ("zinc-plated copper", "3/16", "LB R", "no", "A hole is no chart"), ("zinc-plated copper", "3/16", "none", "ok", "A hole is no chart"),
    ("zinc-plated copper", "1/8", "BB 2", "no", "no chart for tool BB"), ("aluminium", "3/16", "none", "no", "tool LB, cavity R"),
])
def test_tool_and_cavity_or_none(metal, size, pointed, tone, words):
    board = after(wall.find_the_tool(), ("metal", metal), ("size", size), ("none", None) if pointed == "none" else ("hole", pointed))
    assert verdicts(board) == [tone] and words in said(board), said(board)


@pytest.mark.parametrize("count, tone, words", [(2, "no", "grips nothing"), (3, "ok", "3"), (4, "no", "no stronger"), (5, "no", "need a sleeve of 24.5 mm")])
def test_one_more_is_no_stronger(count, tone, words):
    board = after(press.one_more(), ("many", count))
    assert not verdicts(board)
    after(board, "this")
    assert verdicts(board) == [tone] and words in said(board)
    # 20 mm less four crimps of 4.5 mm, over five places: 0.4 mm, where the chart wants 0.5 mm
    assert ("0.4 mm would stay at each place, less than the 0.5 mm" in said(board)) == (count == 4)


@pytest.mark.parametrize("fault", press.PIECES)
def test_each_of_the_six_pieces_has_the_fault_that_is_told(fault):
    piece, bend = press._made(fault)
    found = [name for name, _ in crimping.judge(piece, crimping.lesson_job())]
    assert (found[0] == fault if fault else not found) and bool(bend) == (fault == "order")
    board = after(press.six_sleeves(), ("piece", "ABCDEF"[press.PIECES.index(fault)]), ("fault", fault), "say")
    assert verdicts(board) == ["ok"]


def test_six_pieces_are_counted_at_the_first_word_and_hide_their_names():
    board = press.six_sleeves()
    assert not any(words in board.seen.figures[0].alt for words in press.FAULTS.values())
    after(board, "say")
    assert "No word on piece A" in said(board)
    for letter, fault in zip("ABCDEF", press.PIECES, strict=True):
        after(board, ("piece", letter), ("fault", "overlap"), "say", ("fault", fault), "say")
    assert "1 of 6 at the first word" in said(board)
