"""The pages of a sitting: before the start, the paper itself, and the receipt."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files

from rigcalc.notebook.form_text import form_script
from rigcalc.pages import escape, page
from rigcalc.papers.printed import paper_caution
from rigcalc.papers.records import when

__all__ = ["sitting_page", "sentence_page", "sitting_style", "script"]

_SCRIPTS = {"sitting.js": ("rigcalc.room", "sitting.js"), "parts.js": ("rigcalc.room", "parts.js")}


@cache
def script(name: str) -> str | None:
    """A script of the room's pages by its name; None for any other name."""
    if name == "form.js":
        return form_script()
    place = _SCRIPTS.get(name)
    return files(place[0]).joinpath(place[1]).read_text(encoding="utf-8") if place else None


@cache
def sitting_style() -> str:
    """The style of the sitting page, on top of the workbook's."""
    return files("rigcalc.room").joinpath("sitting.css").read_text(encoding="utf-8")


def sentence_page(title: str, sentence: str) -> str:
    """A page that says one plain sentence."""
    return page(title, f"<p>{escape(sentence)}</p>", cautions=False)


def sitting_page(paper: dict, state: dict, window: str) -> str:
    """The page a candidate sees: the front, the paper under way, or the receipt."""
    if state["handed_in"]:
        return _whole(paper, "You have handed in", _receipt(paper, state["handed_in"]), {"phase": "done"})
    if not state["started"]:
        return _whole(paper, paper["title"], _front(paper, state), {"phase": "front"})
    public = {"paper_id": paper["paper_id"], "questions": paper["questions"]}
    data = {"phase": "sitting", "paper": public, "state": state, "window": window}
    return _whole(paper, paper["title"], '<div id="sitting"></div>', data, heading=False)


def _whole(paper: dict, title: str, body: str, data: dict, heading: bool = True) -> str:
    held = json.dumps(data, ensure_ascii=True).replace("<", "\\u003c")
    who = f"<p class='who'><strong>{escape(paper['candidate']['name'])}</strong> · paper {escape(paper['paper_id'])}</p>"
    return page(
        title,
        f"{who}{body}<noscript><p>This page needs scripts, which this browser has switched off: switch them on, "
        f"or ask for the paper in print.</p></noscript><div class='caution'><p class='quiet'>{escape(paper_caution(paper['invented']))}</p>"
        f"<p class='chart-line'>{escape(paper['chart_line'])}</p></div>"
        f'<script type="application/json" id="data">{held}</script>'
        '<script type="module" src="/room/sitting.js"></script>',
        invented=paper["invented"], cautions=False, heading=heading, larger=paper["larger_print"],
        head=f"<style>{sitting_style()}</style>")


def _front(paper: dict, state: dict) -> str:
    rules = "".join(f"<li>{escape(rule)}</li>" for rule in paper["rules"])
    more = state["minutes"] - paper["minutes"] + paper["extra_minutes"]
    extra = f"<li>You have {state['minutes']} minutes: {more} of them are extra time.</li>" if more else ""
    return (f"<ul class='rules'>{rules}{extra}</ul>"
            "<p>The time begins when you press Start. Every answer is saved as you go. If the page, the browser or the power fails, open the same address "
            "again, on another device if need be, and go on.</p>"
            "<p>A number you type is read back to you; it counts once you confirm it.</p>"
            '<p><button id="start" type="button">Start: the time begins</button></p>'
            '<p id="said" class="said" role="status" hidden></p>')


def _receipt(paper: dict, done: dict) -> str:
    if done["typed_in"]:
        return ("<p>The answers to this paper were written on paper and typed in by the assessor.</p>"
                f"<p class='receipt'>{escape(done['receipt'])}</p>")
    return ("<p>Your answers are on the disk and can no longer be changed. This is your receipt; write it down or "
            "print this page:</p>"
            f"<p class='receipt' id='receipt' tabindex='-1'>{escape(done['receipt'])}</p>"
            f"<p>Handed in at {escape(when(done['at']))}, paper {escape(paper['paper_id'])}.</p>"
            "<p>The receipt is made from your answers and this paper together: the same receipt on your result shows "
            "that what was marked is what you handed in.</p>"
            f"<p class='quiet wrap'>In full: {escape(done['answers_sha256'])}</p>")
