"""What no single field can show: blocks that do not fit one another, and a sample that was not made one's own."""

from __future__ import annotations

import re

from rigcalc.errors import Refusal
from rigcalc.shop.fields import Finding, shown

__all__ = ["MOST_OF_TABLE", "across_blocks", "diameter_mm", "slot_size", "still_the_sample"]

FEW_LEFT = 3  # so many are told line by line
# Each measure of a chart's row in cable diameters, as it can at all be: common practice, never an acceptance value.
LIKELY_DIAMETERS = {
    "gauge_max": (1.5, 4, "across a crimp lie a leg and two walls at least, two legs and two walls at most"),
    "sleeve_before": (2, 12, "a sleeve is a few diameters long: a shorter one has no room to hold, a longer one fits no tool"),
    "crimp_width": (0.5, 6, "one jaw presses a part of the sleeve")}
# A loop runs from the sleeve to the bearing point and back, so it is longer than twice that way; and shorter than round a square on it.
LOOP_OF_BEARING = (2, 4)
BEARING_DIAMETERS = (3, 40)  # pin of two diameters and some way to the sleeve at least (common practice); beyond it a digit has slipped
HELD_AT_LEAST = 0.5  # of the table: an eye is taken to hold 90 % (common practice), and less than half is no test of it: the workbook's judgement
_HARMLESS = re.compile(r"\b(?:static|work|jobs?|hold(?:s|ing)?|light)\b", re.IGNORECASE)
_ALL_AND_EVERYBODY = re.compile(r"\b(?:anything|everything|whatever|all work|every\w*|any work)\b", re.IGNORECASE)
MOST_OF_TABLE = 1.5  # a stronger grade of wire is not that much stronger


def across_blocks(values: dict) -> list[Finding]:
    """Every disagreement between blocks whose own fields were read."""
    return [*_same_id_twice(values), *_reels(values), *_gauges(values), *_found_bad(values), *_charts(values), *_thimbles(values),
            *_factors(values), *_pull_tests(values)]


def _pull_tests(values: dict) -> list[Finding]:
    """What a piece must hold when it is pulled, against what cable of its size breaks at: a slipped digit or unit passes every piece, or none."""
    from rigcalc.cable import breaking_force
    from rigcalc.reference import table
    from rigcalc.units import show_force

    findings, system = [], values["shop"].get("system", "US")
    for n, one in enumerate(values["pull_test"]):
        if not {"size", "metal", "hold"} <= set(one):
            continue
        try:
            known = [breaking_force(one["size"], row.construction, one["metal"]).force_n for row in table("cable_strength") if row.size == one["size"]]
        except Refusal:
            continue
        if known and not min(known) * HELD_AT_LEAST <= one["hold"] <= max(known) * MOST_OF_TABLE:
            findings.append(Finding(("pull_test", n, "hold"), show_force(one["hold"], system),
                                    f"about what an eye of {one['size']} cable is taken to hold, 90 % of {show_force(min(known), system)}, where the maker gives no other",
                                    "correct the figure or its unit"))
    return findings


def _same_id_twice(values: dict) -> list[Finding]:
    """Two blocks of one sort with one id."""
    findings = []
    for name in ("reel", "tool", "gauge", "chart"):
        seen: dict[str, int] = {}
        for n, block in enumerate(values[name]):
            key = str(block.get("id", f"#{n}")).casefold()
            if key in seen:
                findings.append(Finding((name, n, "id"), shown(block["id"]), f"an id that no other [[{name}]] has",
                                        "give this one another id"))
            seen[key] = n
    return findings


def _reels(values: dict) -> list[Finding]:
    """A certificate in halves or beyond all steel, or a coat no bigger than its cable."""
    findings = []
    system = values["shop"].get("system", "US")
    for n, reel in enumerate(values["reel"]):
        for one, other in (("certificate", "certificate_force"), ("certificate_force", "certificate")):
            if one in reel and other not in reel:
                findings.append(Finding(("reel", n, one), f"{one} without {other}", "both lines, or neither",
                                        f"add {other}, or delete {one} when there is no certificate"))
        coat, size = reel.get("coating_to"), reel.get("size")
        findings += _impossible(reel, ("reel", n, "certificate_force"), system)
        if coat and size and "/" in size and _inches(coat) <= _inches(size):
            findings.append(Finding(("reel", n, "coating_to"), shown(coat), f"a size over the coat, more than {size}",
                                    "write the outside size of the coated cable"))
    return findings


