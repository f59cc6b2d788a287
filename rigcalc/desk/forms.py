"""The parts that desk pages are made of: labelled fields that keep what was typed, tables, the class's steps."""

from __future__ import annotations

from collections.abc import Iterable

from rigcalc.pages import escape

__all__ = ["address", "area", "back_to", "button", "check", "choice", "counted", "field", "form", "held", "hint", "radios", "table"]


def hint(text: str) -> str:
    """A quiet sentence of help."""
    return f'<p class="quiet">{escape(text)}</p>'


def held(sentences: Iterable[str]) -> str:
    """Sentences that must not be missed, each in a card of its own; an empty one makes none."""
    return "".join(f'<p class="card hold">{escape(one)}</p>' for one in sentences if one)


def back_to(where: str, words: str = "Back to the steps") -> str:
    """The way back at the end of a page; not printed."""
    return f'<p class="no-print"><a href="{escape(where)}">{escape(words)}</a></p>'


def counted(number: int, what: str) -> str:
    """`1 name`, `2 names`."""
    return f"{number} {what}{'' if number == 1 else 's'}"


def form(action: str, inside: str, send: str, second: bool = False, extra: str = "") -> str:
    """A form with its one button."""
    kind = ' class="second"' if second else ""
    return (f'<form method="post" action="{escape(action)}">{extra}{inside}'
            f"<p><button{kind}>{escape(send)}</button></p></form>")


def button(action: str, send: str, **hidden: str) -> str:
    """A button alone, with what it sends."""
    kept = "".join(f'<input type="hidden" name="{escape(name)}" value="{escape(value)}">' for name, value in hidden.items())
    return f'<form method="post" action="{escape(action)}" class="inline">{kept}<button class="second">{escape(send)}</button></form>'


def field(name: str, label: str, value: str = "", kind: str = "text", size: int = 34, help: str = "") -> str:
    """One line to type in, with its label."""
    told = f'<span class="quiet" id="{escape(name)}-help">{escape(help)}</span>' if help else ""
    by = f' aria-describedby="{escape(name)}-help"' if help else ""
    return (f'<label for="{escape(name)}">{escape(label)}</label>{told and told + "<br>"}'
            f'<input type="{kind}" id="{escape(name)}" name="{escape(name)}" value="{escape(value)}" size="{size}" '
            f'autocomplete="off"{by}>')


def area(name: str, label: str, value: str = "", rows: int = 4, help: str = "") -> str:
    """Several lines to type in."""
    told = f'<p class="quiet" id="{escape(name)}-help">{escape(help)}</p>' if help else ""
    by = f' aria-describedby="{escape(name)}-help"' if help else ""
    return (f'<label for="{escape(name)}">{escape(label)}</label>{told}'
            f'<textarea id="{escape(name)}" name="{escape(name)}" rows="{rows}" cols="64"{by}>{escape(value)}</textarea>')


def choice(name: str, label: str, options: list[tuple[str, str]], value: str = "") -> str:
    """A list to choose one from: (value, words)."""
    rows = "".join(f'<option value="{escape(one)}"{" selected" if one == value else ""}>{escape(words)}</option>'
                   for one, words in options)
    return f'<label for="{escape(name)}">{escape(label)}</label><select id="{escape(name)}" name="{escape(name)}">{rows}</select>'


def check(name: str, label: str, value: str = "yes", on: bool = False) -> str:
    """One box to tick."""
    mark = " checked" if on else ""
    made = f"{name}-{value}"
    return (f'<div class="tick"><input type="checkbox" id="{escape(made)}" name="{escape(name)}" value="{escape(value)}"{mark}>'
            f'<label for="{escape(made)}">{escape(label)}</label></div>')


def radios(name: str, legend: str, options: list[tuple[str, str]], value: str = "") -> str:
    """One of a few, all to be seen."""
    rows = "".join(
        f'<div class="tick"><input type="radio" id="{escape(name)}-{n}" name="{escape(name)}" value="{escape(one)}"'
        f'{" checked" if one == value else ""}><label for="{escape(name)}-{n}">{escape(words)}</label></div>'
        for n, (one, words) in enumerate(options))
    return f"<fieldset><legend>{escape(legend)}</legend>{rows}</fieldset>"


def address(whole: str) -> str:
    """An address of the room, to copy or to open beside the desk."""
    return f'<a class="address" href="{escape(whole)}" target="_blank" rel="noopener noreferrer">{escape(whole)}</a>'


def table(headings: list[str], rows: list[list[str]], none: str = "Nothing here yet.", kind: str = "") -> str:
    """A table; cells are HTML, already escaped; `kind` is its class."""
    if not rows:
        return hint(none)
    head = "".join(f"<th scope='col'>{escape(one)}</th>" for one in headings)
    body = "".join("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>" for row in rows)
    named = f" class='{escape(kind)}'" if kind else ""
    return f"<div class='wide'><table{named}><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>"


STYLE = ("<style>.tick{display:flex;gap:.5rem;align-items:flex-start;margin:.3rem 0}.tick input{width:1.25rem;height:1.25rem;"
         "margin:.15rem 0 0;flex:none}.tick label{font-weight:400;margin:0}form.inline{display:inline-block;margin:.2rem .6rem .2rem 0}"
         "ol.steps{list-style:none;padding:0;max-width:none}ol.steps li{display:grid;grid-template-columns:2.4rem 1fr;gap:.2rem .8rem;"
         "background:var(--card);border:1px solid var(--line);border-radius:6px;padding:.65rem .9rem;margin:.5rem 0}"
         "ol.steps .no{font-weight:700;font-size:1.15rem;color:var(--deep)}ol.steps a{font-weight:700}"
         "ol.steps p{margin:.1rem 0}.address{font-family:ui-monospace,'DejaVu Sans Mono',monospace;font-size:.84rem;overflow-wrap:anywhere}"
         "textarea{width:100%;max-width:46rem}td form.inline{margin:0}.hold{border-left:6px solid var(--rust)}"
         ".day{white-space:nowrap}.names{columns:14rem}.names .tick{margin:0 0 .3rem;break-inside:avoid}</style>")
