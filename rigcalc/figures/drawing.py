"""The one figure helper: a drawing cannot exist without words that say the same thing."""

from __future__ import annotations

import base64
import hashlib
from dataclasses import dataclass
from html import escape

from rigcalc.errors import Refusal

__all__ = ["Figure", "Drawing", "INK", "DEEP", "RUST", "GREEN", "QUIET", "STEEL", "ALUMINIUM", "COAT", "JAW", "PAPER",
           "millimetres"]

# Told apart by lightness and by pattern as well as by hue.
INK, DEEP, RUST, GREEN, QUIET = "#1d2328", "#17405c", "#9a3b12", "#0b5d4e", "#56606a"
STEEL, ALUMINIUM, COAT, JAW, PAPER = "#a9b8c2", "#e4e2da", "#8fc1e6", "#47525b", "#ffffff"
LEAST_TEXT = 15  # px at the drawn width, 11.25 pt when a page shows the drawing at its own size
WIDEST = 700  # px, so that a printed page does not have to shrink the words below 11 pt


@dataclass(frozen=True)
class Figure:
    """A drawing, the words that stand in for it, and its caption.

    Parameters
    ----------
    svg : str
        A whole `<svg>` element.
    alt : str
        What the drawing shows, made from the same values; at least twenty characters.
    caption : str
        Plain text under the drawing: what to see, and the source of its figures.
    spoken : str
        Of a drawing that is asked about: what is to be seen at each place, for who cannot see it, and no verdict.

    Example
    -------
    >>> Figure("<svg></svg>", "")
    Traceback (most recent call last):
    ...
    rigcalc.errors.Refusal: Refused: a figure with the alt text '' was given; accepted: words that say what the drawing shows, from its own values; write them.
    """

    svg: str
    alt: str
    caption: str = ""
    spoken: str = ""

    def __post_init__(self) -> None:
        if len(self.alt.strip()) < 20:
            raise Refusal(f"a figure with the alt text '{self.alt}'",
                          "words that say what the drawing shows, from its own values", "write them")

    def __repr__(self) -> str:
        return f"Figure: {self.alt}"

    def data_uri(self) -> str:
        """The drawing as the address of an image."""
        return "data:image/svg+xml;base64," + base64.b64encode(self.svg.encode()).decode()

    def _repr_html_(self) -> str:
        caption = f"<figcaption>{escape(self.caption)}</figcaption>" if self.caption else ""
        return (f'<figure class="drawing"><img alt="{escape(self.alt)}" src="{self.data_uri()}">'
                f"{caption}</figure>")

    def inline(self) -> str:
        """The drawing as live SVG with its words as a label, for HTML widgets and plain pages."""
        live = self.svg.replace("<svg ", f'<svg role="img" aria-label="{escape(self.alt)}" ', 1)
        caption = f"<figcaption>{escape(self.caption)}</figcaption>" if self.caption else ""
        return f'<figure class="drawing">{live}{caption}</figure>'


def millimetres(value: float, places: int = 2) -> str:
    """A length as read off a caliper; a half is rounded up, and whole figures carry no point.

    >>> millimetres(3.175), millimetres(20.0)
    ('3.18 mm', '20 mm')
    """
    text = f"{value + 1e-9:.{places}f}"
    return (text.rstrip("0").rstrip(".") if "." in text else text) + " mm"


def number(value: float, places: int = 2) -> str:
    """A coordinate in px, rounded, without a trailing zero or a minus zero."""
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


