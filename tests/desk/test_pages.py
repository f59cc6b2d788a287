"""The desk's pages: who gets in, what a wrong entry brings, and the whole way through them."""

import json
import re
import subprocess
import sys
import time
import urllib.request
from html import unescape

import pytest

from rigcalc.desk import work
from rigcalc.desk.room_process import RoomProcess
from rigcalc.register.certificate import check_certificate
from rigcalc.shop import sample_shop_path

from .bench_of_two import ROSTER, set_up
from .served import TOKEN, Person, served, through_the_pages

LB = "1/8|7x19|galvanised|aluminium|LB"


@pytest.fixture
def home(desk):
    return desk.home


@pytest.fixture
def port(home):
    with served(home) as port:
        yield port


def test_without_the_token_nobody_gets_in(port, desk):
    stranger = Person(port, None)
    assert "Type or paste it here" in stranger.open("/")
    for path in ("/register", "/shop", "/class/x/papers", "/issuer-key.json", "/new-class"):
        assert "Type or paste it here" in stranger.open(path)
    for wrong in ("", "x", TOKEN + "x", TOKEN[:-1]):
        stranger.open(f"/sign-in?token={wrong}")
        assert stranger.status == 403 and not stranger.cookie
    stranger.ask("POST", "/new-class", "name=a&roster=b&set_by=c")
    assert stranger.status == 403 and not desk.register.entries()


def test_the_token_can_be_typed_and_the_cookie_is_kept_close(port):
    me = Person(port, None)
    me.ask("POST", "/sign-in", f"token={TOKEN}")
    assert me.status == 303 and me.headers["Location"] == "/"
    cookie = me.headers["Set-Cookie"]
    assert "HttpOnly" in cookie and "SameSite=Strict" in cookie and TOKEN not in cookie
    assert "Shop and chart in force" in me.open("/")
    me.open("/sign-out")
    me.cookie = cookie.split(";")[0]
    assert "Type or paste it here" in me.open("/")


def test_headers_keep_scripts_and_frames_out(port):
    me = Person(port)
    policy = me.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy and "script-src" not in policy and "frame-ancestors 'none'" in policy
    assert me.headers["X-Content-Type-Options"] == "nosniff" and me.headers["Cache-Control"] == "no-store"


@pytest.mark.parametrize("headers", [{"Origin": "http://evil.example"}, {"Origin": "null"}, {"Host": "evil.example"}])
def test_a_form_from_another_page_is_refused(port, desk, headers):
    me = Person(port)
    mark = re.search(r'name="form_token" value="([^"]+)"', me.open("/new-class"))[1]
    body = f"form_token={mark}&name=a&roster=b&set_by=c"
    me.ask("POST", "/new-class", body, **headers)
    assert me.status == 403 and not desk.register.entries()
    for wrong in ("", "x" * 43):
        me.ask("POST", "/new-class", body.replace(mark, wrong))
        assert me.status == 403 and not desk.register.entries()


@pytest.mark.parametrize("path", ["/nothing", "/class/none", "/class/none/papers", "/class/none/decide/c01", "/paper/p-none/print",
                                  "/certificate/none", "/certificate/none.json", "/class/../../etc/passwd", "/class/none/bench/b-0000000000/c01"])
def test_an_address_of_nothing_gets_a_plain_sentence(port, path):
    me = Person(port)
    me.ask("GET", path)
    assert me.status in (404, 422) and "Traceback" not in me.page and me.told()


def test_a_wrong_entry_keeps_what_was_typed_and_says_one_sentence(port, desk):
    me = Person(port)
    me.open("/new-class")
    me.send("/new-class", name="<b>Class</b>", roster="Tomo Kessig\nDela Orrin, soon", set_by="Ines & Co")
    assert me.status == 422 and me.told() == ("Refused: line 2: 'soon' as extra minutes was given; accepted: whole minutes from 0 to 240, or the word large; "
                                              "mend that line.")
    assert "&lt;b&gt;Class&lt;/b&gt;" in me.page and "<b>Class" not in me.page
    assert "Dela Orrin, soon" in me.page and "Ines &amp; Co" in me.page
    me.send("/new-class", name="Class", roster="Tomo Kessig", set_by="Ines & Co")
    assert me.status == 422 and "first and family name of one person" in me.told()
    assert not desk.register.entries()


def test_a_refused_decision_keeps_ticks_choice_and_words(port, desk):
    class_id = set_up(desk)
    me = Person(port)
    me.open(f"/class/{class_id}/decide/c01")
    me.send(me.at, identified="photo card", independent="yes", outcome="competent", reasons="I like him", decider="Bettan Roole")
    assert me.status == 422 and "something in the way" in me.told()
    assert "I like him" in me.page and re.search(r'value="yes" checked', me.page) and re.search(r'value="competent" checked', me.page)
    me.send(me.at, reasons="x", decider="Bettan Roole")
    assert "no decision" in me.told()
    me.send(me.at, outcome="not yet", reasons="Nothing was shown yet.", decider="Bettan Roole", identified="")
    assert me.status == 200 and "is entered" in me.told()


