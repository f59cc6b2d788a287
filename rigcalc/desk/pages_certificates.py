"""Certificates: the list, the sheet to print, the file to hand over, and the key file for those who check."""

from __future__ import annotations

import json
import re

from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, area, back_to, field, form, hint, radios, table
from rigcalc.desk.pages_papers import back
from rigcalc.desk.server import DeskHandler, FormHandler, link
from rigcalc.desk.since import advised
from rigcalc.desk.standing import as_it_is, not_lifted_while, standing_and_doubt, standing_shown
from rigcalc.errors import Refusal
from rigcalc.pages import escape
from rigcalc.register.page import certificate_page

__all__ = ["ROUTES"]

LINES_SHOWN = 2  # in the list


class Certificates(FormHandler):
    """All certificates of a class."""

    by_earlier = True

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        work.class_of(desk, class_id)
        rows = [[f'{escape(one["candidate"]["name"])}<br><span class="day">{escape(one["certificate"])}</span><br>{escape(one["standing"])}{_what(one)}', _state(desk, one, folded=True),
                 f'<span class="day">{escape(one["starts"])}</span> to <span class="day">{escape(one["ends"])}</span>',
                 f'<a href="{escape(link("certificate", one["certificate"]))}">Print</a> · '
                 f'<a href="{escape(link("certificate", one["certificate"] + ".json"))}">File</a> · '
                 f'<a href="{escape(link("certificate", one["certificate"], "standing"))}">{_offered(work.may_be_entered(desk, one["certificate"]))}</a>']
                for one in work.certificates(desk, class_id)]
        return "Certificates", (
            table(["Person, number, kind", "Now", "Valid", ""], rows, "No certificate has been signed yet.")
            + hint("Hand over the printed sheet and the file. Whoever checks the file runs rigcalc certificate FILE and gets "
                   "your key, or its fingerprint, from you by another way.")
            + ("" if desk.unread else '<p><a class="button second" href="/issuer-key.json">Save the key file for those who check</a></p>') + back(class_id))


def _what(signed: dict) -> str:
    """Sizes and tool that a certificate is for, as it was entered."""
    scope = signed.get("scope") or {}
    return f'<br>{escape(", ".join(scope["sizes"]))}, tool {escape(scope["tool"])}' if {"sizes", "tool"} <= set(scope) else ""


def _offered(acts: tuple[str, ...]) -> str:
    """The words of the link to a certificate's standing page."""
    return "Why it is withdrawn" if not acts else "Withdraw it, or see about the suspension" if "lifted" in acts else "Withdraw or suspend"


def _state(desk, signed: dict, folded: bool = False) -> str:
    """A certificate's state by the register, with what was entered about it; `signed` is one of `work.certificates`. In a list all but the last lines are folded."""
    found, doubt = standing_and_doubt(desk, signed)
    shown = _whole_days if folded else escape
    lines = [shown(line) for line in found.lines]
    before, last = (lines[:-LINES_SHOWN], lines[-LINES_SHOWN:]) if folded and len(lines) > LINES_SHOWN else ([], lines)
    told = "".join(f"<br>{line}" for line in last) + (f"<br><strong>{shown(advised(found, doubt))}</strong>" if doubt else "")
    told += f"<details><summary>{len(before)} {'entry' if len(before) == 1 else 'entries'} before</summary>{'<br>'.join(before)}</details>" if before else ""
    if found.in_force and not doubt:
        return f"in force{told}"
    return f"<strong>{'in force, but shaken' if found.in_force else escape(found.state)}</strong>{told}"


def _whole_days(text: str) -> str:
    """A line with its days kept whole where it wraps."""
    return re.sub(r"\b(\d{4}-\d\d-\d\d)\b", r'<span class="day">\1</span>', escape(text))


