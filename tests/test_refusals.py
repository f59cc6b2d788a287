"""Whatever a calculation is given, it answers with a value or with one plain refusal, and with nothing else.

Every public function of every calculation module stands in a table with arguments that it takes; then each argument in turn, and each
field of each record among them, is replaced by things that a page, a file or a slip of the hand can bring.
"""

import dataclasses
import importlib
import inspect
import math
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest

import rigcalc
from rigcalc import clips, comparing, cutlist, fittings, layout, pairing, pulltest, rating, removal, sleeve, temperature, tools
from rigcalc.cable import breaking_force
from rigcalc.errors import Refusal
from rigcalc.spans import point_load_span

NO_CALCULATIONS = ("errors", "cautions", "home", "cli", "skills", "assembly")


class Awkward:
    """A thing that cannot be written down."""

    def __repr__(self):
        raise RuntimeError("no words for it")


HOSTILE = [
    None, True, False, math.nan, math.inf, -math.inf, -1, -1.5, 0, 0.0, 1e308, -1e308, 1e-308, 5e-324, 10 ** 400, 10 ** 5000, 1e14, 1e-29,
    "", " ", "-", "3 mm", "12", "1/7", "6 mm", "1/0", "banana", "7x7 ", "x" * 5000, "\u0661/\u0668", "\x00", b"1/8", 1j,
    [], {}, (), [1], [[1, 2]], [None], (0, 0, 0), [[]], ["a", "b"], {"a": 1}, {1, 2}, range(3), object(), Awkward(), Exception, len, lambda: 0,
    Decimal("NaN"), Decimal("sNaN"), Decimal("1e9999"), Decimal("3"), Fraction(1, 3), date(2026, 1, 1), datetime(2026, 1, 1, 9),
    np.float64("nan"), np.array([1, 2]), np.array(["1/8", "3/32"]), np.array(3.0), np.array([]), np.int64(3), np.bool_(True), np.float32(1.5)]

MINUS_CLASH = (0.0, -1.0)
EYE = layout.EyeParts(70.0, 30.0, 15.0, 7.0)
LAP = layout.lap_splice(3.175, 15.0, 5.0, 7.0, (3, 3), "closed ring", "nobody")
WIRE = cutlist.Material("1/8", "7x19", "galvanised")
FORCE = breaking_force("1/8", "7x19", "galvanised", 8000.0, "C 1")
FACTOR = rating.DesignFactor(5.0, "Ines Varrow", "2026-01-12", "static, this order")
BOLT = fittings.Fitting("eyebolt", "M10", 2000.0, fittings.AngleChart(((0.7854, 500.0),), "the maker's sheet"))
LOT = rating.pulled_share(1750.0, 2000.0, "eye", 1, "aluminium", "galvanised", "7x19", "1/8", "lot 4")
DONE = rating.Conditions(True, True, True, True, True, True)
CLIP = clips.ClipRow("1/4", 120.0, 20.0, 3, "a maker", "1", base_mm=20.0)
SEEN = removal.Inspection(construction="7x7", broken_at_sleeve=0, broken_in_8d=5, coat="none", broken_in_lay=5,
                          **dict.fromkeys(removal.LOOKS, False))
SIDE = dict(limit_mm=6.35, accept_mm=6.27, uncertainty_mm=0.05)
SPAN = dict(span_mm=9000.0, sag_mm=300.0, load_n=40.0, rise_mm=100.0)
HUNG = dict(tension_n=700.0, span_mm=2400.0, hung_n=20.0, own_weight_n=1.0)
HOW = dict(coverage=0.9, confidence=0.95)
PULLS = [2100.0, 2150.0, 2090.0, 2200.0, 2120.0, 2080.0]
BENDS = dict(diameter_mm=3.175)
PAIR = dict(cable_metal="galvanised", sleeve_metal="aluminium")
THREE = [(0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), (0.0, 1000.0, 0.0)]

