"""The desk's server in a thread, and somebody at a browser without scripts who fills its forms."""

import asyncio
import http.client
import re
import threading
from contextlib import contextmanager
from html import unescape
from urllib.parse import urlencode

from tornado.httpserver import HTTPServer
from tornado.testing import bind_unused_port

from rigcalc.desk.room_process import RoomProcess
from rigcalc.desk.server import make_app

TOKEN = "test-token-of-this-desk"


@contextmanager
def served(home, room=None):
    """The desk over that folder; gives its port."""
    sockets, port = bind_unused_port()
    ready, loop = threading.Event(), asyncio.new_event_loop()
    room = room or RoomProcess(home / "room", home / "room.log")

    async def main():
        server = HTTPServer(make_app(home, TOKEN, room))
        server.add_sockets([sockets])
        stop = asyncio.Event()
        loop.stop_desk = lambda: loop.call_soon_threadsafe(stop.set)
        ready.set()
        await stop.wait()
        server.stop()
        await server.close_all_connections()

    thread = threading.Thread(target=lambda: (loop.run_until_complete(main()), loop.close()))
    thread.start()
    ready.wait(10)
    try:
        yield port
    finally:
        loop.stop_desk()
        thread.join(10)
        room.stop()


class Person:
    """Opens pages, follows redirects, sends forms with what the page itself holds."""

    def __init__(self, port: int, token: str | None = TOKEN) -> None:
        self.port, self.cookie, self.page, self.status, self.headers, self.at = port, "", "", 0, {}, ""
        if token is not None:
            self.open(f"/sign-in?token={token}")

    def ask(self, method: str, path: str, body: str | None = None, **headers) -> None:
        """One request as it stands; no redirect is followed."""
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        sent = {"Host": f"127.0.0.1:{self.port}"} | ({"Cookie": self.cookie} if self.cookie else {}) | headers
        if body is not None:
            sent["Content-Type"] = "application/x-www-form-urlencoded"
        line.request(method, path, body, sent)
        answer = line.getresponse()
        self.status, self.headers, self.page, self.at = answer.status, dict(answer.getheaders()), answer.read().decode(), path
        line.close()
        if "Set-Cookie" in self.headers:
            self.cookie = self.headers["Set-Cookie"].split(";")[0]

    def open(self, path: str) -> str:
        self.ask("GET", path)
        while self.status in (302, 303):
            self.ask("GET", self.headers["Location"])
        return self.page

    def send(self, path: str, form_token: str | None = None, **fields) -> str:
        """Fill the form of the page that is open and send it, with what it holds out of sight."""
        held = next((found for found in map(_out_of_sight, re.findall(r"<form\b.*?</form>", self.page, re.S)) if found.get("act") == fields.get("act")), None)
        if held is None:  # an act that is chosen on the page
            held = next((_out_of_sight(one) for one in re.findall(r"<form\b.*?</form>", self.page, re.S) if f'name="act" value="{fields.get("act")}"' in one), {})
        if form_token is None:
            form_token = re.search(r'name="form_token" value="([^"]+)"', self.page)[1]
        self.ask("POST", path, urlencode(held | {"form_token": form_token} | fields, doseq=True))
        while self.status in (302, 303):
            self.ask("GET", self.headers["Location"])
        return self.page

    def told(self) -> str:
        """What the page says back."""
        return " ".join(unescape(one) for one in re.findall(r'<p class="said [a-z]*"[^>]*>(.*?)</p>', self.page))


def _out_of_sight(form: str) -> dict[str, str]:
    return {name: unescape(value) for name, value in re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form)}


