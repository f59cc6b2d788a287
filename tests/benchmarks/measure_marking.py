"""What marking, setting papers, statistics and saving cost, each against something plain. One table.

    python tests/benchmarks/measure_marking.py [part ...]      parts: marking notebook setting many statistics saving

Marking 1,000 different papers of the full blueprint (about 40 questions; set beforehand in two processes) from key records on the disk,
results in memory, against reading the same answer files with json alone, and against running one small notebook a paper that compares as many answers (nbclient; a
handful of notebooks). Setting a paper against the bare calculations its questions call with the same values. The cost of a
paper, and the memory, from 1,000 to 100,000 marked papers (those 1,000 different papers a hundred times over). Difficulty, item-rest correlation and alpha of 100,000 x 60 marks
against pandas with the total worked out once. Thirty candidates saving at once against one alone. Times are the least or
the median of several turns in one run, so the ratios hold on a busy machine; the exit code is 1 where a limit is broken.
"""

from __future__ import annotations

import functools
import json
import multiprocessing
import os
import re
import selectors
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))
PAPERS, NOTEBOOKS, CANDIDATES, SAVES = 1000, 5, 30, 20
LIMITS = {"marking": 10, "notebook": 500, "setting": 15, "many": 1.3, "memory": 1.3, "statistics": 2.5, "saving": 10}
NOW = "2031-05-04T09:00:00+00:00"


def least(work, turns: int = 5) -> float:
    """The least seconds of several turns."""
    found = []
    for _ in range(turns):
        began = time.perf_counter()
        work()
        found.append(time.perf_counter() - began)
    return min(found)


@functools.cache
def ground():
    """Families, blueprint and shop."""
    from rigcalc.papers.blueprint import load_blueprint
    from rigcalc.questions import load_families
    from rigcalc.shop import load_shop, sample_shop_path

    families = load_families()
    return families, load_blueprint("full", families), load_shop(sample_shop_path())


def one_paper(number: int) -> tuple[dict, dict]:
    from rigcalc.papers.issue import make_paper

    families, plan, shop = ground()
    person = {"id": f"c{number}", "name": f"Candidate {number}", "extra_minutes": 0, "larger_print": False}
    return make_paper("bench", person, plan, families, shop, bytes(32), NOW)


def answers_to(paper: dict, record: dict, number: int) -> list[dict]:
    """Right answers, and every third of them as somebody types who commits a misstep."""
    from rigcalc.questions.typed import misstep_typed, right_typed, slips_of

    rows = []
    for question, key in zip(paper["questions"], record["keys"], strict=True):
        slips = slips_of(key) if (question["slot"] + number) % 3 == 0 else []
        typed = misstep_typed(question, key, slips[0][2], slips[0][1]) if slips else right_typed(question, key)
        rows.append({"slot": question["slot"], "typed": typed, "revision": 1, "at": NOW})
    return rows


def file_paper(folder: str, number: int) -> int:
    """Set one paper; file its key record and what is handed in."""
    from rigcalc.papers.answers import returned_record
    from rigcalc.papers.records import canonical
    from rigcalc.papers.key_records import keep_key_record

    paper, record = one_paper(number)
    keep_key_record(Path(folder) / "keys", record)
    (Path(folder) / "returned" / f"{paper['paper_id']}.json").write_bytes(
        canonical(returned_record(paper, answers_to(paper, record, number), handed_in_at=NOW, started_at=NOW)))
    return number


@functools.cache
def class_on_disk() -> tuple[Path, Path]:
    """Key records and returned files of 1,000 different papers, set once, in two processes."""
    class_on_disk.kept = tempfile.TemporaryDirectory()
    folder = Path(class_on_disk.kept.name)
    for name in ("keys", "returned"):
        (folder / name).mkdir()
    began = time.perf_counter()
    with multiprocessing.get_context("spawn").Pool(2) as two:
        for done, _ in enumerate(two.imap_unordered(functools.partial(file_paper, str(folder)), range(PAPERS), 10), 1):
            if done % 200 == 0:
                print(f"  ({done} of {PAPERS} papers set, {time.perf_counter() - began:.0f} s)", file=sys.stderr, flush=True)
    return folder / "returned", folder / "keys"


def marking(folder: Path):
    """1,000 papers, marked against parsed."""
    from rigcalc.papers.marking import mark_returned

    returned, keys = class_on_disk()

    def parse():
        return [json.loads(path.read_bytes()) for path in sorted(returned.iterdir())]

    began = time.perf_counter()
    run = mark_returned(returned, keys, now=NOW)
    first = time.perf_counter() - began
    assert len(run.results) == PAPERS and not run.problems and all(0 < one["score"] < 100 for one in run.results)
    parsed, marked = least(parse), least(lambda: mark_returned(returned, keys, now=NOW), 5)
    questions = len(ground()[1].question)
    yield (f"marking {PAPERS} papers of {questions} ({1000 * first / PAPERS:.2f} ms the first time) / parsing their answers", f"{1000 * marked / PAPERS:.3f} / {1000 * parsed / PAPERS:.3f} ms a paper",
           marked / parsed, LIMITS["marking"], "most")
    marking.seconds = marked / PAPERS