GOOD = {
    "cable.band_mm": dict(size_name="1/8"),
    "cable.breaking_force": dict(size_name="1/8", construction_name="7x19", metal="galvanised", certificate_n=8000.0, certificate="C 1"),
    "cable.cable_mass": dict(construction_name="7x19", size="1/8", length_mm=1000.0, system="EN"),
    "cable.construction": dict(designation="7x19"),
    "cable.en_breaking_force_n": dict(construction_name="7x19", diameter_mm=6.0, grade_n_mm2=1770),
    "cable.fill_factor": dict(construction_name="7x19", system="EN"),
    "cable.flats_mistaken_for": dict(size_name="1/8"),
    "cable.flats_reading_mm": BENDS,
    "cable.mass_kg": dict(construction_name="7x19", size="1/8", length_mm=1000.0, system="inch table, from memory"),
    "cable.metallic_area_mm2": dict(construction_name="7x19", diameter_mm=3.175, system="geometry"),
    "cable.metric_band_mm": dict(nominal_mm=6.0),
    "cable.metric_sizes_agreeing": dict(reading_mm=6.1, uncertainty_mm=0.02),
    "cable.neighbours": dict(size_name="1/8"),
    "cable.possible_sizes": dict(reading_mm=3.2, across="crowns", uncertainty_mm=0.02),
    "cable.section": dict(designation="7x7", diameter_mm=3.2),
    "cable.sizes_agreeing": dict(reading_mm=3.2),
    "cable.sleeve_construction": dict(designation="7x19"),
    "cable.two_systems": dict(size_name="1/4", construction_name="7x19", metal="galvanised", grade_n_mm2=1770),
    "cable.weight_n": dict(mass_kg=2.0, g_m_s2=9.81),
    "cable.wire_length_ratio": dict(designation="7x7"),
    "stretch.bend_illustration": dict(bend_ratio=10.0),
    "stretch.constructional_stretch_mm": dict(length_mm=1000.0, construction_name="7x19"),
    "stretch.elastic_stretch_mm": dict(force_n=500.0, length_mm=1000.0, area_mm2=4.0, construction_name="7x19", metal="galvanised"),
    "stretch.modulus_n_mm2": dict(construction_name="7x19", metal="galvanised"),
    "stretch.thermal_change_mm": dict(length_mm=1000.0, change_c=20.0, metal="galvanised"),
    "sleeve.chart_in_force": dict(charts=[sleeve.built_in_chart()], sleeve_metal="aluminium", size="1/8", tool=None, cavity=""),
    "sleeve.chart_line": dict(chart=sleeve.built_in_chart()),
    "sleeve.crimp_plan": dict(sleeve_mm=15.0, jaw_mm=3.0, count=3, minimum_gap_mm=1.0, end_clear_mm=1.0),
    "sleeve.fill": dict(cable="3/32", sleeve="1/8"), "sleeve.times_as_heavy": dict(sleeve_metal="tin-plated copper"),
    "sleeve.growth_bound_mm": dict(pressed_mm=12.0, section_before_mm2=30.0, section_after_mm2=25.0, thinning=None),
    "sleeve.mean_growth_mm": dict(measured=[(15.0, 20.0), (15.0, 20.1), (15.0, 19.9)]),
    "sleeve.order_words": dict(row=sleeve.ChartRow("1/8", "C", 3, (2, 1, 3))),
    "sleeve.refuse_size_without_sleeve": dict(size="1/8"),
    "pairing.pairing": PAIR | dict(service="dry", coated=False),
    "pairing.refuse_from_memory": dict(verdict=pairing.pairing("stainless", "tin-plated copper", "dry"), real=False, makers_word=""),
    "pairing.refuse_never": PAIR,
    "galvanic.area_ratio": dict(cable_length_mm=1000.0, sleeve_length_mm=20.0),
    "galvanic.pair_reasons": PAIR | dict(service="dry", cable_length_mm=1000.0, sleeve_length_mm=20.0, coated=False),
    "galvanic.sea_potential": dict(surface="copper"),
    "galvanic.voltage_rule": PAIR | dict(service="dry", environment="harsh"),
    "tools.closure_check": dict(near_end_holds=True, far_end_holds=True, faces_meet_before_the_stop=True),
    "tools.containment": dict(pieces=[tools.Piece("P1", "LA", "GA", date(2026, 1, 2))], bad=tools.Bad("tool", "LA"), found_on=date(2026, 1, 3),
                              checks=[tools.GoodCheck("tool", "LA", date(2026, 1, 1))]),
    "clips.built_in_rows": dict(size="1/4"),
    "clips.clip_plan": dict(size="1/4", drop_forged=True, row=CLIP),
    "clips.clip_row": dict(size="1/4", maker_rows=(CLIP,)),
    "clips.clips_needed": dict(size="1/4", drop_forged=True),
    "clips.published_rules": dict(topic="number"),
    "clips.rule_of_thumb": dict(size="1/4"),
    "clips.saddle": dict(on="live"),
    "clips.spacing_mm": dict(size="1/4"),
    "comparing.sleeve_against_clips": dict(
        size="1/4", construction="7x19", metal="galvanised", drop_forged=True, row=CLIP, prices=comparing.Prices(1.0, 1.0, 1.0, 1.0, 1.0, "EUR"),
        measured=comparing.Measured(30.0, 0.01, 0.05, 0.2, 5.0, 9.0), certificate_n=30000.0, certificate="C 1"),
    "layout.bearing_to_bearing_mm": dict(centres_mm=500.0, first_pin_mm=12.0, second_pin_mm=10.0),
    "layout.clear_length_mm": dict(pin_to_pin_mm=500.0, first=EYE, second=EYE, diameter_mm=3.175, growth_mm=5.0),
    "layout.cut_length_mm": dict(pin_to_pin_mm=2400.0, first=EYE, second=EYE, correction_mm=1.0, diameter_mm=3.175, stretch_mm=1.0),
    "layout.lap_splice": dict(diameter_mm=3.175, sleeve_before_mm=15.0, growth_mm=5.0, tail_mm=7.0, counts=(3, 3), line="closed ring", use="nobody",
                              gap_mm=9.0),
    "layout.least_pin_mm": dict(cable_mm=2.4), "layout.least_tail_mm": BENDS, "layout.refuse_growth": dict(diameter_mm=3.175, growth_mm=5.0), "layout.tail_to_set_mm": dict(diameter_mm=3.175, growth_mm=5.0),
    "layout.ring_cut_mm": dict(round_mm=3000.0, lap=LAP, correction_mm=1.0),
    "layout.side_force_fraction": dict(pin_mm=12.0, length_mm=36.0),
    "layout.soft_eye": dict(pin_mm=12.0, cable_mm=2.4, sleeve_before_mm=11.0, tail_mm=5.0, length_mm=45.0, growth_mm=3.0, outside_mm=4.7),
    "layout.spliced_mm": dict(first_mm=1000.0, second_mm=1000.0, lap=LAP),
    "layout.strip_mm": dict(sleeve_before_mm=15.0, growth_mm=5.0, tail_mm=7.0, loop_mm=90.0, bare_band_mm=1.0),
    "layout.trial_piece": dict(ordered_mm=500.0, measured_mm=502.0, tolerance_mm=3.0),
    "cutlist.cut_list": dict(pieces=[cutlist.Piece("a", 500.0, 3, WIRE, 1)], stock=[cutlist.Stock("R1", 5000.0, WIRE, False, "C 1")], kerf_mm=1.0,
                             keep_mm=300.0, seconds=5.0, aim=1e-4),
    "rating.class_of_use": dict(word="nobody"),
    "rating.efficiency": dict(sleeve_metal="aluminium", cable_metal="galvanised", construction_name="7x19", splice="eye", done=DONE, pulled=LOT),
    "rating.limit": dict(breaking_force=FORCE, factor=FACTOR, use="people", designer="Ines Varrow", design_load_n=100.0,
                         share=rating.efficiency("aluminium", "galvanised", "7x19"), moves=False, tightened=True, greatest_tension_n=50.0,
                         tension_check="gauge", system="US", notes=("a note",), order="order 4", on=date(2026, 3, 2)),
    "rating.load_from_mass_n": dict(mass_kg=6.0, g_m_s2=9.8),
    "rating.pulled_share": dict(bound_n=1750.0, breaking_force_n=2000.0, splice="eye", sleeves=1, sleeve_metal="aluminium", cable_metal="galvanised",
                                construction_name="7x19", size="1/8", lot="lot 4"),
    "rating.required_breaking_force_n": dict(load_n=100.0, efficiency=0.9, factor=5.0),
    "rating.working_load_limit_n": dict(breaking_force_n=8000.0, efficiency=0.9, factor=5.0),
    "rating.show_limit": dict(force_n=1600.0, system="US"), "rating.limit_in_words": dict(force_n=1600.0, system="US"),
    "fittings.fitting_limit_n": dict(fitting=BOLT, angle_rad=0.5),
    "fittings.marked_fitting": dict(kind="eyebolt", name="M10", mark="WLL 4 kN", angle_chart=BOLT.angle_chart),
    "fittings.weakest_link": dict(cable_limit_n=1600.0, fittings=[(BOLT, 0.5), fittings.Fitting("shackle", "bow", 4000.0)]),
    "proof.cap_n": dict(breaking_force_n=8000.0, cap_share=0.5),
    "proof.instrument_window_n": dict(load_n=3000.0),
    "proof.proof_load": dict(rule="twice the limit", limit_n=1600.0, breaking_force_n=8896.0, cap_n=4000.0, procedure="P1", set_by="Ines Varrow"),
    "proof.proof_loads": dict(limit_n=1600.0, breaking_force_n=8896.0),
    "proof.refuse_reading": dict(load_n=3000.0, reading_n=2990.0),
    "rating_arrays.rate": dict(size="1/8", construction="7x19", metal="galvanised", efficiency=0.9, factor=5.0, set_by="Ines Varrow", use="nobody",
                               certificate_n=8000.0, fitting_limits_n=[3000.0], system="US", step=1),
    "rating_arrays.rate_many": dict(size=["1/8"], construction=["7x19"], metal=["galvanised"], efficiency=np.array([0.9]), factor=np.array([5.0]),
                                    set_by="Ines Varrow", use="nobody", certificate_n=np.array([8000.0]), fitting_limits_n=np.array([[3000.0]]),
                                    fitted=np.array([[True]]), system="US", step=1),
    "temperature.refuse_temperature": dict(lowest_c=0.0, highest_c=20.0, allowed=temperature.temperature_range()),
    "temperature.temperature_range": dict(cable=temperature.Stands(-40.0, 100.0, "a maker"), sleeve=temperature.Stands(-40.0, 100.0, "a maker"),
                                          coat="other", coat_stands=temperature.Stands(-20.0, 60.0, "a maker")),
    "legs.hanging_point": dict(anchors_mm=THREE, lengths_mm=[1000.0, 1000.0, 1000.0]),
    "legs.legs": dict(anchors_mm=THREE, load_point_mm=(300.0, 300.0, -800.0), load_n=100.0, names=("a", "b", "c")),
    "legs.symmetrical_legs": dict(load_n=100.0, count=2, angle_rad=1.0, angle_from="horizontal"),
    "legs.vertical_legs": dict(feet_mm=[(0.0, 0.0), (1000.0, 0.0), (0.0, 1000.0)], centre_mm=(300.0, 300.0), load_n=100.0, names=("a", "b", "c")),
    "braces.brace": dict(hinge_mm=(0.0, 0.0), from_mm=(1000.0, 0.0), to_mm=(0.0, 500.0), load_n=100.0, load_at_mm=(500.0, 0.0), load_towards=MINUS_CLASH),
    "braces.gate_brace": dict(width_mm=3000.0, height_mm=1000.0, load_n=800.0),
    "braces.mast_stays": dict(force_n=500.0, towards_rad=0.1, force_height_mm=6000.0, stay_height_mm=5000.0,
                              anchors_mm=[(2000.0, 0.0), (-1000.0, 1700.0), (-1000.0, -1700.0)], names=("a", "b", "c")),
    "spans.catenary_span": SPAN, "spans.parabola_against_catenary": SPAN, "spans.uniform_load_span": SPAN,
    "spans.with_own_weight": dict(span=point_load_span(9000.0, 300.0, 40.0), own_weight_n=3.0),
    "spans.point_load_span": SPAN | dict(at_mm=3000.0),
    "spans.sag_at_tension_mm": HUNG, "spans.sag_check": HUNG,
    "spans.tension_at_sag_n": dict(sag_mm=17.0, span_mm=2400.0, hung_n=20.0, own_weight_n=1.0),
    "stretched_span.sag_with_stretch": dict(span_mm=9000.0, cable_mm=9010.0, load_n=40.0, stiffness_low_n=2e5, stiffness_high_n=3e5, load="point"),
    "gauge.caliper_uncertainty": dict(readings_mm=[3.2, 3.21, 3.19], resolution_mm=0.01, calibration_mm=0.02, calibration_factor=2.0, confidence=0.95),
    "gauge.global_risk": SIDE | dict(usual_mm=6.20, usual_spread_mm=0.08, side="at most"),
    "gauge.global_risk_of": SIDE | dict(density=lambda mm: 1.0, low_mm=6.0, high_mm=7.0, side="at most"),
    "gauge.go_gauge": dict(passes=True, gauge="GA", slot="1/8", size="1/8", checked_on=date(2026, 1, 5), valid_to=date(2026, 7, 5),
                           used_on=date(2026, 3, 2)),
    "gauge.guard_factor": dict(risk=0.05),
    "gauge.judge_reading": dict(reading_mm=5.5, limit_mm=5.6, uncertainty_mm=0.03, guard=1.6, limit_source="a sheet", side="at most", invented=False),
    "gauge.specific_risk": dict(reading_mm=5.5, limit_mm=5.6, uncertainty_mm=0.03, side="at most", usual_mm=5.4, usual_spread_mm=0.1),
    "agreement.agreement": dict(table=[[10, 2], [1, 8]], confidence=0.95, weights="none"),
    "agreement.count_pairs": dict(pairs=[("a", "b")], words=["a", "b"]),
    "agreement.plain_agreement": dict(table=[[10, 2], [1, 8]], confidence=0.95),
    "agreement.several_assessors": dict(table=[[3, 0]] * 6 + [[1, 2]] * 6),
    "pulltest.demonstrated_reliability": dict(pieces=6, confidence=0.95),
    "pulltest.lot_verdict": HOW | dict(forces_n=PULLS, breaking_force_n=2136.0, modes=[pulltest.MODES[0]] * 6),
    "pulltest.tolerance_bound_n": HOW | dict(forces_n=PULLS),
    "pulltest.tolerance_factor": HOW | dict(pieces=6),
    "pulltest.zero_failure_size": dict(reliability=0.9, confidence=0.95),
    "removal.broken_wires_allowed": dict(construction="7x19"),
    "removal.published_answers": dict(seen=SEEN),
    "removal.removal": dict(seen=SEEN),
    "removal.share_of_wires": dict(broken=3, construction="7x19"),
    "units.either_side": dict(size_name="7/64", names=("1/16", "1/8")),
    "units.exact": dict(value=0.9),
    "units.in_unit": dict(value_base=360.0, unit="lbf"),
    "units.read_force_n": dict(text="360 lbf", accept=("lbf", "N"), default_unit="lbf"),
    "units.read_length_mm": dict(text="500 mm", accept=("mm", "in"), default_unit="mm"),
    "units.read_mass_kg": dict(text="84 lb", default_unit="kg"),
    "units.read_size": dict(text="1/8"),
    "units.round_to": dict(value=12.3, step="0.5", direction="down"),
    "units.show_force": dict(force_n=1600.0, system="US", direction="down", step=1),
    "units.show_length": dict(length_mm=100.0, system="US", direction="nearest"),
    "units.show_mass": dict(mass_kg=3.0, system="US", direction="nearest"),
    "units.show_measured": dict(length_mm=8.4, system="US", places=2),
    "units.show_set_in_inches": dict(length_mm=53.975),
    "units.size_inches": dict(name="1/8"),
}

