"""A paper on paper: the questions and an answer sheet with the same numbering, black on white."""

from __future__ import annotations

import base64
import re

from rigcalc.cautions import SCENES
from rigcalc.pages import escape, page
from rigcalc.questions.separators import shown_with

__all__ = ["printed_paper", "question_html", "paper_caution", "PRINT_STYLE"]

# The workbook's full cautions would answer some of the questions, so a paper carries this one line.
_CAUTION = ("This paper asks about light-duty static assemblies only. What it shows is evidence of knowledge; "
            "it is no permission to do any job.")

PRINT_STYLE = """
.question { border-top:1px solid var(--line); padding:.6rem 0; break-inside:avoid; }
.question h3 { margin:.1rem 0 .3rem; } .question ol { list-style:none; padding-left:0; } .question li { margin:.3rem 0; }
.letter { display:inline-block; min-width:1.8rem; font-weight:700; }
.question .chart-line { white-space:pre-line; }
.question figure img { max-width:min(100%,30rem); height:auto; }
.sheet { break-before:page; } .sheet td,.sheet th { height:2.3rem; vertical-align:middle; }
.sheet table { break-inside:auto; width:100%; } .sheet tr,.sheet .signed { break-inside:avoid; } .sheet thead { display:table-header-group; } .sheet td.write { min-width:15rem; }
.sheet .signs { display:grid; grid-template-columns:3fr 2fr; gap:0 1.2rem; } .signs span.pair { display:flex; gap:.5rem; align-items:flex-end; min-height:2.4rem; } .signs .hand { flex:1; min-width:5rem; } .signs .pair > :first-child { white-space:nowrap; }
.box { display:inline-block; border:1.5px solid #000; min-width:1.7rem;
  height:1.7rem; line-height:1.6rem; text-align:center; margin-right:.45rem; padding:0 .2rem; }
.hand { border-bottom:1px solid #000; display:inline-block; min-width:12rem; }
html.larger { font-size:22px; --foot-size:13pt; } html.larger .signs { grid-template-columns:1fr; }
@page turned { size:landscape; }
@media print { html.larger, html.larger body { font-size:16pt; } .question figure img { max-width:100%; } .question p,main > ul,main > p { orphans:3; widows:3; }
  .question.turned { page:turned; } .question.turned figure { margin:.2rem 0; } .question.turned ol { display:flex; flex-wrap:wrap; gap:0 2.2rem; margin:.1rem 0; } .question.turned { padding:.1rem 0; } .question.turned p,.question.turned li { line-height:1.3; margin:.15rem 0; } .question.turned figure img { max-height:156mm; object-fit:contain; object-position:left; } }
"""

_TEXT = {False: 11 / 72 * 96, True: 16 / 72 * 96}  # px of a paper's text, usual and larger
_NO_WORDS = 15.0  # px: how large the words of a drawing without any would be
_UPRIGHT = 178 / 25.4 * 96  # px across the narrower of A4 and Letter, upright, between the margins


def paper_caution(invented: bool | str) -> str:
    """The short caution a paper carries; where its shop is a real one, also that the scenes beside the shop's own are not."""
    return _CAUTION if invented is True else f"{_CAUTION} {SCENES}"


def printed_paper(paper: dict, nav: str = "") -> str:
    """The page to print: first the paper, then its answer sheet on a page of its own."""
    larger = paper["larger_print"]
    body = _front(paper) + "".join(question_html(question, larger=larger) for question in paper["questions"]) + _sheet(paper)
    return page(paper["title"], body, chart_line=paper["chart_line"], invented=paper["invented"], nav=nav,
                head=f"<style>{PRINT_STYLE}</style>", cautions=False, foot=_foot(paper), larger=larger)


def _foot(paper: dict) -> str:
    """What brings a loose sheet home: whose paper it is and which, after the marks that it must not be without."""
    marks = [word for word in ("INVENTED", "PRACTICE") if paper[word.lower()]]
    return " · ".join([*marks, paper["candidate"]["name"], f"paper {paper['paper_id']}"])


