"""No words of an assessor are lost: what other words take the place of is kept, told with time and device, and said on the tablet that did it."""

from __future__ import annotations

import html
import re

import pytest
from playwright.sync_api import expect
from rigcalc.bench.changed import entered_again
from rigcalc.bench.printed import printed_form

from .filled import TOMO, Book, opened
from .test_tablet import TABLET, WIDE, device, room  # noqa: F401

SINCE = "Since form F1 was opened: gauge GB was found bad on 2026-11-20 by Ines Varrow (a slot worn open). Assess on another form."
BOX = "Anything else the decider should know"


def write(book: Book, *words: str, about: str = "", device: str = "") -> None:
    for one in words:
        book.tap("wrote", words=one, about=about, device=device)


def told(book: Book) -> list[str]:
    return [re.sub(r"\d\d:\d\d on 2026-11-\d\d", "AT", one) for one in entered_again(book.form, book.events, "c1")]


def test_words_that_others_took_the_place_of_are_told_wherever_changes_are():
    book = Book(opened()).fill()
    write(book, "Steady hands.", device="a3f2")
    write(book, "Hurried at the last crimp.", device="77c0")
    assert told(book) == ['the assessor\'s words were "Steady hands." (AT, device a3f2), then "Hurried at the last crimp." (AT, device 77c0)']
    weighed, printed = " ".join(book.outcome()["to_weigh"]), html.unescape(printed_form(book.form, book.events))
    for page in (weighed, printed):
        assert "Changed after the first tap: the assessor's words were \"Steady hands.\" (" in page and "device 77c0" in page
    assert book.outcome()["passed"]


@pytest.mark.parametrize(("words", "said"), [
    (("Calm.", "Calm. And slow.", "Calm.  And slow. At the end too."), []),
    (("Calm.", "Calm."), []), (("", "Calm."), []),
    (("Calm.", "", "Calm."), ['the assessor\'s words were "Calm." (AT), then nothing (AT), then "Calm." (AT)']),
    (("Calm.", "Slow.", "Slow. Sure."), ['the assessor\'s words were "Calm." (AT), then "Slow. Sure." (AT)']),
    (("Calm. Sure.", "Calm."), ['the assessor\'s words were "Calm. Sure." (AT), then "Calm." (AT)']),
])
def test_what_is_continued_replaces_nothing_and_all_else_does(words, said):
    book = Book(opened())
    write(book, *words)
    assert told(book) == said


def test_words_about_a_help_and_of_another_candidate_are_kept_apart_and_words_taken_back_are_told():
    book = Book(opened(TOMO, {"id": "c2", "name": "Dela Orrin"}))
    given = book.tap("helped", item="thread@1")
    write(book, "Look.", "Mind the tail.", about=given["id"])
    book.tap("wrote", "c2", words="Quick.")
    write(book, "Calm.")
    book.undo()
    assert told(book) == ['the words on the help at 4 Threading and setting the tail, eye 1 were "Look." (AT), then "Mind the tail." (AT)',
                          'the assessor\'s words were "Calm." (AT, taken back)']
    assert entered_again(book.form, book.events, "c2") == []


def test_long_words_on_a_line_that_differ_at_their_end_are_told_whole():
    book, line = Book(opened()), next(i["key"] for s in opened()["stages"] for i in s["items"] if i["kind"] == "write")
    for end in ("INVENTED 4, due 2031-05-04", "INVENTED 4, due 2031-06-04"):
        book.tap("wrote", item=line, words="x" * 90 + end)
    assert "due 2031-05-04', then 'x" in told(book)[0]


