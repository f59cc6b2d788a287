"""The quick way of a save, which a whole class may ask for at one moment.

It checks and writes in the event loop, which takes less than handing it to a thread; the log of saves waits for the disk.
What is not ordinary (a wrong form, a turn to wait for, a disk that takes nothing) is done, or done again, by the page's
own handler: nothing of it stands in the journal by then.
"""

from __future__ import annotations

import json
import re
import time
from functools import lru_cache

import tornado.web
from tornado.httputil import HTTPHeaders, HTTPServerRequest, ResponseStartLine, format_timestamp, responses
from tornado.routing import Matcher

from rigcalc.errors import Refusal
from rigcalc.room.asked import JSON_TYPE, kept_headers, number, opened, refuse_strangers, sent_in
from rigcalc.room.sitting import Begun, Closed, Conflict, Sitting
from rigcalc.room.together import SaveLog

__all__ = ["Saves", "SavePath", "fields", "saved", "refused"]

_ADDRESS = re.compile(r"/sit/([A-Za-z0-9_-]+)/save")
_SAID = json.JSONEncoder(ensure_ascii=True)


class SavePath(Matcher):
    """The address of a save, asked by POST; it gives the token."""

    def match(self, request: HTTPServerRequest) -> dict | None:
        found = _ADDRESS.fullmatch(request.path) if request.method == "POST" else None
        return {"token": found[1]} if found else None


def fields(sent: dict) -> tuple[int, int, object, bool]:
    """Question, revision, what was typed and whether it was confirmed, as a save sent them; HTTPError 400 for the wrong form."""
    confirmed = sent.get("confirmed")
    if not isinstance(confirmed, bool):
        raise tornado.web.HTTPError(400)
    return number(sent, "slot"), number(sent, "revision"), sent.get("typed"), confirmed


def saved(sitting: Sitting, entry: dict) -> dict:
    """What is answered to a save whose entry is on the disk."""
    slot = entry["slot"]
    counts = sitting.counted[slot]["typed"] if slot in sitting.counted else None
    return {"ok": True, "saved": entry["revision"], "slot": slot, "counts": counts, "seconds_left": sitting.seconds_left()}


def refused(sitting: Sitting, refusal: Refusal) -> tuple[int, dict]:
    """Status and answer of an act that a sitting refuses."""
    return (409 if isinstance(refusal, (Conflict, Closed)) else 422), {
        "ok": False, "said": str(refusal), "conflict": isinstance(refusal, Conflict), "state": sitting.state()}


@lru_cache(maxsize=1)
def _date(second: int) -> str:
    return format_timestamp(second)


class Saves:
    """Saves asked of one application; `page` is the handler of all that is not ordinary."""

    def __init__(self, application: tornado.web.Application, page: type[tornado.web.RequestHandler]) -> None:
        self._application, self._page = application, page
        self._writers, self._sittings = application.settings["writers"], application.settings["sittings"]
        self._log = SaveLog(application.settings["room_dir"])

    def __call__(self, request: HTTPServerRequest, token: str) -> None:
        """Take one whole request."""
        if not self._begun(request, token):
            self._to_page(request, token)

    def _begun(self, request: HTTPServerRequest, token: str) -> bool:
        """Whether the save's line is written and its sync asked for."""
        try:
            refuse_strangers(request)
            paper_id = opened(self._application.settings["room_dir"], token, "sit")
            asked = fields(sent_in(request))
        except tornado.web.HTTPError:
            return False
        sitting, name = self._sittings.at_hand(paper_id), f"sit {paper_id}"
        turn = self._writers.free_turn(name) if sitting else None
        if turn is None:
            return False
        begun = None
        try:
            begun = sitting.begin_save(*asked)
        except Exception:  # of whatever kind: the page's handler meets it again, and says or logs it
            pass
        if begun is None or begun.before is None:
            self._writers.over(name, turn)
            return False

        def told(error: Exception | None) -> None:
            try:
                said = None if error else self._ended(sitting, begun)
            finally:
                self._writers.over(name, turn)
            if said:
                self._say(request, *said)
            else:
                self._to_page(request, token)

        self._log.keep(sitting.journal, begun.before, begun.entry, told)
        return True

    def _ended(self, sitting: Sitting, begun: Begun) -> tuple[int, dict]:
        try:
            return 200, saved(sitting, sitting.end_save(begun))
        except Refusal as refusal:
            return refused(sitting, refusal)

    def _say(self, request: HTTPServerRequest, status: int, said: dict) -> None:
        body = _SAID.encode(said).encode("ascii")
        headers = HTTPHeaders(kept_headers())
        headers["Date"], headers["Content-Type"], headers["Content-Length"] = _date(int(time.time())), JSON_TYPE, str(len(body))
        request.connection.write_headers(ResponseStartLine("HTTP/1.1", status, responses[status]), headers, body)
        request.connection.finish()

    def _to_page(self, request: HTTPServerRequest, token: str) -> None:
        self._application.get_handler_delegate(request, self._page, path_args=[token.encode("ascii"), b"save"]).execute()
