"""Certificates: the list, the sheet to print, the file to hand over, and the key file for those who check."""

from __future__ import annotations

import json

from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, hint, table
from rigcalc.desk.pages_papers import back
from rigcalc.desk.server import DeskHandler, FormHandler, link
from rigcalc.pages import escape
from rigcalc.register.page import certificate_page

__all__ = ["ROUTES"]


class Certificates(FormHandler):
    """All certificates of a class."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        work.class_of(desk, class_id)
        rows = [[escape(one["candidate"]["name"]), escape(one["certificate"]), escape(one["standing"]),
                 escape(f"{one['starts']} to {one['ends']}"),
                 f'<a href="{escape(link("certificate", one["certificate"]))}">Print</a> · '
                 f'<a href="{escape(link("certificate", one["certificate"] + ".json"))}">File</a>']
                for one in work.certificates(desk, class_id)]
        return "Certificates", (
            table(["Person", "Number", "Standing", "Valid", ""], rows, "No certificate has been signed yet.")
            + hint("Hand over the printed sheet and the file. Whoever checks the file runs rigcalc certificate FILE and gets "
                   "your key, or its fingerprint, from you by another way.")
            + '<p><a class="button second" href="/issuer-key.json">Save the key file for those who check</a></p>' + back(class_id))


class Sheet(DeskHandler):
    """The sheet to print."""

    def get(self, number: str) -> None:
        made, _ = work.certificate(self.desk(), number)
        self.finish(certificate_page(made, '<a href="/">Desk</a> · Print this page on one sheet.'))


class File(DeskHandler):
    """The signed file."""

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
          (r"/certificate/([a-z0-9-]{1,60})", Sheet), (r"/issuer-key\.json", IssuerKey)]