def test_the_whole_way_through_the_pages(home, desk):
    class_id = through_the_pages(home, desk)
    assert desk.register.check() == []
    signed = work.certificates(desk, class_id)
    assert [one["candidate"]["name"] for one in signed] == ["Tomo Kessig"]
    with served(home) as port:
        me = Person(port)
        raw = me.open(f"/certificate/{signed[0]['certificate']}.json").encode()
        assert check_certificate(raw).standing == "DEMONSTRATION"
        card = json.loads(me.open("/issuer-key.json"))
        assert card["fingerprint"] == check_certificate(raw).fingerprint
        assert "Certificate of competence" in me.open(f"/certificate/{signed[0]['certificate']}")
        for part in ("", "/papers", "/room", "/watch", "/mark", "/summary", "/results.csv", "/result/c01", "/bench", "/sealed-set", "/decide",
                     "/decide/c01", "/decide/c02", "/certificates"):
            me.open(f"/class/{class_id}{part}")
            assert me.status == 200, part
            assert part == "/results.csv" or "INVENTED" in me.page, part
        assert "The register is whole" in me.open("/register")
        marked = desk.entries("answers marked")[-1].body
        assert f"passed · {class_id}, {marked['paper_id']}</summary>" in me.page
        form_id = work.forms(desk, class_id)[0]["form_id"]
        assert "Tomo Kessig" in me.open(f"/class/{class_id}/bench/{form_id}/print")
        paper = work.paper_of(desk, class_id, "c01")
        assert "Answer sheet" in me.open(f"/paper/{paper}/print")
        returned = desk.room / "returned" / f"{paper}.json"
        returned.write_bytes(returned.read_bytes().replace(b'"revision":1', b'"revision":2').replace(b'"typed":"', b'"typed":"9', 1))
        told = me.open(f"/class/{class_id}/summary")
        assert "The returned file of Tomo Kessig is not as it was handed in" in told and "Put the paper" in told and "answers folder" in told


def test_the_room_is_opened_and_closed_from_the_desk(home, desk):
    class_id = set_up(desk)
    with served(home) as port:
        me = Person(port)
        me.open(f"/class/{class_id}/room")
        me.send(me.at, where="127.0.0.1")
        assert me.status == 200, me.told()
        address = re.search(r"The room is open at <strong>(http://127\.0\.0\.1:\d+)", me.page)[1]
        assert me.page.count(address) == 1 and me.told() == "The room is opened."
        sit_at = re.search(re.escape(address) + r"/sit/[A-Za-z0-9_-]+", me.open(f"/class/{class_id}/papers"))[0]
        direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
        with direct.open(sit_at, timeout=10) as answer:
            assert "Tomo Kessig" in answer.read().decode()
        assert sit_at in me.open(f"/class/{class_id}/slips")
        me.open(f"/class/{class_id}/room")
        me.send(me.at, act="close")
        assert "is closed" in me.told()
        with pytest.raises(OSError):
            direct.open(sit_at, timeout=2)


def test_the_command_opens_a_desk_and_a_second_one_beside_it(tmp_path):
    words = [sys.executable, "-W", "error", "-m", "rigcalc", "desk", "--folder", str(tmp_path / "home"), "--no-browser", "--port", "8860"]
    opened = []
    try:
        for _ in range(2):
            process = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
            lines, until = "", time.monotonic() + 30
            while "sign-in?token=" not in lines and time.monotonic() < until:
                lines += process.stdout.readline()
            opened.append((process, lines))
        addresses = [re.search(r"http://127\.0\.0\.1:\d+/sign-in\?token=\S+", lines)[0] for _, lines in opened]
        assert addresses[0] != addresses[1] and "is taken" in opened[1][1]
        direct = urllib.request.build_opener(urllib.request.ProxyHandler({}), urllib.request.HTTPCookieProcessor())
        with direct.open(addresses[1], timeout=10) as answer:
            assert "Shop and chart in force" in answer.read().decode()
    finally:
        for process, _ in opened:
            process.terminate()
            _, said = process.communicate(timeout=20)
            assert process.returncode == 0 and not said


