"""The command `rigcalc job`: one order in, its job sheet out."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date

from rigcalc._job_lot import UnshownLot
from rigcalc.assembly import MissingFacts, Order, job_sheet
from rigcalc.errors import BenchMatter, Refusal
from rigcalc.shop.commands import STOPPED, Words
from rigcalc.shop.letter import letter_html, letter_text
from rigcalc.shop.load import load_shop
from rigcalc.shop.order_file import OPTIONS, OrderFile, by_field, new_order_file, read_order_file
from rigcalc.shop.sheet import as_html, as_json, as_text, is_stopped

__all__ = ["print_job_sheet"]

_SHOPS_OWN = ("--reel", "--tool", "--seen-by", "--sleeve", "--correction", "--pull-", "--proof")  # options of questions that the shop answers itself
_FORMS = {"text": as_text, "html": as_html, "json": as_json}
_EXAMPLE = ('For instance: rigcalc job --reel R5 --what "trellis wire" --where "courtyard wall" --use nobody --near nobody '
            '--movement none --held no --lifts no --load "150 lbf" --load-from "the gardener" --service outdoor --ends "two thimble eyes" '
            '--length "2.40 m" --measured "pin to pin" --quantity 8 --tightened no --installer "the gardener"')


def print_job_sheet(argv: list[str]) -> int:
    """One order in, its job sheet out; missing facts are asked for and end with 2, a sheet that says STOP with 3."""
    given = _words().parse_args([_joined(argv, n) for n in range(len(argv)) if not _taken(argv, n)])
    form = _FORMS.get(given.form)
    if form is None:
        raise Refusal(f"--as {given.form}", "text, html or json", "write one of the three")
    if given.new is not None:
        print(new_order_file(given.new))
        return 0
    if given.letter:
        return _answer_in_writing(given)
    try:
        sheet = job_sheet(_order(given), load_shop(given.shop))
    except MissingFacts as missing:
        return _told(missing, [f"  - {question if not _from_file(given) else by_field(question)}" for question in missing.questions])
    except OrderFile as wrong:
        return _told(wrong, [f"  {problem}" for problem in wrong.problems])
    except Refusal as refusal:
        if not _from_file(given):
            raise
        raise Refusal(*(by_field(part) for part in (refusal.given, refusal.accepted, refusal.do))) from None
    print(form(sheet))
    return STOPPED if is_stopped(sheet) else 0


def _answer_in_writing(given) -> int:
    """The refusal of an order as a letter; an order that can be made needs none."""
    order, shop = _order(given), load_shop(given.shop)
    try:
        job_sheet(order, shop)
    except Refusal as refusal:
        letter = {"text": letter_text, "html": letter_html}.get(given.form)
        if letter is None:
            raise Refusal(f"--letter --as {given.form}", "text or html", "write one of the two") from None
        if isinstance(refusal, (UnshownLot, BenchMatter)):
            raise Refusal("--letter for what is the bench's matter, not the customer's", "an order that is refused to whoever asked", "leave --letter out, and do what the answer says") from None
        if isinstance(refusal, MissingFacts):
            refusal = _for_whoever_asked(refusal)
        print(letter(order, refusal, shop, date.today()))
        return 2
    raise Refusal("--letter for an order that can be made", "an order that is refused", "leave --letter out: a job sheet comes out")


def _for_whoever_asked(missing: MissingFacts) -> MissingFacts:
    """The questions that whoever asked can answer; refused where only the shop's own are left."""
    theirs = tuple(question for question in missing.questions if not any(f"({option}" in question for option in _SHOPS_OWN))
    if not theirs:
        raise Refusal("--letter where only the shop's own questions are open", "an order with a question for whoever asked", "leave --letter out, and answer them here")
    return MissingFacts(theirs)


def _words() -> Words:
    words = Words(prog="rigcalc job", allow_abbrev=False, epilog=_EXAMPLE, usage="rigcalc job FILE\n       rigcalc job --new FILE\n       rigcalc job --what ... --where ... and the other options below",
                  description=f"One order in, its job sheet out. What is missing is asked for. A sheet that says STOP ends with {STOPPED}.")
    words.add_argument("file", nargs="?", help="a TOML file with the order's facts, named as the options are; a fact beside it overrules it")
    words.add_argument("--order", metavar="FILE", help="the same file, as an option")
    words.add_argument("--new", metavar="FILE", help="write an order file to fill in, with each question as a remark")
    words.add_argument("--shop", metavar="FILE", help="the shop file; without it, the one in force")
    words.add_argument("--letter", action="store_true", help="a refusal as a letter to whoever asked: why, and whom to ask")
    words.add_argument("--as", dest="form", default="text", metavar="FORM", help="text, html or json")
    for option, (name, says) in OPTIONS.items():
        words.add_argument(option, dest=name, metavar="...", help=says.replace("%", "%%"))
    return words


def _order(given) -> Order:
    """The order of the file, with the facts of the command line over it."""
    if given.file and given.order:
        raise Refusal(f"the files {given.file} and {given.order}", "one order file", "leave one of the two out")
    name = given.file or given.order
    order = read_order_file(name) if name else Order()
    facts = {field: getattr(given, field) for field, _ in OPTIONS.values() if getattr(given, field) is not None}
    return replace(order, **facts)


def _from_file(given) -> bool:
    """Whether the order stands in a file, whose fields have names of their own."""
    return bool(given.file or given.order)


def _told(refusal: Refusal, lines: list[str]) -> int:
    """A refusal and what belongs under it, on the error stream."""
    print("\n".join([str(refusal), *lines]), file=sys.stderr)
    return 2


def _taken(argv: list[str], n: int) -> bool:
    """Whether the word is a value that was joined to the option before it."""
    return n > 0 and argv[n - 1] in OPTIONS and argv[n].startswith("-") and argv[n] not in OPTIONS


def _joined(argv: list[str], n: int) -> str:
    """An option with its value joined on when that starts with a dash, as in --correction "-2 mm"."""
    return f"{argv[n]}={argv[n + 1]}" if n + 1 < len(argv) and _taken(argv, n + 1) else argv[n]
