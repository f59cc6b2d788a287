"""What every lesson page is made with: plain blocks of HTML that say the same in text, and the lesson's style."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from importlib.resources import files

from rigcalc.cautions import CAUTIONS, INVENTED, INVENTED_GAUGE, WORK_CAUTIONS
from rigcalc.figures import Figure
from rigcalc.skills import load_skills

__all__ = ["Block", "Step", "abilities", "answer", "asked_then_told", "bench_sheet", "bench_sheets", "by_place", "cautions", "lesson_style", "opening_lines", "recap_sheet",
           "sources", "table", "when_said"]


class Block:
    """A piece of a lesson page.

    Parameters
    ----------
    html : str
        Ready HTML, text already escaped.
    text : str
        The same in plain words, for paper, search and screen readers' tools.
    """

    def __init__(self, html: str, text: str) -> None:
        self.html, self.text = html, text

    def __repr__(self) -> str:
        return self.text

    def _repr_html_(self) -> str:
        return self.html


def lesson_style() -> str:
    """The lesson's style sheet as an HTML element."""
    sheet = files(__package__).joinpath("lesson.css").read_text(encoding="utf-8")
    return f"<style>{sheet}</style>"


def table(head: tuple[str, ...], rows, caption: str = "", numbers: tuple[int, ...] = ()) -> Block:
    """A table with headings; `numbers` are the columns set to the right."""
    def cell(tag: str, column: int, value: object) -> str:
        kind = ' class="number"' if column in numbers else ""
        scope = ' scope="col"' if tag == "th" else ""
        return f"<{tag}{scope}{kind}>{escape(str(value))}</{tag}>"

    top = "".join(cell("th", i, h) for i, h in enumerate(head))
    body = "".join("<tr>" + "".join(cell("td", i, v) for i, v in enumerate(row)) + "</tr>" for row in rows)
    title = f"<caption>{escape(caption)}</caption>" if caption else ""
    lines = ([caption] if caption else []) + [" | ".join(map(str, row)) for row in (head, *rows)]
    return Block(f"<table>{title}<thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>", "\n".join(lines))


def answer(block: Block | Figure) -> Block:
    """The block or drawing, hidden in the projector view until somebody asks for it."""
    return Block(f'<div class="answer">{block._repr_html_()}</div>', repr(block))


def when_said(block: Block) -> Block:
    """The block, folded on every page until the reader has said it and opens it; paper has it under Answers (on_paper.js).

    >>> when_said(Block("<p>No coat.</p>", "No coat.")).html
    '<details class="when-said"><summary>Said it? Then open the answer.</summary><p>No coat.</p></details>'
    """
    return Block(f'<details class="when-said"><summary>Said it? Then open the answer.</summary>{block.html}</details>', block.text)


def asked_then_told(asked: Block, told: Block) -> Block:
    """What is asked about, open, and under it the answer, folded until the reader has said it."""
    folded = when_said(told)
    return Block(asked.html + folded.html, f"{asked.text}\n{folded.text}")


def opening_lines(chart_line: str, invented: bool, note: str = "", more: tuple[str, ...] = ()) -> Block:
    """Style, the shop's standing and the chart in force; `more` is what no page's head says, so that the clean view shows it.

    >>> opening_lines("chart A", False, more=("The scene is not yours.",)).html.endswith('</div><p class="invented">The scene is not yours.</p>')
    True
    """
    lines = ([("invented", INVENTED)] if invented else []) + [("chart-line", chart_line if "in force:" in chart_line else f"Chart in force: {chart_line}")]
    lines += [("invented", note)] if note else []
    said = [words for _, words in lines]
    marks = "".join(f'<p class="{kind}">{escape(words)}</p>' for kind, words in lines)
    beside = "".join(f'<p class="invented">{escape(words)}</p>' for words in more)
    return Block(f'{lesson_style()}<div class="lesson-standing">{marks}</div>{beside}', "\n".join([*said, *more]))


def cautions() -> Block:
    """The cautions, as every lesson shows them."""
    items = "".join(f"<li>{escape(text)}</li>" for text in CAUTIONS)
    return Block(f'<div class="caution-list"><ul>{items}</ul></div>', "\n".join(CAUTIONS))


