"""What no single field of the newer blocks can show: growth against charts, lots, offcuts, fittings, clips, dates."""

from __future__ import annotations

from datetime import date

from rigcalc.errors import Refusal
from rigcalc.reference import constant
from rigcalc.shop.fields import Finding, shown

__all__ = ["days_of", "stores", "to_come"]

RULE_MM = float(constant("reading of a rule").value)
CAN_BE_ANGLED = ("eyebolt", "eye screw")


def stores(values: dict) -> list[Finding]:
    """Every disagreement of the blocks that a shop may leave out."""
    return [*_same_twice(values), *_growths(values), *_lots(values), *_offcuts(values), *_fittings(values), *_clips(values),
            *_prices(values)]


def _same_twice(values: dict) -> list[Finding]:
    """Two blocks that speak of one thing."""
    findings = []
    for name, keys in (("pulled_lot", ("id",)), ("offcut", ("id",)), ("fitting", ("kind", "name")), ("clip", ("size",)),
                       ("growth", ("sleeve_metal", "size", "tool"))):
        seen = set()
        for n, block in enumerate(values[name]):
            key = tuple(str(block[k]).casefold() for k in keys if k in block)
            if len(key) == len(keys) and key in seen:
                findings.append(Finding((name, n, keys[-1]), f"{' '.join(str(block[k]) for k in keys)} a second time",
                                        f"one [[{name}]] for each {' and '.join(keys)}".replace("_", " "),
                                        "delete one of the two, or give it another name"))
            seen.add(key)
    return findings


def _tool_size(values: dict, block: dict, path: tuple) -> list[Finding]:
    """A tool that is not in the file, or has no cavity for the size."""
    if "tool" not in block:
        return []
    tool = next((t for t in values["tool"] if t.get("id") == block["tool"]), None)
    if tool is None:
        known = ", ".join(t["id"] for t in values["tool"] if "id" in t) or "none yet"
        return [Finding((*path, "tool"), shown(block["tool"]), f"the id of a [[tool]]: {known}", "correct the id or add the tool")]
    fits = dict(tool.get("cavities", ()))
    if fits and "size" in block and block["size"] not in fits:
        return [Finding((*path, "size"), shown(block["size"]), f"a size that tool {block['tool']} has a cavity for: "
                        + ", ".join(fits), "correct the size or the tool")]
    return []


# --- growth -----------------------------------------------------------------------------------------

def _growths(values: dict) -> list[Finding]:
    """Sleeves that shrank, or whose mean is not what the chart's row says."""
    findings = []
    for n, growth in enumerate(values["growth"]):
        path = ("growth", n)
        findings += _tool_size(values, growth, path)
        before, after = growth.get("before"), growth.get("after")
        if not before or not after:
            continue
        short = [m for m, (b, a) in enumerate(zip(before, after)) if a <= b]
        if short:
            findings.append(Finding((*path, "after"), f"{after[short[0]]:g} mm after {before[short[0]]:g} mm",
                                    "each sleeve longer after pressing than before", "measure that sleeve again"))
            continue
        findings += _too_much(growth, path) or _against_chart(values, growth, path)
    return findings


def _too_much(growth: dict, path: tuple) -> list[Finding]:
    """A sleeve that grew beyond what any of that size does."""
    from rigcalc.layout import refuse_growth
    from rigcalc.units import read_size

    try:
        if "size" in growth:
            refuse_growth(read_size(growth["size"]).diameter_mm, max(a - b for b, a in zip(growth["before"], growth["after"])))
    except Refusal as refusal:
        return [Finding((*path, "after"), refusal.given, refusal.accepted, refusal.do)]
    return []


def _against_chart(values: dict, growth: dict, path: tuple) -> list[Finding]:
    """The means against the row of the chart in force, when the sleeves were pressed by that edition."""
    row = next((r for c in values["chart"] for r in c.get("row", ())
                if all(key in growth and c.get(key) == growth[key] for key in ("sleeve_metal", "tool", "edition"))
                and r.get("size") == growth.get("size")), None)
    findings = []
    for field, key in (("before", "sleeve_before"), ("after", "sleeve_after")):
        mean = sum(growth[field]) / len(growth[field])
        if row and key in row and abs(mean - row[key]) > RULE_MM + 1e-9:
            findings.append(Finding((*path, field), f"a mean of {mean:.1f} mm", f"{key} of the chart's row ({row[key]:g} mm) "
                                    f"to {RULE_MM:g} mm, what a rule shows", "measure again, or correct the chart's row"))
    return findings


# --- lots and offcuts ---------------------------------------------------------------------------------

def _lots(values: dict) -> list[Finding]:
    """Lots without an end for each force, on a tool or from a reel that does not fit, or pulled past the instrument's date."""
    findings = []
    for n, lot in enumerate(values["pulled_lot"]):
        path = ("pulled_lot", n)
        findings += _tool_size(values, lot, path) + _lot_reel(values, lot, path)
        if "forces" in lot and "endings" in lot and len(lot["forces"]) != len(lot["endings"]):
            findings.append(Finding((*path, "endings"), f"{len(lot['endings'])} endings", f"{len(lot['forces'])}, one for each force",
                                    "write how each piece ended, in the order of the forces"))
        if "pulled_on" in lot and "instrument_due" in lot and lot["instrument_due"] < lot["pulled_on"]:
            findings.append(Finding((*path, "instrument_due"), shown(lot["instrument_due"]),
                                    f"the day of pulling ({lot['pulled_on']}) or later",
                                    "correct the date, or pull a lot again with an instrument in date"))
    return findings


