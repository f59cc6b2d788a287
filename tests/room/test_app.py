from __future__ import annotations

import json
import os
import re

import pytest

from papers import a_class
from rigcalc.room import access
from rigcalc.room.app import BODY_LIMIT

JSON = {"Content-Type": "application/json"}


def slot_of(room, kind):
    return next(question["slot"] for question in a_class.paper_of(room.held)["questions"] if question["kind"] == kind)


def test_a_sitting_from_start_to_receipt(served):
    status, _, page = served.ask("GET", f"/sit/{served.token}")
    assert status == 200 and b"Start: the time begins" in page and b'"questions"' not in page
    assert served.post("start", {})[0] == 200
    page = served.ask("GET", f"/sit/{served.token}")[2].decode()
    data = json.loads(re.search(r'id="data">(.*?)</script>', page)[1])
    assert len(data["paper"]["questions"]) == 3 and data["state"]["seconds_left"] > 1700
    number = slot_of(served, "number")
    status, read = served.post("read", {"slot": number, "typed": "360 lbf"})
    assert (status, read["reading"]["shown"]) == (200, "360 lbf (pounds-force)")
    answers = a_class.right_answers(served.held)
    for slot, typed in answers.items():
        status, saved = served.post("save", {"slot": slot, "revision": 1, "typed": typed, "confirmed": True})
        assert (status, saved["saved"], saved["counts"]) == (200, 1, typed)
    status, done = served.post("hand-in", {"seen": {str(slot): 1 for slot in answers}})
    assert status == 200 and re.fullmatch(r"(?:[2-9A-HJ-NP-Z]{4}-){3}[2-9A-HJ-NP-Z]{4}", done["handed_in"]["receipt"])
    assert served.post("hand-in", {"seen": {}})[1]["handed_in"]["receipt"] == done["handed_in"]["receipt"]
    assert done["handed_in"]["receipt"] in served.ask("GET", f"/sit/{served.token}")[2].decode()
    status, refused = served.post("save", {"slot": 1, "revision": 9, "typed": answers[1], "confirmed": True})
    assert status == 409 and "handing in" in refused["said"]


def test_what_cannot_be_read_cannot_be_confirmed(served):
    served.post("start", {})
    number = slot_of(served, "number")
    status, refused = served.post("save", {"slot": number, "revision": 1, "typed": "many", "confirmed": True})
    assert status == 422 and "cannot be read" in refused["said"]
    assert served.post("save", {"slot": number, "revision": 1, "typed": "many", "confirmed": False})[0] == 200


@pytest.mark.parametrize("path", [
    "/", "/sit", "/sit/", "/sit/x", "/sit/aaaa-aaaa-aaaa-aaaa-aaaa", "/bench/aaaa-aaaa-aaaa-aaaa-aaaa", "/room/", "/room/app.py", "/room/..",
    "/room/../app.py", "/room/sitting.css", "/static/x", "/papers", "/keys", "/access", "/favicon.ico", "/.git/config",
    "/etc/passwd", "//etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/..%2f..%2fdesk%2fkeys", "/sit/../papers",
    "/sit/..%2fpapers", "/%00", "/sit/%00", "/sit/%ff", "/sit/..\\..\\desk", "/api/contents", "/room/%2e%2e/x.js",
])
def test_every_other_address_is_one_plain_sentence(served, path):
    status, headers, body = served.ask("GET", path)
    assert status == 404 and b"Nothing is kept at this address" in body
    assert "Server" not in headers and "default-src 'none'" in headers["Content-Security-Policy"]


def test_key_records_are_out_of_reach_of_a_token(served):
    paper_id = served.held.issued[0].paper_id
    key = served.held.keys / f"{paper_id}.json"
    family = a_class.key_of(served.held)["keys"][0]["family"].encode()
    served.post("start", {})
    tries = [str(key), f"/{key}", f"/sit/{served.token}{key}", f"/sit/{served.token}/../../desk/keys/{paper_id}.json",
             f"/sit/{served.token}/..%2f..%2fdesk%2fkeys%2f{paper_id}.json", f"/room/..%2f..%2fdesk/keys/{paper_id}.json",
             f"/sit/{served.token}/keys", f"/sit/{served.token}/%2e%2e/keys", f"/sit/{served.token}/paper",
             f"/sit/{paper_id}", f"/sit/{served.token}?file={key}", f"/sit/{served.token}/print?file={key}"]
    for path in tries:
        status, _, body = served.ask("GET", path)
        assert family not in body
        assert status == 404 or "?" in path


