"""The room: a small process that serves sitting pages and bench forms, saves answers, and nothing else.

It reads and writes inside the room's folder only, opens no key record, and serves no file by its name.
"""

from __future__ import annotations

import json
import logging
import re
import secrets
import time
from collections.abc import Callable
from pathlib import Path

import tornado.web
from tornado.routing import Rule

from rigcalc.errors import Refusal
from rigcalc.papers.printed import printed_paper
from rigcalc.room.asked import (BODY_LIMIT, JSON_TYPE, content_policy, kept_headers, number, opened, refuse_strangers,
                                sent_in)
from rigcalc.room.page import script, sentence_page, sitting_page
from rigcalc.room.saving import SavePath, Saves, fields, refused, saved
from rigcalc.room.sitting import Sitting
from rigcalc.room.writers import Writers

__all__ = ["make_app", "BODY_LIMIT", "RoomHandler", "content_policy"]

SEEN_SECONDS = 12  # a window not heard of for so long is taken as closed

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


class RoomHandler(tornado.web.RequestHandler):
    """What every answer of the room has in common: headers, plain refusals, checked JSON."""

    SUPPORTED_METHODS = ("GET", "POST")

    def set_default_headers(self) -> None:
        self.clear_header("Server")
        for name, value in kept_headers():
            self.set_header(name, value)

    def prepare(self) -> None:
        if self.request.method not in self.SUPPORTED_METHODS:
            raise tornado.web.HTTPError(405)
        if self.request.method == "POST":
            refuse_strangers(self.request)

    def sent(self) -> dict:
        """The JSON object that was sent."""
        return sent_in(self.request)

    def opens(self, token: str, kind: str) -> str:
        """The id that a token opens, or 404."""
        return opened(self.settings["room_dir"], token, kind)

    def say(self, status: int, body: dict) -> None:
        """Answer with JSON."""
        self.set_status(status)
        self.set_header("Content-Type", JSON_TYPE)
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

    def at_hand(self, paper_id: str) -> Sitting | None:
        """The sitting where it is open and nobody else wrote to its journal, so that it takes no reading to have it."""
        sitting = self._open.get(paper_id)
        return sitting if sitting is not None and sitting.is_fresh() else None

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
            return refused(sitting, refusal)

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
        return {"reading": sitting.read(number(sent, "slot"), sent.get("typed"))}

    def _save(self, sitting: Sitting, sent: dict) -> dict:
        return saved(sitting, sitting.save(*fields(sent)))

    def _hand_in(self, sitting: Sitting, sent: dict) -> dict:
        seen = sent.get("seen")
        if not isinstance(seen, dict) or len(seen) > 400:
            raise tornado.web.HTTPError(400)
        try:
            revisions = {int(slot): revision for slot, revision in seen.items() if isinstance(revision, int)}
        except ValueError:
            raise tornado.web.HTTPError(400) from None
        return {"handed_in": sitting.hand_in(revisions)}

    def _window(self, sent: dict) -> str:
        window = sent.get("window")
        if not isinstance(window, str) or not re.fullmatch(r"[0-9a-f]{16}", window):
            raise tornado.web.HTTPError(400)
        return window


def make_app(room_dir) -> tornado.web.Application:
    """The room's application over one folder."""
    from rigcalc.room.bench import BenchHandler

    room = Path(room_dir)
    application = tornado.web.Application(
        [(r"/sit/([A-Za-z0-9_-]+)", SitHandler), (r"/sit/([A-Za-z0-9_-]+)/([a-z-]+)", SitHandler),
         (r"/bench/([A-Za-z0-9_-]+)", BenchHandler), (r"/bench/([A-Za-z0-9_-]+)/([a-z-]+)", BenchHandler),
         (r"/room/([a-z.]+)", ScriptHandler)],
        default_handler_class=NothingHere, room_dir=room, sittings=Sittings(room), writers=Writers(), bench_forms={},
        log_function=lambda handler: None)
    application.wildcard_router.rules.insert(0, Rule(SavePath(), Saves(application, SitHandler)))
    return application
