"""An order as a file: one fact a line, read with the line of every mistake, and a fill-in file with each question as a remark."""

from __future__ import annotations

import re
import textwrap
import tomllib
from dataclasses import fields
from pathlib import Path

from rigcalc._order import ENDS, HOLDS_NOBODY, MEASURED, MOVEMENTS, SHAPES
from rigcalc._order_read import unreadable
from rigcalc._order_words import refuse_words
from rigcalc.assembly import Order, OrderPiece
from rigcalc.errors import Refusal
from rigcalc.pairing import SERVICES
from rigcalc.shop.fields import Finding, shown, unknown_key
from rigcalc.shop.lines import Lines, accepted_for, syntax_problem
from rigcalc.shop.load import Problem

__all__ = ["FACTS", "FILL_IN", "OPTIONS", "OrderFile", "by_field", "new_order_file", "read_order_file"]

LARGEST_BYTES = 100_000
_DO = 'write one fact a line, as   length = "500 mm"'

# title of a part of the file: ((field of the order, what it asks), ...)
FACTS = (
    ("The order", (
        ("number", "the order's own number; may stay blank"),
        ("what", "what hangs from it, or what it braces"),
        ("where", "where it is fitted"),
        ("use", "if this lets go, can anyone be under it, beside it, in its fall or in the cable's whip? nobody or people"),
        ("near", "who exactly can be there; where nobody: nobody, or nobody: and the reason, as nobody: plants only"),
        ("movement", f"does it move, take shocks, or will anyone, children too, swing on it? {', '.join(MOVEMENTS)}"),
        ("held", "will a person or an animal ever hold it, lean, sit, stand, hang or walk on it, climb or ride on it or on what it holds, or be held back "
                 "or kept from a fall by it? yes or no"),
        ("lifts", "does it lift, lower, pull along or tow anything, or is it part of a vehicle, boat, aircraft or lift, or of play, sport or gym "
                  "equipment? yes or no"),
        ("seen_by", "where the words name no work that is known here as harmless, or a person or a body's act beside it: who of the shop, first name and family name, went through it with whoever "
                    "asked, and says that it holds nobody, moves nothing and has nobody near; where people can be there or it moves, that "
                    f"{HOLDS_NOBODY}; else blank"),
        ("load", "the greatest load in one cable, as 180 lbf; blank where a shape below works it out"),
        ("load_from", "who gives the load, or the weight and the measurements"),
        ("service", f"{', '.join(SERVICES[:-1])} or {SERVICES[-1]}; a pool hall's air counts as immersed"),
        ("temperature", "coldest and warmest where it hangs, as -10 to 40 C; may stay blank"),
        ("life", "how long it is wanted to last; may stay blank"))),
    ("The pieces", (
        ("ends", f"{', '.join(ENDS)}"),
        ("length", "as 500 mm or 8 ft; blank where blocks [[piece]] at the end say it"),
        ("measured", f"how the length is measured: {' or '.join(MEASURED)}"),
        ("quantity", "how many; blank where blocks [[piece]] say it"),
        ("pin", "soft eyes: the pin, hook or ring in the eye, as 12 mm"),
        ("eye_length", "soft eyes: from the sleeve to the pin's centre; blank for the least that is allowed"),
        ("fittings", "the shop's fittings by name, and their angle, as small bow shackle, wall eye at 0 degrees; or by others"),
        ("take_up", "what they take up of one line, bearing point to bearing point, as they will be set, as 105 mm"),
        ("installer", "who fits it"))),
    ("How tight", (
        ("tightened", "no, or with what, as turnbuckle"),
        ("greatest_tension", "when tightened: the greatest tension, with its unit; hand tight is no load"),
        ("tension_check", "when tightened: how that is checked, by sag with a weight hung at mid-span, or by a tension gauge"),
        ("check_weight", "checked by sag: the weight that is hung at mid-span, as 2 kg"))),
    ("The shape of what pulls", (
        ("shape", f"{', '.join(SHAPES)}; blank is straight"),
        ("weight", "brace, span or legs: what it weighs, as 180 lb or 59 N"),
        ("gravity", "where a weight is in kg or lb: standard (9.80665 m/s2), or a figure in m/s2"),
        ("brace_across", "brace: how far it reaches across"),
        ("brace_up", "brace: how far it reaches up"),
        ("span", "span: between its ends, measured level"),
        ("sag", "span: under the load, below the straight line between the ends"),
        ("rise", "span: how much higher the right end is; blank where level"),
        ("load_spread", "span: point or even"),
        ("load_at", "span with a point load: middle, or how far from the left end"),
        ("leg_points", "legs: where each is fixed, seen from the load: along, across, up, in the order of the pieces or with their names, as short leg: 3 ft, 0 ft, 4 ft; long leg: -5 ft, 0 ft, 4 ft"))),
    ("Who designed it, where people can be there or it moves", (
        ("designer", "the qualified person, first name and family name"),
        ("designer_factor", "that person's factor for this order"),
        ("designer_load", "that person's design load in one cable, no less than the order's own loads"),
        ("designer_date", "the day of that person's statement, as 2026-03-02"))),
    ("At the bench", (
        ("reel", "the reel's id in the shop file"),
        ("sleeve_metal", "the sleeve's metal; blank: the pairing table chooses"),
        ("tool", "the tool's id, where several have a chart for the sleeve"),
        ("size_reason", "why a larger size than the table asks for, as wear and livestock; may stay blank"),
        ("sleeve_before", "one sleeve's length before pressing, where the chart gives none"),
        ("sleeve_after", "and after pressing"),
        ("proof", "is each piece to be pulled to a proof load before it leaves? yes or no; blank is no"),
        ("correction", "from a trial piece: +2 mm makes the cut longer, -2 mm shorter"))),
    ("A lot that is pulled before it is released", (
        ("pull_pieces", "how many pieces are pulled; blank where none"),
        ("pull_coverage", "which part of such pieces must hold, as 90 %"),
        ("pull_confidence", "with which confidence, as 95 %"),
        ("pull_forces", "when pulled: each piece's greatest force, as 470, 505, 512 lbf"),
        ("pull_endings", "when pulled: how each ended, in the same order, as 6 x broke at the sleeve's mouth"),
        ("pull_instrument", "when pulled: the instrument that read the forces, by name or number"),
        ("pull_instrument_due", "the day until which its check held, as 2026-09-30"),
        ("pull_on", "the day of pulling, as 2026-03-09"),
        ("pull_by", "who pulled them, first name and family name"))),
)
_SHORT = {"sleeve_metal": "sleeve", "number": "order-number"}
# option: (field of the order, help)
OPTIONS = {f"--{_SHORT.get(name, name.replace('_', '-'))}": (name, says) for _, part in FACTS for name, says in part}
_ALSO = {option.removeprefix("--").replace("-", "_"): name for option, (name, _) in OPTIONS.items()}
PIECE = tuple(f.name for f in fields(OrderPiece))


