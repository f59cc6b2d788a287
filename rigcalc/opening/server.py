"""The learners' server: Voilà by itself, with our own template, serving the notebooks on the shelf and nothing else."""

from __future__ import annotations

import logging
import os
import secrets
import shutil
import sys
from pathlib import Path

import tornado.ioloop
from jupyter_core.utils import run_sync
from traitlets import Callable, Unicode
from traitlets.config import Config
from voila.app import Voila

from rigcalc.home import installed_folder
from rigcalc.learning.names import NAME_HEADER, NAME_VARIABLE
from rigcalc.opening.handlers import handlers
from rigcalc.opening.pages import page_facts
from rigcalc.opening.quick_pages import compile_templates_once

__all__ = ["FIRST_PORT", "TEMPLATE", "WorkbookServer", "make_server"]

FIRST_PORT = 8791
PORTS_TRIED = 40
TEMPLATE = Path(__file__).with_name("template")
KERNEL_IDLE_SECONDS = 300
KERNEL_LOOK_SECONDS = 60
# Pages may ask this server and nobody else. Widgets bring their code as blobs; the notebook front end compiles some.
POLICY = ("default-src 'self'; script-src 'self' 'unsafe-inline' 'unsafe-eval' blob:; style-src 'self' 'unsafe-inline'; "
          "img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self' ws://127.0.0.1:* ws://localhost:* blob:; "
          "frame-ancestors 'none'; form-action 'self'; base-uri 'self'")
# The only front-end parts a lesson needs; what else is installed in the environment stays out of the page.
FRONT_END_PARTS = ["@jupyter-widgets/jupyterlab-manager", "@voila-dashboards/widgets-manager8", "anywidget"]


class WorkbookServer(Voila):
    """Voilà with our pages in front: no directory listing, no contents or files address, no outside request."""

    name = "voila"  # Voilà looks its own settings up under this name
    desk_address = Unicode("", help="address of the assessor's desk, without its token; empty when there is none")
    ready = Callable(None, allow_none=True, help="called with the server once it listens")
    classes = Voila.classes

    def setup_template_dirs(self) -> None:
        super().setup_template_dirs()
        self.template_paths = [str(TEMPLATE), str(TEMPLATE.parent.parent / "pages"), *self.template_paths]

    def init_settings(self) -> dict:
        settings = super().init_settings()
        settings.update(
            allow_remote_access=False, local_hostnames=["localhost", "127.0.0.1"], mathjax_url="", mathjax_config="",
            server_root_dir=str(installed_folder()), workbook=self, login_url="/enter",
            headers={"Content-Security-Policy": POLICY, "Referrer-Policy": "same-origin"},
        )
        return settings

    def init_handlers(self) -> list:
        """Voilà's own list, less everything that lists or serves files, plus the workbook's pages."""
        wanted = ("/api/kernels/", "/voila/templates/", "/voila/static/", "/voila/api/themes/", "/voila/api/shutdown/",
                  "/voila/labextensions/")
        kept = [handler for handler in super().init_handlers() if str(handler[0]).startswith(wanted)]
        return kept + handlers(self)

    def listen(self) -> None:
        """Listen on the first free port, say nothing of it here, and serve until stopped."""
        self.port = listen_on_free_port(self.app, self.ip, self.port)
        self.ioloop = tornado.ioloop.IOLoop.current()
        try:
            if self.ready:
                self.ready(self)
            self.ioloop.start()
        except KeyboardInterrupt:
            pass
        finally:
            self.stop()

    def stop(self) -> None:
        """Stop every kernel and clear away the connection files."""
        run_sync(self.kernel_manager.shutdown_all)()
        shutil.rmtree(self.connection_dir, ignore_errors=True)


def listen_on_free_port(app, ip: str, first: int) -> int:
    """Bind `app` to the port `first`, else to the first free one of those ten and more above it, and return it.

    The ports between are left to the desk and the room.

    Raises
    ------
    OSError
        None of the ports tried is free.
    """
    for port in (first, *range(first + 10, first + 10 + PORTS_TRIED)):
        if port > 65535:
            break
        try:
            app.listen(port, ip)
        except OSError:
            continue
        return port
    raise OSError(f"neither it nor one of {first + 10} to {min(first + 9 + PORTS_TRIED, 65535)} is free")


def make_server(port: int = FIRST_PORT, desk_address: str = "", ready=None) -> WorkbookServer:
    """A server that is set up and not yet started; `start()` serves until Ctrl-C."""
    _keep_to_this_environment()
    compile_templates_once()
    server = WorkbookServer(config=_settings(), config_file_paths=[], port=port, desk_address=desk_address, ready=ready)
    server.initialize([])
    server.log.setLevel(logging.ERROR)
    for name in ("tornado.access", "tornado.application", "tornado.general", "traitlets"):
        logging.getLogger(name).setLevel(logging.ERROR)
    return server


def _settings() -> Config:
    return Config({
        "Voila": {
            "ip": "127.0.0.1", "open_browser": False, "token": secrets.token_urlsafe(24), "log_level": logging.ERROR,
            "root_dir": str(installed_folder()), "cookie_secret": secrets.token_bytes(32),
        },
        "VoilaConfiguration": {
            "template": "lab", "theme": "light", "allow_template_override": "NO", "allow_theme_override": "NO",
            "strip_sources": True, "show_tracebacks": True, "attempt_fix_notebook": True,
            "extension_allowlist": FRONT_END_PARTS, "file_allowlist": [], "page_config_hook": page_facts,
            "http_header_envs": [NAME_HEADER],  # set by Notebook from the cookie, never by the browser
        },
        # They would change a notebook before it runs; none of ours does, and each would have the whole notebook checked again.
        "VoilaExporter": {"default_preprocessors": []},
        "MappingKernelManager": {
            "cull_idle_timeout": KERNEL_IDLE_SECONDS, "cull_interval": KERNEL_LOOK_SECONDS, "cull_connected": False,
        },
        # A kernel started again behind a page knows nothing of the page's controls: better to say that it stopped.
        "KernelManager": {"autorestart": False, "transport": _kernel_transport()},
    })


def _kernel_transport() -> str:
    """Sockets in a private folder instead of ports, where their paths are surely short enough for the system."""
    return "ipc" if sys.platform.startswith("linux") else "tcp"


def _keep_to_this_environment() -> None:
    """Use this environment's kernel and front end, whatever else the person's own folders hold; no name comes with it."""
    os.environ.pop(NAME_VARIABLE, None)
    os.environ.setdefault("JUPYTER_PREFER_ENV_PATH", "1")
    os.environ.setdefault("PYDEVD_DISABLE_FILE_VALIDATION", "1")
