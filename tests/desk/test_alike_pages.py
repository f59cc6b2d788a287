"""Papers of one class that ask the same question, values and all: told where they are set and given out."""

from rigcalc.desk import work
from rigcalc.desk.forms import counted

from .served import Person, served

# Of eight people about one question stood twice, of so many it is nine times as many pairs: none at all comes in no lifetime.
NAMES = "\n".join(f"{first} {last}" for first in ("Tomo", "Arvid", "Sefa", "Mirko", "Ida", "Lene") for last in ("Lindqvist", "Nemeth", "Orlan", "Dahl"))


def test_questions_that_stand_on_two_papers_are_told_with_whose(desk):
    class_id = work.set_class(desk, "Many", NAMES, "Ines Varrow")
    with served(desk.home) as port:
        me = Person(port)
        assert "as far as a family has texts enough" in me.open(f"/class/{class_id}/papers") and "stand the same" not in me.page
        work.set_papers(desk, class_id, "Ines Varrow")
        said = work.alike_in_words(desk, class_id)
        page = me.open(f"/class/{class_id}/papers")
    assert said and all(one.count("question ") == len(set(one.split(", "))) >= 2 for one in said)
    assert f"{counted(len(said), 'question')} {'stands' if len(said) == 1 else 'stand'} the same, values and all, on two papers or more: seat these people apart" in page and said[0] in page
    name, slot = (words := said[0].split(", ")[0].split())[3:], int(words[1])
    papers = {row["candidate"]["name"]: row["paper_id"] for row in work.links(desk, class_id)}
    assert slot in {one["slot"] for one in work.question_paper(desk, papers[" ".join(name)])["questions"]}
