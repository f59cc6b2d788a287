"""Drawing the true section of 133 wires: this workbook's drawing against matplotlib's ellipse patches, both as SVG text.

    python tests/benchmarks/measure_section.py

Nothing is kept between turns: the positions of the wires are worked out again on both sides. Limit: 50 times faster.
"""

from __future__ import annotations

import io
import math
import sys
import time

TURNS = 9
LEAST = 50
SIZE_MM = 3.175


def ours() -> str:
    """The lesson's figure with labels and measure, nothing kept from an earlier turn."""
    from rigcalc.figures import cables

    cables.wires_at_crown.cache_clear()
    cables._wires_svg.cache_clear()
    return cables.cable_section("7x19", SIZE_MM, "1/8").svg


def theirs() -> str:
    """The bare ellipses, without a label."""
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure
    from matplotlib.patches import Ellipse

    from rigcalc.cable import section

    figure = Figure(figsize=(4, 4))
    FigureCanvasSVG(figure)
    axes = figure.add_axes((0, 0, 1, 1), aspect="equal", xlim=(-2, 2), ylim=(-2, 2))
    axes.set_axis_off()
    for wire in section("7x19", SIZE_MM):
        axes.add_patch(Ellipse((wire.x_mm, wire.y_mm), 2 * wire.major_mm, 2 * wire.minor_mm, angle=math.degrees(wire.angle_rad),
                               facecolor="#b8c4cc", edgecolor="black"))
    text = io.StringIO()
    figure.savefig(text, format="svg")
    return text.getvalue()


def main() -> int:
    """Print one table; 0 when the drawing is fast enough."""
    least, size = {ours: math.inf, theirs: math.inf}, {}
    wires = ours().count("<ellipse vector-effect")  # the leaders and circles of the figure are not wires
    for _ in range(TURNS):
        for draw in least:
            began = time.perf_counter()
            text = draw()
            least[draw], size[draw] = min(least[draw], time.perf_counter() - began), len(text)
    print(f"{wires} wires; the least of {TURNS} turns")
    for draw, name in ((ours, "this workbook's drawing, labelled"), (theirs, "matplotlib's patches, bare")):
        print(f"  {name:36} {least[draw] * 1000:8.2f} ms  {size[draw]:7} signs")
    ratio = least[theirs] / least[ours]
    print(f"times faster: {ratio:.0f} (at least {LEAST})")
    return 0 if ratio >= LEAST and wires == 133 else 1


if __name__ == "__main__":
    sys.exit(main())
