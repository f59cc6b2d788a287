"""How a typed answer is read, said back before it counts. Needs the question alone, no key."""

from __future__ import annotations

from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions.scale import dimension

__all__ = ["read_answer", "LONGEST"]

LONGEST = 60
REFUSALS = ("refuse", "refused", "i refuse", "refuse it", "i refuse it")


def _unread(sentence: str, ask: list[str] | None = None) -> dict[str, Any]:
    told = sentence.removeprefix("Refused: ")
    return {"ok": False, "shown": f"Cannot be read: {told[:1].lower()}{told[1:]}", "ask": ask, "value": None}


def _read(shown: str, value: Any) -> dict[str, Any]:
    return {"ok": True, "shown": shown, "ask": None, "value": value}


def _letters(question: dict[str, Any]) -> list[str]:
    return [option["letter"] for option in question["options"]]


def _choice(question: dict[str, Any], typed: Any) -> dict[str, Any]:
    letters = _letters(question)
    if not isinstance(typed, str) or typed.strip().upper() not in letters:
        return _unread(f"{_short(typed)} was given; accepted: one of {', '.join(letters)}; choose one of these.")
    letter = typed.strip().upper()
    text = next(option["text"] for option in question["options"] if option["letter"] == letter)
    return _read(f"{letter}: {text}", letter)


def _order(question: dict[str, Any], typed: Any) -> dict[str, Any]:
    letters = _letters(question)
    row = [one.strip().upper() if isinstance(one, str) else one for one in typed] if isinstance(typed, list) else typed
    if not isinstance(row, list) or len(row) != len(letters) or sorted(map(str, row)) != sorted(letters):
        return _unread(f"{_short(typed)} was given; accepted: each of {', '.join(letters)} once; put them in order.")
    return _read(", then ".join(row), row)


def _short(typed: Any) -> str:
    if typed in (None, "", []):
        return "Nothing"
    if isinstance(typed, list):
        return f"A row of {len(typed)} letters" if len(typed) > 8 else "'" + ", ".join(str(t)[:8] for t in typed) + "'"
    return repr(typed[:LONGEST]) if isinstance(typed, str) else "Something that is no text"


def _number(question: dict[str, Any], typed: Any) -> dict[str, Any]:
    from rigcalc import units

    if not isinstance(typed, str) or not typed.strip():
        return _unread(f"{_short(typed)} was given; accepted: a figure in {', '.join(question['accept'])}; type it.")
    if question.get("refusal") and " ".join(typed.casefold().rstrip(". ").split()) in REFUSALS:
        return _read("refuse: no figure can be stated", {"refuse": True})
    readers = {"force": lambda: units.read_force_n(typed, accept=tuple(question["accept"])),
               "length": lambda: units.read_length_mm(typed), "mass": lambda: units.read_mass_kg(typed)}
    try:
        reading = readers[dimension(question["accept"][0])]()
    except units.AmbiguousInput as doubtful:
        return _unread(str(doubtful), [one for one in doubtful.choices if _unit_of(one) in (None, *question["accept"])])
    except Refusal as refusal:
        return _unread(str(refusal))
    if reading.unit not in question["accept"]:
        return _unread(f"An answer in {reading.unit} was given; accepted: {', '.join(question['accept'])}; "
                       "type it in one of these units.")
    return _read(reading.shown, {"base": str(reading.value), "unit": reading.unit, "typed": typed.strip()})


def _unit_of(choice: str) -> str | None:
    last = choice.split()[-1] if " " in choice else None
    return last if last and last.isalpha() else None


def read_answer(question: dict[str, Any], typed: Any) -> dict[str, Any]:
    """How an answer is read: {"ok", "shown", "ask", "value"}.

    `shown` is the reading, or one plain sentence saying why there is none; `ask` are the readings to choose from
    when what was typed is ambiguous. `typed` is untrusted: anything at all may be given, nothing is executed.
    """
    if isinstance(typed, str) and len(typed) > LONGEST:
        return _unread(f"{len(typed)} signs were given; accepted: at most {LONGEST}; type a shorter answer.")
    if isinstance(typed, list) and len(typed) > 26:
        return _unread(f"A row of {len(typed)} was given; accepted: at most 26; put the letters in order.")
    kinds = {"one choice": _choice, "number": _number, "order": _order}
    return kinds[question["kind"]](question, typed)
