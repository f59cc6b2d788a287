from __future__ import annotations

import re
from html import unescape

from papers import a_class
from rigcalc.cautions import SCENES
from rigcalc.papers.printed import printed_paper


def test_paper_and_answer_sheet_have_the_same_numbering(held):
    paper = a_class.paper_of(held)
    made = printed_paper(paper)
    asked = re.findall(r"<h3>Question (\d+)</h3>", made)
    sheet = re.findall(r"<tr><th scope='row'>(\d+)</th>", made)
    assert asked == sheet == ["1", "2", "3"]
    for question in paper["questions"]:
        assert all(f">{option['letter']}</span>" in made for option in question["options"])
    assert paper["paper_id"] in made and "Tomo Kessig" in made and "INVENTED" in made


def test_on_paper_a_figure_is_written_not_typed(held):
    paper = a_class.paper_of(held)
    assert any(question["instruction"].startswith("Type") for question in paper["questions"])
    made = printed_paper(paper)
    assert "Write the figure" in made and "Type the" not in made


def test_names_are_escaped_and_larger_print_is_larger(tmp_path):
    held = a_class.set_class(tmp_path, roster=[{"id": "x", "name": "<i>X</i>", "larger_print": True}])
    made = printed_paper(a_class.paper_of(held))
    assert "<i>X" not in made and 'class="larger"' in made


def test_nothing_outside_is_asked(held):
    made = printed_paper(a_class.paper_of(held))
    assert not re.search(r"""(?:src|href)=["'](?!data:)""", made)


def test_a_real_shop_s_paper_says_that_the_scenes_are_invented(held):
    """The sample's people stand in scenes as whoever set a factor; beside a real shop's own charts that must be said."""
    paper = a_class.paper_of(held)
    assert SCENES not in unescape(printed_paper(paper))
    real = unescape(printed_paper(paper | {"invented": False}))
    assert SCENES in real and "people named in them" in real