def recap_sheet(title: str, lines, foot: str) -> Block:
    """A recap that prints on one page: numbered lines under a title, at its foot the chart in force and the cautions.

    Where the chart in force is invented, the sheet says so above its lines: it may hang on a wall without its page.

    >>> print(recap_sheet("Two rules: recap", ("Wipe.", "Look."), "Chart in force: INVENTED chart A"))  # doctest: +ELLIPSIS
    Two rules: recap
    1. Wipe.
    2. Look.
    Chart in force: INVENTED chart A. INVENTED: shop, people and figures of this sheet are made up for teaching. The sleeve and tool maker's chart governs: ...
    """
    mark = INVENTED if "INVENTED" in foot else ""
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    html = (f'<section class="one-page recap" aria-label="{escape(title)}"><h3>{escape(title)}</h3>' + (f'<p class="invented">{escape(mark)}</p>' if mark else "")
            + f'<ol>{items}</ol><p class="foot">{escape(foot)}. {escape(" ".join(WORK_CAUTIONS))}</p></section>')
    end = " ".join([f"{foot}.", *([mark] if mark else ()), *WORK_CAUTIONS])
    return Block(html, "\n".join([title, *(f"{i}. {line}" for i, line in enumerate(lines, 1)), end]))


def sources(rows) -> Block:
    """What the lesson says, where it is from, and how that is known: (statement, source, how known)."""
    return table(("What", "From", "How it is known"), rows)


def abilities(number: str) -> Block:
    """What can be shown after a lesson, each line a skill of the map, and where it is shown.

    >>> print(str(abilities("12")).splitlines()[1])
    74 | asks the customer for every missing fact; refuses with the reason in one sentence. | in writing
    """
    rows = [(one.number, one.sentence[:1].lower() + one.sentence[1:],
             ", ".join((["at the bench"] if one.by_hand else []) + (["in writing"] if one.written else [])))
            for one in sorted(load_skills().values(), key=lambda one: one.number) if one.lesson == number]
    return table(("Skill", "Show somebody that you are a person who …", "shown"), rows)


@dataclass(frozen=True)
class Step:
    """One line of a bench practice sheet.

    Parameters
    ----------
    words : str
        What to do or look at; a hold point begins with "STOP: " and gets a place for the initials of who saw it.
    unit : str
        The unit of what is written down; "" for a box to mark.
    whole : bool
        Whether it is of the whole piece: then one place spans the columns.
    places : int
        How often it is measured: a blank each.
    at : str
        Where on the bench it is done: said once, over the first of its lines; "" where the sheet is of one place.
    """

    words: str
    unit: str = ""
    whole: bool = False
    places: int = 1
    at: str = ""


def by_place(lines: dict[str, tuple[tuple, ...]]) -> list[Step]:
    """The lines of a sheet by the places of the bench: what stands under "" is of all of them, and comes first.

    >>> [(one.words, one.at) for one in by_place({"": (("Gloves on",),), "At the tool": (("STOP: pressed", "", True),)})]
    [('Gloves on', ''), ('STOP: pressed', 'At the tool')]
    """
    return [Step(*one, at=at) for at, those in lines.items() for one in those]


DECISION = "pass / reject (ring one), because"
SEEN = "seen by:"