def _lot_reel(values: dict, lot: dict, path: tuple) -> list[Finding]:
    """A lot whose reel is not in the file, or is of another size, construction or metal."""
    if "reel" not in lot:
        return []
    reel = next((r for r in values["reel"] if r.get("id") == lot["reel"]), None)
    if reel is None:
        return [_no_reel(values, lot, path)]
    return [Finding((*path, key), shown(lot[key]), f"{shown(reel[key])}, what reel {lot['reel']} is", "correct the lot or its reel")
            for key in ("size", "construction", "metal") if key in lot and key in reel and lot[key] != reel[key]]


def _no_reel(values: dict, block: dict, path: tuple) -> Finding:
    known = ", ".join(r["id"] for r in values["reel"] if "id" in r) or "none yet"
    return Finding((*path, "reel"), shown(block["reel"]), f"the id of a [[reel]]: {known}",
                   "correct the id, or leave the line out where the reel is not known any more")


def _offcuts(values: dict) -> list[Finding]:
    """Offcuts of reels that are not there, or shorter than what the shop keeps."""
    findings, keep = [], values["cutting"].get("keep_length")
    for n, offcut in enumerate(values["offcut"]):
        path = ("offcut", n)
        reel = next((r for r in values["reel"] if r.get("id") == offcut.get("reel")), None)
        if "reel" in offcut and reel is None:
            findings.append(_no_reel(values, offcut, path))
        if keep and "length" in offcut and offcut["length"] < keep:
            findings.append(Finding((*path, "length"), f"{offcut['length']:g} mm", f"at least keep_length of [cutting] ({keep:g} mm)",
                                    "throw it away: it is scrap by the shop's own rule"))
    return findings


# --- fittings, clips, prices ----------------------------------------------------------------------------

def _fittings(values: dict) -> list[Finding]:
    """Angle rows on what takes none, without their source, or that rise above the mark."""
    findings = []
    for n, fitting in enumerate(values["fitting"]):
        path, angles = ("fitting", n), fitting.get("angles")
        if angles is None:
            continue
        if "kind" in fitting and fitting["kind"] not in CAN_BE_ANGLED:
            findings.append(Finding((*path, "angles"), f"angles for a {fitting['kind']}", " or ".join(CAN_BE_ANGLED),
                                    "delete the line: it is pulled in line only"))
        if "angles_source" not in fitting:
            findings.append(Finding((*path, "angles_source"), "nothing", "the maker's sheet that the angles were copied from",
                                    "add the line: another maker's rows do not hold for this one"))
        forces = [fitting.get("limit", angles[0][1]), *(force for _, force in angles)]
        if angles[0][0] <= 0 or any(b > a for a, b in zip(forces, forces[1:])):
            findings.append(Finding((*path, "angles"), "angles from 0, or a force that rises with the angle",
                                    "angles above 0, forces that never pass the limit nor rise", "copy the maker's rows again"))
    return findings


def _clips(values: dict) -> list[Finding]:
    """A clip row copied and checked by one person."""
    return [Finding(("clip", n, "checked_by"), shown(clip["checked_by"]), "another person than copied_by",
                    "have somebody else read the row against the maker's sheet")
            for n, clip in enumerate(values["clip"]) if "copied_by" in clip and "checked_by" in clip
            and _plain(clip["copied_by"]) == _plain(clip["checked_by"])]


def _plain(words: str) -> str:
    return " ".join(words.split()).casefold()


def _prices(values: dict) -> list[Finding]:
    """A price for a metre of a reel that is not there."""
    known = [r["id"] for r in values["reel"] if "id" in r]
    return [Finding(("prices", "cable_metre"), f"a price for reel {reel}", f"ids of [[reel]] blocks: {', '.join(known) or 'none yet'}",
                    "correct the id") for reel, _ in values["prices"].get("cable_metre", ()) if reel not in known]


# --- days -------------------------------------------------------------------------------------------

def to_come(values: dict, made_up: frozenset[date] = frozenset()) -> list[Finding]:
    """Something done on a day that is still to come, in any block; `made_up` are the days of the invented sample, left alone."""
    today = date.today()
    dated = [(path, block) for name, blocks in values.items() if name != "form"
             for path, block in ([((name, n), block) for n, block in enumerate(blocks)] if isinstance(blocks, list) else [((name,), blocks)])]
    return [Finding((*path, key), shown(day), f"today ({today}) or earlier", "correct the date: what is still to come has not been done")
            for path, block in dated for key, day in block.items()
            if (key.endswith("_on") and key != "due_on" or key == "found_bad") and isinstance(day, date) and day > today and day not in made_up]


def days_of(values: dict) -> frozenset[date]:
    """Every day that stands in a shop file."""
    blocks = [block for blocks in values.values() for block in (blocks if isinstance(blocks, list) else [blocks]) if isinstance(block, dict)]
    return frozenset(day for block in blocks for day in block.values() if isinstance(day, date))
