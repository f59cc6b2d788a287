"""Kill the room's process many times while it saves, and trace that the disk comes before the answer.

    python tests/kill_room.py [KILLS]

Kills alone do not prove the sync (the operating system keeps what a killed process wrote). So after each kill the
journals lose, as by a power cut, an end of random length that was never synced there; and the second half reads a
system-call trace: before each answer there must be an fsync of the log that holds its line.
Ends with 0 when no confirmed answer was lost and every answer came after its sync.
"""

from __future__ import annotations

import contextlib
import http.client
import io
import json
import os
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

from papers import a_class
from rigcalc.room.journal import entries_in
from rigcalc.room.sitting import Sitting
from rigcalc.room.together import LOG

CANDIDATES = 4


class Room:
    """The room as a process, started by the same command that people type."""

    def __init__(self, folder: Path, before: list[str] = ()) -> None:
        words = [*before, sys.executable, "-m", "rigcalc", "room", "--folder", str(folder), "--port", "0"]
        self.process = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True,
                                        start_new_session=True)
        self.port = int(re.search(r":(\d+)/", self.process.stdout.readline())[1])

    def kill(self) -> None:
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        self.process.stdout.close()


def post(port: int, token: str, what: str, sent: dict) -> tuple[int, dict]:
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=5)
    try:
        line.request("POST", f"/sit/{token}/{what}", json.dumps(sent), {"Content-Type": "application/json"})
        answer = line.getresponse()
        return answer.status, json.loads(answer.read())
    finally:
        line.close()


class Candidate(threading.Thread):
    """Saves without end and remembers what was confirmed to it."""

    def __init__(self, port: int, token: str, question: dict, known: dict) -> None:
        super().__init__()
        self.port, self.token, self.question, self.known, self.over = port, token, question, known, False

    def run(self) -> None:
        while not self.over:
            revision = self.known["sent"] = self.known["sent"] + 1
            typed = f"{revision} lbf"
            sent = {"slot": self.question["slot"], "revision": revision, "typed": typed, "confirmed": revision % 3 == 0}
            try:
                status, said = post(self.port, self.token, "save", sent)
            except (OSError, http.client.HTTPException, ValueError):
                return
            if status == 200 and said["saved"] == revision:
                self.known["confirmed"] = sent
                self.known["count"] += 1
                self.known["all"].append(revision)


def lost(room_dir: Path, paper_id: str, known: dict) -> list[int]:
    """Revisions that were confirmed and are not in the journal."""
    sitting = Sitting(room_dir, paper_id)
    kept = {entry["revision"] for entry in sitting.journal.entries() if entry["kind"] == "save"}
    sitting.close()
    known["sent"] = max([known["sent"], *kept])
    gone = [revision for revision in known["all"] if revision not in kept]
    known["all"] = []
    return gone


def kills(folder: Path, times: int) -> int:
    roster = [{"id": f"c{number}", "name": f"Candidate {number}", "extra_minutes": 240} for number in range(CANDIDATES)]
    held = a_class.set_class(folder, roster=roster)
    questions = [next(question for question in a_class.paper_of(held, number)["questions"] if question["kind"] == "number")
                 for number in range(CANDIDATES)]
    known = [{"sent": 0, "count": 0, "all": [], "confirmed": None} for _ in range(CANDIDATES)]
    room, gone, torn = Room(held.room), 0, 0
    for number in range(times):
        for issued in held.issued if number == 0 else ():
            assert post(room.port, issued.token, "start", {})[0] == 200
        people = [Candidate(room.port, issued.token, question, mine)
                  for issued, question, mine in zip(held.issued, questions, known)]
        for one in people:
            one.start()
        time.sleep(random.uniform(0.0, 0.25))
        room.kill()
        for one in people:
            one.over = True
            one.join()
        torn += tear(held, number)
        gone += sum(len(lost(held.room, issued.paper_id, mine)) for issued, mine in zip(held.issued, known))
        room = Room(held.room)
        state = post(room.port, held.issued[0].token, "state", {"window": "0" * 16})[1]["state"]
        assert state["started"] and state["handed_in"] is None
        if (number + 1) % 25 == 0:
            print(f"{number + 1} kills, {sum(mine['count'] for mine in known)} confirmed saves, {gone} lost", flush=True)
    room.kill()
    confirmed = sum(mine["count"] for mine in known)
    print(f"{times} kills, what was not synced cut off at random each time, {torn} lines torn besides, {confirmed} confirmed saves, {gone} lost.")
    return gone if confirmed else 1


