"""One candidate's sitting: what is saved, what counts, how much time is left, and the handing in.

Everything stands in the journal of the paper; a sitting opened again, here or after a crash, is worked out from it.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.papers.answers import check_typed, returned_record
from rigcalc.papers.records import canonical, private_folder, stamp, write_synced
from rigcalc.questions import read_answer
from rigcalc.room.together import paper_journal

__all__ = ["Sitting", "Begun", "Conflict", "Closed", "more_time", "SAVES_LIMIT", "GRACE_SECONDS"]

SAVES_LIMIT = 20_000  # lines of one sitting; a paper of forty questions needs some hundreds
GRACE_SECONDS = 10  # for a save that was under way when the time ended


class Conflict(Refusal):
    """Another window has answered this question since; `state` is what is saved."""


class Closed(Refusal):
    """Nothing can be changed: handed in, not started, or the time is over."""


def _moment(now: datetime | None) -> datetime:
    return now or datetime.now(timezone.utc)


@dataclass(frozen=True)
class Begun:
    """A save whose line waits for the disk: the entry, the journal's bytes before it (None: no line), what is refused."""

    entry: dict
    before: int | None = None
    refusal: Refusal | None = None


class Sitting:
    """A paper being answered. All times are aware datetimes; `now` is given only by tests."""

    def __init__(self, room_dir, paper_id: str) -> None:
        self.room = Path(room_dir)
        self.paper = json.loads((self.room / "papers" / f"{paper_id}.json").read_bytes())
        self.paper_id = paper_id
        self.questions = {question["slot"]: question for question in self.paper["questions"]}
        self.journal = paper_journal(self.room, paper_id)
        self._known = -1
        self.refresh()

    def is_fresh(self) -> bool:
        """Whether nobody else wrote to the journal since it was read."""
        return self.journal.size() == self._known

    def refresh(self) -> None:
        """Work the sitting out from its journal again, where somebody else wrote to it (more time given)."""
        if self.is_fresh():
            return
        self.started_at: datetime | None = None
        self.extra = 0
        self.latest: dict[int, dict] = {}
        self.counted: dict[int, dict] = {}
        self.late: list[dict] = []
        self.handed_in: dict | None = None
        self.lines = 0
        for entry in self.journal.entries():
            self._take(entry)
        self._known = self.journal.size()
        path = self._returned_path()
        if path.exists():
            record = json.loads(path.read_bytes())
            self.handed_in = {"receipt": record["receipt"], "answers_sha256": record["answers_sha256"],
                              "at": record["handed_in_at"], "typed_in": bool(record.get("typed_in"))}

    def start(self, now: datetime | None = None) -> None:
        """Begin the time; a second start changes nothing."""
        self.refresh()
        if self.started_at is None and self.handed_in is None:
            self._write({"kind": "start", "at": stamp(_moment(now))})

    def seconds_left(self, now: datetime | None = None) -> int | None:
        """Seconds until the time is over (0 when it is), None before the start."""
        if self.started_at is None:
            return None
        end = self.started_at + timedelta(minutes=self.paper["minutes"] + self.extra)
        return max(0, int((end - _moment(now)).total_seconds()))

    def read(self, slot: int, typed) -> dict:
        """How an answer is read, without any key: {"ok", "shown", "ask"}."""
        wrong = check_typed(self._question(slot), typed)
        if wrong:
            return {"ok": False, "shown": wrong, "ask": None}
        return public_reading(read_answer(self.questions[slot], typed), typed)

    def save(self, slot: int, revision: int, typed, confirmed: bool, now: datetime | None = None) -> dict:
        """Put one answer on the disk and only then return it.

        Parameters
        ----------
        revision : int
            Higher than the question's last one. The last one with the same content is confirmed again.

        Raises
        ------
        Closed
            Not started, handed in, or time over (what came is kept in the journal, and does not count).
        Conflict
            The revision is not new and the content differs: another window was quicker. Kept in the journal too.
        Refusal
            Wrong form, or a confirmation of something that cannot be read or is ambiguous.
        """
        begun = self.begin_save(slot, revision, typed, confirmed, now)
        if begun.before is not None:
            self.journal.sync(begun.before)
        return self.end_save(begun)

    def begin_save(self, slot: int, revision: int, typed, confirmed: bool, now: datetime | None = None) -> Begun:
        """The first half of `save`, which waits for no disk: check the answer and write its line.

        Between the halves the line is put on the disk where `before` is given, and nothing else is done on this sitting.
        Raises as `save` does where no line is written; what is told only after its line is synced, `end_save` raises.
        """
        self.refresh()
        question = self._question(slot)
        entry = {"slot": slot, "revision": revision, "typed": typed, "confirmed": confirmed, "at": stamp(_moment(now))}
        self._refuse_form(question, entry)
        last = self.latest.get(slot, {"revision": 0})
        same = all(last.get(field) == entry[field] for field in ("revision", "typed", "confirmed"))
        if same:
            return Begun(last)
        kind, refusal = "late", self._closed(now)
        if refusal is None:
            if confirmed:
                self._refuse_unread(question, typed)
            kind = "save"
            if revision <= last["revision"]:
                kind, refusal = "set aside", Conflict(
                    f"an older answer to question {slot}", "the answer saved since from another window",
                    "look at both and confirm the one you want")
        entry = {"kind": kind} | entry
        return Begun(entry, self.journal.write(entry), refusal)

    def end_save(self, begun: Begun) -> dict:
        """The second half of `save`, once the disk has the line: the answer counts from here, and is returned."""
        if begun.before is not None:
            self._took(begun.entry)
        if begun.refusal:
            raise begun.refusal
        return begun.entry

    def hand_in(self, seen: dict[int, int], now: datetime | None = None) -> dict:
        """Hand in what is confirmed; a second time gives the same receipt.

        Parameters
        ----------
        seen : dict
            Question to revision as the candidate's window shows them: nothing unseen is handed in.
        """
        self.refresh()
        if self.handed_in:
            return self.handed_in
        if self.started_at is None:
            raise Closed("a paper that was not started", "a paper that was started", "press Start first")
        if seen != {slot: entry["revision"] for slot, entry in self.latest.items()}:
            raise Conflict("a hand-in of older answers", "the answers as they are saved now",
                           "look at the answers shown now, then hand in again")
        at = stamp(_moment(now))
        record = self._record(at)
        write_synced(self._returned_path(), canonical(record))
        self.handed_in = {"receipt": record["receipt"], "answers_sha256": record["answers_sha256"], "at": at,
                          "typed_in": False}
        self._write({"kind": "hand-in", "at": at, "answers_sha256": record["answers_sha256"]})
        return self.handed_in

    def state(self, now: datetime | None = None) -> dict:
        """All a window needs to show the sitting as it is saved."""
        self.refresh()
        return {
            "started": self.started_at is not None, "seconds_left": self.seconds_left(now),
            "minutes": self.paper["minutes"] + self.extra, "handed_in": self.handed_in,
            "answers": {str(slot): {"revision": entry["revision"], "typed": entry["typed"],
                                    "confirmed": entry["confirmed"],
                                    "counts": self.counted[slot]["typed"] if slot in self.counted else None}
                        for slot, entry in sorted(self.latest.items())},
        }

    def close(self) -> None:
        """Let go of the journal."""
        self.journal.close()

    def _record(self, at: str) -> dict:
        def rows(entries):
            return [{field: entry[field] for field in ("slot", "typed", "revision", "at")} for entry in entries]

        drafts = [entry for slot, entry in sorted(self.latest.items()) if not entry["confirmed"] and entry["typed"]]
        started = stamp(self.started_at) if self.started_at else ""
        return returned_record(self.paper, rows(self.counted.values()), handed_in_at=at, started_at=started,
                               drafts=rows(drafts), late=rows(self.late[-400:]))

    def _question(self, slot: int) -> dict:
        if slot not in self.questions:
            raise Refusal(f"question {slot}", f"questions 1 to {len(self.questions)}", "reload the page")
        return self.questions[slot]

    def _refuse_form(self, question: dict, entry: dict) -> None:
        wrong = check_typed(question, entry["typed"])
        if wrong:
            raise Refusal(f"an answer to question {entry['slot']}", wrong, "type it again")
        if not 1 <= entry["revision"] <= 1_000_000:
            raise Refusal(f"revision {entry['revision']}", "a whole number from 1 to 1,000,000", "reload the page")
        if self.lines >= SAVES_LIMIT:
            raise Closed(f"more than {SAVES_LIMIT} saves", "fewer", "call the assessor")

    def _closed(self, now: datetime | None) -> Closed | None:
        """The refusal of a late answer, None within the time; raises where nothing of an answer is kept."""
        if self.handed_in:
            raise Closed("a change after handing in", "nothing more", "keep your receipt")
        if self.started_at is None:
            raise Closed("an answer before the start", "answers after Start", "press Start first")
        end = self.started_at + timedelta(minutes=self.paper["minutes"] + self.extra, seconds=GRACE_SECONDS)
        if _moment(now) <= end:
            return None
        return Closed("an answer after the time had run out", "answers within the time",
                      "hand in now; what you typed late is kept for the assessor and does not count")

    def _refuse_unread(self, question: dict, typed) -> None:
        reading = read_answer(question, typed)
        if reading.get("ask"):
            many = len(reading["ask"]) > 1
            raise Refusal(f"{typed!r}, which {'can be read in more than one way' if many else 'cannot be read as it stands'}",
                          " or ".join(map(str, reading["ask"])), "type the one you mean" if many else "type it so if this is meant")
        if not reading["ok"]:
            raise Refusal(f"{typed!r}, which cannot be read", question.get("instruction") or "an answer to the question",
                          "type it again, then confirm")

    def _returned_path(self) -> Path:
        return private_folder(self.room / "returned") / f"{self.paper_id}.json"

    def _write(self, entry: dict) -> None:
        self.journal.append(entry)
        self._took(entry)

    def _took(self, entry: dict) -> None:
        self._take(entry)
        self._known = self.journal.size()

    def _take(self, entry: dict) -> None:
        self.lines += 1
        kind = entry.get("kind")
        if kind == "start" and self.started_at is None:
            self.started_at = datetime.fromisoformat(entry["at"])
        elif kind == "save":
            self.latest[entry["slot"]] = entry
            if entry["confirmed"]:
                self.counted[entry["slot"]] = entry
        elif kind == "late":
            self.late.append(entry)
        elif kind == "more time":
            self.extra += entry["minutes"]
        elif kind == "hand-in" and self.handed_in is None and not self._returned_path().exists():
            record = self._record(entry["at"])  # the returned file was moved away: the receipt still stands
            self.handed_in = {"receipt": record["receipt"], "answers_sha256": record["answers_sha256"],
                              "at": entry["at"], "typed_in": False}


