"""A room under test: served by a thread of its own, asked over plain sockets so that any path can be sent."""

from __future__ import annotations

import asyncio
import http.client
import json
import threading


class Room:
    def __init__(self, held, port: int = 0) -> None:
        self.held, self.port = held, port
        self.token = held.issued[0].token

    def __enter__(self):
        from tornado.httpserver import HTTPServer

        from rigcalc.room.app import BODY_LIMIT, make_app
        from rigcalc.room.commands import bind

        ready = threading.Event()

        async def serve() -> None:
            self.app = make_app(self.held.room)
            server = HTTPServer(self.app, max_body_size=4 * BODY_LIMIT)
            sockets, self.port = bind("127.0.0.1", self.port)
            server.add_sockets(sockets)
            self.loop, self.stop = asyncio.get_running_loop(), asyncio.Event()
            ready.set()
            await self.stop.wait()
            server.stop()
            await server.close_all_connections()

        self.thread = threading.Thread(target=lambda: asyncio.run(serve()))
        self.thread.start()
        assert ready.wait(10)
        return self

    def __exit__(self, *exc) -> None:
        self.loop.call_soon_threadsafe(self.stop.set)
        self.thread.join(10)

    def ask(self, method: str, path: str, body: bytes | None = None, headers: dict | None = None):
        """Status, headers and body of one request, its path sent as it stands."""
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=10)
        try:
            line.putrequest(method, path, skip_accept_encoding=True)
            for name, value in (headers or {}).items():
                line.putheader(name, value)
            if body is not None and "Content-Length" not in (headers or {}):
                line.putheader("Content-Length", str(len(body)))
            line.endheaders()
            if body is not None:
                line.send(body)
            answer = line.getresponse()
            return answer.status, dict(answer.getheaders()), answer.read()
        finally:
            line.close()

    def post(self, what: str, sent: dict, token: str | None = None, **headers):
        """Status and JSON of one act on a sitting."""
        status, _, body = self.ask("POST", f"/sit/{token or self.token}/{what}", json.dumps(sent).encode(),
                                   {"Content-Type": "application/json"} | headers)
        return status, json.loads(body)
