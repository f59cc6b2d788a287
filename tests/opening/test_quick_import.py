"""What is left out of an import is still there for whoever asks, and notebooks are checked as before."""

from __future__ import annotations

import subprocess
import sys

LEFT_OUT = """
import importlib.util, sys
from rigcalc.opening.quick_import import jsonschema_without_grammars
jsonschema_without_grammars()
import nbformat
print("rfc3987_syntax" in sys.modules, importlib.util.find_spec("rfc3987_syntax") is not None)
try:
    nbformat.validate({"nbformat": 4, "nbformat_minor": 5, "metadata": {}, "cells": [{"cell_type": "no such"}]})
except nbformat.ValidationError:
    print("refused")
"""


def test_the_slow_part_is_left_out_and_a_notebook_that_cannot_be_is_refused():
    ran = subprocess.run([sys.executable, "-c", LEFT_OUT], capture_output=True, text=True, timeout=60)
    assert ran.stdout.split("\n")[:2] == ["False True", "refused"], ran.stdout + ran.stderr
