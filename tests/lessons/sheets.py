"""The sheets of all lessons as a shop's own page prints them, each on a page of its own: made without a kernel, for many shops and papers."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

from on_paper import words
from opening.test_pages import own_text

__all__ = ["PAPERS", "SHOPS", "longer_than_a_page", "printed", "sheets_of"]

PAPERS = ("Letter", "A4")
US, SI = 'system = "US"', 'system = "SI"'
SHOPS = {  # a shop's name here -> the text of its file; "" for the invented sample
    "sample": lambda: "", "own in US units": lambda: own_text(), "stranger in US units": lambda: STRANGER.replace(SI, US, 1),
    "stranger in SI units": lambda: STRANGER, "own in SI units": lambda: own_text().replace(US, SI, 1),
}
STRANGER = Path(__file__).parents[1].joinpath("notebooks", "strangers_shop.toml").read_text(encoding="utf-8")
MADE = """
import importlib, json, sys
from rigcalc.home import installed_folder
found = {}
for path in sorted(installed_folder().glob("lessons/[0-9][0-9]_*.ipynb")):
    source = "\\n".join("".join(cell["source"]) for cell in json.loads(path.read_text(encoding="utf-8"))["cells"] if cell["cell_type"] == "code")
    space = {}
    exec("\\n".join(line for line in source.splitlines() if line.startswith("from rigcalc.")), space)
    for call in ("practice_sheet", "recap"):
        maker = next(line.strip() for line in source.splitlines() if line.strip().endswith("." + call + "()"))
        found[path.name[:2] + " " + call] = eval(maker, space).html
print(json.dumps(found))
"""
ONE = re.compile(r'<section class="one-page.*?</section>', re.S)


def sheets_of(shop: str, home: Path) -> dict[str, str]:
    """Every practice sheet and recap of a shop, by lesson and kind, those of other sizes too; made in a process of its own.

    `shop`: the text of a shop file; "" for the invented sample. `home`: a folder for it.
    """
    if shop:
        (home / "shop.toml").write_text(shop, encoding="utf-8")
    ran = subprocess.run([sys.executable, "-c", MADE], capture_output=True, text=True, env={**os.environ, "RIGCALC_HOME": str(home)}, timeout=120)
    assert ran.returncode == 0, ran.stderr[-2000:]
    found = {name: ONE.findall(html) for name, html in json.loads(ran.stdout).items()}
    assert all(found.values()), "a lesson without its sheet"
    return {f"{name} {at}": html for name, those in found.items() for at, html in enumerate(those, 1)}


def printed(page, cells: str, paper: str) -> list[str]:
    """The words of each page of that paper, where these cells are printed as a lesson's page prints them."""
    package = files("rigcalc")
    style = "".join(package.joinpath(*place.split("/")).read_text(encoding="utf-8") for place in ("pages/workbook.css", "opening/template/lesson.css", "notebook/lesson.css"))
    page.set_content(f'<!doctype html><html lang="en"><head><meta charset="utf-8"><style>{style}</style></head><body class="workbook"><main id="lesson">{cells}</main></body></html>')
    page.emulate_media(media="print")
    return words(page.pdf(format=paper))


def longer_than_a_page(page, sheets: dict[str, str], paper: str) -> list[str]:
    """The sheets that need a second page of that paper."""
    cells = "".join(f'<div class="cell outputs" style="break-after:page"><div class="shown">{html.replace("<h3>", f"<h3>#{at}# ", 1)}</div></div>' for at, html in enumerate(sheets.values()))
    begun = [re.search(r"#(\d+)#", text) for text in printed(page, cells, paper)]
    names, long, now = list(sheets), [], -1
    for number in begun:
        now = int(number[1]) if number else now
        long += [] if number else [names[now]]
    assert sorted(int(one[1]) for one in begun if one) == list(range(len(sheets))), "a sheet was not printed"
    return list(dict.fromkeys(long))
