"""Addresses of the learners' server: the three doors, the notebooks, and whether a page's live parts still run."""

from __future__ import annotations

import os
import secrets
from functools import partial

import tornado.web
from jupyter_core.utils import ensure_async
from jupyter_server.auth.decorator import allow_unauthenticated
from jupyter_server.base.handlers import JupyterHandler
from jupyter_server.services.contents.largefilemanager import LargeFileManager
from voila.handler import VoilaHandler

from rigcalc.bench.tasks import load_tasks
from rigcalc.errors import Refusal
from rigcalc.learning.log import TAKEN_BACK, append, bench_line
from rigcalc.learning.names import NAME_HEADER, Learner, find_learner, forget, welcome
from rigcalc.opening import pages
from rigcalc.opening.running import HERE
from rigcalc.opening.shelf import find_sheet
from rigcalc.opening.working import edited_copy

__all__ = ["handlers"]


class OwnPage(JupyterHandler):
    """A plain page of the workbook; whoever brings the token in the address gets it out of the address again."""

    def initialize(self, make=None) -> None:
        self.make = make

    @tornado.web.authenticated
    async def get(self) -> None:
        if self.get_argument("token", ""):
            self.redirect(self.request.path)
            return
        self.show()

    def show(self) -> None:
        """Send the page as it stands now."""
        self.set_header("Cache-Control", "no-store")
        self.finish(self.make(self.settings["workbook"]))

    def write_error(self, status_code: int, **kwargs) -> None:
        self.set_status(status_code)
        self.finish(pages.trouble_page(status_code))


NAME_DAYS = 30
NOT_TAKEN = "That name could not be kept: the disk did not take it. Lessons and practice go on."
NOT_REMOVED = "That name could not be taken away: the disk did not let its file go. Nothing else has changed."
TASK_NOT_TAKEN = "That could not be kept: the disk did not take it. Lessons and practice go on."


def name_cookie(handler) -> str:
    """The cookie's name: browsers share cookies between the ports of one machine, so it carries this server's."""
    return f"workbook-name-{handler.settings['workbook'].port}"


def chosen(handler) -> Learner | None:
    """The learner whom the cookie names, where this machine knows that learner."""
    return find_learner(handler.get_cookie(name_cookie(handler), ""))


class Learn(OwnPage):
    """The page Learn with its door: whose answers are kept."""

    def show(self, **more) -> None:
        self.set_header("Cache-Control", "no-store")
        self.finish(pages.learn_page(self.settings["workbook"], chosen(self), self.xsrf_token.decode(), **more))

    @tornado.web.authenticated
    async def post(self) -> None:
        typed = self.get_body_argument("name", None)
        if self.get_body_argument("remove", None) is not None:
            self.remove()
            return
        if typed is None:
            learner = find_learner(self.get_body_argument("who", ""))
        else:
            try:
                learner = welcome(typed)
            except (Refusal, OSError) as trouble:
                self.set_status(400 if isinstance(trouble, Refusal) else 500)
                self.show(refused=str(trouble) if isinstance(trouble, Refusal) else NOT_TAKEN, typed=typed)
                return
        if learner is None:
            self.clear_cookie(name_cookie(self))
        else:
            self.set_cookie(name_cookie(self), learner.key, expires_days=NAME_DAYS, httponly=True, samesite="Strict")
        self.redirect("/learn", status=303)


    def remove(self) -> None:
        """Take a name away for good, once somebody has said so twice."""
        key = self.get_body_argument("remove")
        try:
            if not self.get_body_argument("sure", ""):
                raise Refusal("a name to take away, without the tick beside it", "the tick, since what is kept for it is lost then", "tick it, or leave the name")
            gone = forget(key)
        except (Refusal, OSError) as trouble:
            self.set_status(400 if isinstance(trouble, Refusal) else 500)
            self.show(refused=str(trouble) if isinstance(trouble, Refusal) else NOT_REMOVED)
            return
        if chosen(self) is None:
            self.clear_cookie(name_cookie(self))
        self.show(removed=f"{gone} is gone from this machine, with all that was kept for it.")


class NextTask(Learn):
    """Which bench task comes next, kept with the name, or taken back."""

    @tornado.web.authenticated
    async def get(self) -> None:
        self.redirect("/learn")

    @tornado.web.authenticated
    async def post(self) -> None:
        learner, task = chosen(self), self.get_body_argument("task", "")
        if learner and (task == TAKEN_BACK or task in load_tasks()):
            try:
                append(learner.path, bench_line(task))
            except OSError:
                self.set_status(500)
                self.show(refused=TASK_NOT_TAKEN)
                return
        self.redirect("/learn#bench", status=303)