def test_one_token_opens_one_paper_only(served):
    other = served.held.issued[1]
    own = served.ask("GET", f"/sit/{served.token}")[2]
    assert b"Tomo Kessig" in own and b"Dela Orrin" not in own
    assert b"Dela Orrin" in served.ask("GET", f"/sit/{other.token}")[2]
    bench = access.grant(served.held.room, "bench", "f-1")
    assert served.ask("GET", f"/sit/{bench}")[0] == 404
    assert served.ask("GET", f"/bench/{served.token}")[0] == 404


@pytest.mark.parametrize("method", ["HEAD", "PUT", "DELETE", "PATCH", "OPTIONS", "PROPFIND"])
def test_other_methods_are_refused(served, method):
    for path in (f"/sit/{served.token}", f"/sit/{served.token}/save", "/room/sitting.js"):
        assert served.ask(method, path, b"{}", JSON)[0] == 405


def test_acts_are_no_pages_and_pages_no_acts(served):
    assert served.ask("GET", f"/sit/{served.token}/save")[0] == 404
    assert served.ask("GET", f"/sit/{served.token}/print")[0] == 404  # not before the start
    assert served.post("print", {})[0] == 404
    assert served.ask("POST", "/room/sitting.js", b"{}", JSON)[0] == 405
    served.post("start", {})
    status, _, body = served.ask("GET", f"/sit/{served.token}/print")
    assert status == 200 and b"Answer sheet" in body


@pytest.mark.parametrize("kind", [None, "text/plain", "application/x-www-form-urlencoded", "application/jsonp"])
def test_other_content_types_are_refused(served, kind):
    status, _, body = served.ask("POST", f"/sit/{served.token}/start", b"{}", {"Content-Type": kind} if kind else {})
    assert status == 415 and b"application/json" in body


def test_a_form_with_parts_is_refused(served):
    body = b'--x\r\nContent-Disposition: form-data; name="a"\r\n\r\n1\r\n--x--\r\n'
    kind = {"Content-Type": "multipart/form-data; boundary=x"}
    assert served.ask("POST", f"/sit/{served.token}/start", body, kind)[0] == 415


@pytest.mark.parametrize("body", [b"", b"[]", b"null", b"{", b"\xff", b'{"slot": NaN}', b"[" * 5000, b'{"a":' * 3000])
def test_a_body_that_is_no_object_is_refused(served, body):
    assert served.ask("POST", f"/sit/{served.token}/save", body, JSON)[0] == 400


@pytest.mark.parametrize("sent", [
    {}, {"slot": "1", "revision": 1, "typed": "B", "confirmed": False}, {"slot": 1.5, "revision": 1, "confirmed": True},
    {"slot": 1, "revision": True, "typed": "B", "confirmed": False}, {"slot": 1, "revision": 1, "typed": "B"},
    {"slot": 1, "revision": None, "typed": "B", "confirmed": False}])
def test_a_save_of_the_wrong_form_is_refused(served, sent):
    served.post("start", {})
    status, said = served.post("save", sent)
    assert status == 400 and said["ok"] is False


def test_too_much_is_refused(served):
    big = json.dumps({"slot": 1, "revision": 1, "typed": "x" * BODY_LIMIT, "confirmed": False}).encode()
    assert served.ask("POST", f"/sit/{served.token}/save", big, JSON)[0] == 413
    huge = {"Content-Length": str(10**9)} | JSON
    assert served.ask("POST", f"/sit/{served.token}/save", b"", huge)[0] in (400, 413)  # no body: one sent after the room has closed may cost its answer


