"""What the shop file's checker and the job sheet say: one true complaint, and plain figures."""

import dataclasses
import re
import subprocess
import sys
from datetime import date

import pytest

from rigcalc._order import WORDS_CHECKED
from rigcalc.assembly import Order, job_sheet
from rigcalc.shop import load_shop, sample_shop_path
from rigcalc.shop.load import check_shop
from rigcalc.shop.sheet import as_html, as_text

SAMPLE = sample_shop_path().read_text(encoding="utf-8")
SHOP = load_shop(sample_shop_path())
ORDER = Order(number="7", what="trellis wires", where="courtyard", use="nobody", near="nobody", load="150 lbf",
              load_from="the customer", movement="none", held="no", lifts="no", service="outdoor", ends="two thimble eyes", length="2.40 m",
              measured="pin to pin", quantity="1", tightened="no", installer="the gardener", reel="R5")


def problems(tmp_path, pattern, new):
    text, changed = re.subn(pattern, new, SAMPLE, count=1, flags=re.MULTILINE)
    assert changed
    path = tmp_path / "shop.toml"
    path.write_text(text, encoding="utf-8")
    return [str(problem) for problem in check_shop(path)]


@pytest.mark.parametrize("pattern, new, says, never", [
    (r"^certificate_force.*", 'certificate_force = "935,5 lbf"', "it has a comma: write a point.", "add certificate_force"),
    (r"^certificate_force.*", 'certificate_force = "2,000 lbf"', "leave it out between thousands", "add certificate_force"),
    (r"^certificate_force.*", 'certificate_force = "much"', "certificate_force", "add certificate_force"),
    (r"^trainer.*", 'trainer = ""', "write a name", "write the text in quotes"),
    (r"^count = .*", "count = 2,5", "a comma in a number", "name = value"),
    (r'^hold = "432 lbf"', 'hold = "10 N"', "about what an eye of 1/16 cable is taken to hold", "add hold"),
    (r'^hold = "432 lbf"', 'hold = "100 kN"', "about what an eye of 1/16 cable is taken to hold", "add hold"),
    (r"^rule = .*", 'rule = "50 percent of the breaking force"', 'did you mean "50 percent of the breaking force, British aircraft practice"?', "did you mean \"60"),
    (r"^set_on.*", "set_on = 2026-02-31", "a date that is no day", "name = value"),
    (r"^\[\[reel\]\]", '[[chart.row]]\nsize = "1/8"\n\n[[reel]]', "stands before any [[chart]]", "same field")])
def test_one_mistake_brings_one_true_complaint(tmp_path, pattern, new, says, never):
    found = problems(tmp_path, pattern, new)
    assert len(found) == 1 and says in found[0] and never not in found[0], found


def test_a_chart_row_without_any_chart_is_told_so(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text('form = 1\n[[chart.row]]\nsize = "1/8"\n', encoding="utf-8")
    assert any("put the [[chart]] line above it" in str(problem) for problem in check_shop(path))


@pytest.mark.parametrize("show", [as_text, as_html])
def test_the_sheet_says_who_answers_for_the_use_and_shows_small_lengths_in_decimals(show):
    text = " ".join(re.sub(r"<[^>]+>", " ", show(job_sheet(ORDER, SHOP, date(2026, 11, 25)))).split())
    assert WORDS_CHECKED in text
    assert "certificate certificate" not in text and "certificate invented certificate" not in text
    assert "1/32 in [" not in text and "at least 0.020 in [0.5 mm], even to 0.039 in [1 mm]" in text


def test_a_practice_sheet_s_limit_is_arithmetic_only():
    sheet = job_sheet(dataclasses.replace(ORDER, reel="R4", sleeve_before="16 mm"), dataclasses.replace(SHOP, charts=()),
                      date(2026, 11, 25))
    assert sheet.practice and sheet.limit_notes[0].startswith("For practice arithmetic only")
    assert not any(note.startswith("Covers") for note in sheet.limit_notes)


def test_a_reader_that_leaves_hears_nothing():
    run = subprocess.Popen([sys.executable, "-m", "rigcalc.cli", "job", "--help"], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    run.stdout.close()
    assert b"Broken pipe" not in run.stderr.read()
    run.stderr.close()
    run.wait(60)
    shop = subprocess.Popen([sys.executable, "-m", "rigcalc.cli", "shop", str(sample_shop_path())], stdout=subprocess.PIPE,
                            stderr=subprocess.PIPE)
    shop.stdout.close()
    assert shop.stderr.read() == b"" and shop.wait(60) != 0
    shop.stderr.close()
