"""`rigcalc open` and `rigcalc edit`, each as a process of its own, as a person starts them."""

from __future__ import annotations

import http.cookiejar
import json
import os
import re
import signal
import socket
import subprocess
import time
import urllib.error
import urllib.request

import pytest
from house import rigcalc, start

from rigcalc.opening.editor import editor_command, editor_environment
from rigcalc.opening.shelf import lessons

ADDRESS = r"for learners and the projector: (http://127\.0\.0\.1:(\d+)/\?token=[\w-]+)"


class Visitor:
    """A browser's worth of cookies and redirects, and nothing of a browser."""

    def __init__(self) -> None:
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self.opener = urllib.request.build_opener(urllib.request.ProxyHandler({}), jar)

    def get(self, address: str, **headers: str) -> tuple[int, str, str]:
        """Status, final address and text."""
        try:
            with self.opener.open(urllib.request.Request(address, headers=headers), timeout=60) as answer:
                return answer.status, answer.url, answer.read().decode()
        except urllib.error.HTTPError as answer:
            with answer:
                return answer.code, answer.url, answer.read().decode()


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """One open workbook without a desk, and its address with the token."""
    home = tmp_path_factory.mktemp("home")
    process = start(home, "open", "--no-browser", "--no-desk", "--port", "8840")
    address, port = process.wait_for(ADDRESS).groups()
    process.address, process.base, process.home = address, f"http://127.0.0.1:{port}", home
    yield process
    process.stop()


@pytest.fixture
def visitor(house):
    """A visitor who came with the token."""
    visitor = Visitor()
    assert visitor.get(house.address)[0] == 200
    return visitor


@pytest.fixture(scope="module")
def lesson_page(house):
    """A visitor and the first lesson's page, as it is before anybody has a working copy."""
    visitor = Visitor()
    visitor.get(house.address)
    return visitor, *visitor.get(house.base + lessons()[0].address)


