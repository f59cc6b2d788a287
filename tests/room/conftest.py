import shutil
from types import SimpleNamespace

import pytest

from papers import a_class
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


@pytest.fixture
def sat(chromium, served):
    others = list(chromium.contexts)
    made = Sat(chromium, served)
    yield made
    contexts = [one for one in chromium.contexts if one not in others]
    all_reloaded(contexts)
    for context in contexts:
        context.close()
    assert made.wrong == []


def all_reloaded(contexts) -> None:
    """Waits for the receipt in every window of a paper handed in: closed in the middle of the reload, Chromium can hang for good."""
    pages = [page for context in contexts for page in context.pages]
    handed_in = {page.url for page in pages if page.locator("#receipt").count()}
    for page in pages:
        if page.url in handed_in:
            page.locator("#receipt").wait_for()
            page.wait_for_load_state()
