"""The class list: first a look at how it is read, then the setting up of the class."""

from __future__ import annotations

from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, area, back_to, counted, field, form, held, hint, table
from rigcalc.desk.folder import one_person
from rigcalc.desk.persons import maybe_same
from rigcalc.desk.server import FormHandler, link
from rigcalc.errors import Refusal
from rigcalc.pages import escape

__all__ = ["ROUTES"]

FIELDS = ("name", "roster", "set_by")
LOOKED = "class list"


class NewClass(FormHandler):
    """Names typed one a line, or pasted from a spreadsheet; nothing is entered before it was looked at."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed) -> tuple[str, str]:
        looked = self.session.get(LOOKED, {}) if self.get_query_argument("look", "") == "1" and not typed.values else {}
        asked = {name: typed(name, looked.get(name, "")) for name in FIELDS}
        return "Class list", (_look(desk, looked) if looked else "") + form(
            "/new-class",
            field("name", "Name of the class", asked["name"], help="such as: spring 2031")
            + area("roster", "Candidates, one a line", asked["roster"], rows=13,
                   help="A name alone, or after commas extra minutes, the word large for larger print, or both, as in: "
                        "Dela Orrin, 15, large; or: Dela Orrin, large. Rows pasted from a spreadsheet are taken too.")
            + field("set_by", "Set up by", asked["set_by"] or ("" if typed.values else desk.shop.person("trainer") or "")),
            "Look at the list") + back_to("/")

    def act(self, desk, typed) -> tuple[str, str]:
        asked = {name: typed(name) for name in FIELDS}
        if typed("act") != "enter":
            work.look_at_class(desk, **asked)
            self.session[LOOKED] = asked
            return "/new-class?look=1", "Nothing is set up yet: look first."
        class_id = work.set_class(desk, *asked.values())
        self.session.pop(LOOKED, None)
        count = len(work.class_of(desk, class_id)["candidates"])
        return link("class", class_id), f"The class is set up with {counted(count, 'name')}. Set the papers next."


def _look(desk, asked: dict) -> str:
    """The list as it was read, and the button that sets the class up."""
    people = work.look_at_class(desk, **asked)
    rows = [[str(number), escape(person["name"]), str(person["extra_minutes"] or ""), "larger print" if person["larger_print"] else ""]
            for number, person in enumerate(people, 1)]
    alike = [f"{one['name']} and {other['name']} may be one person: if they are, take one off the list."
             for at, one in enumerate(people) for other in people[at + 1:] if maybe_same(one["name"], other["name"])]
    half = [f"{person['name']} is no first and family name written out: papers and certificates will say just that. Write the whole name, if there is more of it."
            for person in people if not _whole(person["name"])]
    hidden = "".join(f'<input type="hidden" name="{name}" value="{escape(asked[name])}">' for name in FIELDS)
    return (f'<div class="card hold"><h2>{escape(asked["name"])}: {counted(len(people), "name")}</h2>'
            + table(["No.", "Name, as papers and certificates say it", "Extra minutes", "Print"], rows) + held(half + alike)
            + hint("Once the class is set up its list and its name are not changed any more. To mend something, change it below and look again.")
            + form("/new-class", hidden + '<input type="hidden" name="act" value="enter">', "Set up the class") + "</div>")


def _whole(name: str) -> bool:
    """Whether a candidate's name is one that is accepted of anybody else."""
    try:
        return bool(one_person(name, "candidate"))
    except Refusal:
        return False


ROUTES = [(r"/new-class", NewClass)]