class Enter(OwnPage):
    """Where a visitor without the token lands: one sentence, and a field for the token."""

    @allow_unauthenticated
    async def get(self) -> None:
        self.set_status(403)
        self.finish(pages.enter_page(self.xsrf_token.decode(), bool(self.get_argument("wrong", ""))))

    @allow_unauthenticated
    async def post(self) -> None:
        typed = self.get_body_argument("token", "").strip()
        provider = self.settings["identity_provider"]
        if not secrets.compare_digest(typed.encode(), provider.token.encode()):
            self.redirect("/enter?wrong=1")
            return
        provider.set_login_cookie(self, provider.generate_anonymous_user(self))
        self.redirect("/")


class Notebook(VoilaHandler):
    """A notebook as a live page: the installed one, or the trainer's working copy where it was edited."""

    @tornado.web.authenticated
    async def get(self, room: str, name: str) -> None:
        if self.get_argument("token", ""):
            self.redirect(self.request.path)
            return
        try:
            self.sheet = find_sheet(f"{room}/{name}")
        except Refusal as refusal:
            raise tornado.web.HTTPError(404) from refusal
        self.copy = edited_copy(self.sheet)
        on_the_wall = self.get_query_argument("projector", "0") != "0"
        self._hand_on(None if on_the_wall else chosen(self), on_the_wall)  # what a class says is nobody's own answer
        self.xsrf_token  # sets the cookie by which the page may end its own kernel when it is closed
        async for html in self.get_generator(path=self.sheet.key):
            self.write(html)
            await self.flush()

    def _hand_on(self, learner: Learner | None, on_the_wall: bool) -> None:
        """Tell the kernel and the page's head whose answers are kept; what the request itself says of it does not count."""
        self.request.headers.pop(NAME_HEADER, None)
        if learner:
            self.request.headers[NAME_HEADER] = learner.key
        self.page_config_hook = partial(self.page_config_hook, kept_for=learner.name if learner else "", on_the_wall=on_the_wall)

    @property
    def contents_manager(self):
        if self.copy is None:
            return self.settings["contents_manager"]
        return LargeFileManager(parent=self.settings["workbook"], root_dir=str(self.copy.parent.parent))

    def write_error(self, status_code: int, **kwargs) -> None:
        self.set_status(status_code)
        self.finish(pages.trouble_page(status_code))


class Alive(JupyterHandler):
    """Whether a page's kernel still runs; the page asks every few seconds and says so in words when it does not."""

    @tornado.web.authenticated
    async def get(self, kernel_id: str) -> None:
        manager = self.settings["kernel_manager"]
        alive = kernel_id in manager and await ensure_async(manager.get_kernel(kernel_id).is_alive())
        self.set_header("Cache-Control", "no-store")
        self.finish({"alive": bool(alive)})


class Here(JupyterHandler):
    """Answers a second start of the workbook, without a token: the name of the house, its process, nothing else."""

    @allow_unauthenticated
    def get(self) -> None:
        self.set_header("Content-Type", "text/plain; charset=utf-8")
        self.finish(f"{HERE}{os.getpid()}")


class Missing(OwnPage):
    @allow_unauthenticated
    async def get(self) -> None:
        raise tornado.web.HTTPError(404)


def handlers(server) -> list:
    """Every address of ours, in order; all but the sign-in and the answer to a second start want the token."""
    notebook = {"template_paths": server.template_paths, "config": server.config,
                "voila_configuration": server.voila_configuration}
    return [
        (r"/", OwnPage, {"make": pages.first_page}),
        (r"/learn", Learn),
        (r"/learn/bench", NextTask),
        (r"/teach", OwnPage, {"make": pages.teach_page}),
        (r"/wall-cards", OwnPage, {"make": pages.wall_cards_page}),
        (r"/assess", OwnPage, {"make": pages.assess_page}),
        (r"/enter", Enter),
        (r"/here", Here),
        (r"/alive/([\w-]+)", Alive),
        (r"/(lessons|quizzes)/([\w-]+?)(?:\.ipynb)?", Notebook, notebook),
        (r".*", Missing),
    ]
