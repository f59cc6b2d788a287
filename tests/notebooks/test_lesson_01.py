"""Lesson 01: what it alone must show, say and refuse; what every lesson must hold is in test_lessons.py."""

from __future__ import annotations

import re
from math import sqrt

import pytest
from boards import after, said, tones
from stored import stored
from test_lesson_05 import OWN

from rigcalc.cable import band_mm, construction, flats_reading_mm
from rigcalc.errors import Refusal
from rigcalc.figures.cut_ends import rubbed
from rigcalc.figures.cable_faults import FAULTS, HIDDEN, SEEN, length_off_the_reel
from rigcalc.figures.constructions import jaws_on, look_inside, outline, section_wires
from rigcalc.home import installed_folder
from rigcalc.notebook.board import Board
from rigcalc.notebook.course import five_offcuts as five
from rigcalc.notebook.course import inside_a_cable as inside
from rigcalc.notebook.course import measuring_cable as measure
from rigcalc.notebook.course import sound_cable as sound
from rigcalc.shop import sample_shop_path

LESSON = stored(installed_folder() / "lessons" / "01_what_a_cable_is.ipynb")
SECRETS = tuple(f"{n:032x}" for n in range(40))
BOARDS = (measure.dela_says, inside.look_inside_any, inside.count_the_end, measure.turn_the_caliper, five.three_places, inside.rub_the_crowns, sound.before_you_cut)


# --- the outline that a caliper closes on ---------------------------------------------------------

@pytest.mark.parametrize("made", ["7x7", "7x19", "6x7", "6x19"])
def test_jaws_on_six_strands_read_the_diameter_on_crowns_and_the_package_s_share_on_flats(made):
    assert jaws_on(made, 0).apart == pytest.approx(1, abs=1e-12) and jaws_on(made, 60).stands == "crowns"
    assert jaws_on(made, 30).apart == pytest.approx(flats_reading_mm(1.0), abs=1e-12) and jaws_on(made, 90).stands == "flats"
    assert min(jaws_on(made, turn).apart for turn in range(180)) == pytest.approx(flats_reading_mm(1.0), abs=1e-12)


def test_three_strands_never_reach_their_size_between_flat_jaws():
    # by hand: strand radius r = (2 sqrt 3 - 3) / 2, centres 2 r apart: at most 2 r + 2 r, at least sqrt 3 r + 2 r
    r = (2 * sqrt(3) - 3) / 2
    read = [jaws_on("3x7", turn).apart for turn in range(180)]
    assert max(read) == pytest.approx(4 * r, abs=1e-9) and min(read) == pytest.approx((2 + sqrt(3)) * r, abs=1e-9) and max(read) < 0.93
    board = measure.turn_the_caliper()
    board.act_of("made", "3x7")
    assert "never reach the full size" in said(board)


def test_a_single_strand_is_closed_on_by_its_outer_wires():
    assert len(outline("1x7")) == 6 and len(outline("1x19")) == 12
    # twelve circles of radius 0.1 at 0.4: on two of them 0.8 cos 15 degrees + 0.2
    assert jaws_on("1x19", 15).apart == pytest.approx(0.8 * 0.9659258 + 0.2, abs=1e-7)


def test_a_squeezed_cable_reads_less_one_way_and_more_the_other():
    assert jaws_on("7x19", 0, (0.8, 1.1)).apart == pytest.approx(0.8) and jaws_on("7x19", 90, (0.8, 1.1)).apart == pytest.approx(1.1 * flats_reading_mm(1.0))


# --- what the page says ---------------------------------------------------------------------------

def test_dela_s_reading_is_the_misstep_of_the_trade():
    board = measure.dela_says()
    assert "0.171 in" in said(board) and "says 5/32" in said(board)
    board.act_of("said", "5/32")
    assert board.seen.said[0].tone == "no" and "3/16" not in said(board)
    board.act_of("said", "turn")
    assert board.seen.said[0].tone == "ok" and "That is 3/16, not 5/32" in said(board)


def test_the_worked_example_ends_at_the_size_and_names_the_printed_band():
    text = str(measure.worked_reading())
    assert "AC 43.13-1B, Table 7-3" in text and text.splitlines()[-1] == "7. Named | 3/16 in. Dela would have written 5/32"
    assert "5. The printed band of 3/16 | 0.188 in [4.76 mm] to 0.205 in [5.22 mm]" in LESSON.shown  # 0.1875 + 0.018


