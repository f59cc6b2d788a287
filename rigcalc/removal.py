"""Removal from service: one house rule, and beside it the published rules of other equipment, which disagree."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from rigcalc._given import among, of_kind, said
from rigcalc._records import record
from rigcalc.cable import Construction, sleeve_construction
from rigcalc.errors import Refusal
from rigcalc.reference import Row, table
from rigcalc.units import exact

__all__ = ["COATS", "LOOKS", "MEASURES", "Answer", "Inspection", "Removal", "broken_wires_allowed", "published_answers", "removal",
           "share_of_wires"]

HOUSE = "hand-pressed assembly (house rule)"
COATS = ("none", "sound", "damaged")
MEASURES: Mapping[str, str] = MappingProxyType({
    "broken_at_sleeve": "broken wires at or within a sleeve's reach",
    "broken_in_8d": "broken wires in 8 diameters", "broken_in_lay": "broken wires in one lay",
    "broken_in_strand_lay": "broken wires of one strand in one lay", "broken_in_6d": "broken wires in 6 diameters",
    "broken_in_30d": "broken wires in 30 diameters", "broken_in_1in": "broken wires in 1 inch",
    "outer_wire_worn_percent": "wear of an outer wire, per cent of its diameter",
    "below_nominal_percent": "diameter below nominal, per cent"})
# Any one of these takes a piece out, but for the bloom (common practice; the tag: WAC 296-24-29425 (1), of slings, taken over).
LOOKS: Mapping[str, str] = MappingProxyType({
    "moved_mark": "the witness mark has moved", "tail_gone": "the short tail no longer shows at a sleeve: the cable has moved in it",
    "crack": "a crack in the sleeve", "red_rust": "red rust at the sleeve's mouth", "white_bloom": "white bloom at the sleeve's mouth",
    "loose_thimble": "a loose thimble: the eye has grown, or the cable has moved",
    "overloaded_or_fell": "an overload, or a fall, of the cable or of what hung on it", "kinked": "a kink or an opened strand",
    "flattened": "a flattened place", "heat_or_arc": "a mark of heat, welding or current",
    "tag_unread": "a tag that is gone or cannot be read: nobody knows its limit"})
_STAYS_WITH = "white_bloom"  # zinc or aluminium is eaten, the wires are not yet
# From the shorter length to the longer: what lies in the shorter lies in the longer too.
_NESTED = (("broken_in_strand_lay", "broken_in_lay"), ("broken_in_6d", "broken_in_lay"), ("broken_in_lay", "broken_in_8d"),
           ("broken_in_6d", "broken_in_8d"), ("broken_in_8d", "broken_in_30d"))


@record(kw_only=True)
class Inspection:
    """What was seen on one assembly. Counts are the worst length found, away from the sleeves except the first.

    `construction`: 7x7 or 7x19. `coat`: none, sound or damaged (any bulge, crack or stain).
    Looked at, each True or False, in words in `LOOKS`: `moved_mark`, `tail_gone`, `crack`, `red_rust`, `white_bloom`,
    `loose_thimble` (False where there is none), `overloaded_or_fell`, `kinked`, `flattened`, `heat_or_arc`, `tag_unread`.
    What was not looked at has no answer, and the record is refused.
    Broken wires, whole numbers, in words in `MEASURES`: `broken_at_sleeve` always (in doubt, a wire is at the sleeve);
    `broken_in_8d` unless the cable is coated; `broken_in_lay`, `broken_in_strand_lay`, `broken_in_6d`, `broken_in_30d`
    and `broken_in_1in` answer published rules. Per cent from 0: `outer_wire_worn_percent`, `below_nominal_percent`.
    None means that nobody counted or measured it.
    """

    construction: str = ""
    broken_at_sleeve: int | None = None
    broken_in_8d: int | None = None
    moved_mark: bool | None = None
    tail_gone: bool | None = None
    crack: bool | None = None
    red_rust: bool | None = None
    white_bloom: bool | None = None
    loose_thimble: bool | None = None
    overloaded_or_fell: bool | None = None
    kinked: bool | None = None
    flattened: bool | None = None
    heat_or_arc: bool | None = None
    tag_unread: bool | None = None
    coat: str = ""
    broken_in_lay: int | None = None
    broken_in_strand_lay: int | None = None
    broken_in_6d: int | None = None
    broken_in_30d: int | None = None
    broken_in_1in: int | None = None
    outer_wire_worn_percent: float | None = None
    below_nominal_percent: float | None = None

    def __post_init__(self) -> None:
        built = sleeve_construction(self.construction)
        for name, words in LOOKS.items():
            if not isinstance(getattr(self, name), bool):
                raise Refusal(f"{said(getattr(self, name))} for {words}", "True or False", "look again: a blank is no answer")
        if not among(self.coat, COATS):
            raise Refusal(f"the coat {said(self.coat)}", ", ".join(COATS), "any bulge, crack or stain of the coat is damage")
        if self.broken_in_8d is None and self.coat == "none":
            raise Refusal("no count of broken wires in 8 diameters of a bare cable", "the worst count found, 0 for none",
                          "pass a cloth along it, look closely where it catches, and count")
        for name in MEASURES:
            _check(getattr(self, name), name, built)
        for short, long in _NESTED:
            if None not in (getattr(self, short), getattr(self, long)) and getattr(self, short) > getattr(self, long):
                raise Refusal(f"{getattr(self, short)} {MEASURES[short]} and {getattr(self, long)} {MEASURES[long]}",
                              "no more in the shorter length than in the longer one", "count the worst place of each length again")


@record
class Answer:
    """What one published rule says of the piece: out, stay or not counted; for which equipment it was written."""

    rule: str
    equipment: str
    asks: str
    found: str
    answer: str
    cited: str
    how_known: str


@record
class Removal:
    """The house rule's verdict, out or stay, its reasons, notes, what to do, and the published answers beside it."""

    verdict: str
    reasons: tuple[str, ...]
    notes: tuple[str, ...]
    do: str
    published: tuple[Answer, ...]


