"""The bench form on paper: the same lines with the same numbers, to fill by hand and to type in afterwards."""

from __future__ import annotations

from rigcalc.bench.lines import line_state
from rigcalc.bench.measured import measured_values
from rigcalc.bench.observe import live_events
from rigcalc.bench.pieces import crimp_presses, current_piece
from rigcalc.cautions import INVENTED, INVENTED_GAUGE, PRACTICE
from rigcalc.pages import cautions_html, escape, style

__all__ = ["paper_html", "print_style", "printed_form"]

_STYLE = """
.form-paper { font-size:10pt; line-height:1.3; } .form-paper + .form-paper { break-before:page; }
.form-paper h2 { font-size:11.5pt; margin:9pt 0 3pt; break-after:avoid; } .form-paper table { width:100%; margin:0; break-inside:auto; }
.form-paper tr { break-inside:avoid; } .form-paper td { padding:2.5pt 4pt; } .form-paper td.number { width:9mm; }
.form-paper td.marks { width:92mm; font-size:9pt; } .form-paper .default { font-weight:700; } .form-paper .hold-line { border:2px solid #000; padding:2pt 6pt; font-weight:700; margin:5pt 0 0; break-after:avoid; max-width:none; }
.form-paper .box { white-space:nowrap; margin-right:4pt; } .form-paper .hand { border-bottom:1px solid #000; display:inline-block; min-width:16mm; }
.form-paper .crit { font-weight:700; border:1px solid #000; padding:0 2pt; font-size:8.5pt; } .form-paper .lines-by-hand { height:26mm; border:1px solid #000; }
"""


def print_style() -> str:
    """The style sheet of the paper form."""
    return _STYLE


def printed_form(form: dict, events: list[dict] = ()) -> str:
    """A page of its own with the paper form: empty, or with what is saved filled in."""
    return ('<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Bench form · Cable assembly workbook</title>'
            f"<style>{style()}</style><style>{_STYLE}</style></head><body><main>{paper_html(form, list(events))}"
            f"{cautions_html()}</main></body></html>")


def paper_html(form: dict, events: list[dict]) -> str:
    """The paper form of every candidate, one after the other, as HTML to stand in a page."""
    live = live_events(events)
    return "".join(_candidate(form, live, c) for c in form["candidates"])


def _candidate(form: dict, live: list[dict], candidate: dict) -> str:
    made, gauge, piece = form["made"], form["gauge"], current_piece(form, live, candidate["id"])
    marks = [INVENTED, INVENTED_GAUGE] if form["shop"]["invented"] else []
    marks += [PRACTICE] if form["practice"] else []
    head = (f"<h1>Bench form: {escape(candidate['name'])}</h1>" + "".join(f'<p class="invented">{escape(m)}</p>' for m in marks)
            + f"<p>Form {escape(form['form_id'])}, opened {escape(form['opened_at'])}. Assessor: {escape(form['assessor']['name'])}. "
            f"{escape(made['size'])} {escape(made['construction'])} {escape(made['metal'])}, {escape(made['sleeve_metal'])} sleeves, "
            f"tool {escape(made['tool'])}, cavity {escape(made['cavity'] or 'as marked')}. "
            + (f"Gauge {escape(gauge['id'])}, due {escape(gauge['due_on'])}. " if gauge else "")
            + f"Piece {piece}.</p><p>{escape(form['chart']['line'])}</p>"
            "<p>One mark a line: seen right, seen wrong, not seen. Then how: L live, P from the piece, R from the record; "
            "without a mark the bold letter stands. For another piece take another sheet.</p>")
    return f'<section class="form-paper">{head}{"".join(_stage(form, live, candidate["id"], piece, s) for s in form["stages"])}</section>'


def _stage(form: dict, live: list[dict], candidate: str, piece: int, stage: dict) -> str:
    number = 0 if stage["per"] == "day" else piece
    before = [i for i in stage["items"] if not i["at_hold"]]
    after = [i for i in stage["items"] if i["at_hold"]]
    hold = f'<p class="hold-line">STOP, show me: {escape(stage["hold"])}</p>' if stage["hold"] else ""
    table = lambda items: f"<table>{''.join(_row(form, live, candidate, number, i) for i in items)}</table>" if items else ""  # noqa: E731
    words = ""
    if stage["words"]:
        said = [e["words"] for e in live if e["kind"] == "wrote" and e["candidate"] == candidate and not e["item"]]
        words = ("<p>Help given, and its words; own pieces rejected, and why; anything else:</p>"
                 + ("".join(f"<p>{escape(w)}</p>" for w in said) or '<div class="lines-by-hand"></div>')
                 + '<p>Assessor, date: <span class="hand"></span></p>')
    return f"<h2>{stage['number']}. {escape(stage['title'])}</h2>{table(before)}{hold}{table(after)}{words}"


def _row(form: dict, live: list[dict], candidate: str, piece: int, item: dict) -> str:
    critical = '<span class="crit">CRITICAL</span> ' if item["critical"] else ""
    only = {"pull": " (when pulled)", "section": " (when sectioned)"}.get(item["when"], "")
    limit = f"<br>Limit: {escape(item['limit']['said'])}. {escape(', '.join(item['instruments']))}" if item["kind"] == "measure" else ""
    return (f'<tr><td class="number">{item["number"]}</td><td>{critical}{escape(item["see"])}{only}{limit}</td>'
            f'<td class="marks">{_MARKS[item["kind"]](form, live, candidate, piece, item)}</td></tr>')


def _box(text: str, on: bool = False) -> str:
    return f'<span class="box">{"☒" if on else "☐"} {escape(text)}</span> '


def _hand(text: str, value: str = "") -> str:
    return f'<span class="box">{escape(text)} <span class="hand">{escape(value) or "&nbsp;"}</span></span> '


def _seen(form, live, candidate, piece, item) -> str:
    now = line_state(form, live, candidate, piece, item)
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
                    + _hand("cause", texts.get(call.get("cause"), "")))
    return "<br>".join(rows)


def _wrote(form, live, candidate, piece, item) -> str:
    words = [e["words"] for e in live if e["kind"] == "wrote" and (e["candidate"], e["item"]) == (candidate, item["key"])]
    return _hand("", words[-1] if words else "")


_MARKS = {"see": _seen, "measure": _measured, "gauge": _gauged, "choose": _chose, "count": _counted, "calls": _called, "write": _wrote}
