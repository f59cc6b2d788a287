"""A built wheel opens as well as the checkout: lessons and quizzes travel inside it, and no page of it looks into the desk's folder."""

from __future__ import annotations

import os
import subprocess
import sys
import sysconfig
import urllib.request
import venv
import zipfile
from pathlib import Path
from types import SimpleNamespace

import pytest
from house import Process, environment
from many import many

from rigcalc.opening.shelf import lessons, sheets

ROOT = Path(__file__).resolve().parent.parent
SCRIPTS = "Scripts" if os.name == "nt" else "bin"
# Every cell of every notebook is run by the part notebooks; here the first and the last lesson are opened, and every one in the whole run.
SHEETS = (*lessons(ROOT)[::many(12, 1)], *sheets("quizzes", ROOT))


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """The wheel, built from this checkout without asking the network."""
    folder = tmp_path_factory.mktemp("dist")
    built = subprocess.run([sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT)],
                           capture_output=True, text=True)
    assert built.returncode == 0, built.stdout + built.stderr
    (file,) = folder.glob("*.whl")
    return file


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory):
    """The wheel in an environment of its own, which borrows only what the package needs from this one."""
    folder = tmp_path_factory.mktemp("venv")
    venv.create(folder, with_pip=False)
    python = folder / SCRIPTS / ("python.exe" if os.name == "nt" else "python")
    done = subprocess.run([sys.executable, "-m", "pip", "--python", str(python), "install", "-q", "--no-compile", "--no-deps",
                           "--no-index", "--disable-pip-version-check", str(wheel)], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    (site,) = folder.rglob("site-packages")
    (site / "borrowed.pth").write_text(sysconfig.get_paths()["purelib"] + "\n")
    return folder


def test_the_wheel_holds_every_lesson_quiz_and_data_file(wheel):
    held = set(zipfile.ZipFile(wheel).namelist())
    wanted = {f"rigcalc/_workbook/{file.relative_to(ROOT).as_posix()}" for room in ("lessons", "quizzes")
              for file in (ROOT / room).rglob("*") if _travels(file)}
    wanted |= {file.relative_to(ROOT).as_posix() for file in (ROOT / "rigcalc").rglob("*") if _travels(file)}
    assert len(wanted) > 40 and not wanted - held


def _travels(file: Path) -> bool:
    hidden = any(part.startswith(".") or part == "__pycache__" for part in file.relative_to(ROOT).parts)
    return file.is_file() and not hidden


WATCH = """
import os, sys
watched, log = os.environ["WATCHED"], os.environ["WATCH_LOG"]
if "desk" not in sys.orig_argv:
    def seen(event, args):
        if event in ("open", "os.listdir", "os.scandir", "os.mkdir", "os.rename", "os.remove", "os.chmod") and args:
            path = args[0]
            if isinstance(path, (str, bytes, os.PathLike)) and os.path.abspath(os.fsdecode(path)).startswith(watched):
                handle = os.open(log, os.O_WRONLY | os.O_APPEND | os.O_CREAT)
                os.write(handle, f"{sys.orig_argv} {event} {args}\\n".encode())
                os.close(handle)
    sys.addaudithook(seen)
"""


@pytest.fixture(scope="module")
def opened(installed, tmp_path_factory):
    """The texts of every page of the installed workbook, and what of the desk's folder was seen opened meanwhile.

    Every file opened by the workbook and its kernels is watched, while the desk runs beside them.
    """
    hooks, home = tmp_path_factory.mktemp("hooks"), tmp_path_factory.mktemp("home")
    (hooks / "sitecustomize.py").write_text(WATCH)
    watch = {"PYTHONPATH": str(hooks), "WATCHED": str(home / "desk"), "WATCH_LOG": str(hooks / "log")}
    share = {"JUPYTER_PATH": str(Path(sysconfig.get_path("data")) / "share" / "jupyter")}
    process = Process([str(installed / SCRIPTS / "rigcalc"), "open", "--no-browser", "--port", "8900"], environment(home, **share, **watch))
    try:
        address, base = process.wait_for(r"((http://127\.0\.0\.1:\d+)/\?token=[\w-]+)").groups()
        visitor = urllib.request.build_opener(urllib.request.ProxyHandler({}), urllib.request.HTTPCookieProcessor())
        pages = {"/": _text(visitor, address)}
        for path in ("/learn", "/teach", "/assess", *(sheet.address for sheet in SHEETS)):
            pages[path] = _text(visitor, f"{base}{path}")
        yield SimpleNamespace(pages=pages, home=home, log=hooks / "log", watch=watch)
    finally:
        process.stop()


def _text(visitor, address: str) -> str:
    with visitor.open(address, timeout=60) as answer:
        return answer.read().decode()


def test_the_installed_workbook_opens_its_first_page_and_finds_its_shelf(opened):
    assert "Cable assembly workbook" in opened.pages["/"]
    assert lessons(ROOT) and all(f'href="{lesson.address}"' in opened.pages["/learn"] for lesson in lessons(ROOT))
    for sheet in SHEETS:
        text = opened.pages[sheet.address]
        assert text.rstrip().endswith("</html>") and "page-broke" not in text


def test_the_learners_process_never_opens_the_desks_folder(opened):
    assert (opened.home / "desk").is_dir(), "the desk runs and has made its folder"
    assert not opened.log.exists(), opened.log.read_text()
    probe = subprocess.run([sys.executable, "-c", f"open({str(opened.home / 'desk' / 'x')!r}, 'w').close()"], env=os.environ | opened.watch)
    assert probe.returncode == 0 and opened.log.exists(), "the watch sees what it should"


def test_the_installed_package_is_the_wheel_and_not_the_checkout(installed, tmp_path):
    asked = "import rigcalc.home as h, rigcalc; print(rigcalc.__file__); print(h.installed_folder())"
    said = subprocess.run([str(installed / SCRIPTS / "python"), "-c", asked], cwd=tmp_path, capture_output=True, text=True)
    assert said.returncode == 0, said.stderr
    assert all(line.startswith(str(installed)) for line in said.stdout.split("\n") if line)