def _impossible(reel: dict, path: tuple, system: str) -> list[Finding]:
    """A certificate above what any steel of the reel's size could hold."""
    from rigcalc._order_figures import own_unit_first
    from rigcalc._strength import refuse_impossible

    if "certificate_force" not in reel or reel.get("size", "unknown") == "unknown":
        return []
    try:
        refuse_impossible(reel["certificate_force"], diameter_mm(reel["size"]), reel["size"])
    except Refusal as refusal:
        return [Finding(path, own_unit_first(refusal.given, system), own_unit_first(refusal.accepted, system), refusal.do)]
    return []


def _inches(size: str):
    """An inch size by name as an exact fraction."""
    from rigcalc.units import read_size

    return read_size(size).inches


def diameter_mm(size: str) -> float:
    """The nominal diameter in mm of an inch or a metric size by name."""
    return float(size.removesuffix(" mm")) if size.endswith("mm") else float(_inches(size)) * 25.4


def _gauges(values: dict) -> list[Finding]:
    """A gauge due before it was checked."""
    return [Finding(("gauge", n, "due_on"), shown(g["due_on"]), f"a day after checked_on ({g['checked_on']})",
                    "correct one of the two dates")
            for n, g in enumerate(values["gauge"])
            if "due_on" in g and "checked_on" in g and g["due_on"] <= g["checked_on"]]


def _found_bad(values: dict) -> list[Finding]:
    """A tool or gauge that was found bad on no day, by nobody or without a reason, or checked again since."""
    findings, lines = [], ("found_bad", "found_bad_by", "why")
    for name in ("tool", "gauge"):
        for n, block in enumerate(values[name]):
            given = [key for key in lines if key in block]
            if given and len(given) < len(lines):
                missing = " and ".join(key for key in lines if key not in block)
                findings.append(Finding((name, n, given[0]), f"{given[0]} without {missing}", "found_bad (the day), found_bad_by and why, or none of the three", f"add {missing}"))
            if "found_bad" in block and "checked_on" in block and block["found_bad"] < block["checked_on"]:
                findings.append(Finding((name, n, "found_bad"), shown(block["found_bad"]), f"the day it was last checked ({block['checked_on']}) or later",
                                        "where it has been set right and checked since, delete found_bad, found_bad_by and why"))
    return findings


def _thimbles(values: dict) -> list[Finding]:
    """Two thimbles for one size and metal: nothing would say which one to take."""
    findings, seen = _loops(values), set()
    for n, thimble in enumerate(values["thimble"]):
        key = (thimble.get("size"), thimble.get("metal"))
        if None not in key and key in seen:
            findings.append(Finding(("thimble", n, "size"), f"{key[0]} {key[1]} a second time",
                                    "one thimble for each size and metal", "delete one of the two blocks"))
        seen.add(key)
    return findings


def _loops(values: dict) -> list[Finding]:
    """A thimble whose two measures no thimble of its size can have."""
    findings = []
    for n, thimble in enumerate(values["thimble"]):
        reach, loop, size = thimble.get("bearing_to_sleeve"), thimble.get("loop"), thimble.get("size")
        d = diameter_mm(size) if size else 0
        if reach and d and not BEARING_DIAMETERS[0] * d <= reach <= BEARING_DIAMETERS[1] * d:
            findings.append(Finding(("thimble", n, "bearing_to_sleeve"), f"{reach:g} mm for {size} cable, {reach / d:.2g} diameters",
                                    f"{BEARING_DIAMETERS[0]} to {BEARING_DIAMETERS[1]} diameters, {BEARING_DIAMETERS[0] * d:.3g} mm to {BEARING_DIAMETERS[1] * d:.3g} mm",
                                    "has a digit slipped? Measure it again on one thimble with its cable drawn snug"))
        elif reach and loop and not LOOP_OF_BEARING[0] * reach < loop <= LOOP_OF_BEARING[1] * reach:
            findings.append(Finding(("thimble", n, "loop"), f"a loop of {loop:g} mm with {reach:g} mm from bearing point to sleeve",
                                    f"more than {2 * reach:g} mm, out to the bearing point and back, and at most {4 * reach:g} mm, round a square of that side",
                                    "has a digit slipped? Measure both again on one thimble with its cable drawn snug"))
    return findings


