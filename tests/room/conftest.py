import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "papers"))

import a_class  # noqa: E402


@pytest.fixture
def held(tmp_path):
    return a_class.set_class(tmp_path)


@pytest.fixture
def served(held):
    from a_room import Room

    with Room(held) as room:
        yield room