def notebook(folder: Path):
    """One small notebook a paper, which compares the answers with the right ones."""
    import nbclient
    import nbformat

    paper, record = one_paper(0)
    rights = [(key["slot"], key["right"]["shown"]) for key in record["keys"]]
    cells = [f"typed = {dict(rights)!r}", f"right = {dict(rights)!r}", "sum(typed[slot] == right[slot] for slot in right)"]

    def run():
        made = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(cell) for cell in cells])
        nbclient.NotebookClient(made, timeout=120, kernel_name="python3").execute()
        assert made.cells[-1].outputs[0]["data"]["text/plain"] == str(len(rights))

    run()
    each = statistics.median(least(run, 1) for _ in range(NOTEBOOKS))
    if not hasattr(marking, "seconds"):
        list(marking(folder))
    yield (f"one notebook a paper, median of {NOTEBOOKS} / marking a paper", f"{each:.2f} s / {1000 * marking.seconds:.3f} ms", each / marking.seconds,
           LIMITS["notebook"], "least")


class Called:
    """The calculations that setting papers calls, kept with their values so that they can be called again bare."""

    def __init__(self) -> None:
        from rigcalc.questions import registry

        self.calls, self.table, self.plain = [], registry.CALCULATIONS, dict(registry.CALCULATIONS)

    def __enter__(self) -> Called:
        for name, work in self.plain.items():
            self.table[name] = self._kept(work)
        return self

    def _kept(self, work):
        @functools.wraps(work)
        def kept(*values, **named):
            self.calls.append((work, values, named))
            return work(*values, **named)
        return kept

    def __exit__(self, *error) -> None:
        self.table.update(self.plain)

    def again(self) -> None:
        from rigcalc.errors import Refusal

        for work, values, named in self.calls:
            try:
                work(*values, **named)
            except (Refusal, ValueError):
                pass


def setting(folder: Path):
    """Papers made again from the secret, against the calculations that they call."""
    count = 40
    with Called() as called:
        for number in range(count):
            one_paper(number)
    assert len(called.calls) > 10 * count
    bare, whole = least(called.again, 3), least(lambda: [one_paper(number) for number in range(count)], 3)
    yield (f"setting a paper again / its {len(called.calls) // count} bare calculations", f"{1000 * whole / count:.1f} / {1000 * bare / count:.1f} ms a paper",
           whole / bare, LIMITS["setting"], "most")


def many(folder: Path):
    """The cost of a paper as papers become many; each run in a process of its own, to see its greatest memory."""
    few, lots = (_marked_apart(count) for count in (1000, 100_000))
    yield ("marking 100,000 / 1,000 papers, time a paper", f"{1000 * lots[0]:.3f} / {1000 * few[0]:.3f} ms", lots[0] / few[0], LIMITS["many"], "most")
    yield ("... greatest memory of the process", f"{lots[1]:.0f} / {few[1]:.0f} MB", lots[1] / few[1], LIMITS["memory"], "most")


def _marked_apart(count: int) -> tuple[float, float]:
    """Seconds a paper of marking so many papers, and the process's greatest memory in MB."""
    words = [sys.executable, __file__, "--apart", str(count), *map(str, class_on_disk())]
    said = json.loads(subprocess.run(words, check=True, capture_output=True, text=True).stdout)
    return said["seconds"] / count, said["MB"]


