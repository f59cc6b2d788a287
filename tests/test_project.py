"""The project as a newcomer finds it: top level, README, the two commands, module sizes."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

from rigcalc.cautions import CAUTIONS
from rigcalc.cli import COMMANDS

ROOT = Path(__file__).resolve().parent.parent
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "lessons", "rigcalc", "quizzes", "tests", "LICENSE"}
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
OPEN = "python3 -m venv .venv && .venv/bin/python -m pip install -q . && .venv/bin/rigcalc open"
TEST = ('python3 -m venv .venv-test && .venv-test/bin/python -m pip install -q -e ".[test]" '
        "&& .venv-test/bin/python tests/run.py")
MODULE_LINES = 400


def kept_files() -> list[Path]:
    """The files under version control, or all of them where there is no version control."""
    listed = subprocess.run(["git", "ls-files", "--cached", "--others", "--exclude-standard"], cwd=ROOT, capture_output=True, text=True)
    if listed.returncode == 0 and listed.stdout:
        return [ROOT / line for line in listed.stdout.splitlines() if (ROOT / line).is_file()]
    return [path for path in ROOT.rglob("*") if path.is_file() and "__pycache__" not in path.parts]


def test_the_top_level_holds_what_a_newcomer_expects_and_nothing_else():
    top = {path.relative_to(ROOT).parts[0] for path in kept_files()}
    assert {name for name in top if not name.startswith(".")} == TOP


def test_the_job_stands_in_one_paragraph_at_the_very_top():
    title, job, *_ = README.split("\n\n")
    assert title == "# Cable assembly workbook"
    assert "\n" not in job and "certificate of competence" in job and len(job.split()) > 40


def test_two_commands_do_all_the_set_up_each_on_one_line():
    assert re.findall(r"```sh\n(.*?)\n```", README, re.DOTALL) == [OPEN, TEST]


def test_the_continuous_run_takes_its_command_from_the_readme():
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    pattern = re.search(r"grep -m 1 '([^']+)' README\.md", script)[1]
    assert [line for line in README.splitlines() if re.match(pattern, line)] == [TEST]
    assert "rm -rf .venv-test" in script and "set -euo pipefail" in script and (ROOT / ".ci" / "run").stat().st_mode & 0o111


def test_the_readme_shows_every_caution_and_a_picture_of_the_real_thing():
    assert all(f"- {caution}" in README for caution in CAUTIONS)
    (picture,) = re.findall(r"!\[.+?\]\((.+?)\)", README)
    assert (ROOT / picture).stat().st_size > 20_000


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_every_command_and_file_named_exists(text):
    assert set(re.findall(r"`rigcalc ([a-z]+)", text)) <= set(COMMANDS)
    for name in re.findall(r"`((?:rigcalc|tests|quizzes|lessons|\.ci)/[\w./-]*)`", text):
        assert (ROOT / name).exists(), name


def test_every_command_has_its_function():
    import importlib

    for module, function, does in COMMANDS.values():
        assert callable(getattr(importlib.import_module(module), function)) and does


def test_modules_stay_small_enough_to_read():
    long = {str(path.relative_to(ROOT)): lines for path in kept_files() if path.suffix == ".py"
            for lines in [len(path.read_text(encoding="utf-8").splitlines())] if lines > MODULE_LINES}
    assert not long


def test_no_two_test_files_meet_under_one_name():
    """A test file outside a package is known to pytest by its bare name, so that name must be the only one."""
    bare = [path.name for path in kept_files() if path.name.startswith("test_") and path.suffix == ".py"
            and not (path.parent / "__init__.py").exists()]
    assert not {name for name in bare if bare.count(name) > 1}


def test_nothing_leans_on_what_lies_outside_the_project():
    outside = re.compile(r"\.\./" + "shared|/work/" + "shared")
    named = [str(path.relative_to(ROOT)) for path in kept_files()
             if path.suffix in (".py", ".toml", ".md", ".ipynb", ".js", ".css", ".csv", ".j2", ".cfg") and
             outside.search(path.read_text(encoding="utf-8"))]
    assert not named
