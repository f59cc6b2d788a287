"""Which tests share a worker, and in which order: a file stays on one worker, and the slowest files come first."""

from __future__ import annotations

import gc

import pytest
from chromium import NOWHERE, chromium_started

from rigcalc.opening.quick_import import jsonschema_without_grammars

jsonschema_without_grammars()  # before a test file imports nbformat

# The last file to start decides when a run ends, so these start first. The rest follows as it was found.
SLOWEST = ("browser/test_issue_to_certificate.py", "browser/test_opening.py", "browser/test_projector.py", "room/test_sitting_page.py", "bench/test_words_sent.py", "bench/test_tablet.py", "browser/test_form.py", "room/test_two_windows.py",
           "browser/test_lessons.py", "browser/test_board_hand.py", "browser/test_names.py", "browser/test_lesson_10.py",
           "opening/test_commands.py", "questions/test_fairness.py", "test_wheel.py",
           "questions/test_families.py", "desk/test_work.py", "notebooks/test_other_shops.py",
           "papers/test_secrecy.py", "shop/test_load.py", "papers/test_of_shop.py", "demonstration/test_making.py", "desk/test_pages.py")
APART = ("browser/test_lessons.py",)  # each of its tests stands alone, so that both workers take some


@pytest.hookimpl(wrapper=True)
def pytest_collection(session):
    """What is collected stays to the end, so it is looked through for litter once, and not again and again."""
    gc.disable()
    try:
        return (yield)
    finally:
        gc.enable()
        gc.collect()
        gc.freeze()
        gc.set_threshold(5_000, 10, 10)


@pytest.fixture(scope="session")
def chromium():
    """A Chromium without windows that reaches this machine only, one for all tests of a worker; where there is none the tests fail."""
    with chromium_started(NOWHERE) as browser:
        yield browser


def _place(item) -> int:
    return next((at for at, name in enumerate(SLOWEST) if item.path.as_posix().endswith(f"tests/{name}")), len(SLOWEST))


def pytest_collection_modifyitems(items) -> None:
    items.sort(key=_place)  # a stable sort


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    if config.getvalue("dist") != "loadfile":
        return None
    from xdist.scheduler import LoadFileScheduling

    class ByFile(LoadFileScheduling):
        def _split_scope(self, nodeid: str) -> str:
            file = super()._split_scope(nodeid)
            return nodeid if file.endswith(APART) else file

    return ByFile(config, log)