def broken_wires_allowed(construction: str) -> int:
    """The most broken wires in any 8 diameters, away from the sleeves, with which the house rule lets a cable stay.

    Parameter: 7x7 or 7x19. Errors: `Refusal` for any other.
    Source: Michigan R 408.15226(3), 10 % of all wires, rounded down; taken over for this cable by judgement.

    >>> broken_wires_allowed("7x7"), broken_wires_allowed("7x19")
    (4, 13)
    """
    row = next(row for row in _rules(True) if row.measure == "broken_in_8d")
    return int(sleeve_construction(construction).wires * row.limit / 100)


def share_of_wires(broken: int, construction: str) -> float:
    """Which share of all wires of a cable a number of broken ones is.

    Parameters: a count from 0; 7x7 or 7x19. Errors: `Refusal` for a count beyond all wires, or another construction.
    Source: geometry (wires counted).

    >>> round(share_of_wires(10, "7x7"), 3), round(share_of_wires(10, "7x19"), 3)
    (0.204, 0.075)
    """
    built = sleeve_construction(construction)
    if broken is None:
        raise Refusal("no count of broken wires", "a whole number from 0", "count them")
    _check(broken, "broken_in_lay", built)
    return broken / built.wires


def removal(seen: Inspection) -> Removal:
    """Whether an assembly goes out of service by the house rule, with the published rules of other equipment beside it.

    Out: any broken wire at a sleeve, a moved witness mark, a tail that no longer shows, a crack, red rust at the mouth, a
    loose thimble, an overload or fall, a kink, a flattened place, a mark of heat, damage to a coat; elsewhere more than 10 %
    of the wires broken in 8 diameters; wear of a third; 5 % below nominal exceeded. Wires under a coat cannot be counted,
    and the result says so. White bloom stays, with a note. A tag that cannot be read is out until a new one is on.
    Errors: none of its own; an `Inspection` refuses blanks and contradictions.
    Source: house rule (judgement) on Michigan R 408.15226(3); what is looked at: common practice; published rules in the
    table removal_rules, each for its own equipment; tag: WAC 296-24-29425 (1), an unmarked sling may not be used, taken over.

    >>> seen = Inspection(construction="7x7", broken_at_sleeve=0, broken_in_8d=5, coat="none", broken_in_lay=5, **dict.fromkeys(LOOKS, False))
    >>> removal(seen).verdict, removal(seen).reasons
    ('out', ('5 broken wires in 8 diameters: at most 4 may stay (more than 10 percent of all wires is out)',))
    """
    built = sleeve_construction(of_kind(seen, Inspection, "what was seen").construction)
    reasons = [words for name, words in LOOKS.items() if getattr(seen, name) and name != _STAYS_WITH]
    if seen.coat == "damaged":
        reasons.append("a bulge, crack or stain of the coat: what lies under it cannot be seen")
    for row in _rules(True):
        found = getattr(seen, row.measure)
        if found is not None and _out(row, found, built):
            reasons.append(f"{_found(row.measure, found)}: {_stays(row, built)} ({_limit(row)} is out)")
    notes = (f"10 in a lay is a rule for slings of rope with many wires: on {seen.construction} it is {100 * share_of_wires(10, seen.construction):.0f} % of the cable.",
             "The published rules disagree, and each was written for its own equipment: none of them may keep a piece in service that the house rule takes out.")
    if seen.coat != "none":
        notes += ("Wires under a coat cannot be counted: that nothing was found shows little. Look more often.",)
    if seen.white_bloom:
        notes += ("White bloom is the zinc or the aluminium being eaten (common practice): wipe it off and look below for red rust and broken "
                  "wires; find where the wet comes from, and look again sooner than planned.",)
    if not reasons:
        do = "it may stay until the next inspection; record what was looked at"
    elif reasons == [LOOKS["tag_unread"]]:
        do = "take the load off; it goes back when a new tag, written from its record, is on it; a piece that no record names is cut through the sleeve"
    else:
        do = "take it out of service, mark it unfit, cut it through the sleeve and record why; no lower limit is set instead"
    return Removal("out" if reasons else "stay", tuple(reasons), notes, do, published_answers(seen))


