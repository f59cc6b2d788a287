"""Loaded by `-p tests.notebooks.early` before pytest's own plugins: nbval imports nbformat, here without its slow part (1 s a process)."""

from rigcalc.opening.quick_import import jsonschema_without_grammars

jsonschema_without_grammars()
