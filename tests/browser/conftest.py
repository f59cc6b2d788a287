"""The browser tests' house: a Chromium that reaches this machine only, and the three processes in a home of their own.

With RIGCALC_SCREENSHOTS set to a folder, every picture a test takes is stored there; else none is.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from chromium import find_chromium
from house import start

DESKTOP, TABLET = {"width": 1280, "height": 800}, {"width": 820, "height": 1180}
HERE = re.compile(r"(https?|wss?)://127\.0\.0\.1[:/]|data:|blob:|about:")


def pytest_configure(config):
    """Give each parallel worker ports of its own."""
    worker = os.environ.get("PYTEST_XDIST_WORKER", "gw0")
    config.first_port = 8910 + 40 * int(worker.removeprefix("gw") or 0)


class Guard:
    """Hears every request and every script error of a context."""

    def __init__(self, context) -> None:
        self.outside: list[str] = []
        self.errors: list[str] = []
        context.on("request", lambda request: self._heard(request.url))
        context.on("page", self._watch)

    def _watch(self, page) -> None:
        page.on("websocket", lambda socket: self._heard(socket.url))
        page.on("pageerror", lambda error: self.errors.append(str(error)))

    def _heard(self, address: str) -> None:
        if not HERE.match(address):
            self.outside.append(address)

    def ended(self) -> tuple[list[str], list[str]]:
        """What was asked outside and which scripts failed until now; from here on it hears for the next visitor."""
        heard = self.outside, self.errors
        self.outside, self.errors = [], []
        return heard


def new_context(chromium, viewport=None, touch: bool = False):
    context = chromium.new_context(viewport=viewport or (TABLET if touch else DESKTOP), has_touch=touch, accept_downloads=True)
    context.set_default_timeout(20_000)
    return context


def all_well(guards: list[Guard]) -> None:
    """Nothing outside this machine was asked, and no script failed."""
    heard = [guard.ended() for guard in guards]
    assert [outside for outside, _ in heard if outside] == [], "something outside this machine was asked"
    assert [errors for _, errors in heard if errors] == [], "a page's own script failed"


@contextmanager
def visitors(chromium) -> Iterator:
    """Makes visitors while it is open; at its end nothing outside this machine may have been asked."""
    contexts, guards = [], []

    def make(viewport=None, touch: bool = False):
        context = new_context(chromium, viewport, touch)
        contexts.append(context)
        guards.append(Guard(context))
        return context.new_page()

    yield make
    for context in contexts:
        context.close()
    all_well(guards)


class Returning:
    """Visitors of the workbook's pages: each a page of its own, without cookies at first, in a browser that kept the front end's scripts."""

    def __init__(self, chromium) -> None:
        self.chromium, self.free = chromium, {False: [], True: []}

    @contextmanager
    def visitors(self) -> Iterator:
        taken = []

        def make(touch: bool = False):
            context, guard = self.free[touch].pop() if self.free[touch] else self._another(touch)
            taken.append((touch, context, guard))
            return context.new_page()

        yield make
        for touch, context, guard in taken:
            for page in context.pages:
                page.close()
            context.clear_cookies()
            self.free[touch].append((context, guard))
        all_well([guard for _, _, guard in taken])

    def _another(self, touch: bool):
        context = new_context(self.chromium, touch=touch)
        return context, Guard(context)


@pytest.fixture(scope="session")
def returning(chromium):
    return Returning(chromium)


@pytest.fixture
def visit(chromium):
    """Makes visitors: `visit(touch=True)` is a page of a new browser context, with cookies of its own."""
    with visitors(chromium) as make:
        yield make


@pytest.fixture(scope="module")
def visit_all_along(returning):
    """Makes visitors of the workbook who stay for the whole module."""
    with returning.visitors() as make:
        yield make


@pytest.fixture
def visit_workbook(returning):
    """Makes visitors of the workbook, with cookies of their own."""
    with returning.visitors() as make:
        yield make


@pytest.fixture
def page(visit_workbook):
    """One visitor of the workbook at a desktop screen."""
    return visit_workbook()


@pytest.fixture
def tablet(visit_workbook):
    """One visitor of the workbook at a tablet, by touch."""
    return visit_workbook(touch=True)


@pytest.fixture
def picture(request):
    """`picture(page, "name")` stores a whole-page picture when a folder is asked for."""
    folder = os.environ.get("RIGCALC_SCREENSHOTS")

    def take(page, name: str) -> None:
        if folder:
            Path(folder).mkdir(parents=True, exist_ok=True)
            page.screenshot(path=Path(folder) / f"{name}_{page.viewport_size['width']}.png", full_page=True)

    return take


# --- The processes --------------------------------------------------------------------------------

@pytest.fixture(scope="module")
def home(tmp_path_factory):
    """A home that the module's desk and room share and the test throws away."""
    return tmp_path_factory.mktemp("home")


@pytest.fixture(scope="session")
def workbook_home(tmp_path_factory):
    """The home of the one workbook; who puts a file there takes it away again."""
    return tmp_path_factory.mktemp("workbook")


@pytest.fixture(scope="session")
def workbook(workbook_home, request):
    """The learners' workbook, without a desk, the same for all tests of a worker; `.address` has the token, `.base` has not."""
    process = start(workbook_home, "open", "--no-browser", "--no-desk", "--port", str(request.config.first_port))
    try:
        process.address, process.base = process.wait_for(r"((http://127\.0\.0\.1:\d+)/\?token=[\w-]+)").groups()
        yield process
    finally:
        process.stop()


@pytest.fixture(scope="module")
def desk(home, request):
    """The assessor's desk; `.base` is its address and `.token` what is typed at its sign-in page."""
    process = start(home, "desk", "--no-browser", "--port", str(request.config.first_port + 10))
    try:
        process.base = process.wait_for(r"http://127\.0\.0\.1:\d+")[0]
        process.token = process.wait_for(r"token=([\w-]{20,})")[1]  # one of 64 begins with a hyphen
        yield process
    finally:
        process.stop()


@pytest.fixture(scope="module")
def room(home, request):
    """The room, over the same home's room folder."""
    process = start(home, "room", "--port", str(request.config.first_port + 20))
    try:
        process.base = process.wait_for(r"http://127\.0\.0\.1:\d+")[0]
        yield process
    finally:
        process.stop()


def pytest_report_header(config):
    return f"chromium: {find_chromium() or 'none'}; python {sys.version.split()[0]}"