def bench_sheet(title: str, steps, columns: tuple[str, ...], chart: str, invented: bool, note: str = "", foot: str = "", numbers: tuple[str, ...] = ("Tool no.", "Gauge no.")) -> Block:
    """A sheet to print for the bench: steps down, pieces across, a decision for each piece, one page.

    Parameters
    ----------
    title : str
        What is practised, with the size and the metals.
    steps : iterable of Step
        In the order of the work. The decision is no step of its own: the sheet ends with it.
    columns : tuple of str
        A column a piece, or a part of one.
    chart : str
        The line of the chart in force; "" for a sheet with no sleeve on it.
    invented : bool
        Whether its limits are the invented shop's.
    note : str
        What has to be said of the shop that stands in.
    foot : str
        What must be known before the work begins.
    numbers : tuple of str
        What is used and has a number of its own.

    Example
    -------
    >>> print(bench_sheet("Two clips", [Step("STOP: cut shown"), Step("Gap", "mm")], ("Piece 1",), "chart A", False))
    Two clips
    STOP: cut shown (seen by: ____)
    Gap (mm)
    Piece 1: pass / reject (ring one), because ____
    <BLANKLINE>
    """
    marks = [words for words in (INVENTED_GAUGE if invented else "", note) if words]
    kept = [step for step in steps if "pass or reject" not in step.words]  # the sheet's own last lines ask it
    head = "".join(f"<th scope='col'>{escape(one)}</th>" for one in ("Do and look", *columns))
    heads = [step.at if step.at != before else "" for before, step in zip(("", *(one.at for one in kept)), kept)]
    body = "".join(_place_row(at, len(columns)) + _bench_row(step, len(columns)) for at, step in zip(heads, kept, strict=True))
    decided = "".join(f'<tr class="decision"><td colspan="{len(columns) + 1}"><strong>{escape(one)}</strong>: {DECISION}</td></tr>' for one in columns)
    html = (f'<section class="one-page practice" aria-label="Bench practice sheet"><h3>{escape(title)}</h3>'
            + "".join(f'<p class="invented">{escape(words)}</p>' for words in marks)
            + f'<p class="who">Name ______________________ Date ______________{"".join(f" {escape(one)} ________" for one in numbers)}</p>'
            f"<table><thead><tr>{head}</tr></thead><tbody>{body}{decided}</tbody></table>"
            f'<p><strong>{escape(foot)}</strong></p><p class="foot">{escape(" ".join([*([f"{chart[:1].upper()}{chart[1:]}."] if chart else ()), *CAUTIONS]))}</p></section>')
    return Block(html, "\n".join([title, *marks, *(f"{at}:\n{line}" if at else line for at, line in zip(heads, map(_bench_line, kept), strict=True)), *(f"{one}: {DECISION} ____" for one in columns), foot]))


def bench_sheets(sheets: dict[str, Block]) -> Block:
    """The sheet of one size, and under it, folded, those of the others: each is printed by its own button, and its name says for what it is.

    >>> print(bench_sheets({"1/8": Block("<p>a</p>", "a"), "5/32": Block("<p>b</p>", "b")}))
    a
    Other sizes: open the sheet of your size below, then press its own button, Print this sheet. Sheets: 5/32.
    """
    (_, first), *others = sheets.items()
    if not others:
        return first
    how = "Other sizes: open the sheet of your size below, then press its own button, Print this sheet."
    folded = "".join(f'<details class="other-size"><summary>The same sheet for {escape(name)}</summary>{one.html}</details>' for name, one in others)
    return Block(f'{first.html}<p class="no-print">{how}</p>{folded}', f"{first.text}\n{how} Sheets: {', '.join(name for name, _ in others)}.")


def _bench_line(step: Step) -> str:
    written = f" ({SEEN} ____)" if step.words.startswith("STOP:") else f" ({step.unit})" if step.unit else ""
    return step.words + written


def _place_row(at: str, wide: int) -> str:
    return f'<tr class="place"><th scope="rowgroup" colspan="{wide + 1}">{escape(at)}</th></tr>' if at else ""


def _bench_row(step: Step, wide: int) -> str:
    stop, across = step.words.startswith("STOP:"), 1 if step.whole else wide
    blanks = "".join('<span class="write"></span>' for _ in range(step.places))
    what = f'<span class="seen">{SEEN}</span>' if stop and not step.unit else blanks if step.unit else '<span class="tick"></span>'
    if stop and step.unit:
        what = f'{blanks}<span class="seen">{SEEN}</span>'
    span = f' colspan="{wide}"' if step.whole and wide > 1 else ""
    unit = f" ({escape(step.unit)})" if step.unit else ""
    words = f"<strong>{escape(step.words)}</strong>{unit}" if stop else escape(step.words) + unit
    return f"<tr><td>{words}</td>" + f'<td class="blank"{span}>{what}</td>' * across + "</tr>"
