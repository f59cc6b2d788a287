from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import msgspec
import pytest

from papers import a_class
from rigcalc.cautions import INVENTED, INVENTED_PLAN, SCENES
from rigcalc.papers.blueprint import load_blueprint
from rigcalc.papers.issue import make_paper
from rigcalc.papers.printed import printed_paper
from rigcalc.questions import families_folder, load_families
from rigcalc.questions.separators import separators
from rigcalc.room.page import sitting_page
from rigcalc.shop import load_shop

STRANGERS = load_shop(Path(__file__).parent.parent / "notebooks" / "strangers_shop.toml")


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


def test_a_real_shop_s_paper_of_an_invented_blueprint_says_what_is_invented(held):
    """Its shop, charts, tools and factor are not: the banner of a whole invented shop would be untrue of them."""
    sample = a_class.paper_of(held)
    assert sample["invented"] is True and INVENTED in unescape(printed_paper(sample))
    plan, families, person = load_blueprint("narrow"), load_families(families_folder()), a_class.ROSTER[0] | {"extra_minutes": 0, "larger_print": False}
    paper, own = [make_paper("c", person, one, families, STRANGERS, a_class.SECRET, "2031-03-02T09:00:00Z")[0]
                  for one in (plan, msgspec.structs.replace(plan, invented=False))]
    made = unescape(printed_paper(paper))
    assert paper["invented"] == INVENTED_PLAN and INVENTED_PLAN in made and SCENES in made and INVENTED not in made
    assert INVENTED_PLAN in unescape(sitting_page(paper, {"handed_in": None, "started": None, "minutes": 60}, ""))
    assert own["invented"] is False and "INVENTED: the blueprint" not in printed_paper(own)


@pytest.mark.parametrize(("language", "said"), [("en", "a point before decimals, as in 8.50,"), ("de", "a comma before decimals, as in 8,50,")])
def test_the_front_says_how_figures_are_written(held, language, said):
    paper = a_class.paper_of(held)
    asked = [question | {"separators": separators(language)} for question in paper["questions"]]
    front = unescape(printed_paper(paper | {"questions": asked})).partition("Question 1")[0]
    assert said in front and "nothing between thousands, as in 1250" in front


def test_the_front_says_lbf_where_a_force_may_be_given_in_it_and_only_there(held):
    paper = a_class.paper_of(held)
    said = "Write a force in pounds as lbf: lb is a mass."
    assert said in unescape(printed_paper(paper))
    asked = [question for question in paper["questions"] if "lbf" not in str(question)]
    assert asked and said not in unescape(printed_paper(paper | {"questions": asked}))
