"""`rigcalc mark FOLDER`: mark a folder of returned answers and say what was found."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import desk_folder
from rigcalc.papers.correcting import read_corrections
from rigcalc.papers.marking import mark_returned
from rigcalc.papers.records import write_synced
from rigcalc.papers.results import class_summary, results_csv, summary_html, summary_text

__all__ = ["mark_folder"]


def mark_folder(argv: list[str]) -> int:
    """Mark every returned file of a folder; the exit status is 1 when a file could not be marked."""
    parser = argparse.ArgumentParser(prog="rigcalc mark", description="Mark a folder of returned answers.")
    parser.add_argument("folder", type=Path, help="the folder with the returned files (PAPER.json)")
    parser.add_argument("--keys", type=Path, help="the folder of key records (else desk/keys of the workbook's folder)")
    parser.add_argument("--corrections", type=Path, help="the folder of corrections (else beside the folder of key records)")
    parser.add_argument("--out", type=Path, help="where to write results, results.csv and summary.html")
    given = parser.parse_args(argv)
    keys = given.keys or desk_folder() / "keys"
    for folder, what in ((given.folder, "a folder of returned files"), (keys, "the folder of key records")):
        if not folder.is_dir():
            raise Refusal(f"{folder}", what, "check the path; the desk's page shows both")
    run = mark_returned(given.folder, keys, given.out / "results" if given.out else None, progress=_progress,
                        corrections=read_corrections(given.corrections or keys.parent / "corrections"))
    summary = class_summary(run.results, _sentences())
    print(summary_text(summary))
    for problem in run.problems:
        print(f"NOT MARKED: {problem['file']}: {problem['what']}.")
    for missing in run.not_returned:
        print(f"Not handed in: {missing['candidate']['name']} (paper {missing['paper_id']}).")
    if given.out:
        write_synced(given.out / "results.csv", results_csv(run.results).encode("utf-8"), 0o600)
        write_synced(given.out / "summary.html", summary_html(summary).encode("utf-8"), 0o600)
        print(f"Written to {given.out}: results, results.csv, summary.html.")
    print("Nothing was entered in the register: the desk's page does that.")
    return 1 if run.problems else 0


def _progress(done: int, of: int, name: str) -> None:
    print(f"{done} of {of}: {name}", file=sys.stderr)


def _sentences() -> dict[str, str]:
    """Each skill's sentence by its id."""
    from rigcalc.skills import load_skills

    return {skill.id: skill.sentence for skill in load_skills().values()}
