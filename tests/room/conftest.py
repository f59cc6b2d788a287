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