def test_from_3_16_on_the_flats_can_look_like_the_next_smaller_size():
    rows = [line.split(" | ") for line in str(measure.bands()).splitlines()[2:]]
    looks = {row[0]: row[3] for row in rows}
    names = list(looks)
    for name, like in looks.items():
        thinner = names[names.index(name) - 1]
        # by hand, 3/8: 0.375 to 0.401 in over crowns, its flats 0.342 to 0.365; 11/32 begins at 0.344. 3/16: flats 0.171 to 0.187; 5/32 ends at 0.172
        wanted = "11/32, where it is made thick" if name == "3/8" else f"{thinner}, where it is made thin" if name in names[names.index("3/16"):] else "no other size"
        assert like == wanted, name
    assert "from 3/16 on that can look like the next smaller size" in str(sound.recap())


def test_what_is_not_six_strands_is_among_what_a_reading_could_be():
    # 3x7 reads at least (2 + sqrt 3) r and at most 4 r, r = (2 sqrt 3 - 3) / 2, of its diameter: 1/4 in, 6.35 mm, from 5.50 mm; 7/32, 6.01 mm, to 5.58 mm
    assert "three strands, however the jaws lie | 7/32, 1/4" in str(measure.could_be(5.51)) and "three strands" not in str(measure.could_be(1.0))
    for made in inside.NAMES:
        for size in five.SIZES:
            for turn in (0, 13, 30, 45):
                rows = [line.split(" | ") for line in str(measure.could_be(jaws_on(made, turn).apart * band_mm(size)[0])).splitlines()[2:]]
                assert all(row[1] for row in rows), (made, size, turn)
                if made == "3x7":
                    assert any("three strands" in row[0] and size in row[1].split(", ") for row in rows), (size, turn)
                elif made == "1x19":
                    assert any(size in row[1].split(", ") for row in rows if "coating" not in row[0] and "worn" not in row[0]), (size, turn, rows)


def test_what_a_coat_taken_for_the_size_would_have_cost():
    # AC 43.13-1B Table 7-3: 4200 lbf and 920 lbf
    assert "3/32 7x7 in a coat, taken for 3/16 | 4200 lbf [18.68 kN] | 920 lbf [4.09 kN] | 4.57 times" in LESSON.shown


def test_all_that_a_reading_could_mean_is_named_and_nothing_chosen():
    text = str(measure.could_be(4.34))
    for words in ("it fits 5/32", "inch size across its flats | 3/16", "outside of a coating", "worn or stretched"):
        assert words in text
    assert "6 mm" in str(measure.could_be(6.12)) and "no inch size" in str(measure.could_be(6.12))
    assert not re.search(r"✓|✗|right|wrong", text)


def test_every_name_is_told_with_its_wires_and_its_sleeve():
    text = str(inside.names_told())
    for line in ("7x7 | 7 | 7 | 49 | a strand | yes", "7x19 | 7 | 19 | 133 | a strand | yes", "6x19 | 6 | 19 | 114 | fibre | no", "1x19 | 1 | 19 | 19 | a wire | no",
                 "3x7 | 3 | 7 | 21 | none | no"):
        assert line in text


# --- the boards -----------------------------------------------------------------------------------

def tried(board: Board) -> None:
    """Every value of every control and every part that can be pointed at gives drawings with words and a sentence."""
    begin = dict(board.state)
    for control in board.seen.controls:
        more = dict(control.more)
        values = more.get("values") or ([more["least"], more["most"]] if control.kind == "slider" else [None])
        for value in values:
            board.state = dict(begin)
            before = (board._data()["figures"], said(board))
            board.act_of(control.name, value)
            assert value == begin.get(control.name) or (board._data()["figures"], said(board)) != before, f"{control.name} {value!r} changes nothing"
            assert board.seen.said and all(one.text.endswith((".", "?", "!")) for one in board.seen.said), control.name
            assert all(len(figure.alt) > 40 for figure in board.seen.figures)


@pytest.mark.parametrize("make", BOARDS, ids=lambda one: one.__name__)
def test_every_option_of_every_control_is_answered(make):
    tried(make())


@pytest.mark.parametrize("made", inside.NAMES)
def test_every_part_can_be_pointed_at_and_is_named_by_what_it_is(made):
    board = inside.look_inside_any()
    board.act_of("made", made)
    one = construction(made)
    steel = {wire.strand for wire in section_wires(made)}
    for strand in steel:
        board.act_of("at", str(strand))
        assert ("core" in said(board)) == (strand == 0 and one.strands > 1) and f"{one.wires_per_strand} wires" in said(board)
    board.act_of("level", "wire")
    assert board.seen.figures[0].svg.count("data-pick") == one.wires + (one.core == "fibre")
    outside = 0
    for wire in range(one.wires):
        board.act_of("at", str(wire))
        outside += "It comes to the outside" in said(board)
    outer = one.strands - (one.core == "strand") if one.strands > 1 else 1
    assert outside == outer * one.layers[-1]


