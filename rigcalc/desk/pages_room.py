"""Starting and stopping the room, and watching who has handed in."""

from __future__ import annotations

from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, button, field, form, hint, radios, table
from rigcalc.desk.pages_papers import back
from rigcalc.desk.room_process import STOPPED
from rigcalc.desk.server import FormHandler, link
from rigcalc.errors import Refusal
from rigcalc.pages import escape

__all__ = ["ROUTES"]

_WARNING = ("On the room's network, everybody who is on it can reach the sitting pages, and what is typed crosses it "
            "unencrypted. Use a network of your own for the day, and close the room when the sitting is over.")


class Room(FormHandler):
    """The room's process."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        room = self.settings["room"]
        return "The room", (_open(room, class_id) if room.running else stopped(room) + _closed(typed, class_id)) + back(class_id)

    def act(self, desk, typed, class_id) -> tuple[str, str]:
        room = self.settings["room"]
        if typed("act") == "close":
            room.stop()
            return link("class", class_id, "room"), "The room is closed. What was saved stays on the disk."
        room.start(typed("where", "127.0.0.1"))
        return link("class", class_id, "room"), "The room is opened."


def stopped(room) -> str:
    """What to say when the room's process ended by itself."""
    return f'<p class="said no">{escape(STOPPED)}</p>' if room.died else ""


def _open(room, class_id: str) -> str:
    warning = "" if "//127.0.0.1" in room.address else f'<p class="said no">{escape(_WARNING)}</p>'
    return (f"<p>The room is open at <strong>{escape(room.address)}</strong>. Candidates and bench devices open their own "
            f"addresses there: see Set the papers, and Bench.</p>{warning}"
            + hint("It is a process of its own that never opens the desk's folder. It closes when this desk is closed.")
            + button(link("class", class_id, "room"), "Close the room", act="close"))


def _closed(typed, class_id: str) -> str:
    choices = radios("where", "Who shall reach it", [
        ("127.0.0.1", "This machine only"),
        ("room", "Candidates' devices and tablets on this machine's network")], typed("where", "127.0.0.1"))
    return ("<p>The room serves sitting pages and bench forms, and nothing else.</p>"
            + form(link("class", class_id, "room"), choices + hint(_WARNING), "Open the room"))


class Watch(FormHandler):
    """Who has begun, saved, handed in; looks again every ten seconds."""

    def head(self, *where) -> str:
        typing = self.request.method == "POST" or self.get_query_argument("still", "")
        return STYLE + ("" if typing else '<meta http-equiv="refresh" content="10">')

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        rows = work.who_has_handed_in(desk, class_id)
        cells = [[escape(row["candidate"]["name"]), escape(row["paper_id"]), escape(row["state"] + (f"; {row['more']}" if row["more"] else "")), str(row["saved"]),
                  escape(row["receipt"]), "yes" if row["marked"] else ""] for row in rows]
        handed = sum(row["state"].startswith("handed in") for row in rows)
        return "Who has handed in", (
            stopped(self.settings["room"]) + f"<p><strong>{handed} of {len(rows)} handed in.</strong></p>"
            + table(["Candidate", "Paper", "Now", "Answers that count", "Receipt", "Marked"], cells, "No papers are set yet.")
            + (_more_time(typed, rows, class_id) if self._still(typed) else
               (f'<p><a class="button second" href="{escape(link("class", class_id, "watch"))}?still=1">Give somebody more time</a></p>' if handed < len(rows) else "")
               + hint("This page looks again every ten seconds."))
            + f'<p><a href="{escape(link("class", class_id, "mark"))}">Mark what was handed in</a></p>' + back(class_id))

    def _still(self, typed) -> bool:
        return bool(typed.values or self.get_query_argument("still", ""))

    def act(self, desk, typed, class_id) -> tuple[str, str]:
        minutes = typed("minutes").strip()
        if not (minutes.isascii() and minutes.isdigit()):
            raise Refusal(f"{minutes!r} as minutes", "1 to 240 whole minutes", "type how many minutes more")
        work.give_more_time(desk, class_id, typed("paper"), int(minutes), typed("by"), typed("why"))
        return link("class", class_id, "watch"), f"{minutes} minutes more are given."


def _more_time(typed, rows: list[dict], class_id: str) -> str:
    from rigcalc.desk.forms import choice
    people = [(row["paper_id"], row["candidate"]["name"]) for row in rows if not row["state"].startswith("handed in")]
    if not people:
        return hint("Everybody has handed in.")
    return "<h2>More time</h2>" + form(
        link("class", class_id, "watch"),
        choice("paper", "For whom", people, typed("paper")) + field("minutes", "Minutes more", typed("minutes"), size=6)
        + field("by", "Given by", typed("by")) + field("why", "Why", typed("why"), size=48), "Give more time", second=True)


ROUTES = [(r"/class/([a-z0-9-]{1,40})/room", Room), (r"/class/([a-z0-9-]{1,40})/watch", Watch)]