def by_field(text: str) -> str:
    """What is said to whoever wrote a file: the file's own field for each option of the command line."""
    return re.sub(r"--[a-z]+(?:-[a-z]+)*", lambda option: OPTIONS.get(option[0], (option[0], ""))[0], text)


class OrderFile(Refusal):
    """An order file with several mistakes: `problems` holds each with its line."""

    def __init__(self, name: str, problems: list[Problem]) -> None:
        self.problems = problems
        super().__init__(f"the order file {name} with {len(problems)} mistakes", "a file with nothing wrong in it", "mend the lines below")


def read_order_file(name: str) -> Order:
    """The order in a file; one mistake is refused in a sentence with its line, several as `OrderFile`."""
    text = _text(name)
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line, given, do = syntax_problem(text, error)
        raise Refusal(f"the order file {name}, line {line}: {given}", accepted_for(given), do) from None
    except RecursionError:
        raise Refusal(f"the order file {name} with brackets inside brackets", "lines of the form   name = value", _DO) from None
    facts, findings = _facts(document)
    if not findings:
        findings, order = _unread(facts)
    if findings:
        lines = Lines(text)
        problems = sorted((Problem(lines.of(f.path), _field(f.path), f.given, f.accepted, f.do) for f in findings), key=lambda p: p.line)
        if len(problems) > 1:
            raise OrderFile(name, problems)
        one = problems[0]
        raise Refusal(f"the order file {name}, line {one.line}, {one.field}: {one.given}", one.accepted, one.do)
    return order