def _front(paper: dict) -> str:
    rules = "".join(f"<li>{escape(rule)}</li>" for rule in paper["rules"])
    extra = f"<li>{paper['extra_minutes']} of the {paper['minutes']} minutes are extra time.</li>" \
        if paper["extra_minutes"] else ""
    return (f"<p>{_who(paper)}</p><ul>{rules}{extra}{_figures(paper)}<li>Whoever supervises says when the time begins. Write your answers on "
            f"the answer sheet at the end.</li></ul><p class='quiet'>{escape(paper_caution(paper['invented']))}</p>")


def _figures(paper: dict) -> str:
    """How figures are written and read, by the signs of the shop's language."""
    signs = next((question["separators"] for question in paper["questions"] if question.get("separators")), {"decimal": "."})
    name = "point" if signs["decimal"] == "." else "comma"
    return f"<li>Write figures with a {name} before decimals, as in {shown_with('8.50', signs)}, and with nothing between thousands, as in 1250. They are read so.{_pounds(paper)}</li>"


def _pounds(paper: dict) -> str:
    """That a force in pounds is written lbf, where a question or a box takes one."""
    asked = [one for question in paper["questions"] for one in (question, *(question.get("boxes") or []))]
    return " Write a force in pounds as lbf: lb is a mass." if any("lbf" in (one.get("accept") or []) for one in asked) else ""


def _who(paper: dict) -> str:
    return (f"<strong>{escape(paper['candidate']['name'])}</strong> · paper <strong>{escape(paper['paper_id'])}"
            f"</strong> · {escape(paper['shop'])}")


def _by_hand(instruction: str) -> str:
    """An instruction for a sheet: on paper a figure is written, not typed."""
    return re.sub(r"^Type\b", "Write", instruction)


def question_html(question: dict, chosen: tuple[str, ...] = (), heading: bool = True, larger: bool = False) -> str:
    """One question as it stands on paper; the options of those letters are marked, in words, as chosen.

    The words of a drawing are as large as the text; in larger print a drawing that is then too wide lies on a page turned on its side.
    """
    figure = question.get("figure")
    wide = _wide(figure["svg"], _TEXT[larger]) if figure else 0.0
    drawn = f"<figure>{_image(figure, wide)}</figure>" if figure else ""
    turned = " turned" if larger and wide > _UPRIGHT else ""
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
    return (f'<section class="question{turned}">{head}<p>{escape(question["text"])}</p>{chart}'
            f'{drawn}{"<ol>" + left + "</ol>" if left else ""}{"<ol>" + options + "</ol>" if options else ""}{boxes}{said}</section>')


def _box(box: dict) -> str:
    """One box of a job sheet: its label, what it may hold, and room to write."""
    options = "; ".join(f"{option['letter']} {option['text']}" for option in box["options"])
    told = options or _tolerance(box)
    return (f'<p class="entry"><strong>{box["box"]}. {escape(box["label"])}</strong><br><span class="quiet">{escape(told)}</span></p>')


def _wide(svg: str, text: float) -> float:
    """The width in px at which a drawing's smallest words are as large as the text, in px."""
    own = float(re.search(r'<svg[^>]*? width="([0-9.]+)"', svg)[1])
    return own * text / min(map(float, re.findall(r'<text[^>]*? font-size="([0-9.]+)"', svg)), default=_NO_WORDS)


def _image(figure: dict, wide: float) -> str:
    held = base64.b64encode(figure["svg"].encode("utf-8")).decode("ascii")
    alt = " ".join(words for words in (figure["alt"], figure.get("spoken")) if words)
    return f'<img alt="{escape(alt)}" width="{wide:.0f}" src="data:image/svg+xml;base64,{held}">'


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
            f"{_signs('Signed by the candidate', 'on')}{_signs('Supervised by', 'from')}{_signs('Typed in by', 'read again by')}</div></section>")


def _signs(*labels: str) -> str:
    """A row of lines to sign on."""
    return "<p class='signs'>" + "".join(f"<span class='pair'><span>{label}</span><span class='hand'>&nbsp;</span></span>" for label in labels) + "</p>"


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