def alive(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


# --- The door -------------------------------------------------------------------------------------

def test_without_the_token_no_page_is_shown(house):
    for path in ("/", "/learn", "/teach", "/assess", f"{lessons()[0].address}"):
        status, _, text = Visitor().get(house.base + path)
        assert status == 403 and "Three doors" not in text and "window where the workbook was opened" in text


def test_with_the_token_the_first_page_opens_and_the_token_leaves_the_address(house):
    status, address, text = Visitor().get(house.address)
    assert (status, address) == (200, house.base + "/")
    assert "<title>Cable assembly workbook</title>" in text
    assert all(f"<strong>{door}</strong>" in text for door in ("Learn", "Teach", "Assess"))


def test_the_first_page_says_what_governs(house, visitor):
    from rigcalc.cautions import CAUTIONS
    from rigcalc.pages import escape
    from rigcalc.shop import load_shop

    text = visitor.get(house.base + "/")[2]
    assert all(escape(caution) in text for caution in CAUTIONS)
    assert "INVENTED" in text and escape(load_shop().chart_line()) in text


def test_another_host_name_is_turned_away(house, visitor):
    assert visitor.get(house.base + "/", Host="workbook.example:8840")[0] == 403


@pytest.mark.parametrize("path", [
    "/voila/tree", "/voila/tree/lessons", "/voila/render/lessons/05_forming_an_eye.ipynb", "/voila/api/contents",
    "/voila/files/lessons/05_forming_an_eye.ipynb", "/api/contents", "/files/pyproject.toml", "/tree", "/lab",
    "/lessons/", "/lessons/..%2f..%2fetc%2fpasswd", "/quizzes/families", "/desk", "/working", "/api/sessions",
])
def test_no_other_address_gives_anything(house, visitor, path):
    status, _, text = visitor.get(house.base + path)
    assert status == 404 and "nbformat" not in text


def test_the_kernels_list_is_not_given(house, visitor):
    assert visitor.get(house.base + "/api/kernels")[0] == 404


def test_the_answer_to_a_second_start_holds_no_token(house):
    status, _, text = Visitor().get(house.base + "/here")
    assert status == 200 and text == f"Cable assembly workbook, process {house.popen.pid}"


# --- Lessons --------------------------------------------------------------------------------------

def test_a_lesson_shows_no_code_and_asks_no_other_host(lesson_page):
    _, status, _, text = lesson_page
    assert status == 200 and text.rstrip().endswith("</html>")
    assert 'class="highlight"' not in text and "In [" not in text
    assert "https://" not in text.split("<main")[0]


def test_the_shelf_lists_every_lesson_and_the_practice_paper(house, visitor):
    text = visitor.get(house.base + "/learn")[2]
    assert all(f'href="{lesson.address}"' in text for lesson in lessons())
    assert 'href="/quizzes/practice_paper"' in text


def test_a_page_cannot_run_code(house, lesson_page):
    """An execute request on the page's own channel does nothing; the kernel answers what was asked after it, in turn."""
    import asyncio

    from tornado.httpclient import HTTPRequest
    from tornado.websocket import websocket_connect

    visitor, _, _, text = lesson_page
    kernel = json.loads(text.split('id="jupyter-config-data" type="application/json">')[1].split("</script>")[0])["kernelId"]
    cookies = next(handler.cookiejar for handler in visitor.opener.handlers if hasattr(handler, "cookiejar"))
    header = {"msg_type": "execute_request", "msg_id": "m", "session": "s", "username": "", "version": "5.3", "date": ""}
    trace = house.home / "ran"
    message = {"header": header, "parent_header": {}, "metadata": {}, "channel": "shell",
               "content": {"code": f"open({str(trace)!r}, 'w')", "silent": False, "store_history": False}}
    after = message | {"header": header | {"msg_type": "kernel_info_request", "msg_id": "n"}, "content": {}}

    async def ask():
        request = HTTPRequest(f"ws{house.base[4:]}/api/kernels/{kernel}/channels",
                              headers={"Cookie": "; ".join(f"{c.name}={c.value}" for c in cookies)})
        connection = await websocket_connect(request)
        await connection.write_message(json.dumps(message))
        await connection.write_message(json.dumps(after))
        while json.loads(await asyncio.wait_for(connection.read_message(), 30))["parent_header"].get("msg_id") != "n":
            pass
        connection.close()
        while await connection.read_message() is not None:
            pass  # until the other end has closed too: else the socket outlives this loop and fails a later test

    asyncio.run(ask())
    assert not trace.exists()


def test_the_working_copy_is_shown_and_said(house, visitor, lesson_page):
    from rigcalc.opening.working import make_copy

    lesson = lessons()[0]
    assert "working copy" not in lesson_page[3]
    copy = make_copy(lesson, house.home / "working")
    notebook = json.loads(copy.read_text(encoding="utf-8"))
    notebook["cells"][0]["source"] = "# Our own eye\n\nThe scene of our own bench."
    copy.write_text(json.dumps(notebook), encoding="utf-8")
    text, teach, before = visitor.get(house.base + lesson.address)[2], visitor.get(house.base + "/teach")[2], lesson.full_title
    copy.unlink()
    assert "The scene of our own bench." in text and "trainer's working copy" in text
    row = teach.split(f'<a href="{lesson.address}">', 1)[1].split("</th>")[0]
    assert before in row and "(the trainer's working copy)" in row.replace("&#x27;", "'") and "(the trainer's working copy)" not in visitor.get(house.base + "/teach")[2]


# --- Starting and stopping ------------------------------------------------------------------------

def test_a_second_start_names_the_open_workbook(house):
    again = rigcalc(house.home, "open", "--no-browser", "--no-desk", "--port", "8840")
    assert again.returncode == 0 and again.stdout == f"The workbook is already open at {house.address}\n"


def test_a_stale_file_a_taken_port_and_a_desk_that_cannot_start_are_said_and_the_lessons_open(tmp_path):
    (tmp_path / "desk").write_text("a file stands where the desk's folder should be")
    with socket.socket() as used:
        used.bind(("127.0.0.1", 0))
        used.listen()
        port = used.getsockname()[1]
        (tmp_path / "open.json").write_text(json.dumps({"pid": 1, "port": port + 900, "address": "http://127.0.0.1:1/"}))
        process = start(tmp_path, "open", "--no-browser", "--port", str(port))
        try:
            visitor = Visitor()
            address, taken = process.wait_for(ADDRESS).groups()
            assert int(taken) > port and f"Port {port} is in use" in process.text
            assert "The assessor's desk could not be started" in process.text and "Traceback" not in process.text
            assert visitor.get(address)[0] == 200
            assert "The desk is not running" in visitor.get(f"http://127.0.0.1:{taken}/assess")[2]
        finally:
            process.stop()


@pytest.fixture(scope="module")
def beside_a_desk(tmp_path_factory):
    """An open workbook with its desk, and a visitor who has seen its first page. The last test that asks for it ends it."""
    process = start(home := tmp_path_factory.mktemp("home"), "open", "--no-browser", "--port", "8850")
    address, port = process.wait_for(ADDRESS).groups()
    process.base, process.home, process.visitor = f"http://127.0.0.1:{port}", home, Visitor()
    process.visitor.get(address)
    yield process
    process.stop()


def test_the_desks_token_is_not_on_the_learners_pages(beside_a_desk):
    text = beside_a_desk.visitor.get(f"{beside_a_desk.base}/assess")[2]
    assert "http://127.0.0.1:87" in text or "http://127.0.0.1:88" in text
    assert "token=" not in text


def test_ctrl_c_ends_everything_it_started(beside_a_desk):
    process = beside_a_desk
    process.visitor.get(process.base + lessons()[0].address)
    children = [int(pid) for pid in subprocess.run(["pgrep", "-P", str(process.popen.pid)], capture_output=True, text=True).stdout.split()]
    assert len(children) == 2, "a kernel and the desk"
    assert process.interrupt() == 0 and "The workbook is closed." in process.wait_for("closed").string
    until = time.monotonic() + 0.3
    while any(alive(pid) for pid in children) and time.monotonic() < until:
        time.sleep(0.02)
    assert not [pid for pid in children if alive(pid)]
    assert not (process.home / "open.json").exists()


@pytest.mark.parametrize("words", [("open", "--port", "80"), ("open", "--port", "x"), ("open", "--colour"), ("edit", "99"), ("edit",)])
def test_a_wrong_word_gets_one_sentence(tmp_path, words):
    said = rigcalc(tmp_path, *words)
    assert said.returncode == 2 and said.stderr.startswith("Refused: ") and said.stderr.count("\n") == 1


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="folder modes are a POSIX matter")
def test_a_home_that_cannot_be_made_is_one_sentence_and_the_workbook_opens(tmp_path):
    (tmp_path / "file").write_text("")
    process = start(tmp_path / "file" / "home", "open", "--no-browser", "--no-desk", "--port", "8890")
    try:
        address = process.wait_for(ADDRESS)[1]
        assert "cannot be written" in process.lines[0] and "Traceback" not in process.text
        assert Visitor().get(address)[0] == 200
    finally:
        process.stop()


