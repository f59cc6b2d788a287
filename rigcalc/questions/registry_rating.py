"""Calculations of limits, fittings, temperature, pin and eye that families of lesson 09 name."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from rigcalc.questions.registry import _calculation
from rigcalc.questions.template import half_up_to_hundredths

__all__: list[str] = []


@_calculation
def required_breaking_force_n(load_n: float, efficiency: float, factor: float) -> float:
    """Load × factor ÷ efficiency, in N, not rounded: the breaking force that a load asks for."""
    from rigcalc.rating import required_breaking_force_n as required

    return required(load_n, efficiency, factor)


@_calculation
def to_a_tenth_said(force_n: float, system: str) -> str:
    """A force as a calculator shows it, to 0.1 lbf or 0.1 N, not yet rounded to the shop's step."""
    from rigcalc.units import in_unit

    unit = "lbf" if system == "US" else "N"
    return f"{float(in_unit(force_n, unit)):.1f} {unit}"


@_calculation
def to_a_tenth_n(force_n: float, system: str) -> float:
    """A force taken to 0.1 lbf or 0.1 N, in N; refused where that leaves nothing to round."""
    from rigcalc.errors import Refusal
    from rigcalc.units import LBF_N, exact

    step = Fraction(LBF_N) / 10 if system == "US" else Fraction(1, 10)
    tenths = round(exact(force_n) / step)
    if tenths % 10 == 0:
        raise Refusal(f"{force_n} N", "a force with a tenth to round", "take another")
    return float(tenths * step)


@_calculation
def steps_said(system: str) -> str:
    """The steps that a bench states its limits to, as its job sheet does."""
    return "one pound-force or one newton" if system == "US" else "0.01 kN, below 1 kN to one newton"


UNNAMED = "as marked"  # a fitting that the question tells apart by its kind alone


@_calculation
def link(kind: str, name: str, limit_n: float) -> dict[str, Any]:
    """A fitting of the line with its marked working limit in N."""
    return {"kind": kind, "name": name, "limit_n": limit_n}


@_calculation
def weakest_limit_n(cable_n: float, links: list[dict[str, Any]], divided_by: float = 1, divided: str = "") -> float:
    """The least working limit in N of a cable and its fittings; the marks of one kind (or 'all') wrongly divided once more."""
    return _weakest(cable_n, links, divided_by, divided).limit_n


@_calculation
def weakest_part(cable_n: float, links: list[dict[str, Any]]) -> str:
    """The part of a line with the least working limit; refused where two tie."""
    from rigcalc.errors import Refusal

    found = _weakest(cable_n, links, 1, "")
    if found.ties:
        raise Refusal("two links with one limit", "one weakest link", "take other limits")
    return "the cable at its eyes" if found.governs == "cable at its eyes" else f"the {found.governs}".removesuffix(UNNAMED).rstrip()


def _weakest(cable_n: float, links: list[dict[str, Any]], divided_by: float, divided: str) -> Any:
    from rigcalc.fittings import Fitting, weakest_link

    def marked(one: dict[str, Any]) -> float:
        return one["limit_n"] / divided_by if divided in ("all", one["kind"]) else one["limit_n"]

    return weakest_link(cable_n, [Fitting(one["kind"], one["name"] or UNNAMED, marked(one)) for one in links])


@_calculation
def sum_of_limits_n(cable_n: float, links: list[dict[str, Any]], share: float = 1) -> float:
    """All limits of a line added up (times a share): the sum of somebody who takes links for helpers."""
    from math import fsum

    return share * fsum([cable_n, *(one["limit_n"] for one in links)])


@_calculation
def piece_highest_c(cable_c: float, sleeve_c: float | None, coat: str, coat_c: float | None = None) -> float:
    """The highest temperature of a piece, in degrees Celsius, from what each maker says; false is a maker who is silent."""
    from rigcalc.temperature import LOWEST_C, Stands, temperature_range

    def said(highest_c: float | None) -> Any:
        return None if highest_c in (None, False) else Stands(float(LOWEST_C), highest_c, "its maker")

    return temperature_range(said(cable_c), said(sleeve_c), coat, said(coat_c)).highest_c


@_calculation
def sling_highest_c() -> float:
    """The published highest temperature of another piece of equipment, the steel-core wire rope sling, in degrees Celsius."""
    from rigcalc.temperature import published_temperatures

    return float(next(row.highest_c for row in published_temperatures() if row.part == "wire rope sling, steel core"))


@_calculation
def common_lowest_c() -> float:
    """The lowest temperature of common practice, in degrees Celsius."""
    from rigcalc.temperature import LOWEST_C

    return float(LOWEST_C)


