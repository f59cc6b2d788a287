"""What presses and what gauges, as the shop file holds them: each in use, or found bad since a day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

__all__ = ["Gauge", "Tool"]


@dataclass(frozen=True)
class _FoundBad:
    """What can be found bad: the day, who found it and why; out of use until these lines are taken out of the shop file."""

    found_bad: date | None = None
    found_bad_by: str = ""
    why: str = ""

    @property
    def out_of_use(self) -> str:
        """Why it is out of use, as "was found bad on 2026-03-02 by Ines Varrow (worn slot)"; '' where nobody found it bad."""
        return f"was found bad on {self.found_bad} by {self.found_bad_by} ({self.why})" if self.found_bad else ""


@dataclass(frozen=True, kw_only=True)
class Tool(_FoundBad):
    """A swaging tool: its id, its name and the mark of the cavity for each size, ((size, mark), ...)."""

    id: str
    name: str
    cavities: tuple[tuple[str, str], ...]

    @property
    def sizes(self) -> tuple[str, ...]:
        """The sizes this tool has a cavity for."""
        return tuple(size for size, _ in self.cavities)

    def cavity(self, size: str) -> str | None:
        """The mark on the cavity for `size`, or None."""
        return dict(self.cavities).get(size)


@dataclass(frozen=True, kw_only=True)
class Gauge(_FoundBad):
    """An after-swage gauge: the sizes it has slots for, when it was checked and when the check runs out."""

    id: str
    sizes: tuple[str, ...]
    sleeve_metals: tuple[str, ...]
    checked_on: date
    due_on: date

    def in_date(self, on: date) -> bool:
        """Whether the check still holds on that day, and nobody found the gauge bad."""
        return not self.out_of_date(on)

    def out_of_date(self, on: date) -> str:
        """Why it judges nothing on that day, as "was due on 2026-03-02"; '' where it judges."""
        if self.found_bad:
            return self.out_of_use
        if on < self.checked_on:
            return f"is said to have been checked on {self.checked_on}, a day after {on}"
        return f"was due on {self.due_on}" if on > self.due_on else ""

    def mark(self, on: date) -> str:
        """The mark beside it on that day: OUT OF DATE or FOUND BAD; '' where it judges."""
        return "FOUND BAD" if self.found_bad else "OUT OF DATE" if self.out_of_date(on) else ""