# --- The editor -----------------------------------------------------------------------------------

def test_the_editor_is_quiet_and_rooted_in_the_working_folder(tmp_path):
    copy = tmp_path / "lessons" / "05_forming_an_eye.ipynb"
    words = " ".join(editor_command(copy, tmp_path, browser=False))
    for word in ("--LabApp.news_url=None", "jupyterlab.NeverCheckForUpdate", "extension_manager=readonly",
                 f"--ServerApp.root_dir={tmp_path}", "/lab/tree/lessons/05_forming_an_eye.ipynb"):
        assert word in words
    assert editor_environment(tmp_path)["JUPYTER_CONFIG_DIR"].startswith(str(tmp_path))
    asked = next(tmp_path.rglob("notification.jupyterlab-settings"))
    assert json.loads(asked.read_text())["fetchNews"] == "false"
    asked.write_text('{"fetchNews": "true"}')
    editor_environment(tmp_path)
    assert asked.read_text() == '{"fetchNews": "true"}'  # chosen by somebody since


@pytest.fixture(scope="module")
def editor(tmp_path_factory):
    """An editor with the first lesson. The last test that asks for it ends it."""
    home = tmp_path_factory.mktemp("home")
    process = start(home, "edit", lessons()[0].number, "--no-browser")
    process.home = home
    yield process
    process.stop()


