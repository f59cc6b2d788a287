"""Opens a working copy in JupyterLab, quiet and off-line, with a settings folder of its own."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

__all__ = ["editor_command", "editor_environment"]

FIRST_PORT = 8795
# Nobody is asked about news, and tables stand as they do on a learner's page.
NO_NEWS = {"fetchNews": "false", "checkForUpdates": False}
LOOK = """body .jp-RenderedHTMLCommon td, body .jp-RenderedHTMLCommon th { text-align:left !important; }
body .jp-RenderedHTMLCommon table { margin-left:0 !important; }
body .jp-RenderedHTMLCommon td.number, body .jp-RenderedHTMLCommon th.number { text-align:right !important; }
"""


def editor_command(copy: Path, folder: Path, browser: bool) -> list[str]:
    """The words that start JupyterLab on one working copy; the server is rooted in the working folder and no higher."""
    command = [
        sys.executable, "-m", "rigcalc.opening.lab", f"--ServerApp.root_dir={folder}",
        f"--LabApp.default_url=/lab/tree/{copy.relative_to(folder).as_posix()}", f"--ServerApp.port={FIRST_PORT}",
        "--ServerApp.ip=127.0.0.1", "--ServerApp.answer_yes=True", "--ServerApp.log_level=WARN",
        "--LabApp.news_url=None", "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        "--LabApp.extension_manager=readonly", "--LabApp.custom_css=True",
    ]
    if not browser:
        command.append("--ServerApp.open_browser=False")
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        command.append("--ServerApp.allow_root=True")
    return command


def editor_environment(folder: Path) -> dict[str, str]:
    """The environment of the editor: its settings, signatures and workspaces lie in the working folder."""
    settings = folder / ".settings"
    config = settings / "config"
    # The learners' server is never an extension of an editor: behind one it would hand out files.
    only = {"ServerApp": {"jpserver_extensions": {"voila.server_extension": False}}}
    _written(config / "jupyter_server_config.json", json.dumps(only))
    asked = settings / "lab" / "@jupyterlab" / "apputils-extension" / "notification.jupyterlab-settings"
    if not asked.exists():  # what somebody chose there since stays
        _written(asked, json.dumps(NO_NEWS))
    _written(config / "custom" / "custom.css", LOOK)
    return os.environ | {
        "JUPYTER_CONFIG_DIR": str(config), "JUPYTER_DATA_DIR": str(settings / "data"),
        "JUPYTERLAB_SETTINGS_DIR": str(settings / "lab"), "JUPYTERLAB_WORKSPACES_DIR": str(settings / "workspaces"),
        "JUPYTER_PREFER_ENV_PATH": "1",
    }


def _written(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
