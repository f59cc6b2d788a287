"""Lesson 10 as a reader and a class on the projector see it: what a question asks for is nowhere to be read before its answer is opened."""

from __future__ import annotations

import pytest

from rigcalc.opening.shelf import find_sheet

# question -> (words before which the reading ends, what names the answer)
ASKED = {
    "Say each job's class": ("A gate swings", ("people can be there", "two of the three are not ours")),
    "On what terms can it be taken": ("All that follows works out", ("fenced", "turnbuckle")),
    "How hard does each leg pull?": ("Legs that carry a load", ("1000 lbf", "as much as the whole load")),
    "Which of these pulls hardest? Say it before": ("Try it. Take the letter", ("flattest", "65.3", "54.8", "44.7")),
    "Which one governs, and why that one?": ("But beams differ", ("steeper", "short one", "65.6", "50.4")),
    "Which one governs now?": ("Try it. First say which leg", ("steeper", "The short one", "59.6", "54.0")),
    "A quarter each.\u201d Is she right?": ("For how much is each leg sized", ("rocks", "up to 200.0", "the pale line")),
    "For how much is each leg sized, with": ("Try it. Choose what", ("for half of the weight", "counts on three")),
    "is counting on two still enough?": ("The brace", ("No count is a rule",)),
    "Was she right? Say why": ("The same rule, in a printed", ("She was not", "284.6")),
    "how hard is the boom pressed?": ("Three things to ask", ("17.16", "25.9")),
    "How hard does it pull? Work it out": ("A printed example, of a person", ("67.6",)),
    "How hard does the wire pull? Work it out": ("It was rounded when", ("3935",)),
    "Say what is wrong with each": ("Two of them came in", ("65.6", "no least angle", "cannot push", "67.6", "135.1", "200.0")),
    "Say what goes back": ("A pull is no limit", ("at least 65.6", "4 facts are missing")),
}
# All texts of the page in order, words of drawings too, each with whether it is to be seen.
TEXTS = """() => {
  const found = [], walk = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
  for (let one = walk.nextNode(); one; one = walk.nextNode()) {
    const element = one.nodeType === Node.TEXT_NODE ? one.parentElement : one;
    if (element.closest('style, script, details.trainer')) { continue; }
    const words = one.nodeType === Node.TEXT_NODE ? one.data : one.getAttribute('alt') || one.getAttribute('aria-label') || '';
    if (words.trim()) { found.push([words.replace(/\\s+/g, ' '), element.checkVisibility()]); }
  }
  return found;
}"""


@pytest.mark.parametrize("view", ["0", "1"], ids=["reader", "projector"])
def test_nothing_that_stands_open_after_a_question_names_its_answer(view, workbook, page):
    page.goto(workbook.address)
    page.goto(workbook.base + find_sheet("10").address + "?projector=" + view)
    page.wait_for_selector("html[data-live=alive]", timeout=60_000)
    texts, whole = page.evaluate(TEXTS), ""
    starts = []
    for words, _ in texts:
        starts.append(len(whole))
        whole += words
    plain = whole.replace('"', "\u201d")
    assert len(plain) == len(whole)
    for question, (end, names) in ASKED.items():
        begin = plain.index(question)
        stop = plain.find(end, begin)
        assert stop > 0, (question, end, plain[begin:begin + 1500])
        between = [(words, seen) for (words, seen), start in zip(texts, starts) if begin <= start < stop]
        shown, hidden = (" ".join(words for words, seen in between if seen is wanted) for wanted in (True, False))
        for name in names:
            assert name in hidden, f"{question} is not answered with {name}: {hidden[:400]}"
            assert name not in shown, f"{question} and openly: {name}"