def test_edit_makes_a_copy_and_opens_it(editor):
    address = editor.wait_for(r"http://127\.0\.0\.1:\d+/lab/tree/\S+token=\w+")[0]
    assert (editor.home / "working" / lessons()[0].key).is_file()
    assert "Traceback" not in editor.text
    base, token = address.split("/lab")[0], address.split("token=")[1]
    opened = Visitor().get(f"{base}/api/contents/{lessons()[0].key}?token={token}")
    assert opened[0] == 200 and json.loads(opened[2])["type"] == "notebook"
    assert Visitor().get(f"{base}/voila/tree?token={token}")[0] == 404


@pytest.mark.skipif(not hasattr(signal, "SIGHUP"), reason="a closed terminal is a POSIX signal")
def test_the_editor_ends_with_its_terminal_and_a_second_start_names_it(editor):
    address = editor.wait_for(r"Open this address: (http://127\.0\.0\.1:\S+token=\w+)")[1]
    editor.wait_for("Stop the editor")
    assert "file://" not in editor.text and len(editor.lines) == 3
    children = subprocess.run(["pgrep", "-P", str(editor.popen.pid)], capture_output=True, text=True).stdout.split()
    again = rigcalc(editor.home, "edit", lessons()[0].number, "--no-browser")
    assert again.returncode == 0 and f"already open; this copy is at {address}\n" in again.stdout
    editor.popen.send_signal(signal.SIGHUP)  # to this process only, not to its group
    assert editor.popen.wait(20) == 0
    assert len(children) == 1 and not alive(int(children[0]))
    assert not (editor.home / "editor.json").exists()


def test_the_assessors_notebook_is_edited_and_no_learners_page_shows_it(house, visitor):
    from rigcalc.opening.shelf import assessors_sheets
    from rigcalc.opening.working import make_copy

    (sheet,) = assessors_sheets()
    copy = make_copy(sheet, house.home / "working")
    notebook = json.loads(copy.read_text(encoding="utf-8"))
    notebook["cells"][0]["source"] = "# Changed by the assessor"
    copy.write_text(json.dumps(notebook), encoding="utf-8")
    try:
        for path in (sheet.address, f"{sheet.address}.ipynb", "/lessons/marking", f"/working{sheet.address}.ipynb"):
            status, _, text = visitor.get(house.base + path)
            assert status == 404 and "Changed by the assessor" not in text and "InventedMarking" not in text
        assert not any(sheet.address in visitor.get(house.base + door)[2] for door in ("/", "/learn", "/teach", "/assess"))
        assert visitor.get(house.base + lessons()[0].address)[0] == 200
    finally:
        copy.unlink()


def test_edit_lists_and_opens_the_assessors_notebook(tmp_path):
    assert re.search(r"marking +Marking the returned papers", rigcalc(tmp_path, "edit").stdout)
    process = start(tmp_path, "edit", "marking", "--no-browser")
    try:
        process.wait_for(r"http://127\.0\.0\.1:\d+/lab/tree/quizzes/marking\.ipynb\?token=\w+")
        assert (tmp_path / "working" / "quizzes" / "marking.ipynb").is_file() and not (tmp_path / "desk").exists()
        process.wait_for("No learners' page shows this notebook.")
        assert process.interrupt() == 0
    finally:
        process.stop()
