"""The form's script for either host: its controls and its frame, as one text."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

__all__ = ["form_script"]


@cache
def form_script() -> str:
    """The form's module as text. It is one module, so that a lesson can load it as a widget's."""
    folder = files("rigcalc.notebook")
    return "\n".join(folder.joinpath(name).read_text(encoding="utf-8") for name in ("form_controls.js", "form.js"))
