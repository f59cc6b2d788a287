"""The bench form as a page for a tablet: no kernel, nothing from outside, and the same lines on paper."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files

from rigcalc.bench.lines import has_verdict, line_state
from rigcalc.bench.observe import live_events
from rigcalc.bench.pieces import current_piece
from rigcalc.bench.printed import paper_feet, paper_html, print_style
from rigcalc.cautions import INVENTED, INVENTED_GAUGE, PRACTICE
from rigcalc.pages import cautions_html, escape, style

__all__ = ["bench_page", "bench_script", "bench_style"]


@cache
def bench_style() -> str:
    """The form's own style sheet, for screen and paper."""
    return files(__package__).joinpath("bench.css").read_text(encoding="utf-8") + print_style()


@cache
def bench_script() -> str:
    """The form's script: what saves, then what shows."""
    own = files(__package__)
    return "".join(own.joinpath(name).read_text(encoding="utf-8") for name in ("saving.js", "bench.js"))


def bench_page(form: dict, events: list[dict], since: str = "") -> str:
    """The whole page of one form with all that is saved on it.

    Parameters
    ----------
    form : dict
        From ``open_form``.
    events : list of dict
        All saved events, oldest first: a reload shows everything again.
    since : str
        What changed since the form was opened, in a sentence; empty where nothing did. A save's reply brings it anew.

    Returns
    -------
    str
        HTML. Served at an address A, its script posts each tap as JSON to ``A/save`` and expects the
        replies of ``rigcalc.bench.observe.take``. It loads nothing else.
    """
    names = " and ".join(c["name"] for c in form["candidates"])
    saved = {"events": events, "lines": _lines(form, events), "since": since}
    return (
        f'<!doctype html><html lang="en" {paper_feet(form)}><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>Bench form, {escape(names)} · Cable assembly workbook</title><style>{style()}</style>"
        f'<style>{bench_style()}</style></head><body class="bench-body">'
        f'<div id="bench"><p>This form needs its script: reload the page, or print it and type it in afterwards.</p></div>'
        f'<div class="paper">{paper_html(form, events, since)}</div>'
        f'<template id="headline">{_headline(form)}{cautions_html()}</template>'
        f'<script type="application/json" id="form-data">{_json(form)}</script>'
        f'<script type="application/json" id="saved-data">{_json(saved)}</script>'
        f"<script>{bench_script()}</script></body></html>"
    )


def _headline(form: dict) -> str:
    said = [f'<p class="chart-line">{escape(form["chart"]["line"])}</p>']
    if form["shop"]["invented"]:
        said.append(f'<p class="invented">{escape(INVENTED)} {escape(INVENTED_GAUGE)}</p>')
    if form["practice"]:
        said.append(f'<p class="invented">{escape(PRACTICE)}</p>')
    return "".join(said)


def _lines(form: dict, events: list[dict]) -> dict:
    """How each line with a verdict stands, by "candidate|piece|line": the page converts no unit and reads no date by itself."""
    live = live_events(events)
    return {f"{c['id']}|{piece}|{item['key']}": line_state(form, live, c["id"], piece, item)
            for c in form["candidates"] for stage in form["stages"]
            for piece in ((0,) if stage["per"] == "day" else range(1, current_piece(form, live, c["id"]) + 1))
            for item in stage["items"] if has_verdict(item)}


def _json(data: object) -> str:
    """JSON that may stand inside a script block: whatever somebody typed cannot end the block."""
    return json.dumps(data, ensure_ascii=True).replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")