@pytest.mark.parametrize("headers", [{"Origin": "http://elsewhere.example"}, {"Origin": "null"},
                                     {"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}])
def test_another_page_cannot_save(served, headers):
    assert served.post("start", {}, **headers)[0] == 403
    assert served.post("state", {"window": "0" * 16})[1]["state"]["started"] is False


def test_the_page_asks_nothing_from_outside_and_runs_no_inline_script(served):
    served.post("start", {})
    status, headers, body = served.ask("GET", f"/sit/{served.token}")
    policy = headers["Content-Security-Policy"]
    assert "script-src 'self';" in policy and "unsafe" not in policy and "http" not in policy
    page = body.decode()
    assert set(re.findall(r'<script type="module" src="([^"]+)"', page)) == {"/room/sitting.js"}
    assert re.findall(r"<script(?![^>]*(?:src=|application/json))", page) == []
    assert not re.search(r"https?://", re.sub(r"http://www\.w3\.org/[^\"\\ ]*", "", page))
    for header in ("X-Content-Type-Options", "Referrer-Policy", "Cache-Control"):
        assert header in headers


def test_names_and_answers_stand_escaped_in_the_page(tmp_path):
    from room.a_room import Room

    held = a_class.set_class(tmp_path, roster=[{"id": "x", "name": "<script>X</script>"}])
    with Room(held) as room:
        room.post("start", {})
        slot = slot_of(room, "number")
        room.post("save", {"slot": slot, "revision": 1, "typed": "</script><script>Y", "confirmed": False})
        page = room.ask("GET", f"/sit/{room.token}")[2].decode()
    assert "<script>X" not in page and "</script><script>Y" not in page


def test_the_later_window_is_told_and_a_closed_one_is_forgotten(served):
    first, second = "1" * 16, "2" * 16
    assert served.post("state", {"window": first})[1]["windows"] == {"others": 0, "later": False}
    assert served.post("state", {"window": second})[1]["windows"] == {"others": 1, "later": True}
    assert served.post("state", {"window": first})[1]["windows"] == {"others": 1, "later": False}
    served.post("leave", {"window": first})
    assert served.post("state", {"window": second})[1]["windows"] == {"others": 0, "later": False}


def test_two_windows_lose_nothing(served):
    served.post("start", {})
    slot = slot_of(served, "one choice")
    assert served.post("save", {"slot": slot, "revision": 1, "typed": "B", "confirmed": True})[0] == 200
    status, said = served.post("save", {"slot": slot, "revision": 1, "typed": "C", "confirmed": True})
    assert status == 409 and said["conflict"] and said["state"]["answers"][str(slot)]["typed"] == "B"
    journal = (served.held.room / "answers" / f"{served.held.issued[0].paper_id}.jsonl").read_text()
    assert journal.count('"set aside"') == 1 and '"typed":"C"' in journal


def test_a_save_is_answered_with_the_headers_of_every_other_answer(served):
    served.post("start", {})
    good = {"slot": slot_of(served, "one choice"), "revision": 1, "typed": "B", "confirmed": True}
    answers = [served.ask("POST", f"/sit/{served.token}/save", json.dumps(sent).encode(), JSON) for sent in (good, good, {})]
    assert [status for status, _, _ in answers] == [200, 200, 400]
    first, again, refused = ({name: value for name, value in headers.items() if name not in ("Date", "Content-Length")}
                             for _, headers, _ in answers)
    assert first == again == refused and "Content-Security-Policy" in first and answers[0][2] == answers[1][2]


@pytest.mark.parametrize("call", ["write", "fsync"])
def test_a_disk_that_takes_nothing_is_said_and_nothing_is_confirmed(served, monkeypatch, call):
    served.post("start", {})
    journal = served.held.room / "answers" / f"{served.held.issued[0].paper_id}.jsonl"
    before = journal.read_bytes()

    def full(*given):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, call, full)
        status, said = served.post("save", {"slot": slot_of(served, "one choice"), "revision": 1, "typed": "B",
                                            "confirmed": True})
    assert status == 507 and "could NOT be saved" in said["said"] and journal.read_bytes() == before
    assert served.post("save", {"slot": slot_of(served, "one choice"), "revision": 1, "typed": "B", "confirmed": True})[0] == 200


def test_no_token_is_written_to_the_log(served, monkeypatch, caplog):
    from rigcalc.room.sitting import Sitting

    monkeypatch.setattr(Sitting, "start", lambda self: 1 / 0)
    assert served.post("start", {})[0] == 500
    assert "ZeroDivisionError" in caplog.text and served.token not in caplog.text


def test_the_room_opens_nothing_of_the_desk(served, monkeypatch):
    served.held.desk.rename(served.held.desk.with_name("elsewhere"))
    served.post("start", {})
    assert served.post("save", {"slot": slot_of(served, "one choice"), "revision": 1, "typed": "B", "confirmed": True})[0] == 200
    assert not served.held.desk.exists()