def _factors(values: dict) -> list[Finding]:
    """Two factors for one class of use, or one whose scope takes in what is refused."""
    return _refused_scopes(values) + [Finding(("factor", n, "use"), "a second factor for the same use", "one factor for each use",
                    "delete the one that no longer holds")
            for n in range(1, len(values["factor"]))]


def _refused_scopes(values: dict) -> list[Finding]:
    """A scope that takes in lifting, people or vehicles: it would stand on the sheet beside the words that refuse them."""
    from rigcalc._order_plain import only_things
    from rigcalc._order_terms import OVERHEAD, PERSONS
    from rigcalc._order_words import refuse_words

    findings = []
    for n, factor in enumerate(values["factor"]):
        scope = re.sub(r"\b(?:no|not|never|without|nobody|neither|nor|except|excluding|but)\b.*?(?=\band\b|[,;.]|$)", "", factor.get("scope", ""), flags=re.IGNORECASE)
        if only_things(_HARMLESS.sub("", scope)):
            continue  # every page reads the shop file: the long lists are read for other words alone
        found = _ALL_AND_EVERYBODY.search(scope) or PERSONS.search(scope) or OVERHEAD.search(scope)
        given, accepted = f"a scope that speaks of '{found.group()}'" if found else "", "static work where nobody can be: the shop's own factor reaches no further"
        try:
            refuse_words(scope, "")
        except Refusal as refusal:
            given, accepted = refusal.given.replace("an order that", "a scope that"), refusal.accepted
        if given:
            findings.append(Finding(("factor", n, "scope"), given, accepted, "write what the factor holds for; nothing covers that work"))
    return findings


def _charts(values: dict) -> list[Finding]:
    """Charts copied and checked by one person, naming tools, cavities or gauges that are not in the file."""
    findings, pairs = [], set()
    for n, chart in enumerate(values["chart"]):
        copied, checked = (" ".join(str(chart.get(k, "")).split()).casefold() for k in ("copied_by", "checked_by"))
        if copied and copied == checked:
            findings.append(Finding(("chart", n, "checked_by"), shown(chart["checked_by"]),
                                    "another person than copied_by",
                                    "have somebody else read the rows against the maker's sheet"))
        if "copied_on" in chart and "checked_on" in chart and chart["checked_on"] < chart["copied_on"]:
            findings.append(Finding(("chart", n, "checked_on"), shown(chart["checked_on"]),
                                    f"the day it was copied ({chart['copied_on']}) or later", "correct the date"))
        pair = (chart.get("sleeve_metal"), chart.get("tool"))
        if None not in pair and pair in pairs:
            findings.append(Finding(("chart", n, "tool"), f"a second chart for {pair[0]} sleeves on tool {pair[1]}",
                                    "one chart for each sleeve metal and tool", "delete the edition no longer in force"))
        pairs.add(pair)
        findings += _chart_tool(values, n, chart)
        findings += _rows(values, n, chart)
    return findings


def _chart_tool(values: dict, n: int, chart: dict) -> list[Finding]:
    """A chart for a tool that is not in the file."""
    tools = [tool["id"] for tool in values["tool"] if "id" in tool]
    if "tool" not in chart or chart["tool"] in tools:
        return []
    return [Finding(("chart", n, "tool"), shown(chart["tool"]), "the id of a [[tool]]: " + (", ".join(tools) or "none yet"),
                    "correct the id or add the tool")]


def _rows(values: dict, n: int, chart: dict) -> list[Finding]:
    """The rows of one chart against its tool, the gauges and themselves."""
    tool = next((t for t in values["tool"] if "tool" in chart and t.get("id") == chart["tool"]), {})
    findings, seen = [], set()
    for m, row in enumerate(chart.get("row", ())):
        path = ("chart", n, "row", m)
        size = row.get("size")
        if size and size in seen:
            findings.append(Finding((*path, "size"), f"{size} a second time", "one row for each size",
                                    "delete one of the two rows"))
        seen.add(size)
        findings += _across_a_smaller(chart["row"], row, path)
        findings += _cavity(tool, row, path) + _gauge(values, chart, row, path) + _row_itself(row, path)
    return findings