# The same functions again on another path: what is changed in the good arguments.
AGAIN = {
    "units.read_force_n": dict(text="360"), "units.read_length_mm": dict(text="3"), "units.read_mass_kg": dict(text="84"), "units.read_size": dict(text="3.2 mm"),
    "rating.limit": dict(use="nobody", designer=None, design_load_n=None, tightened=False, greatest_tension_n=None, tension_check=None, share=0.9, order=None, on=None),
    "rating.efficiency": dict(splice="lap", pulled=rating.pulled_share(1750.0, 2000.0, "lap", 2, "aluminium", "galvanised", "7x19", "1/8", "lot 4")),
    "rating_arrays.rate": dict(certificate_n=None, fitting_limits_n=(), system="SI", step=None),
    "rating_arrays.rate_many": dict(size=[3], construction="7x19", metal="galvanised", efficiency=0.9, factor=5, certificate_n=None, fitting_limits_n=None,
                                    fitted=None, system="SI", step=None),
    "sleeve.fill": dict(cable=3.0, sleeve=3.175), "sleeve.growth_bound_mm": dict(section_before_mm2=None, section_after_mm2=None, thinning=0.8),
    "cable.mass_kg": dict(size=3.175, system="geometry"), "clips.clip_plan": dict(row=None), "clips.clip_row": dict(maker_rows=()),
    "comparing.sleeve_against_clips": dict(row=None, prices=None, measured=None, certificate_n=None, certificate=None),
    "layout.soft_eye": dict(length_mm=None, outside_mm=None), "spans.point_load_span": dict(at_mm=None),
    "temperature.temperature_range": dict(cable=None, sleeve=None, coat="none", coat_stands=None), "temperature.refuse_temperature": dict(allowed=None),
    "legs.symmetrical_legs": dict(count=4, angle_from="vertical", angle_rad=0.5), "legs.legs": dict(names=None),
    "legs.vertical_legs": dict(feet_mm=[(0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)], centre_mm=(1.0, 0.5), names=None),
    "gauge.specific_risk": dict(usual_mm=None, usual_spread_mm=None), "gauge.caliper_uncertainty": dict(readings_mm=[3.2, 3.2, 3.2]),
    "removal.removal": dict(seen=dataclasses.replace(SEEN, coat="sound", broken_in_8d=None, broken_in_lay=None)),
    "tools.containment": dict(bad=tools.Bad("gauge", "GA"), checks=(), found_on=datetime(2026, 1, 3, 9)),
    "pairing.refuse_from_memory": dict(real=True, makers_word="sheet 4"),
    "stretch.modulus_n_mm2": dict(metal=None), "galvanic.voltage_rule": dict(environment=None),
}
CASES = [*GOOD.items(), *((name, GOOD[name] | changes) for name, changes in AGAIN.items())]