def test_a_second_tablet_is_told_of_the_words_that_stand_and_none_are_lost(device):  # noqa: F811
    first, second = device(name="words-of-two"), device(name="words-of-two")
    for tablet in (first, second):
        tablet.stage("16 When the hands")
    first.page.get_by_label(BOX).fill("Steady hands.")
    first.tap("‹ Back")
    first.saved(1)
    second.page.get_by_label(BOX).fill("Hurried at the end.")
    second.tap("‹ Back")
    second.saved(2)
    said = second.page.get_by_role("alert")
    expect(said).to_contain_text('Words of another page stand there: "Steady hands.". Yours take their place now; both are kept')
    second.tap("Next ›")
    marks = [one["device"] for one in first.on_disk()]
    assert [one["words"] for one in first.on_disk()] == ["Steady hands.", "Hurried at the end."] and len(set(marks)) == 2
    expect(second.page.locator(".replaced")).to_contain_text('Replaced, kept and told to whoever decides: "Steady hands."')
    expect(second.page.locator(".replaced")).to_contain_text(f"device {marks[0]}")
    first.stage("16 When the hands")
    first.page.get_by_label(BOX).fill("Steady hands. Good eye.")  # the first page has not heard of the second's words
    first.tap("‹ Back")
    first.saved(3)
    expect(first.page.get_by_role("alert")).to_contain_text('"Hurried at the end."')
    changes = entered_again(first.form, first.on_disk(), "c1")
    assert len(changes) == 1 and all(f'"{one}"' in changes[0] for one in ("Steady hands.", "Hurried at the end.", "Steady hands. Good eye."))
    first.page.reload()
    first.stage("16 When the hands")
    expect(first.page.get_by_label(BOX)).to_have_value("Steady hands. Good eye.")
    expect(first.page.locator(".replaced")).to_have_count(2)


def test_words_that_came_while_the_box_was_open_are_told_when_it_is_left(device):  # noqa: F811
    first, second = device(name="box-open"), device(name="box-open")
    first.stage("16 When the hands")
    second.stage("16 When the hands")
    second.page.get_by_label(BOX).focus()
    first.page.get_by_label(BOX).fill("Steady hands.")
    first.tap("‹ Back")
    first.saved(1)
    second.page.evaluate("taps.add({ kind: 'helped', candidate: 'c1', item: 'end' })")  # a tap that is sent while the box stays open takes the words in
    second.saved(2)
    second.page.get_by_label(BOX).fill("Hurried.")
    second.tap("‹ Back")
    second.saved(3)
    expect(second.page.get_by_role("alert")).to_contain_text('Words of another page stood there: "Steady hands.". Yours take their place now')


def test_what_the_desk_wrote_beside_the_form_stands_on_the_tablet_and_on_its_paper(device):  # noqa: F811
    tablet = device()
    note = tablet.folder / "bench" / f"{tablet.name}.since"
    assert tablet.page.get_by_role("alert").count() == 0
    note.write_text(SINCE, encoding="utf-8")
    tablet.tap("Next ›")
    tablet.tap("2.4 seen right")
    tablet.saved(1)
    expect(tablet.page.get_by_role("alert")).to_have_text(SINCE)
    tablet.tap("2.3 seen right")
    tablet.saved(2)
    expect(tablet.page.get_by_role("alert")).to_have_text(SINCE)
    tablet.page.reload()
    expect(tablet.page.get_by_role("alert")).to_have_text(SINCE)
    assert SINCE in tablet.page.locator(".paper").text_content()
    note.unlink()
    tablet.tap("2.2 seen right")
    tablet.saved(3)
    expect(tablet.page.get_by_role("alert")).to_have_count(0)


@pytest.mark.parametrize("viewport", [TABLET, WIDE, {"width": 1000, "height": 620}], ids=["tablet", "wide", "low"])
def test_the_keys_of_the_pad_stand_in_rows_of_three(device, viewport):  # noqa: F811
    tablet = device(viewport=viewport)
    tablet.stage("3 Measuring")
    tablet.tap("3.4 candidate's reading")
    keys = tablet.page.locator(".pad button").evaluate_all("all => all.map(b => [b.textContent, Math.round(b.getBoundingClientRect().top)])")
    rows = [[sign for sign, top in keys if top == at] for at in sorted({top for _, top in keys})]
    assert rows == [["7", "8", "9"], ["4", "5", "6"], ["1", "2", "3"], [".", "0", "⌫"], ["/", "space"]]
    assert tablet.page.locator(".over").evaluate("o => o.scrollWidth - o.clientWidth") == 0
