"""The printed certificate: all facts on it, all text escaped, one sheet of A4 and of Letter, and one with its skills."""

import os

import pytest
from on_paper import sizes, words

from rigcalc.desk.shown import skill_names
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
    says["written"]["skills"] = skill_names(list(range(40, 52)))
    says["bench"]["skills"] = skill_names(list(range(1, 31)))
    says["written"]["cut_how"] = "She stated for each question the share of just good enough candidates. " * 3
    says["not_shown"] = [f"something that was not shown, number {n}" for n in range(12)] + [
        *(f"asked in writing, not every answer right: {name}" for name in skill_names([2, 60, 61, 66])),
        "by hand, there was no occasion: " + "; ".join(skill_names([40, 44, 45]))]
    says["written"]["given"] = "2 of these marks were given for question 9, which was struck."
    says["bench"]["piece"] = "pulled: 1815 lbf [8.07 kN]; limit: at least 1800 lbf; held, witness mark did not move; gauge FG2, due 2046"
    says["chart"]["line"] = "INVENTED chart LB-AL of the invented maker of tool LB, edition 5, copied and checked by two named people"
    if long:
        for part, name, letters in (("person", "identified", 200), ("declarations", "training", 290),
                                    ("decision", "reasons", 400), ("validity", "why", 200)):
            says[part][name] = ("words " * 70)[:letters].strip()
    return says


@pytest.fixture(scope="module")
def page(chromium):
    return chromium.new_page()


CASES = {"short": statement, "usual": lambda: real_length(False), "longest": lambda: real_length(True)}


def printed(page, says: dict, paper: str) -> bytes:
    page.set_content(certificate_page(sign_certificate(says, Signer.make("demonstration"), "Ambrel Quay Cable Bench")))
    return page.pdf(format=paper, prefer_css_page_size=False, path=os.environ.get("SHEET_PDF"))


@pytest.mark.paper
@pytest.mark.parametrize("case, points", [("short", 11), ("usual", 9), ("longest", 9)])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_it_fits_one_sheet_and_no_word_on_it_is_small(page, paper, case, points):
    pdf = printed(page, CASES[case](), paper)
    first, second = words(pdf)
    assert "Who answers for it" in first and "Skill by skill" in second and "page 2 of 2" in second
    runs = sizes(pdf)  # on each page the foot first
    begin, at = ([text.startswith(head) for text, _ in runs].index(True) for head in ("Certificate of", "Skill by skill"))
    sheet = [size for _, size in runs[begin:at - begin]]
    assert len(sheet) > 50 and min(sheet) >= points - 0.01
    assert min(size for _, size in runs[at:]) >= (10 if case == "short" else 9) - 0.01


@pytest.mark.paper
def test_each_skill_has_its_sentence_and_says_why_it_stands_twice(page):
    says = real_length(False)
    text = words(printed(page, says, "A4"))[1]
    for name in [*says["written"]["skills"], *says["bench"]["skills"], *skill_names([2, 60, 61, 66, 40, 44, 45])]:
        assert text.count(name) == 1, name
    assert f"{skill_names([2])[0]} not every answer right shown" in text and f"{skill_names([1])[0]} not asked shown" in text
    assert f"{skill_names([44])[0]} right there was no occasion" in text and f"{skill_names([60])[0]} not every answer right not watched" in text
    assert "each is judged by itself" in text and "Right in one way and not in the other: skills 2, 40, 44, 45." in text


def test_a_certificate_signed_with_short_names_is_still_printed_whole():
    says = statement(not_shown=["stainless cable", "asked in writing, not every answer right: 2 uses the chart in force; 40 re-centres",
                                "by hand, there was no occasion: 40 re-centres"])
    says["not_shown"].append("must be right by the skill map, and this paper did not ask it so: 19 refuses; 50 never re-presses")
    says["bench"]["skills"], says["written"]["skills"] = ["2 uses the chart in force"], ["19 refuses"]
    sheet = certificate_page(sign_certificate(says, Signer.make("demonstration"), "Ambrel Quay Cable Bench"))
    assert "<td>2</td><td>uses the chart in force</td><td>not every answer right</td><td>shown</td>" in sheet
    assert "<td>19</td><td>refuses</td><td>right</td><td>not watched</td>" in sheet
    assert "<td>50</td><td>never re-presses</td><td>not asked</td>" in sheet
    assert "not every answer right: skills 2, 40" in sheet and "Right in one way and not in the other: skill 2." in sheet


@pytest.mark.parametrize("line", ["asked in writing in a question that was struck", "must be right by the skill map, and this paper did not ask it so"])
def test_what_no_question_counted_for_is_right_in_neither_way(line):
    """A struck question gives its marks to everybody: it says nothing of the skill, and is set against nothing seen by hand."""
    says = statement(not_shown=[f"{line}: 4 names the size", "asked in writing, not every answer right: 18 works the limit"])
    says["bench"]["skills"], says["written"]["skills"] = ["4 names the size", "18 works the limit"], ["19 refuses"]
    sheet = certificate_page(sign_certificate(says, Signer.make("demonstration"), "Ambrel Quay Cable Bench"))
    assert "<td>4</td><td>names the size</td>" in sheet and "Right in one way and not in the other: skill 18." in sheet


@pytest.mark.paper
def test_a_second_sheet_finds_its_way_home(page):
    says = real_length(True)
    says["decision"]["reasons"] = "words " * 330
    sheets = words(printed(page, says, "A4"))
    assert len(sheets) == 3
    for at, sheet in enumerate(sheets, 1):
        assert f"Tomo Kessig · certificate {says['number']}" in sheet and f"page {at} of 3" in sheet
