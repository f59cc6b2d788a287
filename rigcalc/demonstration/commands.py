"""`rigcalc demonstration [FOLDER]`: make the invented class and say where to look."""

from __future__ import annotations

import argparse
import json
import time
from pathlib import Path

from rigcalc.cautions import INVENTED
from rigcalc.demonstration.making import make
from rigcalc.desk import work
from rigcalc.home import workbook_home
from rigcalc.papers.results import summary_html
from rigcalc.register.keys import write_whole
from rigcalc.register.page import certificate_page

__all__ = ["make_demonstration"]


def make_demonstration(argv: list[str]) -> int:
    """Make the invented class of twelve through the same acts as the desk's pages."""
    words = argparse.ArgumentParser(prog="rigcalc demonstration", description="Make the invented class of twelve: papers, "
                                    "answers, bench, decisions, DEMONSTRATION certificates, register.")
    words.add_argument("folder", nargs="?", type=Path, help="its own folder (else `demonstration` in the workbook's folder)")
    asked = words.parse_args(argv)
    home = (asked.folder or workbook_home() / "demonstration").absolute()
    began = time.monotonic()
    print(INVENTED, flush=True)
    made = make(home, lambda sentence: print(sentence, flush=True))
    looked = _pages(made)
    print(f"\nDone in {time.monotonic() - began:.0f} seconds.")
    print("Competent: " + ", ".join(made.competent) + ".")
    for name, why in made.not_yet.items():
        print(f"Not yet: {name}. {why}")
    print("\nWhere to look:")
    print(f"  the desk, all pages      rigcalc desk --folder {home}")
    print(f"  class summary            {looked['summary']}")
    print(f"  a certificate to print   {looked['sheet']}")
    print(f"  check its file           rigcalc certificate {looked['file']} --key {looked['key']}")
    print(f"  check the register       rigcalc register --folder {home} --read")
    return 0


def _pages(made) -> dict[str, Path]:
    """A few pages to open straight away, beside the desk's folders."""
    desk = work.open_desk(made.home)
    folder = made.home / "to-look-at"
    folder.mkdir(exist_ok=True)
    paths = {"summary": folder / "class-summary.html", "sheet": folder / "certificate.html",
             "file": folder / "certificate.json", "key": folder / "issuer-key.json"}
    certificate, raw = work.certificate(desk, made.certificates[0])
    write_whole(paths["summary"], summary_html(work.summary(desk, made.class_id), desk.shop.chart_line()).encode())
    write_whole(paths["sheet"], certificate_page(certificate).encode())
    write_whole(paths["file"], raw)
    write_whole(paths["key"], json.dumps(desk.issuer_card(), indent=1, ensure_ascii=False).encode())
    return {name: _quoted(path) for name, path in paths.items()}


def _quoted(path: Path) -> str:
    return f'"{path}"' if " " in str(path) else str(path)
