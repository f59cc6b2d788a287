"""The bench form on paper: the same lines with the same numbers, to fill by hand and to type in afterwards."""

from __future__ import annotations

from itertools import groupby

from rigcalc.bench.lines import line_state
from rigcalc.bench.measured import measured_values
from rigcalc.bench.observe import live_events
from rigcalc.bench.pieces import crimp_presses, current_piece
from rigcalc.bench.told import how_ended, to_tell
from rigcalc.cautions import INVENTED, INVENTED_GAUGE, PRACTICE
from rigcalc.pages import cautions_html, escape, style

__all__ = ["paper_feet", "paper_html", "print_style", "printed_form"]

_STYLE = """
.form-paper { font-size:9.6pt; line-height:1.18; } .form-paper + .form-paper { break-before:page; } .form-paper p { max-width:none; margin:3pt 0; } .form-paper h1 { font-size:15pt; margin:0 0 2pt; } .form-paper .invented { padding:1pt 6pt; margin:2pt 0; }
.form-paper h2 { font-size:11.5pt; margin:5pt 0 2pt; break-after:avoid; } .form-paper table { width:100%; margin:0; break-inside:auto; }
.form-paper tr { break-inside:avoid; } .form-paper td { padding:1.5pt 4pt; } .form-paper td.number { width:9mm; }
.form-paper td.marks { width:84mm; font-size:8.8pt; } .form-paper .default { font-weight:700; } .form-paper .hold-line { border:2px solid #000; padding:2pt 6pt; font-weight:700; margin:4pt 0 0; break-after:avoid; }
.form-paper .piece-line { border-top:3px solid #000; font-weight:700; font-size:12pt; margin:9pt 0 0; padding-top:2pt; break-after:avoid; }
.form-paper .box { white-space:nowrap; margin-right:2pt; } .form-paper .hand { border-bottom:1px solid #000; display:inline-block; min-width:16mm; } .form-paper .blank { padding-top:2.5pt; }
.form-paper .crit { font-weight:700; border:1px solid #000; padding:0 2pt; font-size:8.5pt; } .form-paper .lines-by-hand { min-height:26mm; border:1px solid #000; padding:2pt 4pt; }
.form-paper .lines-by-hand ul { margin:0; padding-left:12pt; max-width:none; } .form-paper .told { break-inside:avoid; } .form-paper .signed { break-before:avoid; margin-top:9pt; } .form-paper .signed .hand { min-width:80mm; }
.form-paper .cautions { margin:3pt 0; padding:2pt 0; border-bottom:1px solid #999; font-size:8.5pt; line-height:1.15; } .form-paper .cautions ul { display:inline; padding:0; } .form-paper .cautions li { display:inline; } .form-paper .cautions li::before { content:" · "; }
html { --of:attr(data-bench-of); } html[data-bench-1] { --bench-1:attr(data-bench-1); } html[data-bench-2] { --bench-2:attr(data-bench-2); }
.form-paper[data-at="1"] { page:bench-1; } .form-paper[data-at="2"] { page:bench-2; }
@page bench-1 { margin:9mm 12mm 12mm; @bottom-left { content:var(--bench-1); font:8.5pt sans-serif; } @bottom-right { content:"page " counter(page) " of " counter(pages) var(--of); font:8.5pt sans-serif; } }
@page bench-2 { margin:9mm 12mm 12mm; @bottom-left { content:var(--bench-2); font:8.5pt sans-serif; } @bottom-right { content:"page " counter(page) " of " counter(pages) var(--of); font:8.5pt sans-serif; } }
"""


def print_style() -> str:
    """The style sheet of the paper form."""
    return _STYLE


def printed_form(form: dict, events: list[dict] = (), since: str = "", only: str = "") -> str:
    """A page of its own with the paper form: empty, or with what is saved filled in.

    `since` is what changed since it was opened, in a sentence; `only` the id of one candidate, whose sheets are then a document of their own.
    """
    form = form | {"candidates": [c for c in form["candidates"] if only in ("", c["id"])]}
    return (f'<!doctype html><html lang="en" {paper_feet(form)}><head><meta charset="utf-8"><title>Bench form · Cable assembly workbook</title>'
            f"<style>{style()}</style><style>{_STYLE}</style></head><body><main>{paper_html(form, list(events), since)}</main></body></html>")