def apart(count: int, returned: str, keys: str) -> None:
    """One process: a folder of 1,000 papers is marked again and again, as classes are; marks are kept, results are not."""
    import resource

    from rigcalc.papers.marking import mark_returned

    mark_returned(returned, keys, now=NOW)
    scores, began = [], time.perf_counter()
    for _ in range(count // PAPERS):
        scores += [one["score"] for one in mark_returned(returned, keys, now=NOW).results]
    seconds = time.perf_counter() - began
    assert len(scores) == count
    print(json.dumps({"seconds": seconds, "MB": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024}))


def statistics_part(folder: Path):
    """100,000 x 60 marks against pandas."""
    import numpy as np
    import pandas as pd

    from rigcalc.papers.statistics import item_statistics

    rng = np.random.default_rng(20310504)
    logits = rng.normal(size=(100_000, 1)) - rng.normal(size=60)
    table = (rng.random(logits.shape) < 1 / (1 + np.exp(-logits))).astype(float)
    frame = pd.DataFrame(table)

    def by_pandas():
        total, variances = frame.sum(axis=1), frame.var()
        rest = frame.apply(lambda column: column.corr(total - column))
        return frame.mean(), rest, 60 / 59 * (1 - variances.sum() / total.var())

    ours, theirs = item_statistics(table), by_pandas()
    assert np.allclose(ours.mean, theirs[0]) and np.allclose(ours.item_rest, theirs[1]) and abs(ours.alpha - theirs[2]) < 1e-12
    here, there = least(lambda: item_statistics(table)), least(by_pandas, 3)
    yield ("pandas / difficulty, item-rest, alpha of 100,000 x 60", f"{1000 * there:.0f} / {1000 * here:.1f} ms", there / here, LIMITS["statistics"], "least")


def saving(folder: Path):
    """Thirty candidates who all save at one moment, again and again, against one alone."""
    from kill_room import Room
    from papers import a_class

    roster = [{"id": f"c{number:02d}", "name": f"Candidate {number}", "extra_minutes": 240} for number in range(CANDIDATES)]
    held = a_class.set_class(folder, roster=roster)
    room = Room(held.room)
    try:
        people = [Person(room.port, held, number) for number in range(CANDIDATES)]
        alone = [one for _ in range(4 * SAVES) for one in _at_once(people[:1])]
        together = [one for _ in range(SAVES) for one in _at_once(people)]
    finally:
        room.kill()
    one, all_of_them = statistics.median(alone), statistics.median(together)
    yield (f"median confirmation, {CANDIDATES} saving at once / one alone (slowest {1000 * max(together):.0f} ms)",
           f"{1000 * all_of_them:.1f} / {1000 * one:.1f} ms", all_of_them / one, LIMITS["saving"], "most")


class Person:
    """One candidate's open connection; requests are made up before the clock starts."""

    def __init__(self, port: int, held, number: int) -> None:
        from papers import a_class

        self.slot = next(one["slot"] for one in a_class.paper_of(held, number)["questions"] if one["kind"] == "number")
        self.at, self.port, self.revision = f"/sit/{held.issued[number].token}", port, 0
        self.line = socket.create_connection(("127.0.0.1", port))
        self.line.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self.line.sendall(self.request("start", {}))
        assert self.said()["ok"]

    def request(self, what: str, sent: dict) -> bytes:
        body = json.dumps(sent).encode()
        return (f"POST {self.at}/{what} HTTP/1.1\r\nHost: 127.0.0.1:{self.port}\r\nContent-Type: application/json\r\n"
                f"Content-Length: {len(body)}\r\n\r\n").encode() + body

    def next_save(self) -> bytes:
        self.revision += 1
        return self.request("save", {"slot": self.slot, "revision": self.revision, "typed": f"{self.revision} lbf", "confirmed": True})

    def said(self) -> dict:
        """The whole answer, once it has begun to come."""
        data = self.line.recv(65536)
        head, _, body = data.partition(b"\r\n\r\n")
        length = int(re.search(rb"Content-Length: (\d+)", head, re.I)[1])
        while len(body) < length:
            body += self.line.recv(65536)
        return json.loads(body)


def _at_once(people: list[Person]) -> list[float]:
    """Everybody sends a save at one moment; the seconds from there to each confirmation."""
    sent = [one.next_save() for one in people]
    with selectors.DefaultSelector() as waiting:
        for one in people:
            waiting.register(one.line, selectors.EVENT_READ, one)
        began, seconds = time.perf_counter(), []
        for one, request in zip(people, sent, strict=True):
            one.line.sendall(request)
        while len(seconds) < len(people):
            for ready, _ in waiting.select(60):
                said = ready.data.said()
                seconds.append(time.perf_counter() - began)
                assert said["saved"] == ready.data.revision, said
                waiting.unregister(ready.fileobj)
    return seconds


PARTS = {"marking": marking, "notebook": notebook, "setting": setting, "many": many, "statistics": statistics_part, "saving": saving}


def main(wanted: list[str]) -> int:
    """Print the table, a line as soon as it is known."""
    print(f"{os.cpu_count()} processors, load {os.getloadavg()[0]:.1f}", flush=True)
    broken = 0
    for name in wanted or list(PARTS):
        with tempfile.TemporaryDirectory() as folder:
            for words, figures, ratio, limit, kind in PARTS[name](Path(folder)):
                kept = ratio <= limit if kind == "most" else ratio >= limit
                broken += not kept
                print(f"  {words:<84}{figures:>34}{ratio:>9.2f} (at {kind} {limit:g}){'' if kept else '  BROKEN'}", flush=True)
    return 1 if broken else 0


if __name__ == "__main__":
    if sys.argv[1:2] == ["--apart"]:
        apart(int(sys.argv[2]), *sys.argv[3:5])
    else:
        sys.exit(main(sys.argv[1:]))
