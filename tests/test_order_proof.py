"""Orders with a proof load: the instrument's date stops the work, the rule says where it stands, each piece has its place in the record."""

from __future__ import annotations

import dataclasses
from datetime import date

import pytest
from test_orders import FOLDER, SHOP, refusal_of_shop, sheet

from rigcalc.cli import main
from rigcalc.errors import BenchMatter
from rigcalc.shop import sample_shop_path
from rigcalc.shop.commands import shop_notes

FROM_MEMORY, SWAGED = "60 percent of the breaking force, control cable", "60 percent of the breaking force, swaged terminal"


def shop_with(invented=True, **changes):
    """The sample shop with another procedure for proof loads."""
    return dataclasses.replace(SHOP, invented=invented, proof=dataclasses.replace(SHOP.proof, **changes))


# --- the instrument's date ------------------------------------------------------------------------------

def test_a_proof_by_an_instrument_out_of_date_says_stop_before_the_first_step():
    # the sheet is made on 2026-11-25
    made = sheet("01_gate_brace", shop_with(instrument_due=date(2026, 11, 24)), proof="yes")
    assert [line for line in made.before_starting if line.startswith("STOP: the proof instrument invented pull frame F1 was due on 2026-11-24. Pull nothing to proof")]
    assert "due 2026-11-24: OUT OF DATE, prove nothing with it" in made.release[0]
    for good in (sheet("01_gate_brace", shop_with(instrument_due=date(2026, 11, 25)), proof="yes"), sheet("01_gate_brace", shop_with(instrument_due=date(2026, 11, 24)))):
        assert not any("STOP" in line for line in good.before_starting) and "OUT OF DATE" not in " ".join(good.release)


def test_the_command_ends_with_3_where_the_proof_instrument_is_out_of_date(capsys, tmp_path):
    text = sample_shop_path().read_text(encoding="utf-8")
    head, proof = text.split("\n[proof]\n")
    file = tmp_path / "shop.toml"
    file.write_text(f"{head}\n[proof]\n{proof.replace('instrument_due = 2046-03-02', 'instrument_due = 2026-03-02')}", encoding="utf-8")
    assert main(["job", str(FOLDER / "01_gate_brace.toml"), "--shop", str(file), "--proof", "yes"]) == 3
    assert "STOP: the proof instrument" in capsys.readouterr().out
    assert main(["job", str(FOLDER / "01_gate_brace.toml"), "--shop", str(file)]) == 0


# --- the rule --------------------------------------------------------------------------------------------

def test_the_rule_that_was_chosen_names_its_source_as_the_others_do():
    first, others, *_ = sheet("01_gate_brace", proof="yes").release
    assert "1512 lbf [6.72 kN], twice the limit (NAVEDTRA 14080, p 3-30" in first and "; read), by invented pull procedure AQ-P3" in first   # 2 x 756
    assert "MIL-DTL-781J" in others and "from memory: for teaching" in others and "hold 10 s. " in first


def test_a_rule_from_memory_is_marked_in_the_invented_shop_and_refused_in_a_real_one():
    taught = sheet("01_gate_brace", shop_with(rule=FROM_MEMORY, cap_share=0.65), proof="yes").release[0]
    assert "2520 lbf" in taught and "from memory: for teaching, it accepts no real piece" in taught                          # 0.60 x 4200
    assert "hold 10 s, by the procedure; the rule's own hold is 180 s" in taught
    real = shop_with(invented=False, rule=FROM_MEMORY, cap_share=0.65)
    said = refusal_of_shop("01_gate_brace", real, proof="yes")
    assert "is from memory" in said and SWAGED in said and "have Ines Varrow choose" in said
    with pytest.raises(BenchMatter):
        sheet("01_gate_brace", real, proof="yes")
    assert any("from memory: it accepts no real piece" in note for note in shop_notes(real))
    read = sheet("01_gate_brace", shop_with(invented=False, rule=SWAGED, cap_share=0.65), proof="yes").release[0]
    assert "2520 lbf" in read and "; read), by" in read and "the rule's own hold is 5 s" in read and not any("from memory" in note for note in shop_notes(SHOP))
