"""What every request to the room is checked for, and what every answer of it says of itself."""

from __future__ import annotations

import base64
import hashlib
import json
from functools import cache

import tornado.web
from tornado.httputil import HTTPServerRequest

from rigcalc.pages import style
from rigcalc.papers.printed import PRINT_STYLE
from rigcalc.room import access
from rigcalc.room.page import sitting_style

__all__ = ["BODY_LIMIT", "JSON_TYPE", "content_policy", "kept_headers", "refuse_strangers", "sent_in", "opened", "number"]

BODY_LIMIT = 16 * 1024  # bytes of one save; the longest answer takes less than a tenth
JSON_TYPE = "application/json; charset=utf-8"


def _hash_source(text: str) -> str:
    return "'sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii") + "'"


@cache
def content_policy(styles: tuple[str, ...] = (), scripts: tuple[str, ...] = ()) -> str:
    """The Content-Security-Policy of a page: our own scripts, the named inline texts, nothing from outside."""
    hashes = " ".join(_hash_source(text) for text in (style(), *styles))
    inline = "".join(f" {_hash_source(text)}" for text in scripts)
    return (f"default-src 'none'; script-src 'self'{inline}; style-src {hashes}; "
            "img-src data:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")


@cache
def kept_headers() -> tuple[tuple[str, str], ...]:
    """Name and value of the headers that every answer of the room has."""
    return (("Content-Security-Policy", content_policy((sitting_style(), PRINT_STYLE))),
            ("X-Content-Type-Options", "nosniff"), ("Referrer-Policy", "no-referrer"), ("Cache-Control", "no-store"),
            ("Cross-Origin-Resource-Policy", "same-origin"))


def refuse_strangers(request: HTTPServerRequest) -> None:
    """Raise HTTPError for a POST that is too long (413), comes from another page (403) or is no JSON (415)."""
    if len(request.body) > BODY_LIMIT:
        raise tornado.web.HTTPError(413)
    origin = request.headers.get("Origin")
    if origin is not None and origin != f"{request.protocol}://{request.host}":
        raise tornado.web.HTTPError(403)
    if request.headers.get("Sec-Fetch-Site", "same-origin") not in ("same-origin", "none"):
        raise tornado.web.HTTPError(403)
    kind = request.headers.get("Content-Type", "").partition(";")[0].strip().lower()
    if kind != "application/json":
        raise tornado.web.HTTPError(415)


def sent_in(request: HTTPServerRequest) -> dict:
    """The JSON object that was sent, or HTTPError 400."""
    try:
        found = _READ.decode(request.body.decode("utf-8"))
    except (ValueError, RecursionError):
        raise tornado.web.HTTPError(400) from None
    if not isinstance(found, dict):
        raise tornado.web.HTTPError(400)
    return found


def _no_constant(name: str):
    raise ValueError(name)


_READ = json.JSONDecoder(parse_constant=_no_constant)


def opened(room_dir, token: str, kind: str) -> str:
    """The id that a token opens, or HTTPError 404."""
    entry = access.lookup(room_dir, token)
    if entry is None or entry["kind"] != kind:
        raise tornado.web.HTTPError(404)
    return entry["id"]


def number(sent: dict, field: str) -> int:
    """A whole number that was sent, or HTTPError 400."""
    value = sent.get(field)
    if not isinstance(value, int) or isinstance(value, bool):
        raise tornado.web.HTTPError(400)
    return value
