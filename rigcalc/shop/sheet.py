"""A job sheet as text for the bench, as a page that prints, and as JSON that reads back."""

from __future__ import annotations

import re
import textwrap
from dataclasses import replace

import msgspec

from rigcalc.assembly import HOLD_POINTS, CutKind, Item, JobSheet
from rigcalc.cautions import INVENTED, PRACTICE
from rigcalc.errors import Refusal
from rigcalc.pages import escape, page

__all__ = ["as_html", "as_json", "as_text", "from_json", "is_stopped"]

WIDTH = 80
FEW_PIECES = 8
LONG_BLANK = 40
BATCHES = 4
KEPT_TOGETHER = "[\u00a0]\u00a0"  # a box and its piece on one line
NO_TAG = "None: PRACTICE pieces carry no tag and have no record."
CUT_NOTE = "Added in millimetres; each inch figure is rounded by itself."
LARGEST_SIGNS = 500_000


# --- JSON -------------------------------------------------------------------------------------------

def as_json(sheet: JobSheet) -> str:
    """The sheet as JSON; `from_json` gives the same sheet back."""
    return msgspec.json.format(msgspec.json.encode(sheet), indent=2).decode()


def from_json(text: str) -> JobSheet:
    """A sheet from its JSON; anything else is refused."""
    if len(text) > LARGEST_SIGNS:
        raise Refusal(f"a sheet of {len(text)} signs", f"at most {LARGEST_SIGNS}", "take the file that rigcalc job wrote")
    try:
        return msgspec.json.decode(text, type=JobSheet)
    except (msgspec.DecodeError, UnicodeError) as error:
        raise Refusal(f"a text that is no job sheet ({error})", "JSON written by   rigcalc job --as json",
                      "make the sheet again") from None


# --- text -------------------------------------------------------------------------------------------

def as_text(sheet: JobSheet) -> str:
    """The sheet as plain text, 80 columns wide."""
    blocks = [_head(sheet)]
    blocks += [_text_block(title, lines) for title, lines in _sections(sheet) if lines]
    return "\n\n".join(blocks)


def _head(sheet: JobSheet) -> str:
    """Title, shop, day, warnings and the chart in force."""
    lines = [*textwrap.wrap(sheet.title.upper(), WIDTH), "=" * min(WIDTH, len(sheet.title)),
             *_wrapped([_from(sheet)])]
    lines += _wrapped([warning for warning, wanted in ((INVENTED, sheet.invented), (PRACTICE, sheet.practice)) if wanted])
    lines += _wrapped([f"Chart in force: {sheet.chart_line}"])
    lines += _wrapped(list(sheet.before_starting))
    return "\n".join(lines)


def _sections(sheet: JobSheet) -> list[tuple[str, list[str]]]:
    """Every section of the text sheet as title and lines that are already 80 columns wide."""
    number = len(str(len(sheet.steps)))
    steps = []
    for step in sheet.steps:
        steps += textwrap.wrap(step.text, WIDTH, initial_indent=f"{step.number:>{number}}. ",
                               subsequent_indent=" " * (number + 2))
        if step.hold:
            steps += textwrap.wrap(f">>> HOLD POINT, stop and show: {step.hold}   {_ticks(sheet, step.hold, '[ ]').replace('[ ] ', KEPT_TOGETHER)}", WIDTH, initial_indent=" " * (number + 2),
                                   subsequent_indent=" " * (number + 6))
    return [
        (f"Working load limit: {_limit_words(sheet)}",
         _wrapped(list(sheet.limit_working)) + _wrapped(list(sheet.limit_notes), "- ")),
        ("Weakest link", _pairs(sheet.links)),
        ("Tag", _boxed(list(sheet.tag)) if sheet.tag else _wrapped([NO_TAG])),
        ("Crimps, from the chart in force", [*_crimp_line(sheet), *_pairs(sheet.crimps)]), ("Gauging", _pairs(sheet.gauge)),
        ("Order", _pairs(sheet.order)), ("Decided", _pairs(sheet.decided)),
        ("Parts", [line for part in sheet.parts for line in _wrapped(
            [f"{part.what}: {part.count}. {part.blank} {part.lot + ', on the label ' if part.lot else ''}____________"])]),
        ("The shape, worked out", _pairs(sheet.shape)),
        *[(f"Cut length{_of(kind)}: {kind.cut_shown}, {_each(kind)}", _sum(kind)) for kind in _cut_kinds(sheet)],
        ("Coating to strip", _wrapped(list(sheet.strip), "- ")), ("Cut list", _wrapped(list(sheet.cut_list), "- ")),
        ("Steps", steps), ("Proof and release", _wrapped(list(sheet.release), "- ")),
        ("Look again", _wrapped(list(sheet.inspection), "- ")),
        ("Record of the piece", [*_wrapped(list(sheet.record)), *_record_rows(sheet)]),
        ("For the customer: this order, its use and its looking after", [*_wrapped([_customer_head(sheet)]), *_wrapped(list(sheet.customer), "- ")] if sheet.customer else []),
        ("Cautions", _wrapped(list(sheet.cautions), "- "))]


