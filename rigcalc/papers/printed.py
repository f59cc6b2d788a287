"""A paper on paper: the questions and an answer sheet with the same numbering, black on white."""

from __future__ import annotations

import base64
import re

from rigcalc.cautions import SCENES
from rigcalc.pages import escape, page

__all__ = ["printed_paper", "question_html", "paper_caution", "PRINT_STYLE"]

# The workbook's full cautions would answer some of the questions, so a paper carries this one line.
_CAUTION = ("This paper asks about light-duty static assemblies only. What it shows is evidence of knowledge; "
            "it is no permission to do any job.")

PRINT_STYLE = """
.question { border-top:1px solid var(--line); padding:.6rem 0; break-inside:avoid; }
.question h3 { margin:.1rem 0 .3rem; } .question ol { list-style:none; padding-left:0; } .question li { margin:.3rem 0; }
.letter { display:inline-block; min-width:1.8rem; font-weight:700; }
.question .chart-line { white-space:pre-line; }
.question figure img { max-width:min(100%,30rem); }
.sheet { break-before:page; } .sheet td,.sheet th { height:2.3rem; vertical-align:middle; }
.sheet table { break-inside:auto; width:100%; } .sheet tr,.sheet .signed { break-inside:avoid; } .sheet thead { display:table-header-group; } .sheet td.write { min-width:15rem; } .box { display:inline-block; border:1.5px solid #000; min-width:1.7rem;
  height:1.7rem; line-height:1.6rem; text-align:center; margin-right:.45rem; padding:0 .2rem; }
.hand { border-bottom:1px solid #000; display:inline-block; min-width:12rem; }
html.larger { font-size:22px; } @media print { html.larger, html.larger body { font-size:16pt; } }
"""


def paper_caution(invented: bool) -> str:
    """The short caution a paper carries; where its shop is a real one, also that the scenes beside the shop's own are not."""
    return _CAUTION if invented else f"{_CAUTION} {SCENES}"


def printed_paper(paper: dict, nav: str = "") -> str:
    """The page to print: first the paper, then its answer sheet on a page of its own."""
    body = (_front(paper) + "".join(question_html(question) for question in paper["questions"])
            + _sheet(paper))
    made = page(paper["title"], body, chart_line=paper["chart_line"], invented=paper["invented"], nav=nav,
                head=f"<style>{PRINT_STYLE}</style>", cautions=False)
    return made.replace('<html lang="en">', '<html lang="en" class="larger">', 1) if paper["larger_print"] else made


def _front(paper: dict) -> str:
    rules = "".join(f"<li>{escape(rule)}</li>" for rule in paper["rules"])
    extra = f"<li>{paper['extra_minutes']} of the {paper['minutes']} minutes are extra time.</li>" \
        if paper["extra_minutes"] else ""
    return (f"<p>{_who(paper)}</p><ul>{rules}{extra}<li>Whoever supervises says when the time begins. Write your answers on "
            f"the answer sheet at the end.</li></ul><p class='quiet'>{escape(paper_caution(paper['invented']))}</p>")


def _who(paper: dict) -> str:
    return (f"<strong>{escape(paper['candidate']['name'])}</strong> · paper <strong>{escape(paper['paper_id'])}"
            f"</strong> · {escape(paper['shop'])}")


def _by_hand(instruction: str) -> str:
    """An instruction for a sheet: on paper a figure is written, not typed."""
    return re.sub(r"^Type\b", "Write", instruction)