@_calculation
def common_highest_c() -> float:
    """The highest temperature of common practice, in degrees Celsius."""
    from rigcalc.temperature import HIGHEST_C

    return float(HIGHEST_C)


@_calculation
def degrees_said(highest_c: float | None) -> str:
    """A maker's highest temperature in words; who is silent has not answered."""
    return "has not answered" if highest_c in (None, False) else f"says +{highest_c:g} °C"


@_calculation
def least_of(items: list[float]) -> float:
    """The least of the figures."""
    return min(items)


@_calculation
def greatest_of(items: list[float]) -> float:
    """The greatest of the figures."""
    return max(items)


@_calculation
def places_in_range(items: list[dict[str, Any]]) -> list[str]:
    """The words (`en`) of the places whose coldest and warmest (`low`, `high`, in degrees Celsius) common practice allows."""
    return [one["en"] for one in items if _in_range(one)]


def _in_range(one: dict[str, Any]) -> bool:
    from rigcalc.errors import Refusal
    from rigcalc.temperature import refuse_temperature

    try:
        refuse_temperature(one["low"], one["high"])
    except Refusal:
        return False
    return True


@_calculation
def least_soft_eye_mm(pin_mm: float, cable_mm: float, growth_mm: float = 0.0) -> float:
    """The least length of a soft eye before pressing, sleeve to pin centre, in mm; the sleeve's growth counted in."""
    from rigcalc.layout import soft_eye

    return soft_eye(pin_mm, cable_mm, sleeve_before_mm=10, tail_mm=max(20.0, 4 * cable_mm), growth_mm=growth_mm).length_mm


@_calculation
def least_pin_mm(cable_mm: float) -> float:
    """The least pin of a soft eye, in mm: two bare cable diameters."""
    from rigcalc.layout import PIN_DIAMETERS

    return float(PIN_DIAMETERS) * cable_mm


@_calculation
def soft_eye_verdict(pin_mm: float, cable_mm: float, length_mm: float) -> str:
    """What two rules say of a soft eye on a pin: 'both kept', 'pin too thin', 'eye too short' or 'both broken'."""
    thin, short = pin_mm < least_pin_mm(cable_mm), length_mm < _eye_for(pin_mm)
    if thin and short:
        return "both broken"
    return "pin too thin" if thin else "eye too short" if short else "both kept"


def _eye_for(pin_mm: float) -> float:
    from rigcalc.layout import EYE_PINS

    return float(EYE_PINS) * pin_mm


@_calculation
def parts_of(whole: float, share: float) -> float:
    """A share of a figure, to a whole step."""
    return float(round(whole * share))


@_calculation
def each_word(items: list[Any], word: str) -> list[str]:
    """The same word once for every item."""
    return [word for _ in items]


@_calculation
def answers_c(items: list[Any]) -> list[float]:
    """The figures among the makers' answers; who has not answered says false."""
    return [one for one in items if one is not False and one is not None]


@_calculation
def bare_mm(size: str) -> float:
    """The nominal diameter of an inch size, in mm, not rounded."""
    from rigcalc.units import INCH_MM

    return float(Fraction(size) * Fraction(INCH_MM))


@_calculation
def hundredths_mm(length_mm: float) -> float:
    """A length to 0.01 mm, a half up."""
    return half_up_to_hundredths(length_mm)


@_calculation
def up_to_a_tenth_mm(length_mm: float) -> float:
    """A length that must at least be there, up to 0.1 mm."""
    from math import ceil

    return ceil(length_mm * 10 - 1e-9) / 10


@_calculation
def times_as_large(a: float, b: float, by: float = 1) -> str:
    """How many times as large a is as b (times `by`), as it is shown: to 0.1."""
    return f"{a / b * by + 1e-9:.1f}"


@_calculation
def heat_verdicts(items: list[Any], place_c: float, silent_said: str = "ask its maker first") -> list[str]:
    """For each maker's highest temperature (false where silent): whether that part stands a place as warm as this.

    A silent maker's part stands what common practice allows; above it `silent_said` is the verdict.
    """
    silent = "good there" if place_c <= common_highest_c() else silent_said
    return [silent if one is False else "good there" if one >= place_c else "out of place there" for one in items]


@_calculation
def makers_said(names: list[str], items: list[Any]) -> list[str]:
    """What each maker said, as a line: false where silent."""
    return [f"{name}: no answer yet" if one is False else f"{name}: up to +{one:g} °C" for name, one in zip(names, items, strict=True)]


@_calculation
def cut_twice_n(force_n: float) -> float:
    """The limit in N of somebody who cuts it down to a whole lbf first, and that once more to a whole newton."""
    from rigcalc.units import LBF_N, exact

    step = Fraction(LBF_N)
    return float(exact(force_n) // step * step // 1)
