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

__all__ = ["STOPPED", "Words", "check_shop_file", "shop_notes"]


EVERY_TOOL = ""
STOPPED = 3  # the exit status of a sheet that says STOP before its first step, and of a card whose tool or gauge judges nothing


class Words(argparse.ArgumentParser):
    """A command's own words; a wrong one gets one sentence."""

    def error(self, message: str) -> None:
        raise Refusal(f"the command line after '{self.prog}' ({message})", "the words that --help lists",
                      f"type   {self.prog} --help")


def check_shop_file(argv: list[str]) -> int:
    """Make a shop file to edit (--new), check one line by line, or ask it; 0 when nothing is wrong with it, else 2."""
    words = Words(prog="rigcalc shop", allow_abbrev=False, description="Make a shop file to edit, check one line by line, print wall "
                  "cards from its charts, or see what the sizes wanted need.")
    words.add_argument("file", nargs="?", help="the shop file; without it, the one in the workbook's home")
    words.add_argument("--new", action="store_true", help="write the sample to edit into the workbook's home")
    words.add_argument("--card", nargs="?", const=EVERY_TOOL, metavar="TOOL", help="the wall card of a tool; without a tool, of each")
    words.add_argument("--html", metavar="FILE", help="with --card: write it as a page that prints, one sheet a tool")
    words.add_argument("--card-check", metavar="CODE", help=f"whether the wall card with that code still stands: 2 where it is void, {STOPPED} where its tool or gauge is out of use")
    words.add_argument("--sizes", metavar="SIZES", help='sizes wanted, as "1/8,3/16": what they need, and what is missing')
    words.add_argument("--metal", metavar="METAL", help="with --sizes: the cable's metal; without it galvanised")
    words.add_argument("--service", metavar="SERVICE", help="with --sizes: dry, outdoor, marine or immersed; without it dry")
    given = words.parse_args(argv)
    _one_thing(given)
    if given.new:
        return _new_shop_file(given.file)
    if given.card is not None:
        return _print_cards(load_shop(given.file), given.card, given.html)
    if given.card_check is not None:
        return _check_card(load_shop(given.file), given.card_check)
    if given.sizes is not None:
        return _print_wanted(load_shop(given.file), given)
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


def _one_thing(given: argparse.Namespace) -> None:
    """One thing is asked at a time, and no word stands alone that belongs to another."""
    asked = [word for word, value in (("--new", given.new or None), ("--card", given.card), ("--card-check", given.card_check),
                                      ("--sizes", given.sizes)) if value is not None]
    if len(asked) > 1:
        raise Refusal(" together with ".join(asked), "one of them at a time", "ask twice")
    for word, value, with_ in (("--html", given.html, "--card"), ("--metal", given.metal, "--sizes"),
                               ("--service", given.service, "--sizes")):
        if value is not None and with_ not in asked:
            raise Refusal(f"{word} without {with_}", f"{word} together with {with_}", f"add {with_}, or leave {word} out")


def _print_cards(shop: Shop, tool: str, page: str | None) -> int:
    """The wall card of one tool, or of every tool with a chart, as text or as a page."""
    from rigcalc.shop.card import card_as_html, card_as_text, every_wall_card, wall_card

    cards = every_wall_card(shop) if tool == EVERY_TOOL else (wall_card(shop, tool),)
    if page is None:
        print("\n\n\n".join(card_as_text(card) for card in cards))
        return 0
    if not page.lower().endswith((".html", ".htm")):
        raise Refusal(f"--html {page}", "a file name that ends in .html", "write the name so")
    Path(page).write_text(card_as_html(cards), encoding="utf-8")
    print(f"Written: {page}\n" + "\n".join(f"  {card.title}: card {card.code}" for card in cards)
          + "\nOpen it in a browser and print it: one sheet for each tool. Take the old card down first.")
    return 0