def paper_feet(form: dict) -> str:
    """What brings a loose page home, as attributes of the whole page: its marks, its form and its candidate at the foot of each."""
    marks = [word for word, wanted in (("INVENTED", form["shop"]["invented"]), ("PRACTICE", form["practice"])) if wanted]
    feet = (" · ".join([*marks, c["name"], f"bench form {form['form_id']}"]) for c in form["candidates"])
    # The sheets of two people on one form are counted through, and say so.
    of = ' data-bench-of="' + (" of the form, both people" if len(form["candidates"]) > 1 else "") + '"'
    return " ".join(f'data-bench-{at}="{escape(foot)}"' for at, foot in enumerate(feet, 1)) + of


def paper_html(form: dict, events: list[dict], since: str = "") -> str:
    """The paper form of every candidate, one after the other, as HTML to stand in a page that carries `paper_feet`."""
    return "".join(_candidate(form, events, at, c, since) for at, c in enumerate(form["candidates"], 1))


def _candidate(form: dict, events: list[dict], at: int, candidate: dict, since: str) -> str:
    live, made, gauge = live_events(events), form["made"], form["gauge"]
    now = current_piece(form, live, candidate["id"])
    marks = [INVENTED, INVENTED_GAUGE] if form["shop"]["invented"] else []
    marks += [PRACTICE] if form["practice"] else []
    head = (f"<h1>Bench form: {escape(candidate['name'])}</h1>" + "".join(f'<p class="invented">{escape(m)}</p>' for m in marks)
            + (f'<p class="hold-line">{escape(since)}</p>' if since else "")
            + f"<p>Form {escape(form['form_id'])}, opened {escape(form['opened_at'])}. Assessor: {escape(form['assessor']['name'])}. "
            f"{escape(made['size'])} {escape(made['construction'])} {escape(made['metal'])}, {escape(made['sleeve_metal'])} sleeves, "
            f"tool {escape(made['tool'])}, cavity {escape(made['cavity'] or 'as marked')}. "
            + (f"Gauge {escape(gauge['id'])}, due {escape(gauge['due_on'])}. " if gauge else "")
            + (f"Pieces begun: {now}." if now > 1 else "Piece 1.") + f"</p><p>{escape(form['chart']['line'])}</p>"
            "<p>One mark a line: seen right, seen wrong, not seen. Then how: L live, P from the piece, R from the record; "
            "without a mark the bold letter stands. For another piece take another sheet.</p>")
    told = "".join(f"<li>{escape(one)}</li>" for one in to_tell(form, events, candidate["id"]))
    stages = "".join("".join(_stage(form, live, candidate["id"], 0, s, told) for s in run) if per == "day" else _pieces(form, live, candidate["id"], now, list(run))
                     for per, run in groupby(form["stages"], key=lambda s: "day" if s["per"] == "day" else "piece"))
    return f'<section class="form-paper" data-at="{at}">{head}{cautions_html()}{stages}</section>'


def _pieces(form: dict, live: list[dict], candidate: str, now: int, stages: list[dict]) -> str:
    """The stages of every piece begun, one piece after the other; of a piece before the last, the lines that were reached."""
    said = ""
    for piece in range(1, now + 1):
        ended = how_ended(form, live, candidate, piece)
        if now > 1 or ended:
            said += f'<p class="piece-line">Piece {piece}{": " + escape(ended) if ended else ""}</p>'
        if piece == now:
            said += "".join(_stage(form, live, candidate, piece, s) for s in stages)
            continue
        tapped = {e["item"] for e in live if (e["candidate"], e["piece"]) == (candidate, piece)}
        reached = [s | {"items": [i for i in s["items"] if i["key"] in tapped]} for s in stages]
        said += "".join(_stage(form, live, candidate, piece, s) for s in reached if s["items"])
        left = [i["number"] for s in stages for i in s["items"] if i["key"] not in tapped]
        said += f"<p>Nothing was entered on piece {piece} at {', '.join(left)}.</p>" if left else ""
    return said


def _stage(form: dict, live: list[dict], candidate: str, piece: int, stage: dict, told: str = "") -> str:
    before = [i for i in stage["items"] if not i["at_hold"]]
    after = [i for i in stage["items"] if i["at_hold"]]
    hold = f'<p class="hold-line">STOP, show me: {escape(stage["hold"])}</p>' if stage["hold"] else ""
    table = lambda items: f"<table>{''.join(_row(form, live, candidate, piece, i) for i in items)}</table>" if items else ""  # noqa: E731
    lines = f"<h2>{stage['number']}. {escape(stage['title'])}</h2>{table(before)}{hold}{table(after)}"
    if not stage["words"]:
        return lines
    return (f'<div class="told">{lines}<p>Help given, and its words; own pieces rejected, and why; anything else:</p>'
            f'<div class="lines-by-hand">{f"<ul>{told}</ul>" if told else ""}</div>'
            '<p class="signed">Assessor, date: <span class="hand"></span></p></div>')


