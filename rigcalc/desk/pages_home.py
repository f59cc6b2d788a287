"""The desk's first page: one class, its steps in order, and how far each has come."""

from __future__ import annotations

from datetime import date

from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, back_to, counted, hint
from rigcalc.desk.room_process import STOPPED
from rigcalc.desk.server import FormHandler, link
from rigcalc.pages import escape
from rigcalc.shop.commands import shop_notes
from rigcalc.shop.load import sample_shop_path

__all__ = ["ROUTES"]


class Home(FormHandler):
    """Choose a class, see its steps."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id: str = "") -> tuple[str, str]:
        groups = work.classes(desk)
        group = work.class_of(desk, class_id) if class_id else (groups[0] if groups else None)
        rows = "".join(_step(number, *step) for number, step in enumerate(_steps(desk, group, self.settings["room"]), 1))
        title = f"The desk: {group['name']}" if group else "The assessor's desk"
        years = '<p><a href="/quiz">How good is the quiz?</a> All classes and years together.</p>' if groups else ""
        return title, _others(groups, group) + f'<ol class="steps">{rows}</ol>' + years


def _step(number: int, address: str, name: str, told: str) -> str:
    head = f'<a href="{escape(address)}">{escape(name)}</a>' if address else f"<strong>{escape(name)}</strong>"
    return f'<li><span class="no">{number}</span><div>{head}<p class="quiet">{escape(told)}</p></div></li>'


def _others(groups: list[dict], group: dict | None) -> str:
    rest = [one for one in groups if group is None or one["class"] != group["class"]]
    if not rest:
        return ""
    links = " · ".join(f'<a href="{escape(link("class", one["class"]))}">{escape(one["name"])}</a>' for one in rest)
    return f"<p>Other classes: {links}</p>"


def _steps(desk: work.Desk, group: dict | None, room) -> list[tuple[str, str, str]]:
    shop = desk.shop
    chart = "with a maker's chart" if shop.has_maker_chart else "no maker's chart: practice only, no certificate"
    first = [("/shop", "Shop and chart in force", f"{shop.name}, {chart}"),
             ("/new-class", "Class list", "set one up" if group is None else
              f"{counted(len(group['candidates']), 'name')}, set by {group['set_by']}; set up another class here")]
    if group is None:
        later = ("Set the papers", "The room", "Watch who has handed in", "Mark", "Class summary", "Bench",
                 "Decide and sign", "Certificates")
        return first + [("", name, "after the class list") for name in later] + [_register(desk)]
    return first + _of_class(desk, group["class"], room) + [_register(desk)]


def _register(desk: work.Desk) -> tuple[str, str, str]:
    entries = len(desk.register.entries())
    return "/register", "Register", "1 entry; read and check it" if entries == 1 else f"{entries} entries; read and check them"


def _of_class(desk: work.Desk, class_id: str, room) -> list[tuple[str, str, str]]:
    rows = work.who_has_handed_in(desk, class_id)
    handed = sum(row["state"].startswith("handed in") for row in rows)
    read = sum(row["marked"] for row in rows)
    forms, signed = work.forms(desk, class_id), work.certificates(desk, class_id)
    decided = {entry.body["candidate"]["id"] for entry in desk.entries("decision", **{"class": class_id})}
    at = (lambda *parts: link("class", class_id, *parts))
    return [
        (at("papers"), "Set the papers", counted(len(rows), "paper") + " set" if rows else "not set yet"),
        (at("room"), "The room", f"open at {room.address}" if room.running else STOPPED if room.died else "closed"),
        (at("watch"), "Watch who has handed in", f"{handed} of {len(rows)} handed in" if rows else "after the papers"),
        (at("mark"), "Mark", f"{read} of {handed} marked" if handed else "after handing in"),
        (at("summary"), "Class summary", "who needs help where" if read else "after marking"),
        (at("bench"), "Bench", counted(len(forms), "form") + " opened" if forms else "no form opened yet"),
        (at("decide"), "Decide and sign", f"{len(decided)} decided" if decided else "nobody decided yet"),
        (at("certificates"), "Certificates", f"{len(signed)} signed" if signed else "none signed yet"),
    ]


class Shop(FormHandler):
    """The shop and chart in force."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed) -> tuple[str, str]:
        shop = desk.shop
        notes = shop_notes(shop)
        standing = ("This shop is invented: everything made here says INVENTED, and certificates are DEMONSTRATIONS, "
                    "signed by a demonstration key." if shop.invented else
                    "This is a real shop: certificates are signed by the genuine key." if shop.has_maker_chart else
                    "This is a practice shop: no maker's chart has been entered, so no certificate can be signed.")
        charts = "".join(
            f"<tr><td>{escape(c.id)}</td><td>{escape(c.sleeve_metal)}</td><td>{escape(str(c.tool))}</td><td>{escape(c.edition)}</td>"
            f"<td>{escape(str(c.copied_by))}</td><td>{escape(str(c.checked_by))}</td></tr>" for c in shop.charts)
        gauges = "".join(f"<tr><td>{escape(g.id)}</td><td>{escape(', '.join(g.sizes))}</td><td>{g.checked_on}</td>"
                         f"<td>{g.due_on}{_late(g)}</td></tr>" for g in shop.gauges)
        head = ("<tr><th>Chart</th><th>Sleeve metal</th><th>Tool</th><th>Edition</th><th>Copied by</th><th>Checked by</th></tr>")
        return "Shop and chart in force", (
            f"<p><strong>{escape(shop.name)}</strong></p><p>{escape(standing)}</p>"
            f'<p class="address">{escape(str(shop.path))}</p>'
            + hint("This is the sample that ships. For a shop of your own type   rigcalc shop --new   and edit the file it makes."
                   if shop.path == sample_shop_path() else
                   "Edit this text file to change the shop; rigcalc shop reads it line by line. The desk takes it as it stands.")
            + (f'<div class="wide"><table>{head}{charts}</table></div>' if charts else hint("No chart has been entered."))
            + f"<h2>Gauges</h2>{hint('The dates are INVENTED, as the shop is.') if shop.invented else ''}<table><tr><th>Gauge</th><th>Sizes</th><th>Checked</th><th>Due</th></tr>{gauges}</table>"
            + "<h2>What is amiss or still lacks</h2>" + ("<ul>" + "".join(f"<li>{escape(one)}</li>" for one in notes) + "</ul>" if notes else hint("Nothing that rigcalc shop tells of."))
            + _issuer(desk) + back_to("/"))


def _late(gauge) -> str:
    mark = gauge.mark(date.today())
    return f" <strong>{mark.lower()}: it judges nothing until it is checked</strong>" if mark else ""


def _issuer(desk: work.Desk) -> str:
    told = desk.issuer_card()
    return (f"<h2>The key that signs certificates</h2><p>{escape(told['standing'])}: "
            f'<span class="address">{escape(told["fingerprint"])}</span></p>'
            + hint("Whoever checks a certificate must get this fingerprint, or the key file, from you by another way than "
                   "the certificate: by telephone or in person.")
            + '<p><a class="button second" href="/issuer-key.json">Save the key file for those who check</a></p>')


ROUTES = [(r"/", Home), (r"/class/([a-z0-9-]{1,40})", Home), (r"/shop", Shop)]
