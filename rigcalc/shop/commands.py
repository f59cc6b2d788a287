"""The commands `rigcalc shop` and `rigcalc job`."""

from __future__ import annotations

import argparse
import os
import sys
import tomllib
from dataclasses import fields
from datetime import date
from pathlib import Path

from rigcalc.assembly import MissingFacts, Order, job_sheet
from rigcalc.errors import Refusal
from rigcalc.home import shop_file
from rigcalc.shop.load import check_shop, load_shop, sample_shop_path
from rigcalc.shop.model import Shop
from rigcalc.shop.sheet import as_html, as_json, as_text

__all__ = ["check_shop_file", "print_job_sheet", "shop_notes"]


class _Words(argparse.ArgumentParser):
    """A command's own words; a wrong one gets one sentence."""

    def error(self, message: str) -> None:
        raise Refusal(f"the command line after '{self.prog}' ({message})", "the words that --help lists",
                      f"type   {self.prog} --help")


# --- rigcalc shop ---------------------------------------------------------------------------------

def check_shop_file(argv: list[str]) -> int:
    """Make a shop file to edit (--new) or check one line by line; 0 when nothing is wrong with it, else 2."""
    words = _Words(prog="rigcalc shop", description="Make a shop file to edit, or check one line by line.")
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


# --- rigcalc job ----------------------------------------------------------------------------------

# option: (field of the order, help)
_OPTIONS = {
    "--what": ("what", "what hangs from it, or what it braces"),
    "--where": ("where", "where it is fitted"),
    "--use": ("use", "nobody (static, nobody can be there) or people (static, people can be there)"),
    "--near": ("near", "who can be under it, beside it, in its fall or whip"),
    "--load": ("load", 'the greatest load, as "180 lbf"'),
    "--load-from": ("load_from", "who says so"),
    "--movement": ("movement", "none, moves, shock or swung on"),
    "--service": ("service", "dry, outdoor, marine or immersed"),
    "--ends": ("ends", "two thimble eyes"),
    "--length": ("length", 'as "500 mm" or "8 ft"'),
    "--measured": ("measured", "how the length is measured: pin to pin"),
    "--quantity": ("quantity", "how many"),
    "--tightened": ("tightened", "no, or with what: turnbuckle"),
    "--greatest-tension": ("greatest_tension", "when tightened: the greatest tension"),
    "--tension-check": ("tension_check", "when tightened: how that is checked"),
    "--installer": ("installer", "who fits it"),
    "--reel": ("reel", "the reel's id in the shop file"),
    "--sleeve": ("sleeve_metal", "the sleeve's metal; without it the pairing table chooses"),
    "--tool": ("tool", "the tool's id, where several have a chart for the sleeve"),
    "--designer": ("designer", "people can be there: the named qualified person"),
    "--designer-factor": ("designer_factor", "that person's factor for this order"),
    "--designer-load": ("designer_load", "that person's design load"),
    "--designer-date": ("designer_date", "the day of that person's statement, as 2026-03-02"),
    "--sleeve-before": ("sleeve_before", "the sleeve's length before pressing, where the chart gives none"),
    "--correction": ("correction", 'from a trial piece: "+2 mm" makes the cut longer, "-2 mm" shorter'),
    "--temperature": ("temperature", "coldest and warmest where it hangs, where known, as \"-10 to 40 C\""),
    "--order-number": ("number", "the order's own number"),
}


_EXAMPLE = ('For instance: rigcalc job --reel R5 --what "trellis wire" --where "courtyard wall" --use nobody --near nobody '
            '--movement none --load "150 lbf" --load-from "the gardener" --service outdoor --ends "two thimble eyes" '
            '--length "2.40 m" --measured "pin to pin" --quantity 8 --tightened no --installer "the gardener"')


def print_job_sheet(argv: list[str]) -> int:
    """One order in, its job sheet out; missing facts are asked for and end with 2."""
    words = _Words(prog="rigcalc job", allow_abbrev=False, epilog=_EXAMPLE, usage="rigcalc job --order FILE | facts",
                   description="One order in, its job sheet out. What is missing is asked for.")
    words.add_argument("--order", metavar="FILE", help="a TOML file with the order's facts, named as the options are")
    words.add_argument("--shop", metavar="FILE", help="the shop file; without it, the one in force")
    words.add_argument("--as", dest="form", default="text", metavar="FORM", help="text, html or json")
    for option, (name, says) in _OPTIONS.items():
        words.add_argument(option, dest=name, metavar="...", help=says)
    given = words.parse_args([_joined(argv, n) for n in range(len(argv)) if not _taken(argv, n)])
    form = {"text": as_text, "html": as_html, "json": as_json}.get(given.form)
    if form is None:
        raise Refusal(f"--as {given.form}", "text, html or json", "write one of the three")
    facts = _order_file(given.order) if given.order else {}
    facts |= {name: getattr(given, name) for name, _ in _OPTIONS.values() if getattr(given, name) is not None}
    try:
        sheet = job_sheet(Order(**facts), load_shop(given.shop))
    except MissingFacts as missing:
        print(missing, file=sys.stderr)
        for question in missing.questions:
            print(f"  - {question}", file=sys.stderr)
        return 2
    print(form(sheet))
    return 0


def _taken(argv: list[str], n: int) -> bool:
    """Whether the word is a value that was joined to the option before it."""
    return n > 0 and argv[n - 1] in _OPTIONS and argv[n].startswith("-") and argv[n] not in _OPTIONS


def _joined(argv: list[str], n: int) -> str:
    """An option with its value joined on when that starts with a dash, as in --correction "-2 mm"."""
    return f"{argv[n]}={argv[n + 1]}" if n + 1 < len(argv) and _taken(argv, n + 1) else argv[n]


def _order_file(name: str) -> dict:
    """The facts of an order file; unknown names are refused with the nearest that exist."""
    do = "write one fact a line, as   length = \"500 mm\""
    try:
        document = tomllib.loads(Path(name).read_text(encoding="utf-8-sig"))
    except tomllib.TOMLDecodeError as error:
        from rigcalc.shop.lines import syntax_problem

        line, what, mend = syntax_problem(Path(name).read_text(encoding="utf-8-sig"), error)
        raise Refusal(f"the order file {name}, line {line}: {what}", 'lines of the form   length = "500 mm"', mend) from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "it is no UTF-8 text"
        raise Refusal(f"the order file {name[:200]!r} ({why})", "a text file that is there and may be read", do) from None
    names = {f.name for f in fields(Order)}
    facts = {}
    for key, value in document.items():
        key = key.replace("-", "_")
        if key not in names:
            from rigcalc.shop.fields import unknown_key

            finding = unknown_key(key, tuple(sorted(names)), (key,), "an order file")
            raise Refusal(finding.given, finding.accepted, finding.do)
        if isinstance(value, (dict, list, bool, float)):
            raise Refusal(f"{key} = {value!r} in the order file", "text in quotes, a whole number or a date", do)
        facts[key] = str(value)
    return facts
