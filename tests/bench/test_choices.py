"""What a form can be opened for: the shop's own sizes, the task's own piece or the nearest to it first."""

from __future__ import annotations

from dataclasses import replace

import pytest
from rigcalc.bench.choices import bench_choices, bench_notes, chosen_piece
from rigcalc.bench.tasks import load_tasks
from rigcalc.errors import Refusal

from .filled import NOW, sample

TASKS, DAY = load_tasks(), NOW.date()
OWN = TASKS["T1"].piece


def only(shop, *sizes, reels=True):
    """The shop with only these sizes on its charts (and its racks)."""
    charts = tuple(replace(one, rows=tuple(row for row in one.rows if row.size in sizes)) for one in shop.charts)
    return replace(shop, charts=tuple(one for one in charts if one.rows), tools=shop.tools,
                   reels=tuple(one for one in shop.reels if one.size in sizes) if reels else ())


def test_the_sample_shop_makes_the_tasks_own_piece_first_and_is_told_nothing():
    first = bench_choices(OWN, sample(), DAY)[0]
    assert first.piece == OWN and first.lacks == "" and bench_notes(TASKS, sample(), DAY) == []


def test_a_shop_without_the_tasks_size_has_its_nearest_proposed_and_is_told_so():
    shop = only(sample(), "3/32", "3/16")
    choices = bench_choices(OWN, shop, DAY)
    assert choices[0].piece.size == "3/32" and choices[0].lacks == ""
    assert {one.piece.size for one in choices if not one.lacks} == {"3/32", "3/16"}
    assert all(one.piece.construction == "7x7" for one in choices if one.piece.size == "3/32")
    note, = bench_notes(TASKS, shop, DAY)
    assert "written for 1/8 cable" in note and "3/32 7x7 galvanised cable, aluminium sleeves" in note


def test_no_choice_puts_a_sleeve_on_a_cable_that_never_takes_it():
    assert not any(one.piece.sleeve_metal == "aluminium" and one.piece.metal == "stainless" for one in bench_choices(OWN, sample(), DAY))


def test_a_pair_known_from_memory_only_is_not_assessed_for_real_before_the_maker_was_asked():
    """As on a job sheet: what is from memory accepts nothing (workbook judgement; rows of reference/pairing.csv)."""
    tin = replace(next(one for one in sample().charts if one.id == "LB-ZC"), sleeve_metal="tin-plated copper", invented=False)
    shop = replace(sample(), invented=False, charts=(tin,))
    listed = [one for one in bench_choices(OWN, shop, DAY) if (one.piece.metal, one.piece.sleeve_metal, one.tool) == ("stainless", "tin-plated copper", "LB")]
    assert listed and all("from memory only" in one.lacks for one in listed)
    with pytest.raises(Refusal, match="from memory only.*ask the maker first"):
        chosen_piece(listed, listed[0].key)
    told = replace(shop, charts=(replace(tin, rows=tuple(replace(row, efficiency=0.9) for row in tin.rows)),))
    assert not any("from memory" in one.lacks for one in bench_choices(OWN, told, DAY))


def test_a_shop_that_can_make_none_is_told_in_one_sentence():
    shop = only(sample(), "3/32", "3/16")
    no_reels, bad = replace(shop, reels=()), {"found_bad": "2026-03-01", "found_bad_by": "Ines Varrow", "why": "worn"}
    no_tool = replace(shop, tools=tuple(replace(one, **bad) for one in shop.tools))
    for other, why in ((no_reels, "no bare reel of it"), (no_tool, "the tool was found bad"),):
        note, = bench_notes(TASKS, other, DAY)
        assert note.startswith("bench task T1 (Two thimble eyes) cannot be assessed in this shop with any size it has") and why in note


def test_a_choice_that_the_shop_does_not_have_is_refused_with_those_it_has():
    choices = bench_choices(OWN, sample(), DAY)
    assert all(chosen_piece(choices, one.key) is one for one in choices)
    with pytest.raises(Refusal, match="1/8 7x19 galvanised cable, aluminium sleeves, tool LB"):
        chosen_piece(choices, "1/2|7x19|galvanised|aluminium|LB")
