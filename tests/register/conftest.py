"""A register with five entries in a folder of its own."""

import sqlite3
from contextlib import closing

import pytest

from rigcalc.register.keys import kept_key
from rigcalc.register.store import Register


@pytest.fixture
def register(tmp_path):
    made = Register(tmp_path / "register.sqlite", kept_key(tmp_path / "signing", "register"))
    for number in range(1, 6):
        made.append("paper issued", {"paper": f"P{number}", "n": number})
    return made


@pytest.fixture
def edit(register):
    """Edit the register's file as somebody would who has a database browser: guards off, change, guards on."""
    def run(*statements):
        with closing(sqlite3.connect(register.path)) as raw:
            guards = [sql for (sql,) in raw.execute("SELECT sql FROM sqlite_master WHERE type='trigger'")]
            for act in ("update", "delete"):
                raw.execute(f"DROP TRIGGER no_{act}")
            for statement in statements:
                raw.execute(*statement) if isinstance(statement, tuple) else raw.execute(statement)
            for guard in guards:
                raw.execute(guard)
            raw.commit()
    return run