def _ticks(sheet: JobSheet, hold: str, box: str) -> str:
    """A box for each piece where they are few, again for its second end where the hold point comes twice; else one for each batch with the count that was seen."""
    names = sheet.piece_names
    second = "" if hold == HOLD_POINTS[0] else "second sleeve" if "ring" in sheet.ends else "second eye"
    if len(names) == 1:
        return f"{box} seen" + (f"  {box} {second}" if second else "")
    if len(names) <= FEW_PIECES:
        boxes = "  ".join(f"{box} {name.removeprefix('piece ')}" for name in names)
        return f"seen: {boxes}" + (f"; {second}: {boxes}" if second else "")
    return f"seen{', both ends' if second else ''}, of {len(names)} pieces, batch by batch: " + "  ".join([f"{box} ____"] * BATCHES)


def _crimp_line(sheet: JobSheet) -> list[str]:
    """The crimps in a row with the order of pressing on them, in plain signs."""
    picture = sheet.picture
    if picture is None or picture.order is None:
        return []
    crimps = " ".join(f"[{picture.order.index(place) + 1}]" for place in range(1, picture.count + 1))
    return _wrapped([f"{picture.beside} =( {crimps} )= tail      1 is pressed first"])


def _limit_words(sheet: JobSheet) -> str:
    """The limit that heads the sheet: of the whole line, where a fitting holds less than the cable."""
    if sheet.line_limit_shown:
        return f"{sheet.line_limit_shown} for the line, straight pull only; the cable with its eyes {sheet.limit_shown}"
    return f"{sheet.limit_shown}, straight pull only" if sheet.limit_n is not None else sheet.limit_shown


def _cut_kinds(sheet: JobSheet) -> list[CutKind]:
    """The kinds of piece, those that are cut alike as one."""
    alike: dict[tuple, list[CutKind]] = {}
    for kind in sheet.pieces:
        alike.setdefault(kind.cut_steps, []).append(kind)
    return [replace(kinds[0], name=", ".join(filter(None, (kind.name for kind in kinds))), quantity=sum(kind.quantity for kind in kinds)) for kinds in alike.values()]


def _of(kind: CutKind) -> str:
    """The name of a kind of piece, where it has one."""
    return f", {kind.name}" if kind.name else ""


def _each(kind: CutKind) -> str:
    """How many pieces are cut so."""
    return "one piece" if kind.quantity == 1 else f"each of {kind.quantity}"


