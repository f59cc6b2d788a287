"""The certificate as printed: one sheet, and a second with the skills one by one; black on white, plain, A4 or Letter."""

from __future__ import annotations

import math
import re

from rigcalc.cautions import INVENTED
from rigcalc.pages import escape
from rigcalc.register.finds import in_brief
from rigcalc.register.skill_sheet import Skills, skill_sheet, skills_of

__all__ = ["certificate_page"]

_SHEET = """
@page { size: auto; margin: 8mm 10mm; @bottom-left { content: var(--foot); font: 9pt sans-serif; } @bottom-right { content: "page " counter(page) " of " counter(pages); font: 9pt sans-serif; } }
* { box-sizing: border-box; }
html { font-size: 12.5px; --foot: attr(data-foot); }
body { margin: 0; background: #fff; color: #000; font: 1rem/1.16 "Source Sans 3","Segoe UI","DejaVu Sans Condensed","Liberation Sans","DejaVu Sans",system-ui,sans-serif; }
main { max-width: 194mm; margin: 0 auto; padding: 6mm 4mm; }
h1 { font-size: 1.5rem; line-height: 1.1; margin: 0; letter-spacing: .01em; }
h2 { font-size: 1rem; margin: .45em 0 .1em; border-bottom: 1px solid #777; break-after: avoid; }
p { margin: .12em 0; }
.issuer { display: flex; justify-content: space-between; align-items: end; gap: 1em; border-bottom: 3px solid #000; padding-bottom: .1em; margin-bottom: .3em; } .issuer p { text-align: right; margin: 0; }
.name { font-size: 1.4rem; line-height: 1.1; font-weight: 700; margin: .25em 0 0; }
.mark { border: 2px solid #000; padding: .15em .5em; font-weight: 700; margin: .3em 0; }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 0 5mm; }
.scope { grid-template-columns: repeat(3, auto); justify-content: space-between; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: 0 .6em; margin: .1em 0; align-content: start; }
dt { color: #333; } dd { margin: 0; overflow-wrap: anywhere; } .scope dd { font-weight: 700; }
ul { margin: .1em 0; padding-left: 1.1em; }
.run { padding: 0; list-style: none; } .run li { display: inline; } .run li:not(:last-child)::after { content: " · "; }
.ends { grid-template-columns: 2fr 3fr; }
.day { white-space: nowrap; }
.hash { font-family: "DejaVu Sans Mono", monospace; font-weight: 400; overflow-wrap: anywhere; }
.sign { display: grid; grid-template-columns: 1fr 1fr; gap: 7mm; margin-top: 1.7em; break-inside: avoid; }
.sign div { border-top: 1px solid #000; }
.skills { break-before: page; margin-top: 2em; } .skills table { width: 100%; border-collapse: collapse; margin-top: .4em; }
.skills th, .skills td { text-align: left; vertical-align: top; border-bottom: 1px solid #999; padding: .03em .6em .03em 0; line-height: 1.12; } .skills tr { break-inside: avoid; }
.skills td:nth-child(1) { text-align: right; } .skills td:nth-child(n+3) { white-space: nowrap; width: 1%; }
.no-print { margin: 0 0 1em; }
@media print { .no-print { display: none; } main { padding: 0; max-width: none; } h1 { white-space: nowrap; } html { font-size: POINTSpt; } .skills { font-size: 10pt; margin-top: 0; } .skills.many { font-size: 9pt; } }
"""
_LEAST, _MOST = 9.0, 11.5  # points
_ROOM, _SPACE = 490_000, 1200  # found by printing on Letter in the widest of the fonts: what one sheet holds, and what headings and gaps take

_NOT, _SHAKEN = "NOT IN FORCE", "IN FORCE, BUT SHAKEN"
_DOUBT = 240  # letters of a doubt that are printed: with them the fullest sheet stays one, found by printing


