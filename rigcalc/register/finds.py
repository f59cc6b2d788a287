"""What a shop file says against the tool or the gauge of a bench form, as the register keeps it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import asdict, dataclass

__all__ = ["Find", "counted_against", "in_brief"]

_LAST_CHECK = "; last good check written down: "
_DETAILS = re.compile(rf" \([^()]*\)|{_LAST_CHECK}\S{{10}}")


@dataclass(frozen=True)
class Find:
    """A tool or a gauge that was found bad, or a gauge that was due before the form was opened.

    `thing` is tool or gauge, `day` when it was found bad or due, `last_check` a gauge's last good check; days as YYYY-MM-DD. `said` has it in words.
    """

    thing: str
    id: str
    bad: bool
    day: str
    said: str
    last_check: str = ""

    @property
    def words(self) -> str:
        """All of it in words."""
        return self.said + (f"{_LAST_CHECK}{self.last_check}" if self.last_check else "")

    def entered(self) -> dict:
        """As an entry of the register keeps it."""
        return asdict(self)


def in_brief(told: str) -> str:
    """What was told of finds and entries, without reasons, places and last checks."""
    return _DETAILS.sub("", told)


def counted_against(finds: Iterable[Find], decided: Iterable[str], starts: str) -> list[str]:
    """What whoever decided was not told, one clause each.

    Left out is a gauge that had a good check after the certificate's first day, and was found bad after that check.

    Parameters
    ----------
    decided : iterable of str
        What the decision keeps as told.
    starts : str
        The certificate's first day.
    """
    known = {one.partition(_LAST_CHECK)[0] for one in decided}
    return [f"a shop file said: {one.words}" for one in dict.fromkeys(finds)
            if one.said not in known and not (one.bad and one.last_check and starts < one.last_check < one.day)]