def public_functions() -> dict:
    """Each public function once, under the first public module that offers it, in the order of the table."""
    names = sorted(path.stem for path in Path(rigcalc.__file__).parent.glob("*.py") if not path.stem.startswith("_"))
    found = {}
    for name in [name for name in names if name not in NO_CALCULATIONS]:
        module = importlib.import_module(f"rigcalc.{name}")
        for word in module.__all__:
            if inspect.isfunction(getattr(module, word)) and inspect.signature(getattr(module, word)).parameters:
                found.setdefault(getattr(module, word), []).append(f"{name}.{word}")
    return found


FUNCTIONS = {name: function for function, names in public_functions().items() for name in names if name in GOOD}


def test_every_public_function_stands_in_the_table():
    assert [names for names in public_functions().values() if not set(names) & set(GOOD)] == []
    assert set(GOOD) == set(FUNCTIONS)


def variants(good):
    """Everything the argument is replaced by: each hostile thing, and, in its records, each field by each of them."""
    yield from HOSTILE
    if isinstance(good, (list, tuple)) and good:
        for worse in variants_within(good[0]):
            yield type(good)([worse, *good[1:]])
    elif dataclasses.is_dataclass(good):
        yield from variants_within(good)


def variants_within(good):
    if not dataclasses.is_dataclass(good):
        yield from variants(good)
        return
    for field in dataclasses.fields(good):
        for worse in variants(getattr(good, field.name)):
            try:
                yield dataclasses.replace(good, **{field.name: worse})
            except Refusal:
                pass  # refused when it is made