def _short(doubt: str) -> str:
    """The doubt as it is printed: a long one names each cause without its details, a very long one ends at a word; both say that there is more."""
    if len(doubt) <= _DOUBT:
        return doubt
    brief = in_brief(doubt)
    return f"{brief} (whoever signed can tell more)" if len(brief) <= _DOUBT else f"{brief[:_DOUBT].rpartition(' ')[0]} ... and more, which whoever signed can tell"


def _points(body: str) -> float:
    """How large the text may be in points, to a tenth, so that the sheet stays one; never less than 9."""
    letters = len(re.sub(r"<[^>]+>", "", body))
    return min(_MOST, max(_LEAST, math.floor(10 * math.sqrt(_ROOM / (letters + _SPACE))) / 10))


def certificate_page(certificate: dict, top: str = "", no_longer: str = "", doubt: str = "") -> str:
    """The sheets for one signed certificate.

    Parameters
    ----------
    certificate : dict
        The signed certificate as plain data.
    top : str
        HTML shown on the screen only.
    no_longer : str
        Why it is not in force; printed on both sheets.
    doubt : str
        What shakes one that is in force or suspended, as a clause that begins `since it was signed`; printed, the end of a very long one left out.
    """
    says, issuer = certificate["statement"], certificate["issuer"]
    demonstration = certificate["standing"] != "genuine"
    mark = (f'<p class="mark">DEMONSTRATION · {escape(INVENTED)} This sheet says nothing about any real person.</p>'
            if demonstration else "")
    title = "Certificate of competence" + (" · DEMONSTRATION" if demonstration else "")
    state = _NOT if no_longer else _SHAKEN if doubt else ""
    if state:
        besides = f" Besides, {_short(doubt)}." if doubt else ""
        told = no_longer + besides if no_longer else f"{_short(doubt)}. Ask whoever signed whether it stands."
        mark = f'<p class="mark">{state}: {escape(told)}</p>{mark}'
    above = f'<div class="no-print">{top}</div>' if top else ""
    skills = skills_of(says)
    body = (_head(says, issuer, title) + mark + _person(says) + _shown(says) + _not_shown(skills) + _how(says, skills)
            + _decided(says) + f'<div class="pair ends"><div>{_place(issuer)}</div><div>{_cautions(says["cautions"])}</div></div>'
            + _entry(says["register"]))
    return (f'<!doctype html><html lang="en" data-foot="{escape(_foot(says))}"><head><meta charset="utf-8">'
            '<meta name="viewport" content="width=device-width, initial-scale=1">'
            f"<title>{escape(title)} · {escape(says['person']['name'])}</title><style>{_SHEET.replace('POINTS', f'{_points(body):g}')}</style></head>"
            f"<body><main>{above}{body}{skill_sheet(says, skills, state)}</main></body></html>")


def _foot(says: dict) -> str:
    return f"{says['person']['name']} · certificate {says['number']}"


def _facts(*pairs: tuple[str, str]) -> str:
    return "<dl>" + "".join(f"<dt>{escape(name)}</dt><dd>{escape(value)}</dd>" for name, value in pairs) + "</dl>"


def _list(lines: list[str], kind: str = "") -> str:
    return f'<ul class="{kind}">' + "".join(f"<li>{escape(line)}</li>" for line in lines) + "</ul>"


def _head(says: dict, issuer: dict, title: str) -> str:
    return (f'<div class="issuer"><h1>{escape(title)}</h1><p><strong>{escape(issuer["name"])}</strong><br>'
            f'No. {escape(says["number"])}</p></div>')


def _person(says: dict) -> str:
    person, valid = says["person"], says["validity"]
    return (f'<p class="name">{escape(person["name"])}</p>'
            f'<p>Identified on the day: {escape(person["identified"].rstrip("."))}. '
            f'This person showed, in writing and by hand, on {escape(says["bench"]["done_on"])}, what stands below. '
            f'Valid from <strong class="day">{escape(valid["starts"])}</strong> to <strong class="day">{escape(valid["ends"])}</strong>: '
            f'{escape(valid["why"])}</p>'
            + (f"<p>Replaces certificate {escape(', '.join(says['replaces']))}.</p>" if says.get("replaces") else ""))


