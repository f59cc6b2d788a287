import pytest

from papers import a_class


@pytest.fixture
def held(tmp_path):
    return a_class.set_class(tmp_path)