def through_the_pages(home, desk) -> str:
    """A class of two from the list to a certificate, every act of the assessor through the pages."""
    from .bench_of_two import ROSTER, fill, sit
    from rigcalc.desk import work
    from rigcalc.demonstration.cast import SEALED_SET
    with served(home) as port:
        me = Person(port)
        me.open("/new-class")
        listed = {"name": "Pages class", "roster": ROSTER, "set_by": "Ines Varrow"}
        me.send("/new-class", **listed)
        me.send("/new-class", **listed, act="enter")
        at = "/class/pages-class"
        me.open(f"{at}/papers")
        me.send(f"{at}/papers", set_by="Ines Varrow")
        me.open(f"{at}/watch?still=1")
        me.send(f"{at}/watch", paper=work.paper_of(desk, "pages-class", "c01"), minutes="10", by="Ines Varrow", why="The lamp failed.")
        sit(desk, "pages-class", "c01")
        me.open(f"{at}/type-in/{work.paper_of(desk, 'pages-class', 'c02')}")
        sheet = me.at
        me.send(sheet, by="Osk Tamberlin")
        me.send(sheet, by="Bettan Roole")
        assert "The two typings agree" in me.told(), me.told()
        me.open(f"{at}/mark")
        me.send(f"{at}/mark", by="Osk Tamberlin")
        keys = work.paper_record(desk, work.paper_of(desk, "pages-class", "c01"))["keys"]
        family = next(key["family"] for key in keys if key["skill"] == "follows-the-order")
        asked = {"family": family, "way": "struck", "misstep": "", "by": "Ines Varrow", "why": "The drawing was pale."}
        me.open(f"{at}/correct?family={family}")
        me.send(f"{at}/correct", **asked)
        me.send(f"{at}/correct", **asked, act="enter")
        slot = next(one["slot"] for one in work.marked(desk, "pages-class", "c02")["result"]["slots"] if not one["right"])
        me.open(f"{at}/appeal/c02/{slot}")
        me.send(me.at, outcome="the mark stands", reasons="Nothing was written.", decider="Parvel Minch", said="I did not see it.")
        assert "is decided and entered" in me.told(), me.told()
        me.open(f"{at}/sealed-set")
        me.send(f"{at}/sealed-set", name="set 1", by="Ines Varrow", pieces=SEALED_SET)
        me.open(f"{at}/bench")
        opened = {"candidate": ["c01", "c02"], "made": "1/8|7x19|galvanised|aluminium|LB", "set": "set-1"}
        me.send(f"{at}/bench", assessor="Bettan Roole", **opened)
        me.send(f"{at}/bench", act="set aside", form=work.forms(desk, "pages-class")[0]["form_id"], aside_by="Ines Varrow", why="The wrong assessor.")
        assert "set aside by Ines Varrow: The wrong assessor." in me.page
        me.send(f"{at}/bench", assessor="Osk Tamberlin", **opened)
        form_id = work.forms(desk, "pages-class")[0]["form_id"]
        fill(desk, form_id, c01="right", c02="buried tail")
        for who, outcome in (("c01", "competent"), ("c02", "not yet")):
            me.open(f"{at}/bench/{form_id}/{who}")
            me.send(me.at, act="close")
            assert "The entry stays" in me.page and not desk.entries("bench assessed", form_id=form_id, candidate=who)
            me.send(me.at.split("?")[0], act="close it", shown=re.search(r'name="shown" value="([^"]+)"', me.page)[1])
            me.open(f"{at}/decide/{who}")
            assert "was set aside by Ines Varrow: The wrong assessor. 0 taps stand on it." in me.page
            assert ("10 minutes more were given while the paper was sat, by Ines Varrow: The lamp failed." in me.page) == (who == "c01")
            me.send(me.at, identified="photo card seen", independent="yes", no_conflict="yes", exception="", outcome=outcome,
                    reasons="All of it was looked at.", decider="Bettan Roole")
        me.open(f"{at}/decide/c01")
        me.send(me.at, act="sign", until="", why="")
        assert "is signed and entered" in me.told(), me.told()
        number = work.certificates(desk, "pages-class")[0]["certificate"]
        me.open(f"/certificate/{number}/standing")
        me.send(me.at, act="suspended", by="Bettan Roole", reason="The force gauge was doubted.")
        assert f"the certificate {number} is suspended now" in me.told(), me.told()
    return "pages-class"