def _across_a_smaller(rows: tuple, row: dict, path: tuple) -> list[Finding]:
    """A greatest size over a crimp below that of a smaller cable: two rows changed over would pass a crimp that is not closed."""
    if "gauge_max" not in row or "size" not in row:
        return []
    smaller = [one for one in rows if "gauge_max" in one and "size" in one and diameter_mm(one["size"]) < diameter_mm(row["size"]) and one["gauge_max"] > row["gauge_max"]]
    return [Finding((*path, "gauge_max"), f"{row['gauge_max']:g} mm for {row['size']} and {one['gauge_max']:g} mm for {one['size']}",
                    "across the crimp of a thicker cable no less than across that of a thinner one", "read both rows of the maker's sheet again") for one in smaller[:1]]


def _cavity(tool: dict, row: dict, path: tuple) -> list[Finding]:
    """A row whose size or cavity mark the tool does not have."""
    cavities = dict(tool.get("cavities", ()))
    if not cavities or "size" not in row:
        return []
    if row["size"] not in cavities:
        return [Finding((*path, "size"), shown(row["size"]), f"a size that tool {tool['id']} has a cavity for: "
                        + ", ".join(cavities), "correct the size, or add the cavity to the tool")]
    if "cavity" in row and row["cavity"] != cavities[row["size"]]:
        return [Finding((*path, "cavity"), shown(row["cavity"]), f'"{cavities[row["size"]]}", the mark of tool '
                        f"{tool['id']} for {row['size']}", "look at the jaw and correct one of the two")]
    return []


def _gauge(values: dict, chart: dict, row: dict, path: tuple) -> list[Finding]:
    """A row whose gauge is not in the file, or has no slot for it."""
    if "gauge" not in row:
        return []
    gauge = next((g for g in values["gauge"] if g.get("id") == row["gauge"]), None)
    if gauge is None:
        known = ", ".join(g["id"] for g in values["gauge"] if "id" in g) or "none yet"
        return [Finding((*path, "gauge"), shown(row["gauge"]), f"the id of a [[gauge]]: {known}",
                        "correct the id or add the gauge")]
    findings = []
    if "sizes" in gauge and "size" in row and row["size"] not in gauge["sizes"]:
        findings.append(Finding((*path, "gauge"), shown(row["gauge"]), f"a gauge with a slot for {row['size']}",
                                "name another gauge, or add the size to this one"))
    if "sleeve_metals" in gauge and "sleeve_metal" in chart and chart["sleeve_metal"] not in gauge["sleeve_metals"]:
        findings.append(Finding((*path, "gauge"), shown(row["gauge"]), f"a gauge for {chart['sleeve_metal']} sleeves",
                                "name another gauge, or add the sleeve metal to this one"))
    return findings + _slot(gauge, row, path)


def _slot(gauge: dict, row: dict, path: tuple) -> list[Finding]:
    """A slot that the row's gauge does not have: it would stand on the wall card. A slot's letter is taken as it is."""
    slot, has = row.get("gauge_slot"), gauge.get("sizes")
    if not slot or not has or slot_size(slot) in has or not any(map(str.isdigit, slot)):
        return []
    return [Finding((*path, "gauge_slot"), shown(slot), f"a slot of gauge {row['gauge']}: {', '.join(has)}; or the letter marked on it",
                    "read the maker's sheet and the gauge, and correct the slot or the gauge's sizes")]


def slot_size(slot: str) -> str:
    """The inch size that a slot is called by, or '' for a mark of another kind."""
    from rigcalc.units import read_size

    try:
        return read_size(slot).name
    except Refusal:
        return ""