@pytest.mark.parametrize("roster, count", [("Bram", "1 name"), (ROSTER.splitlines()[0], "1 name"), ("Tomo Kessig\nDela Orrin, 15, large", "2 names")])
def test_a_class_list_is_looked_at_before_it_is_set_up(port, desk, roster, count):
    me = Person(port)
    me.open("/new-class")
    listed = {"name": "one", "roster": roster, "set_by": "Ines Varrow"}
    me.send("/new-class", **listed)
    assert me.told() == "Nothing is set up yet: look first." and not desk.register.entries()
    assert f"<h2>one: {count}</h2>" in me.page and ("<td>15</td><td>larger print</td>" in me.page) == ("large" in roster)
    assert unescape(re.search(r"<textarea[^>]*>(.*?)</textarea>", me.page, re.S)[1]) == roster
    shown = dict(re.findall(r'<input type="hidden" name="(name|roster|set_by|act)" value="([^"]*)"', me.page))
    assert {name: unescape(value) for name, value in shown.items()} == listed | {"act": "enter"}
    me.send("/new-class", **listed, act="enter")
    assert f"set up with {count}." in me.told() and len(desk.register.entries("class set")) == 1
    assert "<h2>one" not in me.open("/new-class")
    me.send("/new-class", **listed)
    assert me.status == 422 and "which is there already" in me.told() and roster.splitlines()[0] in me.page


def test_names_with_signs_no_name_has_are_refused(port, desk):
    me = Person(port)
    me.open("/new-class")
    for name, roster in (("a<b", "Tomo"), ("a/b", "Tomo"), ("one", "To/mo"), ("one", "To\\mo"), ("one", "<b>Tomo"), ("one", "To\x1cmo")):
        me.send("/new-class", name=name, roster=roster, set_by="Ines Varrow")
        assert me.status == 422 and "a name without < > / " in me.told(), (name, roster)
    assert not desk.register.entries()


def test_a_second_open_form_and_one_without_pieces_need_a_tick(port, desk):
    class_id = set_up(desk)
    me = Person(port)
    at = f"/class/{class_id}/bench"
    me.open(at)
    asked = {"candidate": "c01", "made": LB, "assessor": "Osk Tamberlin"}
    me.send(at, **asked)
    assert me.status == 422 and "open without finished pieces" in me.told()
    me.send(at, without="yes", **asked)
    assert me.status == 200 and "sealed set: none" in me.page
    first = work.forms(desk, class_id)[0]["form_id"]
    me.send(at, without="yes", **asked)
    assert me.status == 422 and first in me.told() and len(work.forms(desk, class_id)) == 1
    me.send(at, without="yes", again="yes", **asked)
    assert me.status == 200 and len(work.forms(desk, class_id)) == 2


def test_the_form_is_opened_for_the_cable_chosen_and_says_so_everywhere(port, desk):
    class_id = set_up(desk)
    me, at = Person(port), f"/class/{class_id}/bench"
    offered = [unescape(one) for one in re.findall(r'<option value="([^"]*)"', me.open(at))]
    assert offered[0] == LB and "3/32|7x7|galvanised|aluminium|LA" in offered
    me.send(at, candidate="c01", made="1/2|7x19|galvanised|aluminium|LB", assessor="Osk Tamberlin", without="yes")
    assert me.status == 422 and "Refused: the piece" in me.told()
    me.send(at, candidate="c01", made="3/32|7x7|galvanised|aluminium|LA", assessor="Osk Tamberlin", without="yes")
    assert me.status == 200 and "3/32 7x7 galvanised, aluminium sleeves<br>tool LA, cavity B" in me.page
    one, = work.forms(desk, class_id)
    assert (one["made"]["size"], one["made"]["tool"]) == ("3/32", "LA")
    assert "3/32 7x7 galvanised, aluminium sleeves, tool LA, cavity B." in me.open(f"{at}/{one['form_id']}/print")


def test_a_chart_changed_under_its_edition_is_told_on_the_bench_and_where_is_decided(port, desk):
    class_id = set_up(desk)
    me, told = Person(port), "Chart LB-AL has changed since"
    pages = [f"/class/{class_id}/{page}" for page in ("bench", "decide", "decide/c01")]
    assert not any(told in me.open(page) for page in pages)
    before, _, after = sample_shop_path().read_text(encoding="utf-8").partition('id = "LB-AL"')
    assert "order = [2, 1, 3]" in after
    (desk.home / "shop.toml").write_text(before + 'id = "LB-AL"' + after.replace("order = [2, 1, 3]", "order = [2, 3, 1]", 1), encoding="utf-8")
    assert all(told in me.open(page) for page in pages)


def test_a_room_that_stopped_by_itself_says_so(home, desk):
    class_id = set_up(desk)
    room = RoomProcess(home / "room", home / "room.log")
    with served(home, room) as port:
        me = Person(port)
        room.start()
        room._process.kill()
        room._process.wait(10)
        for path in ("", "/room", "/watch"):
            assert "The room stopped by itself. Nothing saved is lost: open it again." in me.open(f"/class/{class_id}{path}")
        room.start()
        assert "stopped by itself" not in me.open(f"/class/{class_id}/room")
        room._process.stdin.close()  # as when the desk is killed: its room ends with it, and no room runs on that nobody can close
        assert room._process.wait(10) == 0
