"""The command `rigcalc shop`: make, check and ask the shop file, and print wall cards."""

from __future__ import annotations

import argparse
import os
from datetime import date
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import shop_file
from rigcalc.shop.load import check_shop, load_shop, sample_shop_path
from rigcalc.shop.model import Shop

__all__ = ["Words", "check_shop_file", "shop_notes"]


class Words(argparse.ArgumentParser):
    """A command's own words; a wrong one gets one sentence."""

    def error(self, message: str) -> None:
        raise Refusal(f"the command line after '{self.prog}' ({message})", "the words that --help lists",
                      f"type   {self.prog} --help")


def check_shop_file(argv: list[str]) -> int:
    """Make a shop file to edit (--new) or check one line by line; 0 when nothing is wrong with it, else 2."""
    words = Words(prog="rigcalc shop", description="Make a shop file to edit, or check one line by line.")
    words.add_argument("file", nargs="?", help="the shop file; without it, the one in the workbook's home")
    words.add_argument("--new", action="store_true", help="write the sample to edit into the workbook's home")
    given = words.parse_args(argv)
    if given.new:
        return _new_shop_file(given.file)
    path = Path(given.file) if given.file else shop_file()
    if not given.file and not path.exists():
        print(f"There is no shop file in {path.parent} yet, so the invented sample is in force. "
              "To make one of your own: rigcalc shop --new\n")
        path = sample_shop_path()
    problems = check_shop(path)
    if problems:
        head = f"{path}: {len(problems)} thing{'s' if len(problems) > 1 else ''} to mend."
        print("\n".join([head, *(f"  {problem}" for problem in problems)]))
        return 2
    print(_summary(path))
    return 0


def _new_shop_file(extra: str | None) -> int:
    """Write the sample into the workbook's home; an existing file is never touched."""
    path = shop_file()
    if extra is not None:
        raise Refusal(f"the file {extra} together with --new", f"--new alone, which writes {path}",
                      "leave the file name out, and set RIGCALC_HOME for another folder")
    if path.exists() or path.is_symlink():
        raise Refusal(f"--new where {path} already stands", "a home without a shop file",
                      "edit the file that is there, or move it away first; nothing was changed")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        _write_whole(path, sample_shop_path().read_bytes())
    except OSError as error:
        raise Refusal(f"the folder {path.parent} ({error.strerror})", "a folder that may be written to",
                      "set RIGCALC_HOME to such a folder") from None
    print(f"Written: {path}\nEvery figure in it is INVENTED: put your own in their place, block by block.\n"
          "Then type   rigcalc shop   to have it checked.")
    return 0


def _write_whole(path: Path, content: bytes) -> None:
    """The file with its whole content or no file; one that appears meanwhile is left alone."""
    with open(path, "xb") as new:
        try:
            new.write(content)
            new.flush()
            os.fsync(new.fileno())
        except OSError:
            path.unlink()
            raise


def _summary(path: Path) -> str:
    """What a shop file without mistakes holds."""
    shop = load_shop(path)
    held = (("reel", shop.reels), ("tool", shop.tools), ("gauge", shop.gauges), ("thimble", shop.thimbles), ("chart", shop.charts))
    lines = [f"{path}: nothing to mend.", f"  {shop.name}{'  (INVENTED)' if shop.invented else ''}",
             "  " + ", ".join(f"{len(some)} {name}{'' if len(some) == 1 else 's'}" for name, some in held)]
    lines += [f"  factor {f.value:g} for {f.scope}, set by {f.owner} on {f.set_on}" for f in shop.factors]
    lines += [f"  Note: {note}" for note in shop_notes(shop)]
    lines.append(f"  {shop.chart_line()}")
    return "\n".join(lines)


def shop_notes(shop: Shop) -> list[str]:
    """What a shop without mistakes still lacks: a design factor, gauges in date, a maker's chart; a sentence each."""
    notes = [] if shop.factors else ["no design factor has been entered, so no limit can be given."]
    notes += [f"gauge {g.id} was due on {g.due_on}: it judges nothing until it is checked."
              for g in shop.gauges if not g.in_date(date.today())]
    if not shop.has_maker_chart:
        notes.append("no maker's chart has been entered: every sheet is a PRACTICE sheet, "
                     "without tag, piece record or certificate.")
    return notes
