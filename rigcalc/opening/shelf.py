"""The notebooks on the shelf: which lessons and quizzes exist, their numbers and their titles."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import installed_folder

__all__ = ["ROOMS", "Sheet", "assessors_sheets", "beside", "find_sheet", "lessons", "references", "sheets"]

ROOMS = ("lessons", "quizzes")
ASSESSORS = ("marking",)  # of the quizzes: these open the desk's folder, so an editor shows them and no learners' page does


@dataclass(frozen=True)
class Sheet:
    """One notebook on the shelf.

    Parameters
    ----------
    room : str
        "lessons" or "quizzes".
    name : str
        The file's name without its ending, for example "05_forming_an_eye".
    folder : Path
        The folder that holds the two rooms.
    """

    room: str
    name: str
    folder: Path

    @property
    def key(self) -> str:
        """The notebook's path under the folder, with forward slashes on every machine."""
        return f"{self.room}/{self.name}.ipynb"

    @property
    def address(self) -> str:
        """The path of its page in the workbook."""
        return f"/{self.room}/{self.name}"

    @property
    def path(self) -> Path:
        return self.folder / self.room / f"{self.name}.ipynb"

    @property
    def number(self) -> str:
        """The lesson's number as written, '05'; empty for a notebook without one."""
        found = re.match(r"\d+", self.name)
        return found.group() if found else ""

    @cached_property
    def markdown(self) -> tuple[str, ...]:
        """The text of its Markdown cells."""
        cells = json.loads(self.path.read_text(encoding="utf-8")).get("cells", [])
        return tuple("".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown")

    @property
    def title(self) -> str:
        """The first heading, without its lesson number."""
        heads = self.headings
        if not heads:
            return self.name.replace("_", " ").capitalize()
        return re.sub(r"^(Lesson\s+)?\d+\s*[.:·–-]\s*", "", heads[0])

    @property
    def full_title(self) -> str:
        """The title with the lesson's number before it, where it has one."""
        return f"{self.number} {self.title}".strip()

    @property
    def numbered_heading(self) -> bool:
        """Whether the first heading says the number itself."""
        return bool(self.number) and re.search(rf"\b{self.number}\b", self.headings[0] if self.headings else "") is not None

    @property
    def minutes(self) -> tuple[tuple[str, int], ...]:
        """What the list at the lesson's side says of time: (reading, 25), (drill, 20), (at the bench, 70); none is empty."""
        side = re.search(r'<aside class="bench-list">(.*?)</aside>', "\n".join(self.markdown), re.S)
        found = re.findall(r"(reading|drill|at the bench) (\d+) min", side[1]) if side else []
        return tuple((what, int(minutes)) for what, minutes in found)

    @property
    def headings(self) -> tuple[str, ...]:
        """Every heading of the notebook, in order."""
        lines = "\n".join(self.markdown).splitlines()
        return tuple(line.lstrip("#").strip() for line in lines if re.match(r"#{1,4} ", line))

    def anchor(self, words: str) -> str | None:
        """The address of the place whose id is `words`, or of the first heading that holds them; None where there is neither."""
        if f'<a id="{words.replace(" ", "-")}"></a>' in "\n".join(self.markdown):
            return f"{self.address}#{words.replace(' ', '-')}"
        for heading in self.headings:
            if words.lower() in heading.lower():
                return f"{self.address}#{heading.replace(' ', '-')}"
        return None


def sheets(room: str, folder: Path | None = None) -> tuple[Sheet, ...]:
    """The notebooks of one room that learners' pages may show, in the order of their names; none is an empty tuple."""
    return tuple(sheet for sheet in _every(room, folder) if not _assessors(sheet))


def assessors_sheets(folder: Path | None = None) -> tuple[Sheet, ...]:
    """The assessor's own notebooks, which only an editor opens."""
    return tuple(sheet for sheet in _every("quizzes", folder) if _assessors(sheet))


def _assessors(sheet: Sheet) -> bool:
    return sheet.room == "quizzes" and sheet.name in ASSESSORS


def _every(room: str, folder: Path | None) -> tuple[Sheet, ...]:
    folder = folder or installed_folder()
    files = sorted((folder / room).glob("*.ipynb")) if room in ROOMS else []
    return tuple(Sheet(room, file.stem, folder) for file in files if not file.name.startswith("."))


def lessons(folder: Path | None = None) -> tuple[Sheet, ...]:
    """The lessons that exist, in order: the notebooks that have a number."""
    return tuple(sheet for sheet in sheets("lessons", folder) if sheet.number)


def references(folder: Path | None = None) -> tuple[Sheet, ...]:
    """What stands beside the lessons to look things up in: the notebooks of their room without a number."""
    return tuple(sheet for sheet in sheets("lessons", folder) if not sheet.number)


def beside(sheet: Sheet) -> tuple[Sheet | None, Sheet | None]:
    """The lesson before this one and the next one, of those that exist; what is no lesson has neither."""
    row = [None, *lessons(sheet.folder), None]
    at = next((i for i, one in enumerate(row) if one and one.key == sheet.key), None)
    return (None, None) if at is None else (row[at - 1], row[at + 1])


def find_sheet(word: str, folder: Path | None = None, assessor: bool = False) -> Sheet:
    """The notebook meant by a lesson number ('05', '5') or a name ('practice_paper', 'lessons/05_forming_an_eye').

    The assessor's own notebooks are found only where `assessor` says so.

    Raises
    ------
    Refusal
        No notebook, or more than one, goes by that word.
    """
    every = sheets("lessons", folder) + sheets("quizzes", folder) + (assessors_sheets(folder) if assessor else ())
    wanted = word.strip().replace("\\", "/").removesuffix(".ipynb")
    found = [sheet for sheet in every if _meant(sheet, wanted)]
    if len(found) == 1:
        return found[0]
    names = ", ".join(sheet.number or sheet.name for sheet in every) or "none is installed"
    raise Refusal(f"the lesson '{word}'", names, "type one of these after rigcalc edit")


def _meant(sheet: Sheet, wanted: str) -> bool:
    if wanted in (sheet.name, f"{sheet.room}/{sheet.name}"):
        return True
    return wanted.isdigit() and sheet.room == "lessons" and sheet.number.isdigit() and int(sheet.number) == int(wanted)