def test_a_fibre_core_can_be_pointed_at_and_is_named():
    for level in ("strand", "wire"):
        board = after(inside.look_inside_any(), ("made", "6x7"), ("level", level), ("at", "fibre"))
        assert "fibre, not steel" in said(board) and "Marked: the fibre" in board.seen.figures[0].alt
        assert 'data-value="fibre" data-label="what lies in the middle" data-on="1"' in board.seen.figures[0].svg
    assert 'data-value="fibre"' not in inside.look_inside_any().seen.figures[0].svg


@pytest.mark.parametrize("made", inside.NAMES)
def test_no_two_parts_have_one_name_and_no_name_gives_a_count(made):
    look, count = after(inside.look_inside_any(), ("made", made), ("level", "wire")), inside.count_the_end()
    count.state = count.state | {"made": made}
    for board, levels in ((look, ("strand", "wire")), (count, ("strand", "wire"))):
        for level in levels:
            labels = re.findall(r'data-label="([^"]+)"', after(board, ("level", level)).seen.figures[0].svg)
            assert labels and len(set(labels)) == len(labels) and not any("number" in label for label in labels), labels


@pytest.mark.parametrize("made", inside.NAMES)
def test_a_cut_end_is_counted_and_only_its_own_name_is_right(made):
    one, board = construction(made), inside.count_the_end()
    board.state = {**board.state, "made": made}
    for strands in inside.COUNTS:
        for wires in inside.COUNTS:
            board.act_of("said_strands", strands)
            board.act_of("said_wires", wires)
            board.act_of("say")
            assert (board.seen.said[0].tone == "ok") == ((strands, wires) == (one.strands, one.wires_per_strand))
            if board.seen.said[0].tone == "no":
                assert f"{one.wires} wires" not in said(board) and one.designation not in said(board).split()


def test_marks_are_counted_as_they_are_set_and_taken_away_and_no_label_tells_the_name():
    board = inside.count_the_end()
    for strand in ("0", "3", "3", "5"):
        board.act_of("mark", strand)
    assert "2 bundles" in said(board)
    board.act_of("level", "wire")
    assert board.seen.figures[0].svg.count("data-pick") == 19
    assert not re.search(r"7x|strand|core|19", " ".join(re.findall(r'data-label="([^"]+)"', board.seen.figures[0].svg)).replace("number", "")[:40])
    assert "7x19" not in repr(board).partition("Control:")[0]
    board.act_of("say")
    assert "not chosen yet" in said(board) and "Refused" not in said(board)


def test_a_name_that_is_right_without_all_its_marks_is_told_so():
    board = after(inside.count_the_end(), ("said_strands", 7), ("said_wires", 19), "say")
    assert tones(board)[0] == "ok" and "Not all of them are marked" in said(board)
    for level, count, first in (("strand", 7, 0), ("wire", 19, 19)):
        after(board, ("level", level), *(("mark", str(first + at)) for at in range(count)))
    assert tones(after(board, "say"))[0] == "ok" and "Not all" not in said(board)


def test_another_end_is_another_construction_with_its_secret_kept():
    board = inside.count_the_end()
    board.act_of("mark", "1")
    board.act_of("fresh")
    assert board.state["made"] != "7x19" and board.state["strands"] == [] and len(board.state["fresh"]) == 32


def test_thin_wires_are_rubbed_through_first_and_thick_ones_strained_more():
    depths = [step / 100 for step in range(1, 21)]
    assert all(rubbed("7x19", d).through >= rubbed("7x7", d).through for d in depths)
    # by hand: a wire is gone when its whole thickness lies above the line: 1/9 and 1/15 of the diameter
    assert [rubbed("7x7", d).through for d in (0.1111, 0.1112)] == [0, 1] and [rubbed("7x19", d).through for d in (0.0666, 0.0667)] == [0, 1]
    assert "7x7 | 0.26 mm | 0 through, 0 touched | 0.0% | 1.67" in str(inside.rub_view({"depth": 0}).under)  # 15 / 9


# --- faults ---------------------------------------------------------------------------------------

def test_every_fault_comes_and_three_lengths_are_sound():
    for secret in ("", *SECRETS):
        kinds = sound.lengths(secret)
        assert sorted(one.kind for one in kinds if not one.sound) == sorted(FAULTS) and sum(one.sound for one in kinds) == 3