def _text(name: str) -> str:
    """The file's text, or one sentence why not."""
    try:
        raw = Path(name).read_bytes()
        if len(raw) > LARGEST_BYTES:
            raise Refusal(f"an order file of {len(raw)} bytes", f"at most {LARGEST_BYTES}", _DO)
        return raw.decode("utf-8-sig").replace("\r\n", "\n")
    except Refusal:
        raise
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "it is no UTF-8 text"
        raise Refusal(f"the order file {name[:200]!r} ({why})", "a text file that is there and may be read", _DO) from None


def _field(path: tuple) -> str:
    return " ".join(str(part + 1) if isinstance(part, int) else part for part in path)


def _facts(document: dict) -> tuple[dict, list[Finding]]:
    """The facts by the order's own names, and what no order file holds."""
    names = tuple(name for name, _ in OPTIONS.values())
    facts, findings = {}, []
    for key, value in document.items():
        plain = key.replace("-", "_")
        field = plain if plain in names else _ALSO.get(plain)
        if key == "piece":
            facts["pieces"] = _pieces(value, findings)
        elif field is None:
            findings.append(unknown_key(key, (*names, "piece"), (key,), "an order file"))
        else:
            _take(facts, field, value, (key,), findings)
    return facts, findings


def _pieces(value: object, findings: list[Finding]) -> tuple[OrderPiece, ...]:
    """The blocks [[piece]]."""
    if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
        findings.append(Finding(("piece",), shown(value), "blocks [[piece]], in double brackets", "write the heading so"))
        return ()
    pieces = []
    for n, block in enumerate(value):
        facts: dict = {}
        for key, given in block.items():
            if key in PIECE:
                _take(facts, key, given, ("piece", n, key), findings)
            else:
                findings.append(unknown_key(key, PIECE, ("piece", n, key), "[[piece]]"))
        pieces.append(OrderPiece(**facts))
    return tuple(pieces)


def _take(facts: dict, field: str, value: object, path: tuple, findings: list[Finding]) -> None:
    """One fact as text; a number with a point, a list or a block is none."""
    if isinstance(value, (dict, list, bool, float)):
        findings.append(Finding(path, shown(value), "text in quotes, a whole number or a date", _DO))
        return
    try:
        Order(**{field: str(value)}) if field not in PIECE else OrderPiece(**{field: str(value)})
    except Refusal as refusal:
        findings.append(Finding(path, refusal.given, refusal.accepted, refusal.do))
        return
    facts[field] = str(value)


def _unread(facts: dict) -> tuple[list[Finding], Order]:
    """The order, and each of its answers that cannot be read by itself; of refused work no answer is read at all."""
    order, findings = Order(**facts), []
    try:
        refuse_words(order.named, order.where or "")
    except Refusal:
        return [], order
    for name, refusal in unreadable(order):
        parts = name.split()
        path = ("piece", int(parts[1]) - 1, parts[2]) if len(parts) == 3 else (name,)
        findings.append(Finding(path, refusal.given, refusal.accepted, refusal.do))
    return findings, order


# --- the fill-in file -----------------------------------------------------------------------------------

def _fill_in() -> str:
    """An order file with every question as a remark and every answer blank."""
    lines = ['# An order for   rigcalc job FILE', "# Write each answer between the quotes, with its unit. What stays blank and is needed is asked for.", ""]
    for title, part in FACTS:
        lines += [f"# --- {title} {'-' * max(3, 90 - len(title))}", ""]
        for name, says in part:
            lines += [*textwrap.wrap(says, 96, initial_indent="# ", subsequent_indent="# "), f'{name} = ""', ""]
    lines += ["# --- Pieces that differ in length: one block each, without the # before its lines; leave length and quantity above blank",
              "# [[piece]]", '# name = "left leg"', '# length = "1.50 m"', '# quantity = "1"']
    return "\n".join(lines) + "\n"


FILL_IN = _fill_in()


def new_order_file(name: str) -> str:
    """Write a fill-in file and say so; an existing file is never touched."""
    path = Path(name)
    try:
        with open(path, "x", encoding="utf-8", newline="\n") as file:
            file.write(FILL_IN)
    except FileExistsError:
        raise Refusal(f"--new where {path} already stands", "a name that is free", "take another name; nothing was changed") from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "no such name is possible"
        raise Refusal(f"the file {name[:200]!r} ({why})", "a place that may be written to", "give another path") from None
    return f"Written: {path}\nAnswer the questions in it, then type   rigcalc job {path}"
