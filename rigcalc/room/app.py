"""The room: a small process that serves sitting pages and bench forms, saves answers, and nothing else.

It reads and writes inside the room's folder only, opens no key record, and serves no file by its name.
"""

from __future__ import annotations

import asyncio
import base64
import hashlib
import json
import logging
import re
import secrets
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from pathlib import Path
from typing import Any

import tornado.web

from rigcalc.errors import Refusal
from rigcalc.papers.printed import PRINT_STYLE, printed_paper
from rigcalc.pages import style
from rigcalc.room import access
from rigcalc.room.page import script, sentence_page, sitting_page, sitting_style
from rigcalc.room.sitting import Closed, Conflict, Sitting

__all__ = ["make_app", "BODY_LIMIT", "RoomHandler", "content_policy"]

BODY_LIMIT = 16 * 1024  # bytes of one save; the longest answer takes less than a tenth
SEEN_SECONDS = 12  # a window not heard of for so long is taken as closed
WRITERS = 16  # so many saves can wait for the disk at one moment; the disk takes them together

_LOG = logging.getLogger("rigcalc.room")
_NOTHING_HERE = "Nothing is kept at this address: open the whole address you were given, or ask for a new one."
_SAYS = {
    400: "What was sent cannot be read: reload the page and try again.",
    403: "This came from another page: answers are taken from the sitting page alone.",
    404: _NOTHING_HERE,
    405: "This address takes nothing of that kind: open it in a browser.",
    413: f"More than {BODY_LIMIT // 1024} KB were sent: an answer is shorter.",
    415: "Answers are sent as application/json: use the page itself.",
    500: "The room could not do that and has written down why: call the assessor; what was saved stays saved.",
    507: "The answer could NOT be saved, the disk does not take it: leave the page open and call the assessor.",
}


def _hash_source(text: str) -> str:
    return "'sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii") + "'"


@cache
def content_policy(styles: tuple[str, ...] = (), scripts: tuple[str, ...] = ()) -> str:
    """The Content-Security-Policy of a page: our own scripts, the named inline texts, nothing from outside."""
    hashes = " ".join(_hash_source(text) for text in (style(), *styles))
    inline = "".join(f" {_hash_source(text)}" for text in scripts)
    return (f"default-src 'none'; script-src 'self'{inline}; style-src {hashes}; "
            "img-src data:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")


class RoomHandler(tornado.web.RequestHandler):
    """What every answer of the room has in common: headers, plain refusals, checked JSON."""

    SUPPORTED_METHODS = ("GET", "POST")

    def set_default_headers(self) -> None:
        self.clear_header("Server")
        self.set_header("Content-Security-Policy", content_policy((sitting_style(), PRINT_STYLE)))
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "no-referrer")
        self.set_header("Cache-Control", "no-store")
        self.set_header("Cross-Origin-Resource-Policy", "same-origin")

    def prepare(self) -> None:
        if self.request.method not in self.SUPPORTED_METHODS:
            raise tornado.web.HTTPError(405)
        if self.request.method == "POST":
            self._refuse_strangers()

    def _refuse_strangers(self) -> None:
        if len(self.request.body) > BODY_LIMIT:
            raise tornado.web.HTTPError(413)
        origin = self.request.headers.get("Origin")
        if origin is not None and origin != f"{self.request.protocol}://{self.request.host}":
            raise tornado.web.HTTPError(403)
        if self.request.headers.get("Sec-Fetch-Site", "same-origin") not in ("same-origin", "none"):
            raise tornado.web.HTTPError(403)
        kind = self.request.headers.get("Content-Type", "").partition(";")[0].strip().lower()
        if kind != "application/json":
            raise tornado.web.HTTPError(415)

    def sent(self) -> dict:
        """The JSON object that was sent."""
        try:
            found = json.loads(self.request.body.decode("utf-8"), parse_constant=_no_constant)
        except (ValueError, RecursionError):
            raise tornado.web.HTTPError(400) from None
        if not isinstance(found, dict):
            raise tornado.web.HTTPError(400)
        return found

    def opens(self, token: str, kind: str) -> str:
        """The id that a token opens, or 404."""
        entry = access.lookup(self.settings["room_dir"], token)
        if entry is None or entry["kind"] != kind:
            raise tornado.web.HTTPError(404)
        return entry["id"]

    def say(self, status: int, body: dict) -> None:
        """Answer with JSON."""
        self.set_status(status)
        self.set_header("Content-Type", "application/json; charset=utf-8")
        self.finish(json.dumps(body, ensure_ascii=True))

    def write_error(self, status_code: int, **kwargs) -> None:
        cause = kwargs.get("exc_info", (None, None))[1]
        if isinstance(cause, OSError):
            status_code = 404 if isinstance(cause, FileNotFoundError) else 507
            self.set_status(status_code)
        sentence = _SAYS.get(status_code, _SAYS[500 if status_code >= 500 else 400])
        if isinstance(cause, Refusal):
            sentence = str(cause)
        if self.request.method == "GET":
            self.set_header("Content-Type", "text/html; charset=utf-8")
            self.finish(sentence_page("Not here" if status_code == 404 else "Refused", sentence))
        else:
            self.say(status_code, {"ok": False, "said": sentence})

    def log_exception(self, typ, value, tb) -> None:
        if not isinstance(value, (tornado.web.HTTPError, Refusal)):  # an address holds its token: never written down
            _LOG.error("%s of the room failed", self.request.method, exc_info=(typ, value, tb))


