import pytest

import a_class


@pytest.fixture
def held(tmp_path):
    return a_class.set_class(tmp_path)