def _record_rows(sheet: JobSheet) -> list[str]:
    """What is written for each piece, a line each; the columns are named once above them."""
    if not sheet.record_pieces:
        return []
    names = _wrapped([f"For each piece: {'; '.join(sheet.record_columns[1:])}."])
    wide = min(24, max(len(name) for name in sheet.record_pieces))
    columns = len(sheet.record_columns) - 1
    blanks = "  ".join(["_" * min(8, (WIDTH - wide) // columns - 2)] * columns)
    return [*names, *(f"{name[:wide]:<{wide}}  {blanks}" for name in sheet.record_pieces)]


def _customer_head(sheet: JobSheet) -> str:
    """Who made it, for which order, on which sheet."""
    order = f", order {sheet.number}" if sheet.number else ""
    stop = "STOP: the job sheet's first page says why; nothing is handed over before that is cleared. " if is_stopped(sheet) else ""
    return (f"{stop}From {sheet.shop}{order}, job sheet {sheet.version} of {sheet.made_on}. "
            "Piece no. ____________  Made by ____________  Look again by ____________")


def _text_block(title: str, lines: list[str]) -> str:
    """One section."""
    named = textwrap.wrap(title, WIDTH)
    return "\n".join([*named, "-" * max(map(len, named)), *lines])


def _wrapped(texts: list[str], mark: str = "") -> list[str]:
    """Each text wrapped to the width."""
    return [line for text in texts
            for line in textwrap.wrap(text, WIDTH, initial_indent=mark, subsequent_indent="  ")]


def _pairs(items: tuple) -> list[str]:
    """Label and value in two columns."""
    wide = max((len(item.label) for item in items), default=0) + 2
    lines = []
    for item in items:
        lines += textwrap.wrap(item.value, WIDTH, initial_indent=f"{item.label:<{wide}}", subsequent_indent=" " * wide)
    return lines


def _sum(kind: CutKind) -> list[str]:
    """The cut length as a sum, figures in one column."""
    wide = max(len(item.value) for item in (*kind.cut_steps, Item("", kind.cut_shown)))
    lines = []
    for item in kind.cut_steps:
        lines += textwrap.wrap(item.label, WIDTH, initial_indent=f"{item.value:>{wide}}  ", subsequent_indent=" " * (wide + 2))
    return [*lines, "-" * wide, f"{kind.cut_shown:>{wide}}  to cut", CUT_NOTE]


def _boxed(lines: list[str]) -> list[str]:
    """The tag's text in a plain frame."""
    inner = [part for line in lines for part in textwrap.wrap(line, WIDTH - 4)]
    wide = max(len(line) for line in inner)
    edge = f"+{'-' * (wide + 2)}+"
    return [edge, *(f"| {line:<{wide}} |" for line in inner), edge]


# --- page -------------------------------------------------------------------------------------------

_STYLE = """<style>
.sheet table { width:100%; } .sheet th[scope=row] { width:11rem; } .sheet table.sum { width:auto; }
.sheet table.sum td,.sheet table.sum th { width:auto; white-space:nowrap; }
.hold { font-weight:700; border:2px solid currentColor; padding:.1rem .5rem; margin:.25rem 0; width:fit-content; max-width:100%; box-sizing:border-box; }
.hold .seen { font-weight:400; display:inline-block; } .hold .tick { white-space:nowrap; margin-left:.6rem; }
.limit { font-size:1.35rem; font-weight:700; margin:.3rem 0; }
.tag { border:2px solid currentColor; border-radius:4px; padding:.4rem .8rem; background:#fff; }
.tag p { margin:.1rem 0; } .stop { font-weight:700; } .sheet td.blank { min-width:9rem; }
.first figure { margin:.2rem 0; } .first figure svg { display:block; }
.blank-word { white-space:nowrap; } @media screen { .two > * { min-width:0; overflow-x:auto; } .two.sums { grid-template-columns:repeat(auto-fit,minmax(min(100%,40rem),1fr)); } }
@media screen and (max-width:60rem) { .sheet table.sum td,.sheet table.sum th { white-space:normal; } }
.two { display:grid; grid-template-columns:repeat(auto-fit,minmax(min(100%,21rem),1fr)); gap:0 1.4rem; } .two th[scope=row] { width:8.5rem; }
.sheet table.lines th,.sheet table.lines td { border:1px solid currentColor; min-width:3.2rem; height:2.1rem; }
.sheet table.lines th[scope=row] { width:auto; font-weight:400; white-space:nowrap; }
.written p { margin:.45rem 0; white-space:pre-wrap; } .written .whole { display:flex; align-items:flex-end; } .whole .rule { flex:1; border-bottom:1px solid currentColor; margin-left:.5rem; }
.sheet ol li { margin:.3rem 0; } .sheet p,.sheet ul,.sheet ol,.sheet li,p.chart-line { max-width:none; }
@media print { @page { margin:12mm 13mm 15mm; } html,body { font-size:8.8pt; } body { line-height:1.28; } header.page { display:none; } main { padding:0; }
 h1 { font-size:1.5rem; margin:0 0 .2rem; } .invented,.chart-line { margin:.15rem 0; }
 .sheet h2 { margin:.6rem 0 .15rem; break-after:avoid; font-size:1.1rem; } .sheet th,.sheet td { padding:1pt 4pt; } .sheet table { margin:.1rem 0; }
 .two { grid-template-columns:1fr 1fr; gap:0 12pt; } .two th[scope=row] { width:6.6rem; } .keep { break-inside:avoid; } .long { break-inside:auto; } .long tr { break-inside:avoid; }
 .sheet ol li { break-inside:avoid; margin:.15rem 0; } .hold { break-before:avoid; margin:.1rem 0; padding:0 .4rem; } .sheet ul,.sheet ol,.sheet p { margin:.15rem 0; }
 .first figure svg { max-height:20mm; }
 .sheet .own { break-before:page; } .sheet table.lines { break-inside:auto; } .sheet table.lines tr { break-inside:avoid; } .sheet table.lines th,.sheet table.lines td { height:1.6rem; padding:0 4pt; } .written p { margin:.22rem 0; } .written { margin-bottom:.5rem; } .sheet table.lines thead { display:table-header-group; }
 .cautions { margin-top:.6rem; padding-top:.2rem; font-size:.95em; break-inside:avoid; } .cautions ul,.cautions li { max-width:none; } }
</style>"""


def as_html(sheet: JobSheet) -> str:
    """The sheet as a whole page that prints on A4 or Letter."""
    warn = f'<p class="invented">{escape(PRACTICE)}</p>' if sheet.practice else ""
    stops = "".join(f'<p class="said no stop">{escape(text)}</p>' for text in sheet.before_starting)
    # Under the limit there is room for the order where no links stand there; else it would leave half of page 2 blank beside it.
    order = _table("Order", sheet.order)
    under, beside = ("", order) if sheet.links else (order, "")
    decided, shape = _table("Decided", sheet.decided), _table("The shape, worked out", sheet.shape)
    left, right = (beside, decided + shape) if beside else (decided, shape)
    body = (f'<div class="sheet">{warn}<p>{escape(_from(sheet))}</p>{stops}'
            f'<div class="two first"><div>{_limit(sheet)}{_table("Weakest link", sheet.links)}{under}</div>'
            f'<div>{_tag(sheet)}{_crimps(sheet)}{_table("Gauging", sheet.gauge)}</div></div>'
            f'<div class="two"><div>{left}</div><div>{right}</div></div>'
            f"{_parts(sheet)}{_cuts(sheet)}{_steps(sheet)}{_list('Proof and release', sheet.release)}{_list('Look again', sheet.inspection)}"
            f"{_record(sheet)}{_customer(sheet)}</div>")
    return page(sheet.title, body, chart_line=f"Chart in force: {sheet.chart_line}", invented=sheet.invented, head=_STYLE + _running(sheet))


def _from(sheet: JobSheet) -> str:
    """The shop, the day, the order's number and the sheet's code."""
    return f"{sheet.shop} · {sheet.made_on}" + (f" · order {sheet.number}" if sheet.number else "") + (f" · sheet {sheet.version}" if sheet.version else "")


def is_stopped(sheet: JobSheet) -> bool:
    """Whether the sheet says STOP before its first step."""
    return any(line.startswith("STOP") for line in sheet.before_starting)


def _running(sheet: JobSheet) -> str:
    """A style that puts the sheet's marks, title, order, code and day at the foot of every printed page."""
    marks = [word for word, wanted in (("STOP: see page 1", is_stopped(sheet)), ("INVENTED", sheet.invented), ("PRACTICE", sheet.practice)) if wanted]
    named = [f"order {sheet.number[:40]}"] if sheet.number else []
    words = " · ".join([*marks, sheet.title, *named, f"sheet {sheet.version}", sheet.made_on])
    plain = "".join(sign for sign in words if sign.isalnum() or sign in " ·:,./-")
    return (f'<style>@page {{ @bottom-left {{ content:"{plain}"; font:8pt sans-serif; }} '
            '@bottom-right { content:"page " counter(page) " of " counter(pages); font:8pt sans-serif; } }</style>')


def _crimps(sheet: JobSheet) -> str:
    """The crimps as the chart has them, with the pressed sleeve drawn."""
    drawn = ""
    if sheet.picture is not None:
        from rigcalc.shop.card import crimp_drawing

        drawn = f"<figure>{crimp_drawing(sheet.picture, sheet.picture.sleeve_metal, sheet.picture.beside).inline()}</figure>"
    return _table("Crimps, from the chart in force", sheet.crimps, drawn)


def _table(title: str, items: tuple, above: str = "") -> str:
    if not items:
        return ""
    rows = "".join(f'<tr><th scope="row">{escape(i.label)}</th><td>{escape(i.value)}</td></tr>' for i in items)
    return f'<section class="{"keep" if len(items) < 10 else "long"}"><h2>{escape(title)}</h2>{above}<table>{rows}</table></section>'


def _parts(sheet: JobSheet) -> str:
    rows = "".join(f"<tr><td>{escape(p.what)}</td><td>{escape(p.count)}</td><td>{escape(p.lot)}</td>"
                   f'<td class="blank"><span class="quiet">{escape(p.blank)}</span></td></tr>' for p in sheet.parts)
    return ('<section class="keep"><h2>Parts</h2><table><tr><th scope="col">Draw</th><th scope="col">How many</th>'
            f'<th scope="col">Lot in the shop file</th><th scope="col">Read from the label</th></tr>{rows}</table></section>')


def _cuts(sheet: JobSheet) -> str:
    """The length to cut of every kind of piece, and the cut list."""
    kinds = _cut_kinds(sheet)
    sums = "".join(_cut(kind) for kind in kinds)
    listed = "".join(f"<li>{escape(line)}</li>" for line in sheet.cut_list)
    strip = _list("Coating to strip", sheet.strip) if sheet.strip else ""
    sums = f'<div class="two sums">{sums}</div>' if len(kinds) > 1 else sums
    return f'{sums}{strip}<section class="keep"><h2>Cut list</h2><ul>{listed}</ul></section>'


def _cut(kind: CutKind) -> str:
    rows = "".join(f'<tr><td>{escape(i.label)}</td><td class="number">{escape(i.value)}</td></tr>' for i in kind.cut_steps)
    total = f'<tr><th scope="row">To cut, {_each(kind)}</th><td class="number"><strong>{escape(kind.cut_shown)}</strong></td></tr>'
    return (f'<section class="keep"><h2>Cut length{escape(_of(kind))}</h2><table class="sum">{rows}{total}</table>'
            f'<p class="quiet">{CUT_NOTE}</p></section>')


def _steps(sheet: JobSheet) -> str:
    def seen(hold: str) -> str:
        return re.sub(r"(☐ [^☐;]*)", lambda tick: f'<span class="tick">{tick[1].strip()}</span> ', escape(_ticks(sheet, hold, "☐")))

    items = "".join(f"<li>{escape(s.text)}" + (f'<div class="hold">HOLD POINT, stop and show: {escape(s.hold)} <span class="seen">{seen(s.hold)}</span></div>'
                                               if s.hold else "") + "</li>" for s in sheet.steps)
    return f"<section><h2>Steps</h2><ol>{items}</ol></section>"


def _limit(sheet: JobSheet) -> str:
    working = "".join(f"<li>{escape(text)}</li>" for text in sheet.limit_working)
    notes = "".join(f"<li>{escape(text)}</li>" for text in sheet.limit_notes)
    return (f'<section class="keep"><h2>Working load limit</h2><p class="limit">{escape(_limit_words(sheet))}</p>'
            f"<ol>{working}</ol><ul>{notes}</ul></section>")


def _list(title: str, texts: tuple[str, ...]) -> str:
    if not texts:
        return ""
    items = "".join(f"<li>{escape(text)}</li>" for text in texts)
    return f'<section class="keep"><h2>{escape(title)}</h2><ul>{items}</ul></section>'


def _tag(sheet: JobSheet) -> str:
    inner = "".join(f"<p>{escape(line)}</p>" for line in sheet.tag)
    body = f'<div class="tag">{inner}</div>' if sheet.tag else f"<p>{NO_TAG}</p>"
    return f'<section class="keep"><h2>Tag</h2>{body}</section>'


def _record(sheet: JobSheet) -> str:
    """The record sheet: what holds for all pieces, then a line for each."""
    if not sheet.record:
        return ""
    lines = "".join(_record_line(line) for line in sheet.record)
    heads = "".join(f'<th scope="col">{escape(column)}</th>' for column in sheet.record_columns)
    blanks = "<td></td>" * (len(sheet.record_columns) - 1)
    rows = "".join(f'<tr><th scope="row">{escape(name)}</th>{blanks}</tr>' for name in sheet.record_pieces)
    place = "keep" if len(sheet.record_pieces) <= FEW_PIECES else "own"
    return (f'<section class="{place}"><h2>Record of the piece</h2><div class="written">{lines}</div>'
            f'<table class="lines"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></section>')


def _record_line(line: str) -> str:
    """A line of the record; one that ends in a long blank is ruled to the edge."""
    words = line.rstrip("_")
    if len(line) - len(words) < LONG_BLANK:
        return f"<p>{_with_blanks(line)}</p>"
    return f'<p class="whole"><span>{_with_blanks(words.rstrip())}</span><span class="rule"></span></p>'


def _with_blanks(line: str) -> str:
    """The line escaped, the last word before each blank kept on one line with it."""
    return re.sub(r"((?:\w+ )?\S+ _{4,})", r'<span class="blank-word">\1</span>', escape(line))


def _customer(sheet: JobSheet) -> str:
    """The page that goes with the pieces."""
    if not sheet.customer:
        return ""
    lines = "".join(f"<li>{escape(line)}</li>" for line in sheet.customer)
    return f'<section class="own"><h2>For the customer: this order, its use and its looking after</h2><p>{_with_blanks(_customer_head(sheet))}</p><ul>{lines}</ul></section>'
