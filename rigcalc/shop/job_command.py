"""The command `rigcalc job`: one order in, its job sheet out."""

from __future__ import annotations

import sys
import tomllib
from dataclasses import fields
from pathlib import Path

from rigcalc.assembly import MissingFacts, Order, job_sheet
from rigcalc.errors import Refusal
from rigcalc.shop.commands import Words
from rigcalc.shop.load import load_shop
from rigcalc.shop.sheet import as_html, as_json, as_text

__all__ = ["print_job_sheet"]

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
    words = Words(prog="rigcalc job", allow_abbrev=False, epilog=_EXAMPLE, usage="rigcalc job --order FILE | facts",
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
