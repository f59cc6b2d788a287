"""The class list."""

from __future__ import annotations

from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, area, field, form
from rigcalc.desk.server import FormHandler, link

__all__ = ["ROUTES"]


class NewClass(FormHandler):
    """Names typed one a line, or pasted from a spreadsheet."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed) -> tuple[str, str]:
        return "Class list", form(
            "/new-class",
            field("name", "Name of the class", typed("name"), help="such as: spring 2031")
            + area("roster", "Candidates, one a line", typed("roster"), rows=13,
                   help="A name alone, or after commas extra minutes, the word large for larger print, or both, as in: "
                        "Dela Orrin, 15, large; or: Dela Orrin, large. Rows pasted from a spreadsheet are taken too.")
            + field("set_by", "Set up by", typed("set_by", desk.shop.person("trainer") or "")),
            "Set up the class") + '<p><a href="/">Back to the steps</a></p>'

    def act(self, desk, typed) -> tuple[str, str]:
        class_id = work.set_class(desk, typed("name"), typed("roster"), typed("set_by"))
        count = len(work.class_of(desk, class_id)["candidates"])
        return link("class", class_id), f"The class is set up with {count} {'name' if count == 1 else 'names'}. Set the papers next."


ROUTES = [(r"/new-class", NewClass)]
