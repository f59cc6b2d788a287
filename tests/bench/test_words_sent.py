"""Words are sent while the cursor stays in their box, the header says when they are not yet, and one stay in the box is one writing."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from playwright.sync_api import expect
from rigcalc.bench.changed import entered_again
from rigcalc.bench.told import to_tell
from rigcalc.errors import Refusal

from .filled import DELA, NOW, TOMO, Book, opened
from .test_tablet import device, room  # noqa: F401
from .test_words_kept import BOX, told

A, B = {"device": "a3f2", "stay": "a1"}, {"device": "77c0", "stay": "b1"}
NEXT = {"device": "a3f2", "stay": "a2"}
UNSAVED = "Words not saved yet"


# -- what is told ---------------------------------------------------------------------------------------------------------

def said_in_turn(*words: str) -> list[str]:
    return ["the assessor's words were " + ", then ".join(f'"{one}" (AT, device a3f2)' if one else "nothing (AT, device a3f2)" for one in words)]


@pytest.mark.parametrize(("written", "said"), [
    ([("Calm", A), ("Calm and slow", A), ("Calm and slow.", A)], []),
    ([("Calm.", A), ("Slow.", NEXT)], said_in_turn("Calm.", "Slow.")),
    ([("Calm.", NEXT), ("Calm. Slow", A), ("Calm. Slow, sure.", A)], []),
    ([("Calm.", NEXT), ("Calm. Sl", A), ("Quick.", A)], said_in_turn("Calm. Sl", "Quick.")),
    ([("Calm", A), ("Hurried.", B), ("Slow.", A)],  # words of another device came between: none are lost
     ['the assessor\'s words were "Calm" (AT, device a3f2), then "Hurried." (AT, device 77c0), then "Slow." (AT, device a3f2)']),
    ([("Calm.", {"device": "a3f2", "stay": ""}), ("Slow.", {"device": "a3f2", "stay": ""})],  # as forms before this have it
     ['the assessor\'s words were "Calm." (AT, device a3f2), then "Slow." (AT, device a3f2)']),
    ([("Calm.", A), ("Slow.", {"device": "77c0", "stay": "a1"})],
     ['the assessor\'s words were "Calm." (AT, device a3f2), then "Slow." (AT, device 77c0)']),
])
def test_one_stay_in_the_box_is_one_writing(written, said):
    book = Book(opened())
    for words, whose in written:
        book.tap("wrote", words=words, about="", **whose)
    assert told(book) == said
    assert [e["words"] for e in book.events] == [words for words, _ in written]  # all stay on the disk
    assert f'The assessor wrote: "{written[-1][0]}"' in to_tell(book.form, book.events, "c1")


BAD, SLIP = "Tail not measured on the second eye.", "Tail not mesured on the second eye."


def in_one_stay(*written, **box) -> Book:
    """Words of one stay, each with the seconds after the first at which it was saved."""
    book = Book(opened())
    for words, seconds in written:
        book.tap("wrote", words=words, **(box or {"about": ""}), **A, saved_at=(NOW + timedelta(seconds=seconds)).isoformat())
    return book


@pytest.mark.parametrize(("written", "said"), [
    ([(BAD, 0), ("", 6)], said_in_turn(BAD, "")),
    ([(BAD, 0), ("  ", 6), ("Calm.", 12)], said_in_turn(BAD, "", "Calm.")),
    ([(BAD, 0), ("", 6), (BAD, 12)], said_in_turn(BAD, "", BAD)),
    ([(BAD, 0), ("", 6), (BAD + " Calm.", 12)], said_in_turn(BAD, "", BAD + " Calm.")),
    ([(BAD, 0), ("Steady.", 6)], said_in_turn(BAD, "Steady.")),
    ([("Bad.", 0), ("Both hands were steady and the day was good.", 6)], said_in_turn("Bad.", "Both hands were steady and the day was good.")),  # its letters are there
    ([(BAD, 0), ("Calm.", 6), (BAD, 12)], said_in_turn(BAD, "Calm.", BAD)),
    ([(BAD, 0), (BAD[:20], 6)], said_in_turn(BAD, BAD[:20])),  # more than a small part is gone
])
def test_words_erased_or_replaced_in_one_stay_are_told(written, said):
    book = in_one_stay(*written)
    assert told(book) == said
    assert any(BAD in one or "Bad." in one for one in to_tell(book.form, book.events, "c1"))


@pytest.mark.parametrize("written", [
    [(SLIP, 0), (BAD, 6)], [(SLIP, 0), (SLIP + " Cal", 6), (BAD + " Calm.", 12)], [("Quik", 0), ("Quick", 6)],
    [(BAD, 0), ("Calm. " + BAD, 60)], [("", 0), (BAD, 6)],
])
def test_a_small_mend_at_once_is_not_told(written):
    assert told(in_one_stay(*written)) == []


@pytest.mark.parametrize(("written", "said"), [
    ([(SLIP, 0), (BAD, 61)], said_in_turn(SLIP, BAD)),
    ([(SLIP, 0), (SLIP + " Calm.", 61)], []),  # goes on
    ([(SLIP, 0), (SLIP + " Calm.", 61), (BAD + " Calm.", 67)], said_in_turn(SLIP + " Calm.", BAD + " Calm.")),  # what had stood is mended after all
    ([(BAD, 0), (BAD + " Cal", 61), (BAD + " Calm", 67), (BAD + " Clm.", 70)], []),  # what came after it is still typed
    ([(SLIP, 0), (BAD, -1)], said_in_turn(SLIP, BAD)),  # the clock was set back: nobody knows how long it stood
])
def test_words_that_stood_for_a_minute_are_told_unless_they_are_continued(written, said):
    assert told(in_one_stay(*written)) == said


@pytest.mark.parametrize(("old", "new"), [
    ("He can press this sleeve alone from here.", "He cannot press this sleeve alone from here."), ("The gauge went over all 3 crimps.", "The gauge went over all 2 crimps."),
    ("Said that the second sleeve passed by gauge.", "Said that the second sleeve failed by gauge."), ("The tail was not cut off too short at all.", "The tail was cut off too short at all."),
    ("She looked at all three eyes with the light.", "She looked at all two eyes with the light."), ("It was the gauge GB that he used for all of it.", "It was the gauge GA that he used for all of it."),
    ("The sleeve on the left eye was secure.", "The sleeve on the left eye was insecure."), ("The crimp lay above the mark on the sleeve.", "The crimp lay below the mark on the sleeve."),
    ("All of her crimps were passing by the gauge.", "All of her crimps were failing by the gauge."),
    ("I helped him with the first of the crimps.", "I left him with the first of the crimps."), ("She did it right on her own with care.", "She didn’t do it right on her own with care."),
])
def test_a_small_mend_that_turns_the_sense_is_told(old, new):
    assert told(in_one_stay((old, 0), (new, 6))) == said_in_turn(old, new)
    assert told(in_one_stay((new, 0), (old, 6), (old + " Calm.", 12))) == said_in_turn(new, old + " Calm.")


def test_a_last_word_that_goes_on_as_another_is_told_in_one_stay_too():
    assert told(in_one_stay(("Alone she can", 0), ("Alone she cannot", 6))) == said_in_turn("Alone she can", "Alone she cannot")
    assert told(in_one_stay(("Gauge due 2031-0", 0), ("Gauge due 2031-05-04", 6))) == []  # the figure was still typed


@pytest.mark.parametrize(("old", "new", "turned"), [
    ("Fit to go on", "Fit to go on: no", True), ("New words. Safe", "New words. Safe? Hardly", True), ("Alone she can", "Alone she cannot", True), ("Failed crimps: 3", "Failed crimps: 30", True),
    ("Quick hands", "Quick hands and steady.", False), (BAD, BAD + " Calm.", False),
])
def test_words_that_stood_and_are_turned_by_what_is_written_on_are_told(old, new, turned):
    assert told(in_one_stay((old, 0), (new, 61))) == (said_in_turn(old, new) if turned else [])
    book = Book(opened())
    for stay, words in (("0a", old), ("0b", new)):
        book.tap("wrote", words=words, about="", **A | {"stay": stay})
    assert (len(told(book)) == 1) is turned


def test_small_mends_that_come_to_a_large_one_are_told():
    steps = ["abcdefghijklmnopqrst", "abcdefghijklmnopqzzz", "abcdefghijklmnzzzzzz", "abcdefghijkzzzzzzzzz"]
    found = told(in_one_stay(*((words, 6 * n) for n, words in enumerate(steps))))
    assert len(found) == 1 and f'"{steps[0]}"' in found[0] and found[0].endswith(f'then "{steps[-1]}" (AT, device a3f2)')


def test_a_line_erased_or_replaced_in_one_stay_is_told():
    line = next(i["key"] for s in opened()["stages"] for i in s["items"] if i["kind"] == "write")
    assert told(in_one_stay(("INVENTED 4", 0), ("Gauge two", 6), item=line))[0].endswith("was entered as 'INVENTED 4', then 'Gauge two'")
    assert told(in_one_stay(("INVENTED 4", 0), ("", 6), item=line))[0].endswith("was entered as 'INVENTED 4', then ''")
    assert told(in_one_stay(("INVENTED 4", 0), ("INVENTED 4, due 2031-05-04", 90), item=line)) == []


def test_what_stood_when_the_form_was_closed_is_told_when_it_is_changed_later():
    book = in_one_stay((BAD, 0), ("Tail now measured on the second eye.", 300))
    assert BAD in to_tell(book.form, book.events[:1], "c1")[0]
    assert any(BAD in one for one in to_tell(book.form, book.events, "c1"))


@pytest.mark.parametrize(("first", "one_back", "both_back"), [
    ("Hur", '"Hurried." (AT, device a3f2, taken back)', '"Hurried." (AT, device a3f2, taken back)'),
    ("Quick", '"Quick" (AT, device a3f2), then "Hurried." (AT, device a3f2, taken back)',  # the first stands
     '"Quick" (AT, device a3f2, taken back), then "Hurried." (AT, device a3f2, taken back)'),
])
def test_words_of_a_stay_that_are_taken_back_are_told_once(first, one_back, both_back):
    book = Book(opened())
    for words in (first, "Hurried."):
        book.tap("wrote", words=words, about="", **A)
    for said in (one_back, both_back):
        book.undo()
        assert told(book) == ["the assessor's words were " + said]


def test_stays_of_two_boxes_are_kept_apart():
    book = Book(opened(TOMO, DELA))
    given = book.tap("helped", item="thread@1")
    for words, box in (("Look.", {"about": given["id"]}), ("Calm.", {"about": ""}), ("Look. Mind the tail.", {"about": given["id"]}), ("Calm. Slow.", {"about": ""})):
        book.tap("wrote", words=words, **box, **A)
    book.tap("wrote", "c2", words="Quick.", about="", **A)
    assert told(book) == [] and entered_again(book.form, book.events, "c2") == []


def test_a_line_that_is_sent_while_it_is_typed_is_not_told_as_entered_again():
    book, line = Book(opened()), next(i["key"] for s in opened()["stages"] for i in s["items"] if i["kind"] == "write")
    for words, stay in (("INVENTED 4", "a1"), ("INVENTED 4, due 2031-05-04", "a1"), ("INVENTED 4, due 2031-06-04", "a2")):
        book.tap("wrote", item=line, words=words, stay=stay)
    assert len(told(book)) == 1 and told(book)[0].endswith("was entered as 'INVENTED 4, due 2031-05-04', then 'INVENTED 4, due 2031-06-04'")


def test_a_stay_that_is_no_mark_is_refused():
    with pytest.raises(Refusal, match="a tap that cannot be read"):
        Book(opened()).tap("wrote", words="Calm.", stay="not a mark")


# -- on the tablet --------------------------------------------------------------------------------------------------------

# Words are sent by themselves five seconds after the last key: here after one, but where it is that wait which is looked at.
SOONER = "{ const once = window.setTimeout; window.setTimeout = (what, wait, ...rest) => once(what, wait === 5000 ? 1000 : wait, ...rest); }"


@pytest.fixture
def sooner(device):  # noqa: F811
    def make(*people, **how):
        tablet = device(*people, **how)
        tablet.page.add_init_script(SOONER)
        tablet.page.reload()
        return tablet

    return make


def header(tablet):
    return tablet.page.get_by_role("status")


def cursor(tablet) -> tuple:
    return tuple(tablet.page.evaluate("[document.activeElement.tagName, document.activeElement.value, document.activeElement.selectionStart]"))


def at_the_box(tablet):
    tablet.stage("16 When the hands")
    box = tablet.page.get_by_label(BOX)
    box.tap()
    return box


def test_words_are_sent_by_themselves_and_the_cursor_stays(sooner):
    tablet = sooner()
    tablet.tap("Next ›")
    tablet.tap("2.4 seen right")
    tablet.saved(1)
    box = at_the_box(tablet)
    box.press_sequentially("Hurried at the end")
    expect(header(tablet)).to_have_text(UNSAVED)
    assert "ok" not in header(tablet).get_attribute("class").split() and len(tablet.on_disk()) == 1
    for _ in range(3):
        box.press("ArrowLeft")
    before = cursor(tablet)
    tablet.saved(2)  # nothing is tapped meanwhile
    assert cursor(tablet) == before == ("TEXTAREA", "Hurried at the end", 15)
    box.press_sequentially("very ")
    expect(header(tablet)).to_have_text(UNSAVED)
    tablet.saved(3)
    box.press("ControlOrMeta+a")
    box.press_sequentially("Steady.")
    tablet.tap("‹ Back")
    tablet.saved(4)
    wrote = [one for one in tablet.on_disk() if one["kind"] == "wrote"]
    assert [one["words"] for one in wrote] == ["Hurried at the end", "Hurried at the very end", "Steady."]
    assert len({one["stay"] for one in wrote}) == 1 and wrote[0]["stay"]
    changed = entered_again(tablet.form, tablet.on_disk(), "c1")
    assert len(changed) == 1 and '"Hurried at the very end"' in changed[0] and '"Hurried at the end"' not in changed[0]
    box = at_the_box(tablet)
    expect(tablet.page.locator(".replaced")).to_have_count(0)
    box.fill("Slow.")
    tablet.tap("‹ Back")
    tablet.saved(5)
    tablet.tap("Next ›")
    expect(tablet.page.locator(".replaced")).to_have_count(1)
    expect(tablet.page.locator(".replaced")).to_contain_text('"Steady."')
    assert len(entered_again(tablet.form, tablet.on_disk(), "c1")) == 1


def test_five_seconds_after_the_last_key_and_no_sooner(device):  # noqa: F811
    tablet = device()
    box = at_the_box(tablet)
    for words in ("Calm", " hands", "."):
        box.press_sequentially(words)
        tablet.page.wait_for_timeout(2500)
    assert tablet.on_disk() == [] and header(tablet).text_content() == UNSAVED
    expect(header(tablet)).to_contain_text("Saved: all 1", timeout=4000)
    assert [one["words"] for one in tablet.on_disk()] == ["Calm hands."]


def test_a_box_left_for_another_and_come_back_to_is_another_stay(device):  # noqa: F811
    tablet = device(TOMO, DELA)
    for pane in ("c1", "c2"):
        tablet.page.locator(f'[data-pane="{pane}"]').get_by_role("button", name="Stages").tap()
        tablet.page.get_by_role("dialog").get_by_role("button", name="16 When the hands").tap()
    mine, hers = (tablet.page.locator(f'[data-pane="{pane}"]').get_by_label(BOX) for pane in ("c1", "c2"))
    for number, (box, words) in enumerate(((mine, "Calm."), (hers, "Quick."), (mine, "Slow.")), 1):
        box.tap()
        box.fill(words)
        box.evaluate("box => box.dispatchEvent(new Event('change'))")
        tablet.saved(number)
    assert len({one["stay"] for one in tablet.on_disk()}) == 3
    assert len(entered_again(tablet.form, tablet.on_disk(), "c1")) == 1


def test_words_are_sent_when_the_page_is_hidden_and_the_stay_goes_on(device):  # noqa: F811
    tablet = device()
    box = at_the_box(tablet)
    box.press_sequentially("Calm")
    tablet.page.evaluate("""() => { Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
        document.dispatchEvent(new Event('visibilitychange')); delete document.visibilityState; }""")
    expect(header(tablet)).to_contain_text("Saved: all 1", timeout=2000)  # sooner than by themselves
    assert cursor(tablet) == ("TEXTAREA", "Calm", 4)
    box.press_sequentially(" hands.")
    tablet.tap("‹ Back")
    tablet.saved(2)
    assert [one["words"] for one in tablet.on_disk()] == ["Calm", "Calm hands."] and len({one["stay"] for one in tablet.on_disk()}) == 1


def test_words_are_sent_at_a_pagehide_alone_so_that_the_page_may_go_before_the_answer(device):  # noqa: F811
    tablet = device()
    box = at_the_box(tablet)
    tablet.page.evaluate("() => { const once = fetch; window.alive = []; window.fetch = (to, how) => { window.alive.push(how.keepalive); return once(to, how); }; }")
    box.press_sequentially("Calm.")
    tablet.page.evaluate("window.dispatchEvent(new Event('pagehide'))")
    expect(header(tablet)).to_contain_text("Saved: all 1", timeout=2000)
    tablet.page.evaluate("window.dispatchEvent(new Event('pageshow'))")
    box.press_sequentially(" Slow.")
    tablet.tap("‹ Back")
    tablet.saved(2)
    assert tablet.page.evaluate("window.alive") == [True, False]


def test_words_are_sent_when_the_page_is_left(device):  # noqa: F811
    tablet = device()
    at_the_box(tablet).press_sequentially("Calm hands.")
    tablet.page.goto("about:blank")
    for _ in range(30):
        if tablet.on_disk():
            break
        tablet.page.wait_for_timeout(100)
    assert [one["words"] for one in tablet.on_disk()] == ["Calm hands."]
    tablet.page.goto(tablet.address)
    tablet.saved(1)  # not sent again
    expect(tablet.page.get_by_label(BOX)).to_have_value("Calm hands.")


def test_words_that_cannot_be_sent_are_said_to_be_unsaved_and_kept(sooner):
    tablet = sooner()
    tablet.page.route("**/save", lambda route: route.abort())
    at_the_box(tablet).press_sequentially("Calm hands.")
    expect(header(tablet)).to_have_text(UNSAVED)
    expect(header(tablet)).to_contain_text("Not saved yet: 1 kept on this device")
    tablet.page.get_by_label(BOX).press_sequentially(" Slow.")
    expect(header(tablet)).to_contain_text(f"{UNSAVED}. Not saved yet: 1 kept on this device")
    tablet.page.unroute("**/save")
    tablet.tap("‹ Back")
    tablet.saved(2)
    assert tablet.on_disk()[-1]["words"] == "Calm hands. Slow."


def test_undo_takes_the_whole_stay_back(sooner):
    tablet = sooner()
    box = at_the_box(tablet)
    box.press_sequentially("Hur")
    tablet.saved(1)
    box.press_sequentially("ried.")
    tablet.tap("‹ Back")
    tablet.saved(2)
    tablet.tap("Undo: words")
    tablet.saved(4)
    tablet.tap("Next ›")
    expect(tablet.page.get_by_label(BOX)).to_have_value("")
    assert [re.sub(r"\(.*taken back\)", "(taken back)", one) for one in entered_again(tablet.form, tablet.on_disk(), "c1")] == ['the assessor\'s words were "Hurried." (taken back)']
    expect(tablet.page.locator(".replaced")).to_have_text(re.compile('^Taken back, kept and told to whoever decides: "Hurried."'))


def test_words_sent_by_themselves_leave_standing_what_was_told(sooner):
    first, second = sooner(name="told-stands"), sooner(name="told-stands")
    box = at_the_box(second)
    at_the_box(first).fill("Steady hands.")
    first.tap("‹ Back")
    first.saved(1)
    box.press_sequentially("Hurried")
    alert = second.page.get_by_role("alert")
    expect(alert).to_contain_text('Words of another page stand there: "Steady hands.". Yours take their place now')
    second.saved(2)
    box.press_sequentially(" at the end.")
    second.saved(3)
    expect(alert).to_contain_text('"Steady hands."')
    assert cursor(second) == ("TEXTAREA", "Hurried at the end.", 19)
    assert '"Steady hands."' in entered_again(first.form, second.on_disk(), "c1")[0]


def test_a_line_of_words_is_sent_by_itself_too(sooner):
    tablet = sooner()
    tablet.stage("13 One piece")
    tablet.tap("13.1 pull")
    tablet.saved(1)
    box = tablet.page.locator('[data-line="T1#force-gauge"] textarea')
    box.tap()
    box.press_sequentially("FG-7, due 2031-0")
    expect(header(tablet)).to_have_text(UNSAVED)
    tablet.saved(2)
    box.press_sequentially("5-04")
    box.blur()
    tablet.saved(3)
    expect(tablet.page.locator('[data-line="T1#force-gauge"] .note')).to_have_text("In date.")
    assert entered_again(tablet.form, tablet.on_disk(), "c1") == []
