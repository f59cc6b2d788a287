import shutil
from types import SimpleNamespace

import pytest

from papers import a_class
from chromium import chromium_started
from room.a_room import Room
from room.a_sitting import Sat


@pytest.fixture(scope="session")
def as_set(tmp_path_factory):
    """The folder of a class whose papers were just set, and what was issued."""
    folder = tmp_path_factory.mktemp("class")
    return folder, a_class.set_class(folder).issued


@pytest.fixture
def held(as_set, tmp_path):
    """That class in a folder of the test's own."""
    folder, issued = as_set
    shutil.copytree(folder, tmp_path, dirs_exist_ok=True)
    room, desk = tmp_path / "room", tmp_path / "desk"
    return SimpleNamespace(room=room, desk=desk, keys=desk / "keys", returned=room / "returned", issued=list(issued))


@pytest.fixture
def served(held):
    with Room(held) as room:
        yield room


@pytest.fixture(scope="module")
def browser():
    with chromium_started() as chromium:
        yield chromium


@pytest.fixture
def sat(browser, served):
    made = Sat(browser, served)
    yield made
    all_reloaded(browser)
    for context in browser.contexts:
        context.close()
    assert made.wrong == []


def all_reloaded(browser) -> None:
    """Waits for the receipt in every window of a paper handed in: closed in the middle of the reload, Chromium can hang for good."""
    pages = [page for context in browser.contexts for page in context.pages]
    handed_in = {page.url for page in pages if page.locator("#receipt").count()}
    for page in pages:
        if page.url in handed_in:
            page.locator("#receipt").wait_for()
            page.wait_for_load_state()
