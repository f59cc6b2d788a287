"""The pull bench from above, with five people: who stands in line, without a guard, touches, or loads fast; and what flies."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rigcalc.figures.drawing import COAT, DEEP, GREEN, INK, JAW, PAPER, QUIET, RUST, STEEL, Drawing, Figure
from rigcalc.figures.pulls import Pointed, as_part, lettered

__all__ = ["LETTERS", "SPOTS", "Spot", "pull_bench"]

MIDDLE = 222.0  # px: the line of the piece


@dataclass(frozen=True)
class Spot:
    """Where one person stands: right and wrong place in px, what is done at each, and the fault of the wrong one."""

    right: tuple[float, float]
    wrong: tuple[float, float]
    does: str
    does_wrong: str
    fault: str
    below: bool = True  # where its words stand


SPOTS: Mapping[str, Spot] = {
    "A": Spot((64, 362), (54, MIDDLE), "watches\nthe hook", "watches\nthe hook", "line"),
    "B": Spot((372, 338), (372, 338), "reads the gauge aloud", "reads the gauge aloud", "guard"),
    "C": Spot((250, 92), (250, 92), "looks at the sleeve, hands off", "feels whether the sleeve creeps", "touch", False),
    "D": Spot((588, 330), (588, 330), "a stroke, a look,\na stroke", "“One heave,\nand it's done!”", "fast"),
    "E": Spot((520, 92), (648, MIDDLE), "writes it down", "writes\nit down", "line", False),
}
LETTERS = tuple(SPOTS)


def _person(sheet: Drawing, x: float, y: float, hand: tuple[float, float] | None = None) -> None:
    if hand:
        sheet.line(x, y, *hand, stroke=INK, width=8)
        sheet.line(x, y, *hand, stroke=COAT, width=4)
        sheet.circle(*hand, 6, fill=PAPER, stroke=INK, width=2)
    sheet.ellipse(x, y, 25, 14, fill=COAT, stroke=INK, width=2.5)
    sheet.circle(x, y, 10, fill=PAPER, stroke=INK, width=2.5)


def _panel(sheet: Drawing, y: float, gap: tuple[float, float] | None) -> None:
    for x1, x2 in ([(150.0, gap[0]), (gap[1], 545.0)] if gap else [(150.0, 545.0)]):
        sheet.rect(x1, y, x2 - x1, 14, fill="jaw", stroke=INK, width=2)


def _bench(sheet: Drawing, open_panel: bool) -> None:
    sheet.rect(104, 176, 492, 92, corner=4, fill="#efe9dc", width=2.5)
    sheet.rect(112, MIDDLE - 22, 34, 44, fill=STEEL, width=2.5)
    sheet.circle(168, MIDDLE, 9, stroke=INK, width=4)
    sheet.line(146, MIDDLE, 159, MIDDLE, width=5)
    for x in (184, 376):
        sheet.rect(x, MIDDLE - 8, 30, 16, fill="sleeve", width=2)
    sheet.line(214, MIDDLE, 376, MIDDLE, stroke=JAW, width=6)
    sheet.circle(420, MIDDLE, 9, stroke=INK, width=4)
    sheet.rect(434, MIDDLE - 20, 58, 40, corner=6, fill=PAPER, width=2.5)
    sheet.text(463, MIDDLE + 6, "gauge", size=15, anchor="middle")
    sheet.rect(500, MIDDLE - 16, 62, 32, fill=STEEL, width=2.5)
    sheet.line(550, MIDDLE + 16, 574, MIDDLE + 78, stroke=INK, width=6)
    _panel(sheet, 148, None)
    _panel(sheet, 282, (318.0, 426.0) if open_panel else None)
    sheet.text(168, 318, "guard", size=15, anchor="middle", colour=QUIET)


def _flies(sheet: Drawing, open_panel: bool) -> None:
    zones = [[(168, MIDDLE), (2, MIDDLE - 52), (2, MIDDLE + 52)], [(420, MIDDLE), (698, MIDDLE - 60), (698, MIDDLE + 60)]]
    if open_panel:
        zones.append([(372, MIDDLE), (318, 405), (426, 405)])
    for zone in zones:
        sheet.shape(zone, fill="#f6d9c8", stroke=RUST, width=2, dash="8 5")
    sheet.path(f"M214 {MIDDLE}C190 {MIDDLE - 40} 120 {MIDDLE + 40} 24 {MIDDLE - 12}", stroke=RUST, width=4)


def pull_bench(wrong: Mapping[str, bool], said: Mapping[str, bool] | None = None, chosen: str = "", let_go: bool = False,
               pointed: Pointed | None = None, caption: str = "") -> Figure:
    """The bench from above with a piece under load. `wrong` says who of A to E stands wrong; `said` who has been judged, and whether rightly."""
    sheet, open_panel = Drawing(700, 440), bool(wrong.get("B"))
    if let_go:
        _flies(sheet, open_panel)
    _bench(sheet, open_panel)
    seen = []
    for letter, spot in SPOTS.items():
        if letter not in wrong:
            continue
        bad = wrong[letter]
        x, y = spot.wrong if bad else spot.right
        words = spot.does_wrong if bad else spot.does
        hand = {"C": (199.0, MIDDLE - 9) if bad else None, "D": (574.0, 300.0)}.get(letter)
        at_an_end = y == MIDDLE or letter == "A"

        def one(letter=letter, x=x, y=y, hand=hand, words=words, below=spot.below or at_an_end, at_an_end=at_an_end) -> None:
            sheet.rect(x - 60, y - (50 if at_an_end or not below else 22), 104, 110, fill=PAPER, stroke=PAPER, opacity=0)  # room for a finger
            _person(sheet, x, y, hand)
            lettered(sheet, x if at_an_end else x - 42, y - 34 if at_an_end else y, letter, letter == chosen)
            sheet.text(x, y + (42 if at_an_end else 50 if below else -30), words, size=15, anchor="middle", halo=True)

        as_part(sheet, pointed, letter, f"Person {letter}", one)
        if said and letter in said:
            sheet.text(x + 30, y - 12, "✓" if said[letter] else "✗", size=20, weight=700, colour=GREEN if said[letter] else RUST, halo=True)
        seen.append(f"{letter} {_place(letter, bad)}: {' '.join(words.split())}")
    if let_go:
        sheet.text(350, 28, "It lets go: what flies, flies along the line", size=17, anchor="middle", weight=700, colour=DEEP, halo=True)
    return sheet.figure("The pull bench from above, a piece under load between hook and gauge, a guard on both long sides. " + "; ".join(seen) + "."
                        + (" The piece lets go: its ends fly along its own line, both ways" + (", and out through the gap in the guard." if open_panel else ".") if let_go else ""), caption)


def _place(letter: str, bad: bool) -> str:
    places = {"A": ("to the side of the left end", "straight behind the left end"), "B": ("in front, a panel before them", "in front, at a gap between two panels"),
              "C": ("at the back, behind the panel", "at the back, an arm over the panel, a hand on the left sleeve"), "D": ("at the lever, to the side", "at the lever, to the side"),
              "E": ("at the back, behind the panel", "straight behind the right end")}
    return places[letter][bad]
