"""What changed since a bench form was opened, written beside the form in the room's folder: the room opens no desk and no shop file."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

from rigcalc.desk.folder import Desk, open_desk
from rigcalc.desk.since import advice
from rigcalc.errors import Refusal
from rigcalc.home import shop_file
from rigcalc.papers.records import private_folder, write_synced

__all__ = ["EVERY_SECONDS", "BenchNotes", "tell_bench", "told_beside"]

EVERY_SECONDS = 5  # how often the desk looks whether the shop file was changed
LATELY = timedelta(days=90)  # workbook judgement: later the desk's pages tell it, when they are opened


def tell_bench(desk: Desk) -> None:
    """Write, mend or take away the note of each bench form that is not set aside and was opened lately, or holds somebody whose assessment is not closed."""
    aside = {entry.body["form_id"] for entry in desk.entries("bench form set aside")}
    closed = {(body["form_id"], body["candidate"]["id"]) for body in (entry.body for entry in desk.entries("bench assessed"))}
    since = (datetime.now(UTC) - LATELY).isoformat()
    for entry in desk.entries("bench form opened"):
        form = entry.body
        if form["form_id"] not in aside and (entry.at > since or any((form["form_id"], one["id"]) not in closed for one in form["candidates"])):
            told_beside(desk, form["form_id"])


def told_beside(desk: Desk, form_id: str) -> str:
    """The advice on one form, written beside it too: its tablet reads it at load and with each save."""
    path, said = private_folder(desk.room / "bench") / f"{form_id}.since", advice(desk, form_id)
    if said != (path.read_text(encoding="utf-8") if path.exists() else ""):
        write_synced(path, said.encode())
    return said


class BenchNotes:
    """Tells the bench whenever the shop file was changed, also where nobody opens a page of the desk."""

    def __init__(self, home: Path) -> None:
        self.home, self._told = Path(home), None

    def look(self) -> None:
        """Tell once for each state of the shop file; one that cannot be read is told by the desk's pages, and looked at again when it is changed."""
        path = shop_file(self.home)
        now = (path.stat().st_mtime_ns, path.stat().st_size) if path.exists() else ()
        if now == self._told:
            return
        self._told = now
        try:
            tell_bench(open_desk(self.home))
        except (Refusal, OSError):
            return
