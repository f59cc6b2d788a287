"""Lessons in JupyterLab: a server of its own in a thrown-away home, and a page that is run from top to bottom."""

from __future__ import annotations

import json
import os
import time
from pathlib import Path

__all__ = ["Lab", "cells_of", "open_lesson"]

RUN_SECONDS, TURNS = 90, 3
COUNTED = """() => { const cells = [...window.jupyterapp.shell.currentWidget.content.model.cells].filter((one) => one.type === 'code');
  return { cells: window.jupyterapp.shell.currentWidget.content.model.cells.length, code: cells.length,
    counted: cells.filter((one) => one.executionCount !== null).length,
    broken: cells.filter((one) => [...Array(one.outputs.length).keys()].some((at) => one.outputs.get(at).type === 'error'
      && !(one.getMetadata('tags') || []).includes('raises-exception'))).map((one) => one.id) }; }"""
CLEARED = """() => { for (const one of window.jupyterapp.shell.currentWidget.content.model.cells) if (one.type === 'code') one.clearExecution(); }"""
READY = """async () => { const app = window.jupyterapp; await app.restored; const panel = app.shell.currentWidget;
  if (!panel || !panel.context) return false; return panel.context.isReady && panel.sessionContext.isReady
    && panel.sessionContext.session.kernel.status === 'idle'; }"""


class Lab:
    """JupyterLab over working copies of the lessons, with every cell drawn whether or not it is in sight."""

    def __init__(self, home: Path, port: int, sheets) -> None:
        from house import Process, environment

        from rigcalc.opening.editor import editor_command, editor_environment
        from rigcalc.opening.working import make_copy

        folder = home / "lab"
        copies = [make_copy(sheet, folder) for sheet in sheets]
        settings = folder / ".settings" / "lab" / "@jupyterlab" / "notebook-extension"
        settings.mkdir(parents=True)
        (settings / "tracker.jupyterlab-settings").write_text(json.dumps({"windowingMode": "none"}), encoding="utf-8")
        words = [word for word in editor_command(copies[0], folder, browser=False) if not word.startswith(("--ServerApp.port=", "--ServerApp.log_level"))]
        words += [f"--ServerApp.port={port}", "--LabApp.expose_app_in_browser=True", "--IdentityProvider.token=sweep", "--ServerApp.port_retries=0"]
        with_settings = {name: value for name, value in editor_environment(folder).items() if os.environ.get(name) != value}
        self.process = Process(words, environment(home, **with_settings))
        self.base = f"http://127.0.0.1:{port}"
        self.process.wait_for(rf"127\.0\.0\.1:{port}/lab")

    def stop(self) -> None:
        self.process.stop()


def open_lesson(lab: Lab, page, sheet) -> dict:
    """Open a lesson and run it from top to bottom; how many cells have a count afterwards, and which broke."""
    page.goto(f"{lab.base}/lab/tree/lessons/{sheet.name}.ipynb?token=sweep&reset")
    page.wait_for_function("() => window.jupyterapp && window.jupyterapp.shell.currentWidget && window.jupyterapp.shell.currentWidget.context",
                           timeout=60_000)
    _until(page, READY, 60)
    page.wait_for_timeout(250)
    for _ in range(TURNS):  # a run asked for at the moment the kernel turns idle is lost
        page.evaluate(CLEARED)
        page.evaluate("() => { window.jupyterapp.commands.execute('notebook:run-all-cells'); }")
        until = time.monotonic() + RUN_SECONDS
        seen = page.evaluate(COUNTED)
        started = time.monotonic()
        while time.monotonic() < until and seen["counted"] < seen["code"] and not (seen["counted"] == 0 and time.monotonic() - started > 15):
            page.wait_for_timeout(200)
            seen = page.evaluate(COUNTED)
        if seen["counted"] == seen["code"]:
            break
    page.wait_for_timeout(600)
    return seen


def cells_of(page) -> int:
    """How many cells the open notebook has: typing into a figure must not delete one."""
    return page.evaluate(COUNTED)["cells"]


def _until(page, script: str, seconds: float) -> None:
    until = time.monotonic() + seconds
    while not page.evaluate(script):
        assert time.monotonic() < until, "JupyterLab did not get ready"
        page.wait_for_timeout(200)
