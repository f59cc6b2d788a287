"""A small shelf of notebooks, so that these tests do not hang on what the lessons say today."""

from __future__ import annotations

import json

import pytest

LESSON = ("# Lesson 05: Forming an eye\n\nInes opens the shop.", "## Bench practice sheet\n\nThree eyes.",
          "## Trainer's notes\n\nFold it.")


def write_notebook(path, *texts, code=()):
    """A notebook with these Markdown cells, then these code cells."""
    cells = [{"cell_type": "markdown", "id": f"m{n}", "metadata": {}, "source": text} for n, text in enumerate(texts)]
    cells += [{"cell_type": "code", "id": f"c{n}", "metadata": {}, "source": text, "outputs": [], "execution_count": None}
              for n, text in enumerate(code)]
    spec = {"name": "python3", "display_name": "Python 3", "language": "python"}
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(json.dumps({"cells": cells, "metadata": {"kernelspec": spec}, "nbformat": 4, "nbformat_minor": 5}))
    return path


@pytest.fixture
def shelf(tmp_path):
    """An installed folder with one lesson and a practice paper."""
    folder = tmp_path / "installed"
    write_notebook(folder / "lessons" / "05_forming_an_eye.ipynb", *LESSON, code=["6 * 7"])
    write_notebook(folder / "quizzes" / "practice_paper.ipynb", "# Practice paper")
    return folder


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A home of the test's own."""
    folder = tmp_path / "home"
    folder.mkdir()
    monkeypatch.setenv("RIGCALC_HOME", str(folder))
    return folder
