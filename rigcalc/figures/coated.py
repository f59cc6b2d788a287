"""Coated cable stripped for an eye, before and after pressing; a lap splice laid out; what lies in a thimble's groove."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigcalc.figures.drawing import DEEP, QUIET, RUST, STEEL, Drawing, Figure, millimetres
from rigcalc.figures.eyes import OPEN_HEIGHT, draw_end, draw_rope, draw_sleeve_side

__all__ = ["Stripped", "grooves", "lap", "stripped_eye", "stripped_straight"]


@dataclass(frozen=True)
class Stripped:
    """A coated end for one eye, lengths in mm from the cut end along the cable.

    The dead leg is bare up to `first`, the loop keeps its coat up to `second`, the live leg is bare up to `third`.
    """

    first: float
    second: float
    third: float
    tail: float
    sleeve: float
    growth: float
    loop: float

    def bands(self, toward_loop: float) -> dict[str, float]:
        """What is left bare at each mouth of the pressed sleeve, in mm, when that share of its growth went towards the loop; below zero the sleeve lies on coat."""
        inward, outward, edge = self.growth * toward_loop, self.growth * (1 - toward_loop), self.tail + self.sleeve
        return {"dead leg, loop side": self.first - edge - inward, "live leg, loop side": edge + self.loop - inward - self.second,
                "live leg, outer side": self.third - (edge + self.loop + self.sleeve) - outward, "tail": self.tail - outward}


def stripped_straight(one: Stripped, total_mm: float, core: str, coat: str, stripped: bool = True) -> Figure:
    """The cable laid straight from its cut end, with the three marks; stripped between them or only marked. To scale."""
    scale, y, x0 = 640 / total_mm, 92, 26
    d = Drawing(700, 190)
    end = x0 + total_mm * scale
    draw_rope(d, f"M{x0} {y}H{end}", 13)
    spans = [(one.first, one.second), (one.third, total_mm)] if stripped else [(0, total_mm)]
    for low, high in spans:
        if high > low:
            d.rect(x0 + low * scale, y - 15, (high - low) * scale, 30, 3, fill="coat", width=2)
    for name, at in (("1", one.first), ("2", one.second), ("3", one.third)):
        x = x0 + at * scale
        d.line(x, y - 30, x, y + 30, stroke=RUST, width=3)
        d.text(x, y - 38, name, anchor="middle", weight=700, colour=RUST)
        d.text(x + {"1": 0, "2": 6, "3": -6}[name], y + 52, millimetres(at, 1), anchor={"1": "middle", "2": "end", "3": "start"}[name], colour=RUST, halo=True)
    d.text(x0 - 4, y + 84, "cut end", colour=DEEP, weight=600)
    d.text(end, y + 84, "live cable", anchor="end", colour=DEEP, weight=600)
    state = (f"Bare from the cut end to {millimetres(one.first, 1)}, coated to {millimetres(one.second, 1)}, bare to {millimetres(one.third, 1)}, then coated." if stripped
             else "Its coat is still on all of it.")
    return d.figure(f"A coated cable, {core} in core under a coat of {coat} in, laid straight from its cut end with three marks at {millimetres(one.first, 1)}, "
                    f"{millimetres(one.second, 1)} and {millimetres(one.third, 1)}. {state}", "To scale along the cable.")


_WENT = {1.0: "all growth to the loop", 0.5: "half the growth each way", 0.0: "all growth to the tail"}


def stripped_eye(one: Stripped, core: str, pressed: bool, toward_loop: float = 1.0, count: int = 0) -> Figure:
    """The sleeve and both legs near it, before or after pressing; coat where it was left. To scale along the cable.

    `toward_loop` is the share of the growth that went towards the loop.
    """
    bands, d, scale, y, left = one.bands(toward_loop if pressed else 0.0), Drawing(700, 250), 9.0, 120, 300
    grown = one.growth if pressed else 0.0
    inward = grown * toward_loop
    start, end = left - inward * scale, left + (one.sleeve + grown - inward) * scale
    thick = 15
    top, bottom = y - thick / 2 - 1, y + thick / 2 + 1
    tail_end = left + (one.sleeve + one.tail) * scale
    draw_rope(d, f"M20 {top}H690", thick)
    draw_rope(d, f"M20 {bottom}H{tail_end}", thick)
    draw_end(d, tail_end, bottom, thick)

    def coat(x1: float, x2: float, leg: float, up: int) -> None:
        if x2 - x1 > 1:
            d.rect(x1, leg - thick / 2 - 5 + (0 if up else 5), x2 - x1, thick + 5, 3, fill="coat", width=2)

    def on(at: float) -> float:
        return min(max(at, 20), 690)

    live_loop = on(left + (one.second - one.tail - one.sleeve - one.loop) * scale)  # coat of the live leg in the loop ends here
    dead_loop = on(left + (one.tail + one.sleeve - one.first) * scale)
    live_out = on(left + (one.third - one.tail - one.sleeve - one.loop) * scale)
    coat(20, live_loop, top, 1)
    coat(live_out, 690, top, 1)
    if one.first < one.tail + one.sleeve:
        coat(20, min(dead_loop, tail_end), bottom, 0)
    else:
        coat(20, dead_loop, bottom, 0)
    step = (end - start) / max(count, 1)
    draw_sleeve_side(d, start, y, end - start, thick, [start + step * (n + 0.5) for n in range(count)] if pressed else (), min(step * 0.6, 40))
    when = f"after pressing, {_WENT.get(toward_loop, 'grown both ways')}" if pressed else "before pressing"
    d.text(24, 32, when, size=17, weight=700, colour=DEEP)
    d.text(24, y + 68, "to the loop", colour=QUIET, weight=600)
    d.text(688, y - 40, "live leg", anchor="end", colour=QUIET, weight=600)
    d.text(min(tail_end + 10, 640), bottom + 22, "tail" if tail_end > end + 1 else "the tail is inside", colour=DEEP, weight=600)
    d.measure(start, end, y + 92, f"sleeve {millimetres((end - start) / scale, 1)}", above=False)

    def told(name: str) -> str:
        value = bands[name]
        return f"{name}: {millimetres(value, 1)} bare" if value >= 0 else f"{name}: {millimetres(-value, 1)} of coat under the sleeve"

    words = "; ".join(told(name) for name in ("dead leg, loop side", "live leg, loop side", "live leg, outer side"))
    end_words = f"the tail stands out {millimetres(bands['tail'], 1)}" if bands["tail"] > 0 else "no tail shows"
    return d.figure(f"Side view of the sleeve on a stripped {core} in cable {when}. {words}; {end_words}.", "To scale along the cable; the coat is drawn as a dotted band.")


def lap(diameter_mm: float, sleeve_mm: float, growth_mm: float, gap_mm: float, tails_mm: tuple[float, float], count: int, size: str, pressed: bool,
        sleeves: int = 2, inwards: bool = False, asked: bool = False) -> Figure:
    """A lap splice to scale along the cable: two cable ends side by side, sleeves, gap and outer tails; pressed, all growth outwards or inwards.

    `tails_mm` are set before pressing, left and right; `asked`: no word on them is written, as they are what is to be looked at.
    Where two sleeves that grow inwards meet, the rest of their growth goes outwards.
    """
    scale = 560 / max(sum(tails_mm) + 2 * sleeve_mm + gap_mm, 1) * 0.86
    d, y, thick = Drawing(700, 240), 104, max(12.0, min(24.0, diameter_mm * 5))
    top, bottom, first = y - thick / 2 - 1, y + thick / 2 + 1, 350 - (sleeve_mm + gap_mm / 2) * scale
    second = first + (sleeve_mm + gap_mm) * scale
    gone_in = (min(growth_mm, gap_mm / 2) if sleeves == 2 else growth_mm) if pressed and inwards else 0.0
    gone_out = growth_mm - gone_in if pressed else 0.0
    last = second + sleeve_mm * scale if sleeves == 2 else first + sleeve_mm * scale
    left, right = first - tails_mm[0] * scale, last + tails_mm[1] * scale
    draw_rope(d, f"M10 {top}H{right}", thick)
    draw_rope(d, f"M{left} {bottom}H690", thick)
    draw_end(d, right, top, thick)
    draw_end(d, left, bottom, thick)
    gap, long = gap_mm - 2 * gone_in, (sleeve_mm + gone_in + gone_out) * scale
    for x in [first - gone_out * scale, *([second - gone_in * scale] if sleeves == 2 else [])]:
        step = long / max(count, 1)
        draw_sleeve_side(d, x, y, long, thick, [x + step * (n + 0.5) for n in range(count)] if pressed else (), min(step * 0.6, 40))
    if sleeves == 2:
        if gap > 0.05:
            d.measure(350 - gap * scale / 2, 350 + gap * scale / 2, y + 72, f"gap {millimetres(gap, 1)}", above=False)
        else:
            d.text(350, y + 90, "no gap: the sleeves meet", anchor="middle", weight=600, colour=RUST)
    shown, high = [tail - gone_out for tail in tails_mm], OPEN_HEIGHT / 2 * thick
    for x, anchor, tail, high in ((left, "start", shown[0], y + high + 20), (right, "end", shown[1], y - high - 8)):
        if not asked:
            d.text(x, high, f"tail {millimetres(tail, 1)}" if tail > 0 else "no tail shows", anchor=anchor, weight=600, colour=DEEP if tail > 0 else RUST, halo=True)
    went = "inwards till they meet" if inwards and gone_out else f"all growth {'inwards' if inwards else 'outwards'}"
    d.text(14, 30, f"after pressing, {went}" if pressed else "before pressing", size=17, weight=700, colour=DEEP)
    ends = " and ".join(f"{millimetres(tail, 1)} of tail shows" if tail > 0 else "no tail shows" for tail in shown)
    return d.figure(f"A lap of two {size} in cable ends through {sleeves} sleeve{'s' if sleeves > 1 else ''}, {'after' if pressed else 'before'} pressing"
                    f"{f', with a gap of {millimetres(gap, 1)}' if sleeves == 2 and gap > 0.05 else ', the sleeves meet' if sleeves == 2 else ''}; at the outer ends {ends}.", "To scale along the cable.")


def grooves(cases: Sequence[tuple[str, float, float, str]]) -> Figure:
    """What lies in a thimble's groove, in section: (letter, groove's width mm, what lies in it mm, "coat" or "core")."""
    d, wide = Drawing(700, 210), 700 / len(cases)
    scale = min(90 / max(max(groove, lies) for _, groove, lies, _ in cases), 24)
    said = []
    for at, (letter, groove, lies, kind) in enumerate(cases):
        x, floor, half, radius = wide * (at + 0.5), 170.0, groove * scale / 2, lies * scale / 2
        centre = floor - radius if lies <= groove else floor - half - (radius**2 - half**2) ** 0.5 + half * 0.15
        d.circle(x, centre, radius, fill="coat" if kind == "coat" else STEEL, width=2.5)
        if kind == "coat":
            d.circle(x, centre, radius * 0.5, fill=STEEL, width=2)
        d.path(f"M{x - half - 14} {floor - half - 26}L{x - half} {floor - half}A{half} {half} 0 0 0 {x + half} {floor - half}L{x + half + 14} {floor - half - 26}", width=9, stroke=QUIET)
        d.text(x, 40, letter, anchor="middle", size=18, weight=700, colour=DEEP)
        said.append(f"{letter}: a groove {millimetres(groove, 1)} wide with {'a coated' if kind == 'coat' else 'a bare'} cable of {millimetres(lies, 1)} in it")
    return d.figure("Sections across a thimble's groove. " + "; ".join(said) + ".", "To one scale.")