class Standing(FormHandler):
    """One certificate: its state by the register, and withdrawing, suspending, lifting."""

    by_earlier = True

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, number) -> tuple[str, str]:
        made, _ = work.certificate(desk, number)
        signed = _signed(desk, number)
        words = {"suspended": "Suspend it", "lifted": "Lift the suspension", "withdrawn": "Withdraw it: for good"}
        may = work.may_be_entered(desk, number)
        waits = not_lifted_while(desk, number) if "lifted" in may else None
        acts = [(act, words[act]) for act in may if act != "lifted" or not waits]
        return f"Certificate {number}", (
            f"<p>{escape(made['statement']['person']['name'])}: {_state(desk, signed)}</p>"
            + hint("The file in other hands stays as it was signed: tell whoever relies on it. Whoever asks this register "
                   "(rigcalc certificate FILE --register FOLDER) is told of what is entered, and of nothing else: not of what was only tapped on a "
                   "bench form, nor of a shop file that no page of the desk has told of.")
            + (hint(f"The suspension cannot be lifted now. {waits}") if waits else "")
            + (form(link("certificate", number, "standing"),
                    radios("act", "What is entered", acts, typed("act")) + area("reason", "Reason", typed("reason"), rows=3)
                    + field("by", "Who answers for it", typed("by"))
                    + f'<input type="hidden" name="shown" value="{standing_shown(desk, signed)}">', "Enter it") if acts else
               (hint(f"Not entered: {typed('reason')}") if typed("reason") else "") +
               hint("What is withdrawn stays withdrawn: nothing more is entered. A new certificate takes a new decision, signed again."))
            + back_to(link("class", signed["class"], "certificates"), "Back to the list"))

    def act(self, desk, typed, number) -> tuple[str, str]:
        if not typed("act"):
            raise Refusal("nothing chosen under 'What is entered'", "one of what is offered there", "choose one")
        if typed("shown") != standing_shown(desk, _signed(desk, number)):
            raise Refusal("an act on a page that does not show how the certificate stands by now (it was changed since the page was opened)",
                          "an act on what stands now", "read what is told below, then enter it again")
        found = work.change_standing(desk, number, typed("act"), typed("by"), typed("reason"))
        return link("class", _signed(desk, number)["class"], "certificates"), f"It is entered: the certificate {number} is {as_it_is(found)}."


def _signed(desk, number: str) -> dict:
    return next(one for one in work.certificates(desk) if one["certificate"] == number)


class Sheet(DeskHandler):
    """The sheet to print."""

    by_earlier = True

    def get(self, number: str) -> None:
        desk = self.desk()
        made, _ = work.certificate(desk, number)
        now, doubt = standing_and_doubt(desk, _signed(desk, number))
        self.finish(certificate_page(made, '<a href="/">Desk</a> · Print this page: the certificate and, on the sheets after it, its skills.'
                                     + "".join(f'<p class="mark">{escape(one)}</p>' for one in (desk.goes_by, advised(now, doubt)) if one),
                                     "" if now.in_force else f"{now.state}. {'. '.join(line.rstrip('.') for line in now.lines)}.", doubt))


class File(DeskHandler):
    """The signed file."""

    by_earlier = True

    def get(self, number: str) -> None:
        _, raw = work.certificate(self.desk(), number)
        self.set_header("Content-Type", "application/json; charset=utf-8")
        self.set_header("Content-Disposition", f'attachment; filename="certificate-{number}.json"')
        self.finish(raw)


class IssuerKey(DeskHandler):
    """The public key, to be handed over by another way than a certificate."""

    def get(self) -> None:
        self.set_header("Content-Type", "application/json; charset=utf-8")
        self.set_header("Content-Disposition", 'attachment; filename="issuer-key.json"')
        self.finish(json.dumps(self.desk().issuer_card(), indent=1, ensure_ascii=False) + "\n")


ROUTES = [(r"/class/([a-z0-9-]{1,40})/certificates", Certificates), (r"/certificate/([a-z0-9-]{1,60})\.json", File),
          (r"/certificate/([a-z0-9-]{1,60})", Sheet), (r"/certificate/([a-z0-9-]{1,60})/standing", Standing), (r"/issuer-key\.json", IssuerKey)]
