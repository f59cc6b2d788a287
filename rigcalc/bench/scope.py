"""What one form shows and what it does not: a certificate prints both."""

from __future__ import annotations

__all__ = ["not_shown", "shown"]


def shown(form: dict) -> dict:
    """What was made: sleeve metal, cable metal, construction, tool, cavity and the one size."""
    made = form["made"]
    return {"sleeve_metal": made["sleeve_metal"], "cable_metal": made["metal"], "construction": made["construction"],
            "tool": made["tool"], "cavity": made["cavity"], "sizes": [made["size"]]}


def not_shown(form: dict, shop) -> list[str]:
    """In plain words, what the shop's charts and racks hold and this form left out."""
    made = form["made"]
    lines = []
    charts = [c for c in shop.charts if c.tool == made["tool"]]
    sizes = sorted({r.size for c in charts for r in c.rows if r.size != made["size"]}, key=_inches)
    if sizes:
        lines.append(f"other sizes of tool {made['tool']}: {', '.join(sizes)}")
    metals = sorted({c.sleeve_metal for c in shop.charts} - {made["sleeve_metal"]})
    if metals:
        lines.append(f"other sleeve metals: {', '.join(metals)}")
    tools = sorted({t.id for t in shop.tools} - {made["tool"]})
    if tools:
        lines.append(f"other tools: {', '.join(tools)}")
    cables = sorted({(r.construction, r.metal) for r in shop.reels if r.is_inch} - {(made["construction"], made["metal"])})
    if cables:
        lines.append("other cable: " + ", ".join(f"{construction} {metal}" for construction, metal in cables))
    for task in form["tasks"]:
        lines += task["leaves_out"]
    return lines


def _inches(size: str) -> float:
    over, _, under = size.partition("/")
    return float(over) / float(under or 1)