def _no_constant(name: str):
    raise ValueError(name)


class NothingHere(RoomHandler):
    """Every address that is none of the room's."""

    def prepare(self) -> None:
        raise tornado.web.HTTPError(404 if self.request.method in self.SUPPORTED_METHODS else 405)


class ScriptHandler(RoomHandler):
    """The scripts of the pages, by two fixed names; they hold nothing private."""

    def get(self, name: str) -> None:
        text = script(name)
        if text is None:
            raise tornado.web.HTTPError(404)
        self.set_header("Content-Type", "text/javascript; charset=utf-8")
        self.finish(text)


class Writers:
    """Threads in which saves wait for the disk, so that nobody else waits with them; on one journal one after the other.

    What is asked of a journal runs whole, its sync with it, before the next is begun, in the order of asking.
    """

    def __init__(self) -> None:
        self._threads = ThreadPoolExecutor(WRITERS, "saving")
        self._turns: dict[str, asyncio.Lock] = {}

    async def run(self, journal: str, work: Callable[..., Any], *values: Any) -> Any:
        """What `work` gives or raises, once it is this one's turn on the journal."""
        async with self._turns.setdefault(journal, asyncio.Lock()):
            return await asyncio.get_running_loop().run_in_executor(self._threads, work, *values)


class Sittings:
    """The sittings that are open, and the windows on each."""

    def __init__(self, room_dir: Path) -> None:
        self.room_dir = room_dir
        self._open: dict[str, Sitting] = {}
        self._windows: dict[str, dict[str, list[float]]] = {}

    def get(self, paper_id: str) -> Sitting:
        """The sitting of a paper, opened from its journal the first time."""
        if paper_id not in self._open:
            self._open[paper_id] = Sitting(self.room_dir, paper_id)
        sitting = self._open[paper_id]
        sitting.refresh()
        return sitting

    def seen(self, paper_id: str, window: str) -> dict:
        """Note that a window is there; which other windows there are."""
        now, windows = time.monotonic(), self._windows.setdefault(paper_id, {})
        for name in [name for name, times in windows.items() if now - times[1] > SEEN_SECONDS]:
            del windows[name]
        if len(windows) < 50:
            windows.setdefault(window, [now, now])[1] = now
        others = [times for name, times in windows.items() if name != window]
        mine = windows.get(window, [now])[0]
        return {"others": len(others), "later": any(times[0] < mine for times in others)}

    def left(self, paper_id: str, window: str) -> None:
        """A window was closed."""
        self._windows.get(paper_id, {}).pop(window, None)


