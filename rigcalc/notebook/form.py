"""Exercises in a page: the one form, marked at once, with hint, working and fresh numbers."""

from __future__ import annotations

import base64
import secrets
from html import escape
from typing import Any

import traitlets

from rigcalc.learning.keeping import keep_answer
from rigcalc.learning.names import learner_here
from rigcalc.notebook.form_text import form_script
from rigcalc.notebook.on_page import OnPage
from rigcalc.notebook.teaching import STANDS_IN, draw_for_teaching, names_the_sample, of_the_scene, shop_for_teaching
from rigcalc.opening.shelf import lessons
from rigcalc.questions import Stream, compose, mark, read_answer
from rigcalc.questions.own import family_for_teaching
from rigcalc.questions.family import Family
from rigcalc.questions.first_try import first_try
from rigcalc.questions.nearly import with_nearly
from rigcalc.skills import where_words

__all__ = ["Exercise", "first_stream", "form_script", "static_html", "static_text", "where_words"]

OTHER_DRAWS = 12  # tries for another answer; a family with one answer only keeps it
_FIRST = b"the first instance that every page opens on"


def first_stream(family_id: str) -> Stream:
    """Where the fixed first instance of a family comes from: the same on every opening and for everybody."""
    return Stream(_FIRST, family_id)


def _how(question: dict[str, Any]) -> str:
    how = [question["instruction"]]
    if question["kind"] == "number":
        how.append(_units(question))
    return " ".join(how)


def _units(asked: dict[str, Any]) -> str:
    """What may be typed for a figure, and how near it has to be."""
    accepted = ", ".join(unit for unit in asked["accept"] if unit)
    told = f"{f'Answer in {accepted}' if accepted else 'A figure without a unit'}: {asked['tolerance']}."
    return told + (" Where no figure can be stated, type the word refuse." if asked["refusal"] else "")


def _listed(question: dict[str, Any]) -> list[tuple[str, str]]:
    """What stands under the question, line by line: (letter or number, text)."""
    rows = [(str(at), text) for at, text in enumerate(question.get("left") or [], 1)]
    if question["kind"] != "place":
        rows += [(option["letter"], option["text"]) for option in question["options"]]
    for box in question.get("boxes") or []:
        told = "; ".join(f"{one['letter']} {one['text']}" for one in box["options"]) or _units(box)
        rows.append((str(box["box"]), f"{box['label']}. {told}"))
    return rows


def static_text(question: dict[str, Any], title: str) -> str:
    """The question as plain text, as it stands on paper and in a page without a kernel."""
    lines = [title, question["text"]]
    if question["chart"]:
        lines.append(question["chart"])
    if question["figure"]:
        lines.append(f"Drawing: {_in_words(question['figure'])}")
    lines.append(_how(question))
    lines += [f"  {letter}  {text}" for letter, text in _listed(question)]
    return "\n".join(lines)


def _in_words(figure: dict[str, str]) -> str:
    return " ".join(words for words in (figure["alt"], figure.get("spoken")) if words)


def _drawn(figure: dict[str, str]) -> str:
    held = base64.b64encode(figure["svg"].encode("utf-8")).decode("ascii")
    return f'<p><img alt="{escape(_in_words(figure))}" src="data:image/svg+xml;base64,{held}"></p>'


def static_html(question: dict[str, Any], title: str) -> str:
    """The question as escaped HTML, for a page without a kernel."""
    rows = "".join(f"<li><strong>{escape(letter)}</strong> {escape(text)}</li>" for letter, text in _listed(question))
    chart = f'<p style="white-space:pre-line">{escape(question["chart"])}</p>' if question["chart"] else ""
    drawn = _drawn(question["figure"]) if question["figure"] else ""
    listed = f'<ul style="list-style:none">{rows}</ul>' if rows else ""
    return (f"<section><p><strong>{escape(title)}</strong></p><p>{escape(question['text'])}</p>{chart}{drawn}"
            f"<p>{escape(_how(question))}</p>{listed}</section>")


def _page(section: str) -> str:
    """Where a section stands in the workbook, for a link from another page; empty where there is no such lesson yet."""
    number, _, slug = section.partition("#")
    page = next((one.address for one in lessons() if one.number == number), "")
    return f"{page}#{slug}" if page and slug else page


