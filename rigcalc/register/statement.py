"""What a certificate of competence says: every field, its type and its bounds."""

from __future__ import annotations

import unicodedata
from datetime import date
from typing import Annotated

import msgspec
from msgspec import Meta

from rigcalc.errors import Refusal

__all__ = ["Certificate", "Issuer", "Statement", "checked", "as_plain"]

Line = Annotated[str, Meta(min_length=1, max_length=300)]
Text = Annotated[str, Meta(min_length=1, max_length=2000)]
Day = Annotated[str, Meta(pattern=r"^\d{4}-\d{2}-\d{2}\Z")]
Hash = Annotated[str, Meta(pattern=r"^[0-9a-f]{64}\Z")]
Lines = Annotated[list[Line], Meta(max_length=60)]
SomeLines = Annotated[list[Line], Meta(min_length=1, max_length=60)]


class _Part(msgspec.Struct, forbid_unknown_fields=True, frozen=True):
    """A part of the statement: no field more, no field less, nothing turned into another type."""


class Person(_Part):
    name: Line
    candidate: Line
    identified: Text


class Scope(_Part):
    """What was shown: one sleeve metal, construction, finish, tool and cavity, and the sizes really made."""

    scheme: Line
    sleeve_metal: Line
    construction: Line
    finish: Line
    tool: Line
    cavity: Line
    sizes: SomeLines
    limits: Text


class Written(_Part):
    paper: Line
    blueprint: Line
    score: Line
    out_of: Line
    cut: Line
    cut_how: Text
    cut_by: Line
    must_be_right: SomeLines
    answers_sha256: Hash
    skills: Lines
    given: Annotated[str, Meta(max_length=1000)] = ""


class Bench(_Part):
    form: Line
    tasks: SomeLines
    done_on: Day
    piece: Text
    piece_set: Text
    gauge: Line
    gauge_checked_on: Day
    gauge_due_on: Day
    events_sha256: Hash
    skills: Lines
    again: Annotated[str, Meta(max_length=1000)] = ""


class Chart(_Part):
    line: Text
    kind: Line


class Declarations(_Part):
    training: Text
    conflict: Text
    roles: Annotated[str, Meta(max_length=2000)] = ""


class Decision(_Part):
    decider: Line
    on: Day
    reasons: Text


class Validity(_Part):
    starts: Day
    ends: Day
    why: Text


class Place(_Part):
    """Where the decision stands in the issuer's register."""

    entry: Annotated[int, Meta(ge=1)]
    hash: Hash


class Statement(_Part):
    number: Line
    invented: bool
    person: Person
    scope: Scope
    not_shown: SomeLines
    written: Written
    bench: Bench
    chart: Chart
    assessor: Line
    declarations: Declarations
    decision: Decision
    validity: Validity
    register: Place
    cautions: SomeLines
    replaces: Lines = []


class Issuer(_Part):
    name: Line
    key: Hash
    fingerprint: Line


class Certificate(_Part):
    form: Annotated[int, Meta(ge=1, le=1)]
    kind: Line
    standing: Line
    issuer: Issuer
    statement: Statement
    signature: Annotated[str, Meta(pattern=r"^[0-9a-f]{128}\Z")]


def checked(plain: object, as_type: type):
    """The plain value as the type, every field of the right kind; else a refusal that names the field."""
    _refuse_hidden_signs(plain)
    try:
        made = msgspec.convert(plain, as_type, strict=True)
    except msgspec.ValidationError as problem:
        raise Refusal(f"a certificate with something wrong in it ({problem})", "the fields a certificate has",
                      "ask the issuer for the file again") from None
    statement = made.statement if isinstance(made, Certificate) else made
    if isinstance(statement, Statement):
        _dates_in_order(statement)
    return made


def as_plain(value: object) -> dict:
    """Structs back to plain dictionaries and lists."""
    return msgspec.to_builtins(value)


def _dates_in_order(statement: Statement) -> None:
    days = (statement.bench.done_on, statement.bench.gauge_checked_on, statement.bench.gauge_due_on,
            statement.decision.on, statement.validity.starts, statement.validity.ends)
    for day in days:
        try:
            date.fromisoformat(day)
        except ValueError:
            raise Refusal(f"the date '{day}'", "a day of the calendar as year-month-day, like 2031-04-30",
                          "put the date right") from None
    if statement.validity.ends < statement.validity.starts:
        raise Refusal(f"a certificate that ends ({statement.validity.ends}) before it starts "
                      f"({statement.validity.starts})", "an end after the start", "put the dates right")


def _refuse_hidden_signs(plain: object) -> None:
    """No control or direction signs: a name must read in a terminal and on paper as it stands in the file."""
    if isinstance(plain, str):
        bad = next((sign for sign in plain if unicodedata.category(sign) in ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")), None)
        if bad is not None:
            raise Refusal(f"text with the hidden sign U+{ord(bad):04X}", "text that shows all it holds",
                          "type the text again without it")
    elif isinstance(plain, dict):
        for key, value in plain.items():
            _refuse_hidden_signs(key)
            _refuse_hidden_signs(value)
    elif isinstance(plain, list):
        for value in plain:
            _refuse_hidden_signs(value)