class SitHandler(RoomHandler):
    """The sitting page and, once started, the paper to print."""

    async def get(self, token: str, what: str | None = None) -> None:
        paper_id = self.opens(token, "sit")
        sitting, state = await self.settings["writers"].run(f"sit {paper_id}", self._look, paper_id)
        if what == "print" and state["started"]:
            self.finish(printed_paper(sitting.paper))
        elif what is None:
            self.finish(sitting_page(sitting.paper, state, secrets.token_hex(8)))
        else:
            raise tornado.web.HTTPError(404)

    def _look(self, paper_id: str) -> tuple[Sitting, dict]:
        sitting = self.settings["sittings"].get(paper_id)
        return sitting, sitting.state()

    async def post(self, token: str, what: str | None = None) -> None:
        paper_id = self.opens(token, "sit")
        acts = {"start": self._start, "state": self._state, "read": self._read, "save": self._save,
                "hand-in": self._hand_in, "leave": self._leave}
        if what not in acts:
            raise tornado.web.HTTPError(404)
        self.say(*await self.settings["writers"].run(f"sit {paper_id}", self._done, paper_id, acts[what], self.sent()))

    def _done(self, paper_id: str, act: Callable[[Sitting, dict], dict], sent: dict) -> tuple[int, dict]:
        """Status and answer of one act; whatever it saved is on the disk by then."""
        sitting = self.settings["sittings"].get(paper_id)
        try:
            return 200, {"ok": True} | act(sitting, sent)
        except Refusal as refusal:
            status = 409 if isinstance(refusal, (Conflict, Closed)) else 422
            return status, {"ok": False, "said": str(refusal), "conflict": isinstance(refusal, Conflict),
                            "state": sitting.state()}

    def _start(self, sitting: Sitting, sent: dict) -> dict:
        sitting.start()
        return {"state": sitting.state()}

    def _state(self, sitting: Sitting, sent: dict) -> dict:
        window = self._window(sent)
        return {"state": sitting.state(), "windows": self.settings["sittings"].seen(sitting.paper_id, window)}

    def _leave(self, sitting: Sitting, sent: dict) -> dict:
        self.settings["sittings"].left(sitting.paper_id, self._window(sent))
        return {}

    def _read(self, sitting: Sitting, sent: dict) -> dict:
        return {"reading": sitting.read(self._number(sent, "slot"), sent.get("typed"))}

    def _save(self, sitting: Sitting, sent: dict) -> dict:
        confirmed = sent.get("confirmed")
        if not isinstance(confirmed, bool):
            raise tornado.web.HTTPError(400)
        slot = self._number(sent, "slot")
        saved = sitting.save(slot, self._number(sent, "revision"), sent.get("typed"), confirmed)
        counts = sitting.counted[slot]["typed"] if slot in sitting.counted else None
        return {"saved": saved["revision"], "slot": slot, "counts": counts, "seconds_left": sitting.seconds_left()}

    def _hand_in(self, sitting: Sitting, sent: dict) -> dict:
        seen = sent.get("seen")
        if not isinstance(seen, dict) or len(seen) > 400:
            raise tornado.web.HTTPError(400)
        try:
            revisions = {int(slot): revision for slot, revision in seen.items() if isinstance(revision, int)}
        except ValueError:
            raise tornado.web.HTTPError(400) from None
        return {"handed_in": sitting.hand_in(revisions)}

    def _number(self, sent: dict, field: str) -> int:
        value = sent.get(field)
        if not isinstance(value, int) or isinstance(value, bool):
            raise tornado.web.HTTPError(400)
        return value

    def _window(self, sent: dict) -> str:
        window = sent.get("window")
        if not isinstance(window, str) or not re.fullmatch(r"[0-9a-f]{16}", window):
            raise tornado.web.HTTPError(400)
        return window


def make_app(room_dir) -> tornado.web.Application:
    """The room's application over one folder."""
    from rigcalc.room.bench import BenchHandler

    room = Path(room_dir)
    return tornado.web.Application(
        [(r"/sit/([A-Za-z0-9_-]+)", SitHandler), (r"/sit/([A-Za-z0-9_-]+)/([a-z-]+)", SitHandler),
         (r"/bench/([A-Za-z0-9_-]+)", BenchHandler), (r"/bench/([A-Za-z0-9_-]+)/([a-z-]+)", BenchHandler),
         (r"/room/([a-z.]+)", ScriptHandler)],
        default_handler_class=NothingHere, room_dir=room, sittings=Sittings(room), writers=Writers(), bench_forms={},
        log_function=lambda handler: None)
