"""Voilà, JupyterLab and Jupyter's readers of notebooks imported in half the time.

What they check notebooks with, jsonschema, imports where it can a reader of addresses in any script, which makes 38
grammars at once (about 1 s). No check that is made here asks for one, so that jsonschema is let go without it.
"""

from __future__ import annotations

import sys

__all__ = ["jsonschema_without_grammars"]

SLOW = "rfc3987_syntax"


def jsonschema_without_grammars() -> None:
    """Import jsonschema without the slow part; whoever asks for that part itself afterwards gets it."""
    if SLOW in sys.modules or "jsonschema" in sys.modules:
        return
    sys.modules[SLOW] = None  # importing it now fails, which jsonschema allows for
    try:
        import jsonschema  # noqa: F401
    except ImportError:
        pass  # whoever needs it says so itself
    finally:
        del sys.modules[SLOW]