def tear(held, number: int) -> int:
    """What a power cut takes: of each journal some of its end that was never synced there, every tenth time half a line more."""
    for issued in held.issued:
        path = held.room / "answers" / f"{issued.paper_id}.jsonl"
        data, log = path.read_bytes(), entries_in(held.room / LOG)
        lines = {kept["before"] for kept in log if kept["paper"] == issued.paper_id}
        synced = end = data.rfind(b"\n") + 1
        while synced and (before := data.rfind(b"\n", 0, synced - 1) + 1) in lines:
            synced = before
        path.write_bytes(data[:random.randint(synced, end)])
    if number % 10:
        return 0
    with path.open("ab") as file:
        file.write(b'{"kind":"save","slot":1,"revi')
    return 1


def traced(folder: Path, saves: int = 20) -> int:
    """How many answers came before the sync of their line; prints what the trace shows."""
    if not shutil.which("strace"):
        print("strace is not installed: the sync before the answer was NOT shown. Install strace and run this again.")
        return 1
    held = a_class.set_class(folder)
    out = folder / "trace"
    calls = "trace=openat,write,fsync,fdatasync,sendto,sendmsg,rename"
    room = Room(held.room, ["strace", "-f", "-y", "-s", "2000", "-e", calls, "-o", str(out)])
    slot = next(question["slot"] for question in a_class.paper_of(held)["questions"] if question["kind"] == "number")
    token = held.issued[0].token
    post(room.port, token, "start", {})
    for revision in range(1, saves + 1):
        post(room.port, token, "save", {"slot": slot, "revision": revision, "typed": f"{revision} lbf", "confirmed": True})
    status, _ = post(room.port, token, "hand-in", {"seen": {str(slot): saves}})
    room.kill()
    trace = out.read_text(errors="replace")
    unsynced = "\n".join(line for line in trace.splitlines() if not ("sync(" in line and f"/{LOG}>" in line))
    with contextlib.redirect_stdout(io.StringIO()):
        caught = judged(unsynced, saves, status)
    print("The same trace without the syncs of the log is", "refused, as it must be." if caught else "TAKEN: the check sees nothing.")
    return judged(trace, saves, status) or not caught


def judged(trace: str, saves: int, hand_in_status: int) -> int:
    """Read the trace: each saved answer only after the fsync of its line in the log, the hand-in after its file's and folder's."""
    written, synced, early, answers, shown = "", "", 0, 0, []
    synced_folder = renamed = handed_in = False
    for line in trace.splitlines():
        if "write(" in line and f"/{LOG}>" in line:
            written, shown = line, shown + [line]
        elif "sync(" in line and f"/{LOG}>" in line and line.rstrip().endswith("= 0"):
            synced, shown = written, shown + [line]
        elif "sync(" in line and "/answers>" in line:
            synced_folder = True
        elif "rename" in line and "/returned/" in line:
            renamed = True
        elif "sync(" in line and "/returned>" in line and renamed:
            handed_in = True
        elif re.search(r"(sendto|sendmsg|write)\(.*HTTP/1.1 200", line) and (found := re.search(r'\\"saved\\": ?(\d+)', line)):
            answers += 1
            early += f'\\"revision\\":{found[1]},' not in synced
            if answers == 1:
                print("As traced, the first save:", *[one[:150] for one in shown[-2:]], line[:110] + " …", sep="\n  ")
    good = answers == saves and early == 0 and synced_folder and handed_in and hand_in_status == 200
    print(f"{answers} of {saves} answers seen in the trace, {early} before the sync of their line; folder of the new journal synced: "
          f"{synced_folder}; returned file renamed and its folder synced before the receipt: {handed_in}.")
    return 0 if good else 1


def main() -> int:
    times = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as two:
        gone = kills(Path(one), times)
        early = traced(Path(two))
    return 1 if gone or early else 0


if __name__ == "__main__":
    sys.exit(main())