class Exercise(OnPage):
    """One question to answer, marked at once.

    Parameters
    ----------
    family : str or Family
        A family, or its id among the installed ones.
    title : str
        What stands over the question.
    shop : Shop or None
        The shop it asks about (None: the shop that the lessons are worked with).
    stream : Stream or None
        Where the first values come from; None gives the fixed first instance that every page opens on.
    slot : int
        The number that the question carries.
    made : (question, key) or None
        What is asked first, where it has been composed already, as for a practice paper.

    Fresh values are drawn only when a person presses *Another like this*. Where a name was chosen at the door,
    each marked answer is kept for it.
    """

    _esm = form_script()
    _stood_in = False
    question = traitlets.Dict().tag(sync=True)
    title = traitlets.Unicode("Exercise").tag(sync=True)
    mode = traitlets.Unicode("exercise").tag(sync=True)
    # Any, not Dict: a Dict begins as {}, which a script takes for something.
    typed = traitlets.Any(None, allow_none=True).tag(sync=True)
    ask_reading = traitlets.Int(0).tag(sync=True)
    reading = traitlets.Any(None, allow_none=True).tag(sync=True)
    confirmed = traitlets.Bool(False).tag(sync=True)
    tries = traitlets.Int(0).tag(sync=True)
    feedback = traitlets.Any(None, allow_none=True).tag(sync=True)
    saved = traitlets.Unicode("").tag(sync=True)
    act = traitlets.Any(None, allow_none=True).tag(sync=True)
    hint = traitlets.Unicode("").tag(sync=True)
    working = traitlets.Unicode("").tag(sync=True)

    def __init__(self, family: str | Family, title: str = "Exercise", shop: Any = None, stream: Stream | None = None,
                 slot: int = 1, made: tuple[dict, dict] | None = None, **more: Any) -> None:
        if shop is None:
            shop, _ = shop_for_teaching()
        self._family = family_for_teaching(family) if isinstance(family, str) else family
        self._shop, self._slot, self._plain_title = shop, slot, title
        self._learner, self._turn, self._helped = learner_here(), 0, set()
        first = stream or first_stream(self._family.id)
        question, self._key = made or self._made(first)
        super().__init__(question=question, title=self._heading(), **more)

    def _made(self, stream: Stream) -> tuple[dict, dict]:
        """A question and its key; from here on the sample is asked about where the shop has nothing to ask."""
        instance, self._shop, stood_in = draw_for_teaching(self._family, stream, self._shop)
        self._stood_in = self._stood_in or stood_in
        return compose(instance, stream, self._slot)

    def _heading(self) -> str:
        if self._stood_in:
            return f"{self._plain_title} (INVENTED: {STANDS_IN})"
        return of_the_scene(self._plain_title) if not self._shop.invented and names_the_sample(self._family) else self._plain_title

    @traitlets.observe("ask_reading")
    def _read(self, change: Any) -> None:
        self.reading = read_answer(self.question, self.typed)

    @traitlets.observe("confirmed", "tries")
    def _mark(self, change: Any) -> None:
        if not self.confirmed or not change["new"]:
            return
        marked = mark(self._key, self.question, self.typed)
        if marked["right"]:
            self.working = self._key["working"]  # whoever is right is told why
        told = with_nearly(self._key, self.question, self.typed, marked)
        if change["name"] == "tries":  # both are heard at one press
            self._turn += 1
            self.saved = keep_answer(self._learner, self._key, told, self._turn, hint="hint" in self._helped, working="work" in self._helped)
        first = first_try(self._key, self.question, self.typed, marked["missteps"]) if self._turn < 2 and not marked["right"] else ""
        told = {**told, "feedback": first} if first else told
        self.feedback = {**told, "where": where_words(told["section"]), "page": _page(told["section"])}

    @traitlets.observe("act")
    def _act(self, change: Any) -> None:
        what = (change["new"] or {}).get("what")
        if what in ("hint", "work"):
            self._helped.add(what)
        if what == "hint":
            self.hint = self._key["hint"]
        elif what == "work":
            self.working = self._key["working"]
        elif what == "fresh":
            self.fresh()

    def fresh(self, stream: Stream | None = None) -> None:
        """Other values, drawn anew, because a person asked for them; a number asked for has another answer where the draws hold one."""
        before, draws = self._key["right"], OTHER_DRAWS if stream is None and self.question["kind"] == "number" and not self.question["refusal"] else 1
        for _ in range(draws):
            question, self._key = self._made(stream or Stream(secrets.token_bytes(32), self._family.id))
            if self._key["right"] != before:
                break
        with self.hold_sync():
            self.title = self._heading()
            self.typed, self.reading, self.feedback, self.confirmed = None, None, None, False
            self.hint, self.working, self.saved, self.question = "", "", "", question
        self._turn, self._helped = 0, set()

    def __repr__(self) -> str:
        return static_text(self.question, self.title)

    def _repr_mimebundle_(self, **asked: Any) -> Any:
        bundle = super()._repr_mimebundle_(**asked)
        data, more = bundle if isinstance(bundle, tuple) else (bundle, {})
        data = dict(data or {})
        data["text/plain"] = repr(self)
        data["text/html"] = static_html(self.question, self.title)
        return data, more
