"""Working copies: made once, signed, shown only when edited, never overwritten, settled after an upgrade."""

from __future__ import annotations

import json

import nbformat
import pytest
from nbformat.sign import NotebookNotary

from rigcalc.opening.shelf import lessons
from rigcalc.opening.working import content_digest, copy_of, edited_copy, make_copy, settle_copies

from .conftest import LESSON, write_notebook


@pytest.fixture
def folder(home):
    return home / "working"


@pytest.fixture
def lesson(shelf):
    return lessons(shelf)[0]


def edit(copy, text="My own scene."):
    notebook = json.loads(copy.read_text())
    notebook["cells"][0]["source"] = f"# Forming an eye\n\n{text}"
    copy.write_text(json.dumps(notebook))


def install_again(lesson, text="A better scene."):
    write_notebook(lesson.path, f"# Lesson 05: Forming an eye\n\n{text}", *LESSON[1:], code=["6 * 7"])


def test_the_copy_is_signed_for_the_editor(lesson, folder):
    copy = make_copy(lesson)
    notary = NotebookNotary(data_dir=str(folder / ".settings" / "data"))
    assert notary.check_signature(nbformat.read(copy, as_version=4))
    notary.store.close()


def test_an_existing_copy_is_never_overwritten(lesson, folder):
    edit(make_copy(lesson))
    before = copy_of(lesson).read_bytes()
    assert make_copy(lesson).read_bytes() == before


def test_an_untouched_copy_is_not_shown_and_an_edited_one_is(lesson, folder):
    copy = make_copy(lesson)
    assert edited_copy(lesson) is None
    edit(copy)
    assert edited_copy(lesson) == copy


def test_running_a_copy_is_not_editing_it(lesson, folder):
    copy = make_copy(lesson)
    notebook = json.loads(copy.read_text())
    notebook["cells"][-1].update(execution_count=3, outputs=[{"output_type": "stream", "name": "stdout", "text": "42"}])
    notebook["cells"][0]["metadata"]["collapsed"] = True
    copy.write_text(json.dumps(notebook, indent=2))
    assert edited_copy(lesson) is None


def test_a_half_written_copy_is_not_shown(lesson, folder):
    copy = make_copy(lesson)
    copy.write_text(copy.read_text()[:40])
    assert edited_copy(lesson) is None


def test_an_upgrade_replaces_what_nobody_touched(lesson, folder):
    make_copy(lesson)
    install_again(lesson)
    settled = settle_copies(installed=lesson.folder)
    assert settled.replaced == (lesson.key,) and not settled.beside
    assert content_digest(copy_of(lesson)) == content_digest(lesson.path)
    assert settle_copies(installed=lesson.folder).sentences() == ()


def test_an_upgrade_lays_the_new_lesson_beside_an_edited_copy(lesson, folder):
    edit(make_copy(lesson))
    mine = copy_of(lesson).read_bytes()
    install_again(lesson)
    settled = settle_copies(installed=lesson.folder)
    assert copy_of(lesson).read_bytes() == mine and not settled.replaced
    (name,) = settled.beside
    assert content_digest(copy_of(lesson).with_name(name)) == content_digest(lesson.path)
    assert edited_copy(lesson) == copy_of(lesson)
    assert name in settled.sentences()[0]
    assert settle_copies(installed=lesson.folder).sentences() == ()


def test_without_an_upgrade_nothing_moves(lesson, folder):
    edit(make_copy(lesson))
    assert settle_copies(installed=lesson.folder).sentences() == ()
