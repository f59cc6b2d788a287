"""Stored notebooks as the tests read them: each file once, no kernel."""

from __future__ import annotations

import json
import re
from functools import cached_property, lru_cache
from html.parser import HTMLParser
from pathlib import Path

from rigcalc.home import installed_folder

__all__ = ["LESSONS", "PAGES", "Stored", "Tags", "WIDGET", "WIDGET_STATE", "stored"]

ROOT = installed_folder()
PAGES = sorted([*ROOT.glob("lessons/*.ipynb"), *ROOT.glob("quizzes/*.ipynb")])
LESSONS = [path for path in PAGES if path.parent.name == "lessons" and re.match(r"\d\d_", path.name)]
WIDGET = "application/vnd.jupyter.widget-view+json"
WIDGET_STATE = "application/vnd.jupyter.widget-state+json"
ANCHOR = re.compile(r'<a id="([a-z0-9-]+)"></a>\s*\n\s*#{1,4} (.+)')
NOTE = re.compile(r'<details class="trainer">\s*<summary>(.*?)</summary>(.*?)</details>', re.S)
ASIDE = re.compile(r"<aside.*?</aside>", re.S)


class Tags(HTMLParser):
    """Every tag of some HTML with its attributes."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict]] = []
        self.feed(html)

    def handle_starttag(self, tag, attrs) -> None:
        self.found.append((tag, dict(attrs)))


class Cell:
    """One cell: its source, and what its outputs say."""

    def __init__(self, data: dict) -> None:
        self.data, self.kind, self.id = data, data["cell_type"], data["id"]
        self.source = "".join(data["source"])
        self.outputs = data.get("outputs", [])
        self.tags = data["metadata"].get("tags", [])

    @cached_property
    def says(self) -> str:
        """The text form of all its outputs."""
        return "\n".join("".join(one["data"].get("text/plain", "")) for one in self.outputs if "data" in one)

    @cached_property
    def html(self) -> str:
        return "\n".join("".join(one["data"].get("text/html", "")) for one in self.outputs if "data" in one)

    @property
    def is_live(self) -> bool:
        return any(WIDGET in one.get("data", {}) for one in self.outputs)

    @property
    def is_explorer(self) -> bool:
        """A live figure: an Explorer or a Board, whose text form begins with that word."""
        return self.is_live and self.says.startswith("Explorer:")

    @property
    def is_figure(self) -> bool:
        return any("".join(one.get("data", {}).get("text/plain", "")).startswith("Figure:") for one in self.outputs)

    @property
    def families(self) -> list[str]:
        """The question families that the cell's exercises ask."""
        return re.findall(r"""Exercise\(\s*["']([a-z0-9-]+)["']""", self.source)


class Stored:
    """A stored notebook."""

    def __init__(self, path: Path) -> None:
        self.path, self.number = path, path.name[:2]
        self.text = path.read_text(encoding="utf-8")
        self.data = json.loads(self.text)
        self.cells = [Cell(one) for one in self.data["cells"]]
        self.code = [one for one in self.cells if one.kind == "code"]

    @cached_property
    def outputs(self) -> list[dict]:
        return [output for cell in self.code for output in cell.outputs]

    @cached_property
    def markdown(self) -> str:
        return "\n\n".join(cell.source for cell in self.cells if cell.kind == "markdown")

    @cached_property
    def prose(self) -> str:
        """The Markdown without the bench list at the side."""
        return ASIDE.sub("", self.markdown)

    @cached_property
    def aside(self) -> str:
        found = ASIDE.search(self.markdown)
        return found[0] if found else ""

    @cached_property
    def shown(self) -> str:
        """All that the stored outputs say in text."""
        return "\n".join(cell.says for cell in self.code)

    @cached_property
    def anchors(self) -> dict[str, str]:
        """The places with a heading under them: id -> heading."""
        return {name: heading.strip() for name, heading in ANCHOR.findall(self.markdown)}

    @cached_property
    def notes(self) -> list[tuple[str, str]]:
        """The trainer's notes: (summary, text)."""
        return NOTE.findall(self.markdown)

    @cached_property
    def families(self) -> list[str]:
        return [name for cell in self.code for name in cell.families]

    @cached_property
    def widgets(self) -> dict[str, dict]:
        """The kept state of the live parts, by model id."""
        return self.data["metadata"].get("widgets", {}).get(WIDGET_STATE, {}).get("state", {})

    def under(self, anchor: str) -> list[Cell]:
        """The code cells between the heading of that id and the next heading with an id."""
        inside, found = False, []
        for cell in self.cells:
            names = [name for name, _ in ANCHOR.findall(cell.source)] if cell.kind == "markdown" else []
            if names:
                inside = anchor == names[-1]
            elif inside and cell.kind == "code":
                found.append(cell)
        return found

    def said_under(self, anchor: str) -> str:
        return "\n".join(cell.says for cell in self.under(anchor))


@lru_cache(maxsize=None)
def stored(path: Path) -> Stored:
    """The notebook at `path`, read once in a test run."""
    return Stored(path)
