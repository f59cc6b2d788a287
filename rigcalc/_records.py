"""Frozen records that cost nothing until one is made: a dataclass is built when its class is first used.

Building a hundred dataclasses takes longer than all else in importing the package; most runs use a few of them.
"""

from __future__ import annotations

from threading import RLock
from typing import Any, TypeVar

__all__ = ["record"]

Class = TypeVar("Class", bound=type)
_BUILDING = RLock()


class _Later:
    """Stands where dataclasses look for a class's fields; the first look builds the class."""

    def __get__(self, instance: object, owner: type) -> dict:
        _build(owner)
        return owner.__dataclass_fields__


class _Shown:
    """Stands where `help` and `inspect.signature` look for what a class is made of; the first look builds the class."""

    def __get__(self, instance: object, owner: type) -> Any:
        from inspect import signature

        _build(owner)
        shown = signature(owner.__init__)
        return shown.replace(parameters=list(shown.parameters.values())[1:], return_annotation=shown.empty)


def record(cls: Class | None = None, **options: Any) -> Any:
    """A frozen dataclass that is built when it is first used; options as for `dataclasses.dataclass`.

    Everything that dataclasses offer holds: equality, repr, `fields`, `replace`, defaults, `__post_init__`, and the fields in `help`.
    Source: the dataclasses of the standard library.

    >>> @record
    ... class Pin:
    ...     name: str
    ...     diameter_mm: float = 12.0
    >>> Pin("bow shackle")
    Pin(name='bow shackle', diameter_mm=12.0)
    """
    if cls is None:
        return lambda later: record(later, **options)
    cls._record_options = options
    cls.__dataclass_fields__ = _Later()
    cls.__signature__ = _Shown()
    cls.__init__ = _first
    cls.__setstate__ = _restore
    return cls


def _first(self: object, *values: Any, **named: Any) -> None:
    _build(type(self))
    type(self).__init__(self, *values, **named)


def _restore(self: object, state: dict) -> None:
    """Copied or unpickled records are made without `__init__`."""
    _build(type(self))
    self.__dict__.update(state)


def _build(cls: type) -> None:
    """Build the class and what it stands on. Whoever else makes a record meanwhile waits, and finds it whole."""
    from dataclasses import dataclass

    with _BUILDING:
        for kind in reversed(cls.__mro__):
            if kind.__dict__.get("__init__") is _first:
                twin = _twin(kind)
                dataclass(**{"frozen": True, **kind._record_options})(twin)
                for name in [name for name in kind.__dict__ if name not in (*twin.__dict__, *_LEFT_OUT)]:
                    delattr(kind, name)  # a field that is made anew for each record has no value of the class
                made = {name: value for name, value in twin.__dict__.items() if name not in _LEFT_OUT and value is not kind.__dict__.get(name)}
                for name, value in (made | {"__setattr__": _set, "__delattr__": _set}).items():
                    setattr(kind, name, value)
                kind.__dataclass_fields__ = twin.__dataclass_fields__
                kind.__init__ = twin.__init__  # last, so that no thread ever meets half a class


_LEFT_OUT = ("__dict__", "__weakref__", "__init__", "__dataclass_fields__", "__signature__")


def _twin(kind: type) -> type:
    """The same class without the stand-ins, for dataclasses to work on while threads may use the other."""
    return type(kind.__name__, kind.__bases__, {name: value for name, value in kind.__dict__.items() if name not in _LEFT_OUT})


def _set(self: object, name: str, *value: Any) -> None:
    from dataclasses import FrozenInstanceError

    raise FrozenInstanceError(f"cannot {'assign to' if value else 'delete'} field {name!r}")
