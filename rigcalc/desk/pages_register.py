"""The register: its entries to read, and the check."""

from __future__ import annotations

import json

from rigcalc.desk.forms import STYLE, back_to, hint
from rigcalc.desk.server import FormHandler
from rigcalc.pages import escape

__all__ = ["ROUTES"]


class RegisterPage(FormHandler):
    """Every entry as it stands, checked when the page is opened."""

    by_earlier = True

    def head(self, *where) -> str:
        return STYLE + "<style>pre{white-space:pre-wrap;overflow-wrap:anywhere;font-size:.8rem;margin:.3rem 0}</style>"

    def body(self, desk, typed) -> tuple[str, str]:
        wrong = desk.register.check()
        told = ('<div class="card hold"><strong>The register is NOT whole</strong><ul>'
                + "".join(f"<li>{escape(one)}</li>" for one in wrong) + "</ul></div>") if wrong else \
            '<p class="said ok">The register is whole: checked just now, nothing changed, removed, inserted or reordered.</p>'
        entries = "".join(_entry(entry) for entry in reversed(desk.register.entries()))
        return "Register", (
            told + f'<p>Register key: <span class="address">{escape(desk.register.signer.fingerprint)}</span></p>'
            + hint("Entries are added and never changed. Newest first; open one to read all of it.")
            + (entries or hint("No entries yet.")) + back_to("/"))


def _entry(entry) -> str:
    body = entry.body
    who = body.get("candidate") or {}
    people = who.get("name") or ", ".join(one["name"] for one in body.get("candidates", []))
    whose = f" · {body['class']}, {body['paper_id']}" if "class" in body and "paper_id" in body else ""
    words = {"decision": body.get("decision", ""), "certificate signed": body.get("certificate", ""),
             "certificate standing": f"{body.get('certificate', '')} {body.get('act', '')}: {body.get('reason', '')}",
             "answers marked": "passed" if body.get("passed") else "not passed",
             "answers re-marked": f"{body.get('family', '')}: {len(body.get('across_the_cut', []))} across the cut",
             "appeal decided": body.get("outcome", ""), "more time given": f"{body.get('minutes', '')} minutes",
             "shop file told": "; ".join(one["said"] for one in body.get("told", [])),
             "sealed set kept": body.get("set", ""), "bench form set aside": body.get("why", ""),
             "bench assessed": "passed" if body.get("passed") else "not passed"}.get(entry.kind, "")
    return (f"<details class='card'><summary><strong>{entry.number}</strong> · {escape(entry.at)} · {escape(entry.kind)} · "
            f"{escape(people[:120])} {escape(words + whose)}</summary><pre>{escape(json.dumps(body, indent=1, ensure_ascii=False))}</pre>"
            f'<p class="address">hash {escape(entry.hash)}</p></details>')


ROUTES = [(r"/register", RegisterPage)]
