"""The desk's own small server: loopback only, one token, a session cookie, a form token, no script on any page."""

from __future__ import annotations

import hashlib
import hmac
import secrets
from datetime import date
from urllib.parse import quote

import tornado.web

from rigcalc.cautions import INVENTED_PAGE
from rigcalc.desk import work
from rigcalc.desk.forms import held
from rigcalc.errors import Refusal
from rigcalc.pages import escape, page, said

__all__ = ["COOKIE", "DeskHandler", "FormHandler", "POLICY", "make_app", "new_token"]

COOKIE = "desk"
POLICY = ("default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'self'; base-uri 'none'; "
          "frame-ancestors 'none'")
BODY_LIMIT = 512 * 1024  # bytes of one form; a class list of sixty names takes some thousands
_SAYS = {403: "This form was sent from another page or after the desk was opened anew: go back to the desk and send it again.",
         404: "Nothing is kept at this address: go back to the desk's first page.",
         405: "This address takes nothing of that kind: go back to the desk's first page.",
         400: "What was sent cannot be read: go back and send it again."}


def new_token() -> str:
    """The token that is printed in the terminal: 32 random bytes."""
    return secrets.token_urlsafe(32)


class DeskHandler(tornado.web.RequestHandler):
    """What all answers of the desk share: headers, the signed-in session, plain refusals."""

    SUPPORTED_METHODS = ("GET", "POST")
    by_earlier = False  # whether the page goes by an earlier shop file where the shop file cannot be read

    def set_default_headers(self) -> None:
        self.clear_header("Server")
        self.set_header("Content-Security-Policy", POLICY)
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "same-origin")  # none at all would make a browser send its forms with "Origin: null"
        self.set_header("Cache-Control", "no-store")
        self.set_header("Cross-Origin-Resource-Policy", "same-origin")

    def prepare(self) -> None:
        if self.request.host.rpartition(":")[0] not in ("127.0.0.1", "localhost", "[::1]"):
            raise tornado.web.HTTPError(403)  # a foreign name that was made to point here
        if self.request.method == "POST":
            origin = self.request.headers.get("Origin")
            if origin is not None and origin != f"http://{self.request.host}":
                raise tornado.web.HTTPError(403)
        self.session = self.settings["sessions"].get(self.get_cookie(COOKIE) or "")
        if self.session is None and not isinstance(self, SignIn):
            if self.request.method != "GET":
                raise tornado.web.HTTPError(403)
            self.redirect("/sign-in", status=303)
            return
        if self.request.method == "POST" and self.session is not None:
            sent = self.get_body_argument("form_token", "")
            if not hmac.compare_digest(sent.encode(), self.session["form_token"].encode()):
                raise tornado.web.HTTPError(403)

    def desk(self) -> work.Desk:
        """The desk with the shop file as it stands now; of some pages with an earlier one, where it cannot be read."""
        return work.open_desk(self.settings["home"], earlier=self.by_earlier)

    def show(self, title: str, body: str, desk: work.Desk | None, note: str = "", **more) -> None:
        """One page of the desk."""
        nav = '<a href="/">Desk</a><a href="/register">Register</a><a href="/sign-out">Sign out</a>' if self.session else ""
        line = desk.shop.chart_line() if desk else ""
        earlier = held([desk.goes_by]) if desk else ""
        self.finish(page(title, note + earlier + body, nav=nav, chart_line=line, foot=f"{title} · {date.today().isoformat()}", invented=INVENTED_PAGE if desk and desk.invented else False, **more))

    def write_error(self, status_code: int, **kwargs) -> None:
        cause = kwargs.get("exc_info", (None, None))[1]
        if isinstance(cause, Refusal):
            self.set_status(422)
            self.finish(page("Refused", said(cause.lines, "no") + self._ways_on()))
            return
        sentence = _SAYS.get(status_code, "The desk could not do that and has written why in its terminal; nothing was entered.")
        self.finish(page("Not done", said(sentence, "no") + '<p><a href="/">Back to the desk</a></p>'))

    def _ways_on(self) -> str:
        """The way back from a refusal; where the shop file cannot be read, the pages that work all the same."""
        try:
            work.open_desk(self.settings["home"])
            return '<p><a href="/">Back to the desk</a></p>'
        except Refusal:
            pass
        try:
            desk = work.open_desk(self.settings["home"], earlier=True)
        except Refusal:
            return ""
        signed = {one["class"] for one in work.certificates(desk)}
        pages = [(link("class", one["class"], "certificates"), one["name"]) for one in work.classes(desk) if one["class"] in signed]
        rows = "".join(f'<li><a href="{escape(where)}">{escape(name)}: {escape(where)}</a></li>' for where, name in pages)
        told = f"<p>Certificates can be suspended or withdrawn all the same, by the shop file as it was at entry {desk.as_at}:</p><ul>{rows}</ul>" if rows else ""
        return told + '<p>The register can be read: <a href="/register">/register</a></p><p>Every other page works again once the shop file is mended.</p>'

    def log_exception(self, typ, value, tb) -> None:
        if not isinstance(value, (tornado.web.HTTPError, Refusal)):
            super().log_exception(typ, value, tb)

    def _request_summary(self) -> str:
        return f"{self.request.method} {self.request.path}"  # never the query: it may hold the token


