import pytest

from papers import a_class
from room.a_room import Room


@pytest.fixture
def held(tmp_path):
    return a_class.set_class(tmp_path)


@pytest.fixture
def served(held):
    with Room(held) as room:
        yield room
