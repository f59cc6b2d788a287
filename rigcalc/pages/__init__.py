"""The shell of every plain page (desk, room, job sheet, certificate): one look, every caution, all text escaped."""

from __future__ import annotations

from html import escape
from importlib.resources import files

from rigcalc.cautions import CAUTIONS, INVENTED

__all__ = ["escape", "page", "said", "style", "cautions_html"]


def style() -> str:
    """The style sheet of all plain pages, as text."""
    return files(__package__).joinpath("workbook.css").read_text(encoding="utf-8")


def cautions_html(extra: tuple[str, ...] = ()) -> str:
    """The cautions as a list that stands at the foot of every page and sheet."""
    items = "".join(f"<li>{escape(text)}</li>" for text in CAUTIONS + tuple(extra))
    return f'<section class="cautions" aria-label="Cautions"><strong>Cautions</strong><ul>{items}</ul></section>'


def said(text: str | list[str], kind: str = "") -> str:
    """One plain sentence said back to the person, or several lines; `kind` is '', 'ok' or 'no'."""
    lines = "<br>".join(map(escape, [text] if isinstance(text, str) else text))
    return f'<p class="said {escape(kind)}" role="status">{lines}</p>'


BRAND = "Cable assembly workbook"


def page(title: str, body: str, *, chart_line: str = "", invented: bool | str = False, nav: str = "",
         head: str = "", cautions: bool = True, heading: bool = True, brand: str = BRAND, foot: str = "", larger: bool = False) -> str:
    """A whole HTML page.

    Parameters
    ----------
    title : str
        Plain text; stands in the window's title and, where `heading`, as the page's h1.
    body : str
        HTML, already escaped.
    chart_line : str
        Plain text naming the crimp chart in force.
    invented : bool or str
        Whether the invented shop is in force: the page then says INVENTED, of a sheet; or that sentence in its own words.
    nav, head : str
        HTML for the top line and for the head.
    brand : str
        Plain text above the page: the workbook, or whoever sends a letter.
    foot : str
        Plain text at the foot of every printed page, beside its number and how many there are; without it neither stands there.
    larger : bool
        Larger print, for those who need it.
    """
    window = title if title == brand else f"{title} · {brand}"
    top = f"<h1>{escape(title)}</h1>" if heading else ""
    mark = f'<p class="invented">{escape(INVENTED if invented is True else str(invented))}</p>' if invented else ""
    chart = f'<p class="chart-line">{escape(chart_line)}</p>' if chart_line else ""
    below = cautions_html() if cautions else ""
    marks = (' class="larger"' if larger else "") + (f' data-foot="{escape(foot)}"' if foot else "")
    return (
        f'<!doctype html><html lang="en"{marks}><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(window)}</title><style>{style()}</style>{head}</head><body>"
        f'<header class="page"><div class="inner"><span class="title">{escape(brand)}</span>'
        f"<nav>{nav}</nav></div></header><main>{top}{mark}{chart}{body}{below}</main></body></html>"
    )