def _check_card(shop: Shop, code: str) -> int:
    """Whether a wall card still stands; 2 when it is void, 3 when nothing is pressed by it for its tool or a gauge."""
    from rigcalc.shop.card import card_stands

    if card_stands(shop, code):
        print(f"Card {code.strip()} stands: the chart in force is the one it was drawn from.")
        stops = [f"STOP: gauge {gauge.id} {gauge.out_of_date(date.today())}: it judges nothing until it is checked, whatever the card says."
                 for gauge in _gauges_of(shop, code)]
        one = shop.tool(code.strip().rpartition("-")[0])
        stops += [f"STOP: tool {one.id} {one.out_of_use}: press nothing with it until it has been set right and checked, whatever the card says."] if one.found_bad else []
        print("\n".join(stops), end="\n" if stops else "")
        return STOPPED if stops else 0
    tool = code.strip().rpartition("-")[0]
    if all(one.id.casefold() != tool.casefold() for one in shop.tools):
        print(f"Card {code.strip()} is VOID: tool {tool} does not stand in the shop file. Take the card down, and press nothing by it. "
              "The shop's tools: " + (", ".join(one.id for one in shop.tools) or "none") + ".")
        return 2
    print(f"Card {code.strip()} is VOID: the chart for tool {tool} is not the one it was drawn from. Take it down and print a new "
          f"one: rigcalc shop --card {tool}")
    return 2


def _gauges_of(shop: Shop, code: str) -> list:
    """The gauges out of date that a card's charts name."""
    tool = shop.tool(code.strip().rpartition("-")[0])
    named = {row.gauge for chart in shop.charts if chart.tool == tool.id for row in chart.rows}
    return [gauge for gauge in shop.gauges if gauge.id in named and not gauge.in_date(date.today())]


def _print_wanted(shop: Shop, given: argparse.Namespace) -> int:
    """What the sizes wanted need, have and lack."""
    from rigcalc.cautions import INVENTED
    from rigcalc.shop.wanted import read_sizes, sizes_wanted, wanted_as_text

    wanted = sizes_wanted(shop, read_sizes(given.sizes), given.metal or "galvanised", given.service or "dry")
    print(f"{shop.name}: sizes wanted" + (f"\n{INVENTED}" if shop.invented else "") + "\n\n" + wanted_as_text(wanted, shop.system))
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
    held = (("reel", shop.reels), ("tool", shop.tools), ("gauge", shop.gauges), ("thimble", shop.thimbles), ("chart", shop.charts),
            ("pulled lot", shop.pulled_lots), ("offcut", shop.offcuts), ("fitting", shop.fittings), ("clip row", shop.clips))
    lines = [f"{path}: nothing to mend.", f"  {shop.name}{'  (INVENTED)' if shop.invented else ''}",
             "  " + ", ".join(f"{len(some)} {name}{'' if len(some) == 1 else 's'}" for name, some in held if some)]
    lines += [f"  factor {f.value:g} for {f.scope}, set by {f.owner} on {f.set_on}" for f in shop.factors]
    lines += [f"  Note: {note}" for note in shop_notes(shop)]
    lines.append(f"  {shop.chart_line()}")
    return "\n".join(lines)


def _failed_lots(shop: Shop) -> list[str]:
    """The pulled lots that do not show the 90 % of an eye and are not set aside, whatever a younger one shows."""
    from rigcalc._job_lot import why_unshown
    from rigcalc.cable import breaking_force

    notes = []
    for lot in shop.pulled_lots:
        if lot.what != "eye" or lot.set_aside is not None:
            continue
        try:
            why = why_unshown(lot, breaking_force(lot.size, lot.construction, lot.metal).force_n)
        except Refusal:
            continue
        if why:
            notes.append(f"the pulled lot {lot.id} does not show what an eye is taken to hold ({why}) and is not set aside: no sheet is made for its size, metals and tool "
                         "until a new lot shows it and this one is set aside with the reason.")
    return notes