def _row(form: dict, live: list[dict], candidate: str, piece: int, item: dict) -> str:
    critical = '<span class="crit">CRITICAL</span> ' if item["critical"] else ""
    only = {"pull": " (when pulled)", "section": " (when sectioned)"}.get(item["when"], "")
    limit = f"<br>Limit: {escape(item['limit']['said'])}. {escape(', '.join(item['instruments']))}" if item["kind"] == "measure" else ""
    return (f'<tr><td class="number">{item["number"]}</td><td>{critical}{escape(item["see"])}{only}{limit}</td>'
            f'<td class="marks">{_MARKS[item["kind"]](form, live, candidate, piece, item)}</td></tr>')


def _box(text: str, on: bool = False) -> str:
    return f'<span class="box">{"☒" if on else "☐"} {escape(text)}</span> '


def _hand(text: str, value: str = "") -> str:
    return f'<span class="box">{escape(text)} <span class="hand{"" if value else " blank"}">{escape(value) or "&nbsp;"}</span></span> '


def _seen(form, live, candidate, piece, item) -> str:
    # A line that no later piece puts right again is marked on each piece as it was tapped there.
    here = [e for e in live if e["kind"] != "seen" or e["piece"] == piece]
    now = line_state(form, here, candidate, piece, item)
    results = "".join(_box(state, now["state"] == state)
                      for state in ("right", "wrong", "not seen", *(["no occasion"] if item.get("on_occasion") else [])))
    letters = (("L", "live"), ("P", "piece"), ("R", "record"))
    return results + "| " + "".join(f'<span class="box{" default" if item["how"] == word else ""}">{"☒" if now["how"] == word else "☐"} {letter}</span> '
                                    for letter, word in letters)


def _measured(form, live, candidate, piece, item) -> str:
    values = measured_values(live, candidate, piece, item)
    return "".join(_hand(f"{part}:", f"{v['typed']} {v['unit']}" if v else "") for part, v in zip(item["limit"]["parts"], values, strict=True)) \
        + ("" if any(values) else f"({' or '.join(item['limit']['units'])})")


def _gauged(form, live, candidate, piece, item) -> str:
    presses = crimp_presses(live, candidate, piece, item["key"])
    rows = []
    for crimp in range(1, item["crimps"] + 1):
        first, second = ([*presses.get(crimp, []), None, None])[:2]
        rows.append(f"crimp {crimp}: " + _box("passed", first is True) + _box("not", first is False) + "again: "
                    + _box("passed", second is True) + _box("not", second is False))
    return "<br>".join(rows)


def _chose(form, live, candidate, piece, item) -> str:
    made = [e["choice"] for e in live if e["kind"] == "chose" and (e["candidate"], e["piece"], e["item"]) == (candidate, piece, item["key"])]
    return "<br>".join(_box(choice, bool(made) and made[-1] == choice) for choice in item["choices"])


def _counted(form, live, candidate, piece, item) -> str:
    which = ("out",) if item["counts"] == "out" else ("in pieces", "unused")
    found = {(e["material"], e["which"]): str(e["number"]) for e in live
             if e["kind"] == "counted" and (e["candidate"], e["item"]) == (candidate, item["key"])}
    return "<br>".join(f"{escape(m['text'])}: " + "".join(_hand(w, found.get((m["id"], w), "")) for w in which) for m in form["issue"]["material"])


def _called(form, live, candidate, piece, item) -> str:
    found = {e["number"]: e for e in live if e["kind"] == "called" and e["candidate"] == candidate}
    texts = {c["id"]: c["text"] for c in form["causes"]}
    rows = []
    for number in form["set"]["pieces"]:
        call = found.get(number, {})
        rows.append(f"piece {escape(number)}: " + _box("pass", call.get("call") == "pass") + _box("reject", call.get("call") == "reject")
                    + ("" if call.get("call") == "pass" else _hand("cause", texts.get(call.get("cause"), ""))))
    return "<br>".join(rows)


def _wrote(form, live, candidate, piece, item) -> str:
    words = [e["words"] for e in live if e["kind"] == "wrote" and (e["candidate"], e["item"]) == (candidate, item["key"])]
    return _hand("", words[-1] if words else "")


_MARKS = {"see": _seen, "measure": _measured, "gauge": _gauged, "choose": _chose, "count": _counted, "calls": _called, "write": _wrote}