def published_answers(seen: Inspection) -> tuple[Answer, ...]:
    """What each published rule would say of this piece, side by side: out, stay or not counted.

    Each rule applies to its own equipment only. A row from memory says so and decides nothing.
    Errors: `Refusal` for a construction that no hand-pressed sleeve fits.
    Source: table removal_rules, each row with its own source.

    >>> seen = Inspection(construction="7x7", broken_at_sleeve=0, broken_in_8d=6, coat="none", broken_in_lay=6, **dict.fromkeys(LOOKS, False))
    >>> [(answer.rule, answer.answer) for answer in published_answers(seen) if answer.rule in ("slings: lay", "running rope: lay")]
    [('slings: lay', 'stay'), ('running rope: lay', 'out')]
    """
    built = sleeve_construction(of_kind(seen, Inspection, "what was seen").construction)
    return tuple(_answer(row, getattr(seen, row.measure), built) for row in _rules(False)
                 if row.construction in (None, seen.construction))


def _rules(house: bool) -> list[Row]:
    return [row for row in table("removal_rules") if (row.equipment == HOUSE) == house]


def _answer(row: Row, found: float | None, built: Construction) -> Answer:
    answer = "not counted" if found is None else "out" if _out(row, found, built) else "stay"
    memory = " (from memory: decides nothing)" if row.how_known == "from memory" else ""
    return Answer(row.rule, row.equipment, f"{MEASURES[row.measure]}: {_limit(row)} is out{memory}",
                  "not counted" if found is None else _number(found), answer, row.cited, row.how_known)


def _out(row: Row, found: float, built: Construction) -> bool:
    limit = _in_wires(row, built)
    return exact(found) >= limit if row.when == "reached" else exact(found) > limit


def _in_wires(row: Row, built: Construction) -> Fraction:
    of = {"percent of all wires": built.wires, "percent of a strand's wires": built.wires_per_strand}
    return row.limit * of[row.unit] / 100 if row.unit in of else row.limit


def _limit(row: Row) -> str:
    number = "a third" if row.limit == Fraction(100, 3) else f"{_number(row.limit)}{'' if row.unit == 'wires' else ' ' + row.unit}"
    return f"{number} or more" if row.when == "reached" else f"more than {number}"


def _stays(row: Row, built: Construction) -> str:
    limit = _in_wires(row, built)
    if row.unit == "percent":
        return "too much"
    most = int(limit) - (row.when == "reached" and limit == int(limit))
    return f"at most {most} may stay" if most else "none may stay"


def _found(measure: str, value: float) -> str:
    words = MEASURES[measure]
    if not measure.startswith("broken"):
        return f"{words}: {_number(value)}"
    return f"{_number(value)} {words.replace('wires', 'wire', 1) if value == 1 else words}"


def _number(value: float) -> str:
    return f"{float(value):g}"


def _check(value: float | None, name: str, built: Construction) -> None:
    if value is None and name != "broken_at_sleeve":
        return
    number = exact(value)
    if name.startswith("broken"):
        most = built.wires_per_strand if "strand" in name else None if name in ("broken_in_30d", "broken_at_sleeve") else built.wires
        if number < 0 or number.denominator != 1 or (most is not None and number > most):
            upto = f" to {most}" if most is not None else ""
            raise Refusal(f"{value} {MEASURES[name]}", f"a whole number from 0{upto}", "count again")
    elif not 0 <= number < 100:
        raise Refusal(f"{value} for {MEASURES[name]}", "per cent from 0 and below 100", "measure again")