def decided(*acts) -> Board:
    board = sound.before_you_cut()
    for one, (wipe, because, act) in zip(sound.LENGTHS, acts):  # `because` of True: what it is
        after(board, *["wipe"] * wipe, ("because", one.cause if because is True else because), act or ("accept" if one.sound else "reject"))
    return board


def test_false_accepts_and_false_rejects_are_counted_apart():
    right = decided(*[(True, True, "")] * 8)
    assert "let through: 0 of 5" in said(right) and "laid aside: 0 of 3" in said(right) and "cause you named: 5 of 5. Decided with grease still on: 0" in said(right)
    accepted = decided(*[(True, "sound", "accept")] * 8)
    assert "let through: 5 of 5" in said(accepted) and "laid aside: 0 of 3" in said(accepted)
    rejected = decided(*[(False, "kink", "reject")] * 8)
    assert "let through: 0 of 5" in said(rejected) and "laid aside: 3 of 3" in said(rejected) and "named: 1 of 5. Decided with grease still on: 3" in said(rejected)


def test_a_right_decision_over_grease_is_called_luck_and_a_wrong_reason_is_said():
    board = decided((True, True, ""), (True, True, ""), (False, True, ""))
    assert "That was luck" in said(board)
    board = decided((True, "kink", "reject"))
    assert "a reject, but for another reason: birdcage" in said(board)


def test_nothing_is_decided_before_a_finding_is_said_or_against_it():
    board = after(sound.before_you_cut(), "accept")
    assert board.state["at"] == 0 and "and have not said what you find" in said(board)
    after(board, ("because", "broken wire"), "accept")
    assert board.state["at"] == 0 and "You find: broken wire. And you want to cut here?" in said(board)
    after(board, ("because", "sound"), "reject")
    assert board.state["at"] == 0 and "You find it sound, and you lay it aside" in said(board)


def test_grease_hides_in_words_what_it_hides_in_the_drawing_and_no_length_is_named():
    for kind in SEEN:
        figure = length_off_the_reel(kind, 0.5, kind in HIDDEN, "Length 1")
        assert kind not in figure.svg and (kind not in HIDDEN or SEEN[kind] not in figure.alt)
        assert kind in HIDDEN or SEEN[kind] in figure.alt


# --- sheets ---------------------------------------------------------------------------------------

def test_the_abilities_are_the_skills_of_this_lesson():
    assert [int(number) for number in re.findall(r"^(\d+) \|", str(sound.abilities()), re.M)] == list(range(5, 12))


def test_the_recap_fits_one_page():
    lines = str(sound.recap()).splitlines()
    assert 10 <= len(lines) - 2 <= 16 and sum(-(-len(line) // 80) for line in lines) <= 40


def test_the_practice_sheet_takes_its_tolerance_from_the_shop_and_makes_nothing_up():
    text = str(sound.practice_sheet())
    assert "within 0.002 in [0.05 mm]" in text and text.count("STOP:") == 2 and "No offcut without a label is ever made up" in text


def test_sources_say_how_they_are_known():
    rows = [line.split(" | ") for line in str(sound.sources()).splitlines()[1:]]
    assert all(len(row) == 3 and row[2] for row in rows)
    assert {"read", "common practice", "computed", "from memory", "INVENTED"} <= {row[2] for row in rows}


# --- another shop ---------------------------------------------------------------------------------

def test_the_page_speaks_in_the_units_and_with_the_tolerance_of_another_shop(tmp_path, monkeypatch):
    text = sample_shop_path().read_text(encoding="utf-8")
    for old, new in (*OWN, ('system = "US"', 'system = "SI"'), ('diameter_tolerance = "0.05 mm"', 'diameter_tolerance = "0.03 mm"')):
        assert old in text
        text = text.replace(old, new)
    (tmp_path / "shop.toml").write_text(text, encoding="utf-8")
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path))
    assert "4.35 mm [0.171 in]" in said(measure.dela_says()) and "18.68 kN [4200 lbf]" in str(measure.misleading_table())
    assert "within 0.03 mm" in str(sound.practice_sheet()) and "all within 0.03 mm" in str(measure.worked_reading())
    assert "D. Keeper" in str(sound.recap()) and "DO NOT GAUGE" not in str(sound.practice_sheet())


def test_a_construction_off_the_table_is_refused():
    with pytest.raises(Refusal, match="accepted: 7x7, 7x19"):
        look_inside("8x19")