@pytest.mark.parametrize("name, good", CASES)
def test_the_good_arguments_are_taken(name, good):
    FUNCTIONS[name](**good)
    assert set(good) == set(inspect.signature(FUNCTIONS[name]).parameters)


@pytest.mark.parametrize("name, arguments", CASES)
def test_whatever_is_given_the_outcome_is_a_value_or_a_refusal(name, arguments):
    wrong = []
    for parameter, good in arguments.items():
        for worse in variants(good):
            try:
                found = FUNCTIONS[name](**arguments | {parameter: worse})
                if isinstance(found, float) and not math.isfinite(found):
                    wrong.append(f"{parameter}: {found}")
            except Refusal as refused:
                text = str(refused)
                if "\n" in text or " object at 0x" in text or len(text) > 1200:
                    wrong.append(f"{parameter}: says {text:.200}")
            except Exception as failed:  # whatever else comes out is what this test is about
                wrong.append(f"{parameter} = {shown(worse)}: {type(failed).__name__}: {failed!s:.80}")
    assert not wrong, "\n".join([f"{len(wrong)} wrong", *wrong[:12]])


def shown(worse) -> str:
    try:
        return f"{worse!r:.90}"
    except Exception:
        return type(worse).__name__


@pytest.mark.parametrize("record", [clips.ClipRow, comparing.Prices, comparing.Measured, removal.Inspection, sleeve.ChartRow])
def test_records_that_check_themselves_refuse_and_never_break(record):
    good = {clips.ClipRow: CLIP, comparing.Prices: comparing.Prices(), comparing.Measured: comparing.Measured(), removal.Inspection: SEEN,
            sleeve.ChartRow: GOOD["sleeve.order_words"]["row"]}[record]
    for _ in variants_within(good):
        pass
    if record is removal.Inspection:
        with pytest.raises(Refusal):
            removal.Inspection()