def _shown(says: dict) -> str:
    scope = says["scope"]
    return ("<h2>Shown</h2>" + '<div class="pair scope">'
            + _facts(("Sizes", ", ".join(scope["sizes"])), ("Construction", scope["construction"]))
            + _facts(("Finish", scope["finish"]), ("Sleeve metal", scope["sleeve_metal"]))
            + _facts(("Tool, cavity", f"{scope['tool']}, {scope['cavity']}"), ("Scheme", scope["scheme"]))
            + f'</div><p><strong>{escape(scope["limits"])}</strong></p>')


def _not_shown(skills: Skills) -> str:
    lines = [f"{told}: skill{'s' if len(numbers) > 1 else ''} {', '.join(numbers)}" for told, numbers in skills.groups.items()]
    return "<h2>Not shown</h2>" + _list(skills.others + lines, "run")


def _how(says: dict, skills: Skills) -> str:
    paper, bench = says["written"], says["bench"]
    written = _facts(("Paper", f"{paper['paper']} ({paper['blueprint']})"),
                     ("Score", f"{paper['score']} of {paper['out_of']}; cut score {paper['cut']}{'. ' + paper['given'] if paper.get('given') else ''}"),
                     ("Cut score set by", paper["cut_by"]),
                     ("Must be right", f"{', '.join(line.split(' ')[0] for line in paper['must_be_right'])}: all right"))
    hands = _facts(("Bench form", f"{bench['form']}. {bench.get('again', '')}".rstrip(". ")), ("Tasks", "; ".join(bench["tasks"])),
                   ("Piece tested", bench["piece"]), ("Finished pieces", bench["piece_set"]),
                   ("Gauge", f"{bench['gauge']}, checked {bench['gauge_checked_on']}, due {bench['gauge_due_on']}"
                    + (" (INVENTED dates, of the invented shop)" if says["invented"] else "")))
    return (f'<div class="pair"><div><h2>In writing</h2>{written}'
            f'<p>How the cut score was set: {escape(paper["cut_how"])}</p></div>'
            f'<div><h2>By hand</h2>{hands}</div></div>'
            f"{_skills(says, skills)}<p>Crimp chart: <strong>{escape(says['chart']['line'])}</strong></p>")


def _skills(says: dict, skills: Skills) -> str:
    if not skills.states:
        return ""
    right, shown = len(says["written"]["skills"]), len(says["bench"]["skills"])
    return (f"<p><strong>Skills:</strong> {right} answered right in writing, {shown} shown by hand. The next sheet says each in a sentence, "
            "with what was seen of it in writing and by hand.</p>")


def _decided(says: dict) -> str:
    decision = says["decision"]
    return ("<h2>Who answers for it</h2>"
            + _facts(("Declared", f"{says['declarations']['training']}; {says['declarations']['conflict']}"),
                     *([("Who did what", says["declarations"]["roles"])] if says["declarations"].get("roles") else []),
                     ("Reasons", decision["reasons"]))
            + f'<div class="sign"><div>{escape(decision["decider"])}, who decided on {escape(decision["on"])}</div>'
              f'<div>{escape(says["assessor"])}, assessor</div></div>')


def _place(issuer: dict) -> str:
    return ("<h2>How to check it</h2>"
            f'<p>Ask for the certificate\'s file and run <span class="hash">rigcalc certificate FILE</span>; '
            f'ask the issuer whether it is withdrawn or suspended. '
            f"Get the issuer's key from the issuer by another way, and compare its fingerprint:</p>"
            f'<p class="hash">{escape(issuer["fingerprint"])}</p>')


def _entry(place: dict) -> str:
    return f'<p>Register entry {place["entry"]}, hash <span class="hash">{escape(place["hash"])}</span></p>'


def _cautions(lines: list[str]) -> str:
    return "<h2>Cautions</h2>" + _list(lines)
