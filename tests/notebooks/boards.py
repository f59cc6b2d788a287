"""What the tests of live figures ask of a board, and how they act on it."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from rigcalc.notebook.board import Board

__all__ = ["after", "each_option_of", "said", "tones", "verdicts"]


def said(board: Board) -> str:
    """All its sentences."""
    return " ".join(one.text for one in board.seen.said)


def tones(board: Board) -> list[str]:
    """The tone of each sentence."""
    return [one.tone for one in board.seen.said]


def verdicts(board: Board) -> list[str]:
    """The tone of each sentence that is a verdict."""
    return [tone for tone in tones(board) if tone]


def after(board: Board, *acts: tuple[str, object] | str) -> Board:
    """The board after acts: (name, value), or the name alone of a button."""
    for act in acts:
        board.act_of(*(act if isinstance(act, tuple) else (act,)))
    return board


def each_option_of(makers: Iterable[Callable[[], Board]]) -> Iterable[Board]:
    """A fresh board for each option, end or state of each control that stands at the beginning."""
    for make in makers:
        for control in make().seen.controls:
            more = dict(control.more)
            ends = {"slider": [more.get("least"), more.get("most")], "tick": [True, False]}
            for value in more.get("values", ends.get(control.kind, [None])):
                yield after(make(), (control.name, value))
