"""A desk in a folder of its own, with the invented sample shop."""

import pytest

from rigcalc.desk import work
from rigcalc.register import store
from rigcalc.shop.load import load_shop, sample_shop_path


@pytest.fixture(scope="session")
def sample_shop():
    return load_shop(sample_shop_path())


@pytest.fixture
def desk(tmp_path, sample_shop):
    return work.open_desk(tmp_path / "home", sample_shop)


@pytest.fixture(autouse=True)
def quick_disk(monkeypatch):
    """Nothing here is about surviving a power cut (the room's and register's own tests are): don't wait for the disk."""
    monkeypatch.setattr("os.fsync", lambda handle: None)
    set_up = store._on_connect
    monkeypatch.setattr(store, "_on_connect", lambda connection, record: (set_up(connection, record), connection.execute("PRAGMA synchronous=OFF")))
