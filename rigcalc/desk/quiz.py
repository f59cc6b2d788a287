"""The marked papers of a class, or of all classes, as `How good is the quiz?` reads them."""

from __future__ import annotations

from rigcalc.desk.folder import Desk
from rigcalc.desk.classes import class_of
from rigcalc.papers.quality import Sitting, kept_sittings

__all__ = ["sittings"]


def sittings(desk: Desk, class_id: str | None = None) -> tuple[list[Sitting], list[str]]:
    """The marked papers that the register knows, and the names of files that cannot be read."""
    wanted = {} if class_id is None else {"class": class_of(desk, class_id)["class"]}
    papers = {entry.body["paper_id"] for entry in desk.entries("answers marked", **wanted)}
    return kept_sittings(desk.folder / "keys", desk.folder / "results", papers)
