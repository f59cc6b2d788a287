"""An order as a file: mistakes with their lines, the fill-in file, and a refusal answered in writing."""

from __future__ import annotations

import dataclasses
import re
from pathlib import Path

import pytest

from rigcalc.assembly import Order, OrderPiece
from rigcalc.cautions import INVENTED
from rigcalc.cli import main
from rigcalc.errors import Refusal
from rigcalc.shop import sample_shop_path
from rigcalc.shop.order_file import FACTS, FILL_IN, OPTIONS, OrderFile, read_order_file

FOLDER = Path(__file__).resolve().parents[2] / "lessons" / "orders"


# --- the order file ---------------------------------------------------------------------------------------

def written(tmp_path, *lines):
    path = tmp_path / "order.toml"
    path.write_text("\n".join(lines), encoding="utf-8")
    return str(path)


@pytest.mark.parametrize("lines, said", [
    (("# a remark", 'what = "wire"', 'length = "500"'), "line 3, length: the length '500' without a unit"),
    (('[[piece]]', 'name = "a"', 'length = "5 parsecs"'), "line 3, piece 1 length"),
    (('[[piece]]', 'nam = "a"'), "did you mean name?"), (('piece = "a"',), "double brackets"),
    (('what = "a wire"', 'quantity = 2.5'), "line 2, quantity"), (('what = "' + "x" * 301 + '"',), "301 signs"),
    (('use = "people"', 'designer = "none"'), "line 2, designer")])
def test_a_mistake_is_told_with_its_line_and_field(tmp_path, lines, said):
    with pytest.raises(Refusal) as refused:
        read_order_file(written(tmp_path, *lines))
    assert said in str(refused.value) and "\n" not in str(refused.value)


def test_several_mistakes_are_told_in_the_order_of_their_lines(tmp_path, capsys):
    path = written(tmp_path, 'length = "500"', 'what = "wire"', 'load = "5 kg"', 'use = "somebody"')
    with pytest.raises(OrderFile) as refused:
        read_order_file(path)
    assert [problem.line for problem in refused.value.problems] == [1, 3, 4]
    assert main(["job", path]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert "3 mistakes" in lines[0] and [line.split(":")[0] for line in lines[1:]] == ["  line 1", "  line 3", "  line 4"]


def test_refused_work_is_refused_before_any_of_its_answers_is_read(tmp_path, capsys):
    assert main(["job", written(tmp_path, 'what = "hoist for an engine"', 'length = "500"', 'load = "5"')]) == 2
    assert "no lifting sling" in capsys.readouterr().err


def test_the_fill_in_file_asks_every_fact_once_and_its_blanks_are_asked_for(tmp_path, capsys):
    new = tmp_path / "new.toml"
    assert main(["job", "--new", str(new)]) == 0
    assert new.read_text(encoding="utf-8") == FILL_IN and "rigcalc job" in capsys.readouterr().out
    facts = [field.name for field in dataclasses.fields(Order) if field.name != "pieces"]
    assert sorted(re.findall(r'^(\w+) = ""$', FILL_IN, re.MULTILINE)) == sorted(facts)
    assert sorted(name for _, part in FACTS for name, _ in part) == sorted(facts) == sorted(name for name, _ in OPTIONS.values())
    assert main(["job", str(new)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1 + 17
    assert main(["job", "--new", str(new)]) == 2 and "nothing was changed" in capsys.readouterr().err


def test_the_blocks_of_the_fill_in_file_read_once_their_marks_are_taken_away(tmp_path):
    text = FILL_IN.replace("# [[piece]]", "[[piece]]").replace('# name = "', 'name = "').replace('# length = "', 'length = "').replace('# quantity = "', 'quantity = "')
    path = tmp_path / "order.toml"
    path.write_text(text, encoding="utf-8")
    assert read_order_file(str(path)).pieces == (OrderPiece("left leg", "1.50 m", "1"),)


# --- answered in writing --------------------------------------------------------------------------------------

def test_a_refusal_goes_out_as_a_letter(capsys):
    path = str(FOLDER / "09_engine_hoist.toml")
    for form in ("text", "html"):
        assert main(["job", path, "--letter", "--as", form, "--shop", str(sample_shop_path())]) == 2
        out = " ".join(capsys.readouterr().out.split())
        for words in ("order 9", "We do not make this", "no lifting sling", "qualified rigger", INVENTED):
            assert words in out, words


def test_questions_go_out_as_a_letter_without_the_bench_s_options(capsys):
    assert main(["job", str(FOLDER / "03a_lantern_no_designer.toml"), "--letter", "--shop", str(sample_shop_path())]) == 2
    out = capsys.readouterr().out
    assert "Which qualified person" in out and "--designer" not in out


@pytest.mark.parametrize("name, changes, said", [
    ("06b_mast_stays_offcut.toml", (), "the bench's matter"), ("02_cafe_wires.toml", ("--fittings", "big hook"), "the bench's matter"),
    ("02_cafe_wires.toml", ("--tool", "LC"), "the bench's matter"), ("02_cafe_wires.toml", ("--reel", ""), "only the shop's own questions")])
def test_what_the_bench_has_to_mend_is_no_letter(capsys, name, changes, said):
    assert main(["job", str(FOLDER / name), *changes, "--letter", "--shop", str(sample_shop_path())]) == 2
    out, err = capsys.readouterr()
    assert out == "" and said in err


def test_a_letter_for_an_order_that_can_be_made_is_refused(capsys):
    assert main(["job", str(FOLDER / "02_cafe_wires.toml"), "--letter", "--shop", str(sample_shop_path())]) == 2
    assert "a job sheet comes out" in capsys.readouterr().err


def test_what_is_no_order_file_is_told(tmp_path):
    large = tmp_path / "large.toml"
    large.write_text("# " + "x" * 100_000, encoding="utf-8")
    for path, said in ((large, "at most 100000"), (tmp_path / "none.toml", "No such file"), (tmp_path, "may be read")):
        with pytest.raises(Refusal, match=said):
            read_order_file(str(path))
    with pytest.raises(Refusal, match="line 2: "):
        read_order_file(written(tmp_path, "a = 1", "b = "))
    assert main(["job", "--new", str(tmp_path / "no" / "such" / "folder.toml")]) == 2
    assert main(["job", str(large), "--order", str(large)]) == 2
