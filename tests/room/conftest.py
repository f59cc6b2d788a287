import pytest

from papers import a_class
from chromium import chromium_started
from room.a_room import Room
from room.a_sitting import Sat


@pytest.fixture
def held(tmp_path):
    return a_class.set_class(tmp_path)


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
    for context in browser.contexts:
        context.close()
    assert made.wrong == []