class SignIn(DeskHandler):
    """The token from the terminal, typed or in the address, for a cookie."""

    def get(self) -> None:
        given = self.get_query_argument("token", None)
        if given is not None:
            self._take(given)
        else:
            self._ask()

    def post(self) -> None:
        self._take(self.get_body_argument("token", "").strip())

    def _ask(self, note: str = "") -> None:
        self.session = None
        self.show("The assessor's desk", note + (
            "<p>The desk printed a token in the terminal where it was started. Type or paste it here.</p>"
            '<form method="post" action="/sign-in"><label for="token">Token</label>'
            '<input type="password" id="token" name="token" autocomplete="off" size="48" autofocus> '
            "<p><button>Sign in</button></p></form>"), None)

    def _take(self, given: str) -> None:
        if not hmac.compare_digest(hashlib.sha256(given.encode()).digest(),
                                   hashlib.sha256(self.settings["token"].encode()).digest()):
            self.set_status(403)
            self._ask(said("That is not this desk's token: copy the whole token from the terminal. A desk that was "
                           "started anew has a new one.", "no"))
            return
        name = secrets.token_urlsafe(32)
        self.settings["sessions"][name] = {"form_token": secrets.token_urlsafe(32), "note": ""}
        self.set_cookie(COOKIE, name, httponly=True, samesite="Strict", path="/")
        self.redirect("/", status=303)


class SignOut(DeskHandler):
    """Forget the session."""

    def get(self) -> None:
        self.settings["sessions"].pop(self.get_cookie(COOKIE) or "", None)
        self.clear_cookie(COOKIE)
        self.redirect("/sign-in", status=303)


class FormHandler(DeskHandler):
    """A page with forms: an act done says so on the page after it; a refusal keeps everything that was typed."""

    def get(self, *where: str) -> None:
        note, self.session["note"] = self.session["note"], ""
        self._page(where, {}, said(note, "ok") if note else "")

    def post(self, *where: str) -> None:
        typed = {name: [value.decode("utf-8", "replace") for value in values]
                 for name, values in self.request.body_arguments.items() if name != "form_token"}
        try:
            address, note = self.act(self.desk(), Typed(typed), *where)
        except Refusal as refusal:
            self.set_status(422)
            self._page(where, typed, said(refusal.lines, "no"))
            return
        self.session["note"] = note
        self.redirect(address, status=303)

    def _page(self, where: tuple, typed: dict, note: str) -> None:
        desk = self.desk()
        title, body = self.body(desk, Typed(typed), *where)
        mark = f'<input type="hidden" name="form_token" value="{escape(self.session["form_token"])}">'
        self.show(title, body.replace("</form>", mark + "</form>"), desk, note, head=self.head(*where))

    def body(self, desk, typed, *where) -> tuple[str, str]:
        """The page's title and its HTML; `typed` is what was typed when it was refused."""
        raise NotImplementedError

    def act(self, desk, typed, *where) -> tuple[str, str]:
        """Do what the form asks; where to go next, and what to say there."""
        raise tornado.web.HTTPError(405)

    def head(self, *where) -> str:
        return ""


class Typed:
    """What a form was sent with; the last of each name, or all of them."""

    def __init__(self, values: dict[str, list[str]]) -> None:
        self.values = values

    def __call__(self, name: str, otherwise: str = "") -> str:
        return self.values.get(name, [otherwise])[-1]

    def all(self, name: str) -> list[str]:
        return self.values.get(name, [])

    def has(self, name: str, otherwise: bool = False) -> bool:
        return name in self.values if self.values else otherwise


class NothingHere(DeskHandler):
    """Every address that is none of the desk's."""

    def get(self) -> None:
        raise tornado.web.HTTPError(404)

    post = get


def link(*parts: str) -> str:
    """An address of the desk from its parts."""
    return "/" + "/".join(quote(part, safe="") for part in parts)


def make_app(home, token: str, room: work.RoomProcess) -> tornado.web.Application:
    """The desk's application over one workbook folder."""
    from rigcalc.desk import (pages_appeal, pages_bench, pages_certificates, pages_class, pages_correct, pages_decide,
                              pages_home, pages_mark, pages_papers, pages_quality, pages_register, pages_room, pages_type_in)

    routes = [(r"/sign-in", SignIn), (r"/sign-out", SignOut)]
    for module in (pages_home, pages_class, pages_papers, pages_type_in, pages_room, pages_mark, pages_correct, pages_appeal,
                   pages_quality, pages_bench, pages_decide, pages_certificates, pages_register):
        routes += module.ROUTES
    return tornado.web.Application(routes, default_handler_class=NothingHere, home=home, token=token, room=room,
                                   sessions={}, log_function=lambda handler: None)