class Drawing:
    """A sheet to draw on, in px; thick lines, readable words, patterns beside colours."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height, self.parts, self.symbols = width, height, [], {}

    def add(self, text: str) -> None:
        """Put a ready piece of SVG on the sheet."""
        self.parts.append(text)

    def symbol(self, name: str, make) -> str:
        """A piece of SVG that is kept once and used often; `make` gives it. Returns the id to use."""
        if name not in self.symbols:
            self.symbols[name] = make()
        return f"MARK-{name}"

    def path(self, d: str, fill: str = "none", stroke: str = INK, width: float = 2.5, dash: str = "",
             rule: str = "", opacity: float = 1) -> None:
        """A path; `fill` is a colour or the name of a pattern in `_patterns`."""
        extra = f' stroke-dasharray="{dash}"' if dash else ""
        extra += f' fill-rule="{rule}"' if rule else ""
        extra += f' opacity="{number(opacity)}"' if opacity != 1 else ""
        self.add(f'<path d="{d}" fill="{self._fill(fill)}" stroke="{stroke}" stroke-width="{number(width)}" '
                 f'stroke-linejoin="round" stroke-linecap="round"{extra}/>')

    def shape(self, points, **how) -> None:
        """A closed shape through points (x, y)."""
        self.path("M" + " ".join(f"{number(x, 1)} {number(y, 1)}" for x, y in points) + "Z", **how)

    def line(self, x1: float, y1: float, x2: float, y2: float, **how) -> None:
        """A straight line."""
        self.path(f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}", **how)

    def rect(self, x: float, y: float, wide: float, high: float, corner: float = 0, **how) -> None:
        """A rectangle with rounded corners."""
        c = min(corner, wide / 2, high / 2)
        n = number
        turn = f"a{n(c)} {n(c)} 0 0 1 "
        self.path(f"M{n(x + c)} {n(y)}h{n(wide - 2 * c)}{turn}{n(c)} {n(c)}v{n(high - 2 * c)}{turn}{n(-c)} {n(c)}"
                  f"h{n(2 * c - wide)}{turn}{n(-c)} {n(-c)}v{n(2 * c - high)}{turn}{n(c)} {n(-c)}z", **how)

    def circle(self, x: float, y: float, radius: float, **how) -> None:
        """A circle."""
        self.ellipse(x, y, radius, radius, **how)

    def ellipse(self, x: float, y: float, rx: float, ry: float, angle: float = 0, fill: str = "none",
                stroke: str = INK, width: float = 1) -> None:
        """An ellipse with half axes `rx`, `ry`, turned by `angle` degrees."""
        turn = f' transform="rotate({number(angle)} {number(x)} {number(y)})"' if angle and rx != ry else ""
        self.add(f'<ellipse cx="{number(x)}" cy="{number(y)}" rx="{number(rx)}" ry="{number(ry)}" '
                 f'fill="{self._fill(fill)}" stroke="{stroke}" stroke-width="{number(width)}"{turn}/>')

    def text(self, x: float, y: float, words: str, size: float = 16, anchor: str = "start", weight: int = 400,
             colour: str = INK, halo: bool = False, struck: bool = False) -> None:
        """Words; several lines are split at the newline; `struck` has a line through them. Smaller than 11 pt is not drawn."""
        size = max(size, LEAST_TEXT)
        back = ' paint-order="stroke" stroke="#fff" stroke-width="5" stroke-linejoin="round"' if halo else ""
        back += ' text-decoration="line-through"' if struck else ""
        for row, line in enumerate(words.split("\n")):
            self.add(f'<text x="{number(x)}" y="{number(y + row * size * 1.22)}" font-size="{number(size)}" '
                     f'text-anchor="{anchor}" font-weight="{weight}" fill="{colour}"{back}>{escape(line)}</text>')

    def arrow(self, x1: float, y1: float, x2: float, y2: float, colour: str = INK, width: float = 2.5,
              head: float = 10, dash: str = "") -> None:
        """An arrow whose point is at (x2, y2)."""
        length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 or 1
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        bx, by = x2 - ux * head, y2 - uy * head
        self.line(x1, y1, bx, by, stroke=colour, width=width, dash=dash)
        side = head * 0.5
        self.shape([(x2, y2), (bx - uy * side, by + ux * side), (bx + uy * side, by - ux * side)],
                   fill=colour, stroke=colour, width=1)

    def leader(self, x1: float, y1: float, x2: float, y2: float, colour: str = INK) -> None:
        """A thin line from words to the thing they name, ending in a dot."""
        self.line(x1, y1, x2, y2, stroke=PAPER, width=4.5)
        self.line(x1, y1, x2, y2, stroke=colour, width=1.8)
        self.circle(x2, y2, 4, fill=colour, stroke=PAPER, width=1.4)

    def measure(self, x1: float, x2: float, y: float, words: str, colour: str = INK, above: bool = True,
                drop: float = 0, size: float = 16, anchor: str = "middle") -> None:
        """A level measure from x1 to x2 with its words above or below; `drop` draws lines to the thing."""
        for x in (x1, x2):
            self.line(x, y - 7, x, y + 7, stroke=colour, width=2)
            if drop:
                self.line(x, y, x, y + drop, stroke=colour, width=1.3, dash="3 4")
        if abs(x2 - x1) > 26:
            middle = (x1 + x2) / 2
            self.arrow(middle, y, x1, y, colour=colour, width=2, head=8)
            self.arrow(middle, y, x2, y, colour=colour, width=2, head=8)
        else:
            self.line(x1, y, x2, y, stroke=colour, width=2.5)
        at = {"middle": (x1 + x2) / 2, "start": x1, "end": x2}[anchor]
        self.text(at, y - 11 if above else y + 22, words, size=size, anchor=anchor, colour=colour, weight=600, halo=True)

    def figure(self, alt: str, caption: str = "", spoken: str = "") -> Figure:
        """The finished drawing with its words."""
        return Figure(self.svg(), alt, caption, spoken)

    def svg(self) -> str:
        """The whole `<svg>` element; the names inside are its own, so that two on a page never mix."""
        body = "".join(self.parts)
        kept = "".join(f'<g id="MARK-{name}">{shape}</g>' for name, shape in self.symbols.items())
        used = "".join(shape for name, shape in _patterns().items() if f"MARK-{name})" in body)
        mark = "f" + hashlib.sha256(body.encode()).hexdigest()[:8]
        w, h = number(self.width), number(self.height)
        return (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w} {h}" width="{w}" height="{h}" '
                f"font-family=\"'Source Sans 3','Segoe UI','DejaVu Sans',sans-serif\"><defs>{used}{kept}</defs>"
                f"{body}</svg>").replace("MARK-", mark + "-")

    def _fill(self, fill: str) -> str:
        return f"url(#MARK-{fill})" if fill in _PATTERNS else fill


_PATTERNS = {
    "sleeve": (ALUMINIUM, '<path d="M-2 10L10 -2M-2 20L20 -2M8 20L20 8" stroke="#b5b0a1" stroke-width="1.6"/>', 18),
    "copper": ("#e2b48f", '<path d="M-2 10L10 -2M-2 20L20 -2M8 20L20 8" stroke="#a9744a" stroke-width="1.6"/>', 18),
    "coat": (COAT, '<circle cx="3" cy="3" r="1.5" fill="#24618f"/><circle cx="8" cy="8" r="1.5" fill="#24618f"/>', 10),
    "void": (PAPER, f'<path d="M0 0L9 9M9 0L0 9" stroke="{RUST}" stroke-width="1.5"/>', 9),
    "jaw": (JAW, '<path d="M0 6H12" stroke="#6d7982" stroke-width="2"/>', 12),
    "crimp": ("#cfcabc", '<path d="M3 0V10M8 0V10" stroke="#9d9786" stroke-width="1.6"/>', 10),
}


def _patterns() -> dict[str, str]:
    return {
        name: f'<pattern id="MARK-{name}" width="{step}" height="{step}" patternUnits="userSpaceOnUse">'
        f'<rect width="{step}" height="{step}" fill="{ground}"/>{lines}</pattern>'
        for name, (ground, lines, step) in _PATTERNS.items()}
