"""A live figure: a drawing that can be pointed at, native controls, a sentence that answers each move.

A board holds a state, a plain dict. `show` turns a state into what is seen, `step` turns a state and one act of a hand
into the next state. Both are plain functions, so a board is tested without a browser. The controls are native HTML, because
a notebook takes letters and arrows typed on stock controls for commands of its own.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from html import escape
from importlib.resources import files
from typing import Any

import traitlets

from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.notebook.course.plainly import in_plain_words
from rigcalc.notebook.lesson import Block
from rigcalc.notebook.on_page import OnPage

__all__ = ["Board", "Control", "Said", "View", "amount", "button", "choice", "pick", "slider", "tick"]

KINDS = ("choice", "slider", "amount", "button", "tick")
TONES = ("", "ok", "no")
LONGEST_LISTED = 64  # signs of an option in a list, whose lines do not wrap


@dataclass(frozen=True)
class Control:
    """One native control; made by `choice`, `slider`, `amount`, `button` or `tick`."""

    kind: str
    name: str
    label: str
    value: Any = None
    more: tuple[tuple[str, Any], ...] = ()

    def as_data(self) -> dict[str, Any]:
        return {"kind": self.kind, "name": self.name, "label": self.label, "value": self.value, **dict(self.more)}


def _named(options) -> tuple[tuple[str, Any], ...]:
    pairs = tuple(one if isinstance(one, tuple) else (str(one), one) for one in options)
    if not pairs or len({value for _, value in pairs}) != len(pairs):
        raise ValueError("a choice needs options whose values differ")
    return pairs


def choice(name: str, label: str, options, value: Any, as_list: bool | None = None) -> Control:
    """One of several: buttons to mark where they are few (up to five) or long, else a list. Options are texts or (text, value)."""
    pairs = _named(options)
    if value not in [one for _, one in pairs]:
        raise ValueError(f"the choice {name} has no option {value!r}")
    listed = len(pairs) > 5 and max(len(text) for text, _ in pairs) <= LONGEST_LISTED if as_list is None else as_list
    return Control("choice", name, label, [one for _, one in pairs].index(value),
                   (("options", [text for text, _ in pairs]), ("values", [one for _, one in pairs]), ("listed", listed)))


def slider(name: str, label: str, least: float, most: float, step: float, value: float, shown: str) -> Control:
    """A figure to slide, from least to most; `shown` is its value in words with its unit."""
    if not least <= value <= most:
        raise ValueError(f"the slider {name} stands at {value}, outside {least} to {most}")
    return Control("slider", name, label, value, (("least", least), ("most", most), ("step", step), ("shown", shown)))


def amount(name: str, label: str, value: str, hint: str = "") -> Control:
    """A text to type, sent on Enter or when the field is left; `hint` says what is accepted."""
    return Control("amount", name, label, value, (("hint", hint),))


def button(name: str, label: str, enabled: bool = True, second: bool = False) -> Control:
    """Something to do; `second` for the less important of two."""
    return Control("button", name, label, None, (("enabled", enabled), ("second", second)))


def tick(name: str, label: str, value: bool) -> Control:
    """Yes or no."""
    return Control("tick", name, label, bool(value))


def pick(shape: str, name: str, value: str, label: str, on: bool = False) -> str:
    """A piece of SVG that can be pointed at, by finger, mouse or keyboard.

    Parameters
    ----------
    shape : str
        The piece of SVG.
    name, value : str
        What `step` is told when it is pointed at.
    label : str
        What it is, in words; no verdict.
    on : bool
        Whether it is marked now.
    """
    mark = ' data-on="1"' if on else ""
    return f'<g data-pick="{escape(name)}" data-value="{escape(value)}" data-label="{escape(label)}"{mark}>{shape}</g>'


@dataclass(frozen=True)
class Said:
    """One sentence under the controls; tone "ok", "no" or "" (shown by its mark and border, never by colour alone)."""

    text: str
    tone: str = ""


@dataclass(frozen=True)
class View:
    """What is seen: drawings, controls, sentences, and a table or other block under them.

    Parameters
    ----------
    figures : tuple of Figure
        Drawn live; parts made with `pick` can be pointed at.
    controls : tuple of Control
        In their order.
    said : tuple of Said
        What the last move came to; read out to a screen reader.
    under : Block or None
        A table, or anything that a lesson's Block can be.
    """

    figures: tuple[Figure, ...] = ()
    controls: tuple[Control, ...] = ()
    said: tuple[Said, ...] = ()
    under: Block | None = None

    def __post_init__(self) -> None:
        for one in self.controls:
            if one.kind not in KINDS:
                raise ValueError(f"a control of the kind {one.kind!r}")
        for one in self.said:
            if one.tone not in TONES:
                raise ValueError(f"a sentence of the tone {one.tone!r}")
        names = [one.name for one in self.controls]
        if len(set(names)) != len(names):
            raise ValueError(f"two controls of one name among {names}")


@cache
def _script() -> str:
    return files(__package__).joinpath("board.js").read_text(encoding="utf-8")


def _set(state: dict[str, Any], name: str, value: Any) -> dict[str, Any]:
    return state | {name: value}


class Board(OnPage):
    """A live figure on a page.

    Parameters
    ----------
    title : str
        Stands over it.
    state : dict
        Where it begins; the same on every opening.
    show : callable
        state -> View. A Refusal it raises is shown as a sentence, without a drawing.
    step : callable
        (state, name of the control or the picked part, its value) -> the next state; without one the value is put under
        that name. A Refusal it raises is shown, and the state stays as it was.

    Examples
    --------
    >>> from rigcalc.figures import cable_section
    >>> def show(state):
    ...     return View((cable_section(state["made"], 3.175, "1/8"),), (choice("made", "Construction", ("7x7", "7x19"), state["made"]),),
    ...                 (Said("Count the wires of one strand."),))
    >>> board = Board("Seven strands", {"made": "7x7"}, show)
    >>> board.act_of("made", "7x19")
    >>> board.state["made"]
    '7x19'
    """

    _esm = _script()
    title = traitlets.Unicode("").tag(sync=True)
    view = traitlets.Dict().tag(sync=True)

    def __init__(self, title: str, state: dict[str, Any], show: Callable[[dict], View],
                 step: Callable[[dict, str, Any], dict] = _set) -> None:
        self.state, self._show, self._step, self._turn = dict(state), show, step, 0
        self.seen = self._looked()
        super().__init__(title=title, view=self._data())
        self.on_msg(lambda _, told, __: self.hear(told))

    def _looked(self, refusal: Refusal | None = None) -> View:
        try:
            seen = self._show(self.state)
        except Refusal as trouble:
            seen, refusal = View(controls=tuple(_as_in(self.state, one) for one in self.seen.controls) if hasattr(self, "seen") else ()), trouble
        if refusal:
            seen = View(seen.figures, seen.controls, (Said(in_plain_words(refusal), "no"), *seen.said), seen.under)
        return seen

    def _data(self) -> dict[str, Any]:
        seen = self.seen
        return {"turn": self._turn, "controls": [one.as_data() for one in seen.controls],
                "figures": [{"svg": one.svg, "alt": one.alt, "caption": one.caption} for one in seen.figures],
                "said": [{"text": one.text, "tone": one.tone} for one in seen.said],
                "under": seen.under.html if seen.under else ""}

    def act_of(self, name: str, value: Any = None) -> None:
        """Do what a hand does: move the control or point at the part of that name."""
        refusal = None
        try:
            self.state = dict(self._step(dict(self.state), name, value))
        except Refusal as trouble:
            refusal = trouble
        self.seen = self._looked(refusal)
        self._turn += 1
        self.view = self._data()

    def hear(self, told: Any) -> None:
        """What a page tells of a hand: the name of a control with its value, or of a part that was pointed at (picked); nothing else is taken."""
        if not isinstance(told, dict) or not isinstance(told.get("name"), str):
            return
        name, value = told["name"], told.get("value")
        if told.get("picked"):
            if self._can_be_picked(name, value):
                self.act_of(name, value)
            return
        control = next((one for one in self.seen.controls if one.name == name), None)
        if control is None:
            return
        if control.kind == "choice":
            values = dict(control.more)["values"]
            if not isinstance(value, int) or not 0 <= value < len(values):
                return
            value = values[value]
        self.act_of(name, value)

    def _can_be_picked(self, name: str, value: Any) -> bool:
        mark = f'data-pick="{escape(name)}" data-value="{escape(str(value))}"'
        return any(mark in one.svg for one in self.seen.figures)

    def __repr__(self) -> str:
        lines = [f"Explorer: {self.title}.", *(one.text for one in self.seen.said)]
        lines += [f"Drawing: {one.alt}" for one in self.seen.figures]
        lines += [_in_words(one) for one in self.seen.controls]
        return "\n".join(lines + ([self.seen.under.text] if self.seen.under else []))

    def _repr_mimebundle_(self, **asked: Any) -> Any:
        bundle = super()._repr_mimebundle_(**asked)
        data, more = bundle if isinstance(bundle, tuple) else (bundle, {})
        data = dict(data or {}) | {"text/plain": repr(self), "text/html": self._still()}
        return data, more

    def _still(self) -> str:
        """The board as it begins, for paper and for a page without a kernel."""
        drawn = "".join(one._repr_html_() for one in self.seen.figures)
        said = "".join(f"<p>{escape(one.text)}</p>" for one in self.seen.said)
        return f'<section class="still-board"><p><strong>{escape(self.title)}</strong></p>{said}{drawn}</section>'


def _as_in(state: dict[str, Any], control: Control) -> Control:
    """The control as the state has it, where it is named in the state and the state's value is one of its own."""
    value = state.get(control.name, control)
    if control.kind == "choice":
        values = dict(control.more)["values"]
        return replace(control, value=values.index(value)) if value in values else control
    if control.kind == "slider" and value is not control:
        return replace(control, value=value, more=(*control.more[:-1], ("shown", f"{value:g}")))
    return replace(control, value=value) if control.kind in ("amount", "tick") and value is not control else control


def _in_words(control: Control) -> str:
    more = dict(control.more)
    if control.kind == "choice":
        return f"Control: {control.label}: {' / '.join(more['options'])}; now {more['options'][control.value]}"
    now = {"slider": more.get("shown"), "amount": control.value or "nothing typed", "tick": "yes" if control.value else "no"}
    return f"Control: {control.label}" + (f": {now[control.kind]}" if control.kind in now else "")
