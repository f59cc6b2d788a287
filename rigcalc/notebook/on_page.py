"""What stands live on a page: figures and exercises."""

from __future__ import annotations

from typing import Any

import anywidget
import ipywidgets

__all__ = ["OnPage"]


class OnPage(anywidget.AnyWidget):
    """A live part of a page. All of them stand in one layout: one each would be a message each, at every opening, that says nothing."""

    _shared: ipywidgets.Layout | None = None

    def __init__(self, **more: Any) -> None:
        if OnPage._shared is None or OnPage._shared.comm is None:  # none yet, or closed with its page
            OnPage._shared = ipywidgets.Layout()
        super().__init__(**{"layout": OnPage._shared} | more)
