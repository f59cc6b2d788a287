"""The bench form's page and its saving, by the same rules as a sitting: own token, on the disk before it is confirmed."""

from __future__ import annotations

import json
from pathlib import Path

import tornado.web

from rigcalc.papers.records import stamp
from rigcalc.room.app import RoomHandler, content_policy
from rigcalc.room.journal import Journal

__all__ = ["BenchHandler"]


class BenchForm:
    """A bench form that is open: its public form and its journal of taps."""

    def __init__(self, room_dir: Path, form_id: str) -> None:
        folder = room_dir / "bench"
        self.form = json.loads((folder / f"{form_id}.json").read_bytes())
        self.journal = Journal(folder / f"{form_id}.jsonl")


class BenchHandler(RoomHandler):
    """One form on one device; two devices may hold the same form."""

    def _form(self, token: str) -> BenchForm:
        form_id, forms = self.opens(token, "bench"), self.settings["bench_forms"]
        if form_id not in forms:
            forms[form_id] = BenchForm(self.settings["room_dir"], form_id)
        return forms[form_id]

    def get(self, token: str, what: str | None = None) -> None:
        from rigcalc.bench.page import bench_page, bench_script, bench_style

        if what is not None:
            raise tornado.web.HTTPError(404)
        opened = self._form(token)
        made = bench_page(opened.form, opened.journal.entries())
        self.set_header("Content-Security-Policy", content_policy((bench_style(),), (bench_script(),)))
        self.finish(made)

    def post(self, token: str, what: str | None = None) -> None:
        from rigcalc.bench.observe import take

        opened = self._form(token)
        if what != "save":
            raise tornado.web.HTTPError(404)
        status, reply = take(opened.form, opened.journal, self.request.body, stamp())
        self.say(status, reply)

