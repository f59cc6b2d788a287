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
        self._note = folder / f"{form_id}.since"

    @property
    def since(self) -> str:
        """What the desk wrote beside the form: what changed since it was opened; empty where nothing did."""
        try:
            return self._note.read_text(encoding="utf-8")
        except FileNotFoundError:
            return ""


class BenchHandler(RoomHandler):
    """One form on one device; two devices may hold the same form."""

    def _form(self, form_id: str) -> BenchForm:
        forms = self.settings["bench_forms"]
        if form_id not in forms:
            forms[form_id] = BenchForm(self.settings["room_dir"], form_id)
        return forms[form_id]

    async def get(self, token: str, what: str | None = None) -> None:
        from rigcalc.bench.page import bench_page, bench_script, bench_style

        if what is not None:
            raise tornado.web.HTTPError(404)
        form_id = self.opens(token, "bench")
        form, entries, since = await self.settings["writers"].run(f"bench {form_id}", self._look, form_id)
        made = bench_page(form, entries, since)
        self.set_header("Content-Security-Policy", content_policy((bench_style(),), (bench_script(),)))
        self.finish(made)

    def _look(self, form_id: str) -> tuple[dict, list[dict], str]:
        opened = self._form(form_id)
        return opened.form, opened.journal.entries(), opened.since

    async def post(self, token: str, what: str | None = None) -> None:
        form_id = self.opens(token, "bench")
        if what != "save":
            raise tornado.web.HTTPError(404)
        self.say(*await self.settings["writers"].run(f"bench {form_id}", self._take, form_id))

    def _take(self, form_id: str) -> tuple[int, dict]:
        from rigcalc.bench.observe import take

        opened = self._form(form_id)
        status, reply = take(opened.form, opened.journal, self.request.body, stamp())
        return status, reply | {"since": opened.since}

