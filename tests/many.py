"""How much the searching tests draw: a smaller sample in every run, the whole of it in `python tests/run.py whole`."""

from __future__ import annotations

import os

__all__ = ["many"]


def many(quick: int, whole: int) -> int:
    """How many draws, examples or simulated worlds: `quick` in every run, `whole` where RIGCALC_WHOLE is set."""
    return whole if os.environ.get("RIGCALC_WHOLE") else quick
