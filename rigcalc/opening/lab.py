"""JupyterLab as the editor starts it: `python -m rigcalc.opening.lab`, which is `-m jupyterlab` with the quick import."""

from __future__ import annotations

import sys

from rigcalc.opening.quick_import import jsonschema_without_grammars

__all__: list[str] = []

if __name__ == "__main__":
    jsonschema_without_grammars()
    from jupyterlab.labapp import main

    sys.exit(main())
