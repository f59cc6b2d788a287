"""What every calculation asks of what it is given: the right kind of thing, else one plain refusal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, TypeVar

from rigcalc.errors import Refusal

__all__ = ["among", "listed", "of_kind", "said", "texts", "words", "yes_or_no"]

Kind = TypeVar("Kind")
_WRITTEN = ("datetime", "fractions", "decimal")  # what Python shows of these is a line of program


def said(value: object) -> str:
    """A value in words for a refusal, short and on one line, whatever it is; a day, a time or a fraction as it is written.

    Errors: none. Source: workbook judgement.

    >>> said("1/8"), said(10 ** 5000), said(len)
    ("'1/8'", 'something (int) that cannot be written', 'a function')
    """
    try:
        text = " ".join(f"{str(value) if type(value).__module__ in _WRITTEN else repr(value):.60}".split())
    except Exception:  # whatever is wrong with it, a refusal must still be sayable
        return f"something ({type(value).__name__}) that cannot be written"
    if callable(value) and not isinstance(value, type):
        return "a function"
    return f"something ({type(value).__name__})" if text.startswith("<") or " at 0x" in text else text[:40].rstrip()


def among(value: object, known: Iterable[str]) -> bool:
    """Whether a value is one of the known words. Anything that is no text is none of them.

    Errors: none. Source: workbook judgement.

    >>> among("dry", ("dry", "outdoor")), among(["dry"], ("dry", "outdoor"))
    (True, False)
    """
    return isinstance(value, str) and value in known


def of_kind(value: Any, kind: type[Kind], what: str) -> Kind:
    """The value, if it is of that kind; `what` says in words what is asked for.

    Errors: `Refusal` for any other. Source: workbook judgement.

    >>> of_kind("3 lbf", str, "a mark")
    '3 lbf'
    """
    if not isinstance(value, kind) or isinstance(value, bool) and kind is not bool:
        raise Refusal(f"{said(value)} for {what}", f"{what}, as {kind.__module__}.{kind.__qualname__}", "give it so")
    return value


def words(value: Any, what: str) -> str:
    """The value, if it is text with something written in it; `what` says in words what is asked for.

    Errors: `Refusal` for any other. Source: workbook judgement.

    >>> words("lot 4", "the lot's name")
    'lot 4'
    """
    if not isinstance(value, str) or not any(sign.isalnum() for sign in value):
        raise Refusal(f"{said(value)} for {what}", "words", "write it out")
    return value


def texts(record: Any, names: str, what: str) -> None:
    """Refuses a record of which a named field is no text; `names` are the fields, `what` says in words what the record is.

    Errors: `Refusal` for such a field. Source: workbook judgement.

    >>> texts(Refusal("a", "b", "c"), "given accepted", "a refusal")
    """
    for name in names.split():
        of_kind(getattr(record, name), str, f"the {name} of {what}")


def yes_or_no(value: Any, what: str) -> bool:
    """The value, if it is a plain True or False; `what` says in words what is asked.

    Errors: `Refusal` for any other: nothing is no answer. Source: workbook judgement.

    >>> yes_or_no(True, "whether it moves")
    True
    """
    if not isinstance(value, bool):
        raise Refusal(f"{said(value)} for {what}", "True or False", "answer it: a blank is no answer")
    return value


def listed(values: Any, what: str, kind: type | None = None) -> Sequence[Any]:
    """The values as a tuple, if they are a list of things, each of that kind where one is named.

    Errors: `Refusal` for text, a mapping, what cannot be gone through, and a thing of another kind. Source: workbook judgement.

    >>> listed([1, 2], "the counts", int)
    (1, 2)
    """
    if isinstance(values, (str, bytes, dict)) or not isinstance(values, Iterable):
        raise Refusal(f"{said(values)} for {what}", "a list", "give them in a list")
    try:
        found = tuple(values)
    except TypeError:  # an array without a dimension says that it can be gone through
        raise Refusal(f"{said(values)} for {what}", "a list", "give them in a list") from None
    return found if kind is None else tuple(of_kind(one, kind, f"each of {what}") for one in found)