def question_html(question: dict, chosen: tuple[str, ...] = (), heading: bool = True) -> str:
    """One question as it stands on paper; the options of those letters are marked, in words, as chosen."""
    figure = question.get("figure")
    drawn = f"<figure>{_image(figure)}</figure>" if figure else ""
    chart = f'<p class="chart-line">{escape(question["chart"])}</p>' if question.get("chart") else ""
    options = "".join(f'<li><span class="letter">{escape(option["letter"])}</span>{escape(option["text"])}'
                      f'{" <strong>(chosen)</strong>" if option["letter"] in chosen else ""}</li>'
                      for option in question.get("options") or [])
    left = "".join(f'<li><span class="letter">{at}</span>{escape(one)}</li>' for at, one in enumerate(question.get("left") or [], 1))
    boxes = "".join(_box(box) for box in question.get("boxes") or [])
    if question["kind"] == "place":
        options = ""  # the letters stand on the drawing
    notes = [_by_hand(question.get("instruction") or ""), _tolerance(question)]
    said = "".join(f'<p class="quiet">{escape(note)}</p>' for note in notes if note)
    head = f'<h3>Question {question["slot"]}</h3>' if heading else ""
    return (f'<section class="question">{head}<p>{escape(question["text"])}</p>{chart}'
            f'{drawn}{"<ol>" + left + "</ol>" if left else ""}{"<ol>" + options + "</ol>" if options else ""}{boxes}{said}</section>')


def _box(box: dict) -> str:
    """One box of a job sheet: its label, what it may hold, and room to write."""
    options = "; ".join(f"{option['letter']} {option['text']}" for option in box["options"])
    told = options or _tolerance(box)
    return (f'<p class="entry"><strong>{box["box"]}. {escape(box["label"])}</strong><br><span class="quiet">{escape(told)}</span></p>')


def _image(figure: dict) -> str:
    held = base64.b64encode(figure["svg"].encode("utf-8")).decode("ascii")
    alt = " ".join(words for words in (figure["alt"], figure.get("spoken")) if words)
    return f'<img alt="{escape(alt)}" src="data:image/svg+xml;base64,{held}">'


def _tolerance(question: dict) -> str:
    if question["kind"] != "number":
        return ""
    accepted = ", ".join(one for one in question.get("accept") or [] if one)
    refuse = " Where no figure can be stated, write the word refuse." if question.get("refusal") else ""
    return f"{f'Answer in {accepted}' if accepted else 'A figure without a unit'}: {question['tolerance']}.{refuse}"


def _sheet(paper: dict) -> str:
    rows = "".join(f"<tr><th scope='row'>{question['slot']}</th><td class='write'>{_boxes(question)}</td></tr>"
                   for question in paper["questions"])
    return (f"<section class='sheet'><table><thead><tr><th colspan='2'>Answer sheet: {_who(paper)}</th></tr><tr><th>Question</th>"
            f"<th>Answer (a number with its unit)</th></tr></thead><tbody>{rows}</tbody></table>"
            "<div class='signed'><p>To change an answer, cross the old one out and write the new one beside it.</p>"
            "<p>Signed by the candidate <span class='hand'>&nbsp;</span> on <span class='hand'>&nbsp;</span></p>"
            "<p>Supervised by <span class='hand'>&nbsp;</span> from <span class='hand'>&nbsp;</span></p>"
            "<p>Typed in by <span class='hand'>&nbsp;</span> read again by <span class='hand'>&nbsp;</span></p></div></section>")


def _boxes(question: dict) -> str:
    options = question.get("options") or []
    letters = "".join(f'<span class="box">{escape(option["letter"])}</span>' for option in options)
    if question["kind"] in ("one choice", "place"):
        return letters + "mark one"
    if question["kind"] == "several choices":
        return letters + "mark all that fit"
    if question["kind"] == "match":
        return "".join(f'{at} <span class="box">&nbsp;</span>' for at in range(1, len(question["left"]) + 1)) + "one letter each"
    if question["kind"] == "sheet":
        return "".join(f'<p>{box["box"]} {_boxes(box) if box["options"] else "<span class=hand>&nbsp;</span>"}</p>'
                       for box in question["boxes"])
    if question["kind"] == "order":
        return '<span class="box">&nbsp;</span>' * len(options) + "letters, first to last"
    return "&nbsp;"