def _row_itself(row: dict, path: tuple) -> list[Finding]:
    """A row that contradicts itself: order against count, growth, and room for the crimps."""
    findings = []
    order, count = row.get("order"), row.get("count")
    if order and count and len(order) != count:
        findings.append(Finding((*path, "order"), f"an order of {len(order)} crimps with count = {count}",
                                f"{count} crimp numbers", "copy both again from the maker's chart"))
    if order and "order_source" not in row:
        findings.append(Finding((*path, "order_source"), "nothing", "where the order stands on the maker's sheet",
                                "add the line order_source"))
    before, after = row.get("sleeve_before"), row.get("sleeve_after")
    if before and after and after <= before:
        findings.append(Finding((*path, "sleeve_after"), f"{after:g} mm", f"more than sleeve_before ({before:g} mm): "
                                "a sleeve grows when it is pressed", "measure three pressed sleeves and enter the mean"))
    findings += _grown(row, path) + _slipped(row, path)
    width, gap = row.get("crimp_width"), row.get("minimum_gap")
    if width and gap is not None and count and after and count * width + (count - 1) * gap > after:
        findings.append(Finding((*path, "count"), f"{count} crimps of {width:g} mm with gaps of {gap:g} mm",
                                f"what has room on a pressed sleeve of {after:g} mm",
                                "check count, crimp_width, minimum_gap and sleeve_after against the maker's chart"))
    return findings


def _grown(row: dict, path: tuple) -> list[Finding]:
    """A growth beyond what any sleeve of that size grows."""
    from rigcalc.layout import refuse_growth
    from rigcalc.units import read_size

    if not all(key in row for key in ("size", "sleeve_before", "sleeve_after")) or row["sleeve_after"] <= row["sleeve_before"]:
        return []
    try:
        refuse_growth(read_size(row["size"]).diameter_mm, row["sleeve_after"] - row["sleeve_before"])
    except Refusal as refusal:
        return [Finding((*path, "sleeve_after"), refusal.given, refusal.accepted, refusal.do)]
    return []


def _slipped(row: dict, path: tuple) -> list[Finding]:
    """A measure of the row so far from its size that a digit must have slipped."""
    if "size" not in row:
        return []
    d = diameter_mm(row["size"])
    return [Finding((*path, key), f"{row[key]:g} mm on {row['size']} cable, {row[key] / d:.2g} diameters", f"{least:g} to {most:g} diameters, {least * d:.3g} mm to "
                    f"{most * d:.3g} mm: {why}", "has a digit slipped? Read the maker's sheet and measure again")
            for key, (least, most, why) in LIKELY_DIAMETERS.items() if row.get(key) and not least * d <= row[key] <= most * d]


def still_the_sample(values: dict, sample: dict) -> list[Finding]:
    """A shop that says invented = false while names or texts are still the invented sample's."""
    if values["shop"].get("invented") is not False:
        return []
    names = {name.casefold() for name in (sample["shop"]["name"], *sample["people"].values())}
    left = [(path, found) for path, found in _texts(values) if " ".join(found.split()).casefold() in names or "invented" in found.casefold()]
    if len(left) > FEW_LEFT:
        return [Finding(("shop", "invented"), f"false while {len(left)} texts are still the invented sample's: {_listed([path for path, _ in left])}",
                        "your own shop's name, people and charts when invented = false", "write your own in each of these, or set invented = true")]
    return [Finding(path, shown(found), "your own shop's name, people and charts when invented = false",
                    "write your own, or set invented = true") for path, found in left]


def _listed(paths: list[tuple]) -> str:
    """Fields by their blocks, each named once, with how often it stands there."""
    blocks: dict[str, dict[str, int]] = {}
    for path in paths:
        block, *rest = [str(part) for part in path if not isinstance(part, int)]
        field = rest[-1] if rest else ""
        blocks.setdefault(block, {}).setdefault(field, 0)
        blocks[block][field] += 1
    return "; ".join(f"{block} " + ", ".join(f"{field}{f' ({count} times)' if count > 1 else ''}" for field, count in fields.items())
                     for block, fields in blocks.items())


def _texts(value: object, path: tuple = ()) -> list[tuple[tuple, str]]:
    """Every text of the file with its path."""
    if isinstance(value, str):
        return [(path, value)]
    if isinstance(value, dict):
        return [hit for key, inner in value.items() for hit in _texts(inner, (*path, key))]
    if isinstance(value, (list, tuple)):
        return [hit for n, inner in enumerate(value) for hit in _texts(inner, (*path, n))]
    return []
