"""What tests of question families share."""

from __future__ import annotations

import pytest


@pytest.fixture
def own(tmp_path, monkeypatch):
    """The folder of a workplace's own families."""
    monkeypatch.setenv("RIGCALC_HOME", str(tmp_path / "home"))
    folder = tmp_path / "home" / "working" / "quizzes" / "families"
    folder.mkdir(parents=True)
    return folder
