"""The printed sheet: all facts on it, all text escaped, one sheet of A4 and of Letter."""

import os

import pytest
from chromium import chromium_started
from on_paper import sizes, words

from rigcalc.register.certificate import sign_certificate
from rigcalc.register.keys import Signer
from rigcalc.register.page import certificate_page

from .statements import statement


def strings(value):
    if isinstance(value, dict):
        for inside in value.values():
            yield from strings(inside)
    elif isinstance(value, list):
        for inside in value:
            yield from strings(inside)
    elif isinstance(value, str):
        yield value


def signed(**changes):
    return sign_certificate(statement(**changes), Signer.make("demonstration"), "Ambrel Quay Cable Bench")


def test_every_fact_but_the_long_hashes_stands_on_the_sheet():
    from html import escape
    certificate = signed()
    sheet = certificate_page(certificate)
    says = dict(certificate["statement"])
    says["person"] = {k: v for k, v in says["person"].items() if k != "candidate"}
    says["chart"] = {"line": says["chart"]["line"]}
    for part in ("written", "bench"):
        says[part] = {name: value for name, value in says[part].items() if not name.endswith("sha256")}
    for text in strings(says):
        assert escape(text) in sheet, text
    assert "DEMONSTRATION" in sheet and "INVENTED" in sheet and "INVENTED dates" in sheet


def test_typed_text_never_becomes_markup():
    sheet = certificate_page(signed(assessor="<script>alert(1)</script>"))
    assert "<script" not in sheet and "&lt;script&gt;" in sheet


def real_length(long: bool) -> dict:
    """A statement as long as a real one, or as long as the desk lets one become."""
    says = statement()
    says["written"]["skills"] = [f"{n} names a skill of the map" for n in range(12)]
    says["bench"]["skills"] = [f"{n} shows a skill by hand" for n in range(30)]
    says["written"]["cut_how"] = "She stated for each question the share of just good enough candidates. " * 3
    says["not_shown"] = [f"something that was not shown, number {n}" for n in range(12)] + [
        "asked in writing, not every answer right: " + "; ".join(f"{n} names a skill" for n in range(12)),
        "by hand, there was no occasion: 40 re-centres; 44 presses again once; 45 stops on second failure"]
    says["written"]["given"] = "2 of these marks were given for question 9, which was struck."
    says["bench"]["piece"] = "pulled: 1815 lbf [8.07 kN]; limit: at least 1800 lbf; held, witness mark did not move; gauge FG2, due 2046"
    says["chart"]["line"] = "INVENTED chart LB-AL of the invented maker of tool LB, edition 5, copied and checked by two named people"
    if long:
        for part, name, letters in (("person", "identified", 200), ("declarations", "training", 290),
                                    ("decision", "reasons", 400), ("validity", "why", 200)):
            says[part][name] = ("words " * 70)[:letters].strip()
    return says


@pytest.fixture(scope="module")
def page():
    with chromium_started() as chromium:
        yield chromium.new_page()


CASES = {"short": statement, "usual": lambda: real_length(False), "longest": lambda: real_length(True)}


def printed(page, says: dict, paper: str) -> bytes:
    page.set_content(certificate_page(sign_certificate(says, Signer.make("demonstration"), "Ambrel Quay Cable Bench")))
    return page.pdf(format=paper, prefer_css_page_size=False, path=os.environ.get("SHEET_PDF"))


@pytest.mark.parametrize("case, points", [("short", 11), ("usual", 9), ("longest", 9)])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_it_fits_one_sheet_and_no_word_on_it_is_small(page, paper, case, points):
    pdf = printed(page, CASES[case](), paper)
    assert len(words(pdf)) == 1
    runs = sizes(pdf)  # the foot first
    sheet = [size for _, size in runs[[text.startswith("Certificate of") for text, _ in runs].index(True):]]
    assert len(sheet) > 50 and min(sheet) >= points - 0.01


def test_a_second_sheet_finds_its_way_home(page):
    says = real_length(True)
    says["decision"]["reasons"] = "words " * 330
    sheets = words(printed(page, says, "A4"))
    assert len(sheets) == 2
    for at, sheet in enumerate(sheets, 1):
        assert f"Tomo Kessig · certificate {says['number']}" in sheet and f"page {at} of 2" in sheet