def _found_bad_notes(shop: Shop) -> list[str]:
    """Each tool and gauge that was found bad, and which pieces go back to the gauge for it."""
    out, again = "A piece stays out only where it is written down that it was", "Those that have left are recalled. Lesson 07, 'Containment: what goes back', shows how the list is made."
    return [*(f"tool {one.id} {one.out_of_use}: tag it out of use. Every piece pressed with it since its last good check goes back to the gauge. {out} pressed before that check "
              f"or with another tool. {again}"
              for one in shop.tools if one.found_bad),
            *(f"gauge {one.id} {one.out_of_use}: tag it out of use. Every piece gauged with it since its last good check, on {one.checked_on} where none came later, "
              f"goes back to another gauge that is in date. {out} gauged before that check or with another gauge. {again}" for one in shop.gauges if one.found_bad)]


def _proof_notes(shop: Shop) -> list[str]:
    """What is amiss with the shop's procedure for proof loads: its instrument, or a rule that nobody read."""
    from rigcalc.reference import table

    if shop.proof is None:
        return []
    overdue = shop.proof.out_of_date(date.today())
    notes = [f"the proof instrument {shop.proof.instrument} {overdue}: it proves nothing until it is checked."] if overdue else []
    if next(row for row in table("proof_rules") if row.rule == shop.proof.rule).how_known == "from memory":
        notes.append(f"the proof rule '{shop.proof.rule}' is from memory: it accepts no real piece, and {shop.proof.set_by} has to choose one that was read.")
    return notes


def _no_sleeve_notes(shop: Shop) -> list[str]:
    """The cable metals on the racks that no charted sleeve may go on."""
    from rigcalc.pairing import SERVICES, pairing

    charted = sorted({chart.sleeve_metal for chart in shop.charts if chart.kind == "maker"})
    lone = [metal for metal in sorted({reel.metal for reel in shop.reels} - {"unknown"})
            if charted and not any(pairing(metal, sleeve, service).allowed for sleeve in charted for service in SERVICES)]
    return [f"no sleeve of the charts ({', '.join(charted)}) may go on {metal} cable: nothing is made of its reels until a chart for another sleeve is entered."
            for metal in lone]


def _bench_notes(shop: Shop) -> list[str]:
    """Which bench tasks the shop cannot have done, or only with another size; whatever is wrong with the tasks is no fault of the shop file."""
    from rigcalc.bench.choices import bench_notes
    from rigcalc.bench.tasks import load_tasks

    try:
        return bench_notes(load_tasks(), shop)
    except Refusal as refusal:
        return [f"whether the bench tasks can be done here was not looked at. {refusal}"]


def shop_notes(shop: Shop) -> list[str]:
    """What a shop without mistakes still lacks: a design factor, gauges in date, a maker's chart; a sentence each."""
    from rigcalc.shop.odd import low_factors, odd_certificates, odd_fittings, other_slots, same_gauge_max, shared_cavities

    notes = [] if shop.factors else ["no design factor has been entered, so no limit can be given."]
    notes += [f"chart {chart.id}, edition {chart.edition}, gives no order of pressing for {', '.join(row.size for row in lone)}: ask the maker before the first press."
              for chart in shop.charts if (lone := [row for row in chart.rows if row.count > 1 and not row.order])]
    notes += low_factors(shop.factors) + odd_certificates(shop.reels, shop.system) + odd_fittings(shop.fittings, shop.system)
    notes += shared_cavities(shop.tools) + other_slots(shop.charts) + same_gauge_max(shop.charts)
    notes += [f"gauge {g.id} {g.out_of_date(date.today())}: it judges nothing until it is checked."
              for g in shop.gauges if not g.in_date(date.today()) and not g.found_bad]
    notes += _found_bad_notes(shop)
    notes += [f"the growth of {g.size} {g.sleeve_metal} sleeves on tool {g.tool} was measured by edition {g.edition} of its chart, which "
              "is not in force: measure three again." for g in shop.growths if not shop.growth_stands(g)]
    notes += [f"offcut {o.id} has no certificate: it is scrap for this work." for o in shop.offcuts if not o.certified]
    notes += _failed_lots(shop)
    notes += _proof_notes(shop)
    notes += _no_sleeve_notes(shop)
    notes += _bench_notes(shop)
    if not shop.has_maker_chart:
        notes.append("no maker's chart has been entered: every sheet is a PRACTICE sheet, "
                     "without tag, piece record or certificate.")
    return notes