def public_reading(reading: dict, typed) -> dict:
    """A reading as the page needs it: what was read and from which text, or the choices to ask."""
    found = {"ok": bool(reading["ok"]), "shown": reading.get("shown") or "",
             "ask": list(reading["ask"]) if reading.get("ask") else None}
    if "boxes" in reading:
        texts = typed if len(typed) == len(reading["boxes"]) else [""] * len(reading["boxes"])
        found["boxes"] = [one and public_reading(one, text) for one, text in zip(reading["boxes"], texts, strict=True)]
    return found | {"value": {"typed": typed.strip()}} if isinstance(typed, str) else found


def more_time(room_dir, paper_id: str, minutes: int, by: str, why: str, now: datetime | None = None) -> None:
    """Give a sitting more minutes, for a power cut or the like; who gave them and why stands in its journal."""
    if not 1 <= minutes <= 240:
        raise Refusal(f"{minutes} minutes more", "1 to 240 minutes", "type how many minutes more")
    if not by.strip() or not why.strip():
        raise Refusal(f"{minutes} minutes more without {'a reason' if by.strip() else 'the name of who gives them'}", "a name and a reason",
                      f"write {'why they are given' if by.strip() else 'who gives them'}")
    journal = paper_journal(room_dir, paper_id)
    try:
        journal.append({"kind": "more time", "minutes": minutes, "by": by, "why": why, "at": stamp(_moment(now))})
    finally:
        journal.close()
