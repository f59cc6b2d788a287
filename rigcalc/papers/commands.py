"""`rigcalc mark FOLDER`: mark a folder of returned answers and say what was found."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import desk_folder
from rigcalc.papers.correcting import entered_corrections
from rigcalc.papers.marking import mark_returned
from rigcalc.papers.records import write_synced
from rigcalc.papers.results import class_summary, file_in_words, results_csv, summary_html, summary_text

__all__ = ["mark_folder"]


def mark_folder(argv: list[str]) -> int:
    """Mark every returned file of a folder; the exit status is 1 when a file could not be marked."""
    parser = argparse.ArgumentParser(prog="rigcalc mark", description="Mark a folder of returned answers.")
    parser.add_argument("folder", type=Path, help="the folder with the returned files (PAPER.json)")
    parser.add_argument("--keys", type=Path, help="the folder of key records (else desk/keys of the workbook's folder)")
    parser.add_argument("--corrections", type=Path, help="the folder of corrections (else beside the folder of key records); the register "
                        "that names them lies beside it")
    parser.add_argument("--out", type=Path, help="where to write results, results.csv and summary.html")
    given = parser.parse_args(argv)
    keys = given.keys or desk_folder() / "keys"
    for folder, what in ((given.folder, "a folder of returned files"), (keys, "the folder of key records")):
        if not folder.is_dir():
            raise Refusal(f"{folder}", what, "check the path; the desk's page shows both")
    corrections, issued, passed_over = _entered(given.corrections or keys.parent / "corrections")
    run = mark_returned(given.folder, keys, given.out / "results" if given.out else None, None, _progress, corrections, issued)
    summary = class_summary(run.results, _sentences())
    print(summary_text(summary))
    for problem in run.problems:
        print(f"NOT MARKED: {file_in_words(problem)}: {problem['what']}.")
    for missing in run.not_returned:
        print(f"Not handed in: {missing['candidate']['name']} (paper {missing['paper_id']}).")
    for name in passed_over:
        print(f"NOT COUNTED: the correction {name}: no entry of the register names it.")
    if given.out:
        write_synced(given.out / "results.csv", results_csv(run.results).encode("utf-8"), 0o600)
        write_synced(given.out / "summary.html", summary_html(summary | {"problems": run.problems}).encode("utf-8"), 0o600)
        print(f"Written to {given.out}: results, results.csv, summary.html.")
    print("Nothing was entered in the register: the desk's page does that.")
    return 1 if run.problems else 0


def _entered(folder: Path) -> tuple[list[dict], dict[str, str] | None, list[str]]:
    """What the register beside a folder of corrections names: corrections and hashes of key records; and files it does not name."""
    from rigcalc.register.keys import kept_key
    from rigcalc.register.store import Register

    files = {path.name for path in folder.glob("*.json")}
    desk = folder.parent
    if not (desk / "register.sqlite").exists():
        if files:
            raise Refusal(f"{folder}, which holds corrections and has no register beside it", "the desk's folder, whose register names each correction",
                          "give --keys as the desk's folder of key records, or take the corrections out of there")
        return [], None, []
    if not (desk / "signing" / "register.pem").exists():
        raise Refusal(f"the folder {desk}, which holds a register but not its key", "a desk's folder with its key",
                      "put the signing folder back from the copy that was kept")
    register = Register(desk / "register.sqlite", kept_key(desk / "signing", "register").public)
    entries = register.entries("answers re-marked")
    issued = {entry.body["paper_id"]: entry.body["key_sha256"] for entry in register.entries("paper issued")}
    return entered_corrections(entries, folder), issued, sorted(files - {f"{entry.body['correction']:04d}.json" for entry in entries})


def _progress(done: int, of: int, name: str) -> None:
    print(f"{done} of {of}: {name}", file=sys.stderr)


def _sentences() -> dict[str, str]:
    """Each skill's sentence by its id."""
    from rigcalc.skills import load_skills

    return {skill.id: skill.sentence for skill in load_skills().values()}
