"""How good is the quiz: of one class, or of all years of a blueprint. Sentences and drawings; no name of any candidate."""

from __future__ import annotations

from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, back_to, hint
from rigcalc.desk.server import DeskHandler, FormHandler, link
from rigcalc.errors import Refusal
from rigcalc.pages import escape
from rigcalc.papers import quality_figures as figures
from rigcalc.papers import quality_words as words
from rigcalc.papers.exchange import results_parquet
from rigcalc.papers.quality import Quality, blueprints_of, quality

__all__ = ["ROUTES"]

TITLE = "How good is the quiz?"
HEADS = {2: "Do something about", 1: "Look at again", 0: "Nothing to do"}


class OfClass(FormHandler):
    """The page of one class."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id: str) -> tuple[str, str]:
        name = work.class_of(desk, class_id)["name"]
        sittings, damaged = work.sittings(desk, class_id)
        told = quality_body(quality(sittings), damaged) if sittings else hint("No paper of this class is marked yet.")
        everything = '<p class="no-print"><a href="/quiz">All classes and years together</a></p>'
        file = f'<p class="no-print"><a href="{escape(link("class", class_id, "results.parquet"))}">Answers as a Parquet file, for analysis</a></p>'
        return f"{TITLE} {name}", told + (file if sittings else "") + everything + back_to(link("class", class_id))


class OfAll(FormHandler):
    """The page of all classes, one blueprint and version at a time."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed) -> tuple[str, str]:
        sittings, damaged = work.sittings(desk)
        there = blueprints_of(sittings)
        wanted = self.get_query_argument("blueprint", "")
        chosen = next((one for one in there if _name(one) == wanted), None)
        if wanted and chosen is None:
            raise Refusal(f"the blueprint '{wanted[:60]}'", ", ".join(map(_name, there)) or "a blueprint with marked papers", "choose one of these")
        chosen = chosen or next(iter(there), None)
        others = " · ".join(f'<a href="/quiz?blueprint={escape(_name(one))}">{escape(_name(one))}, {count} papers</a>'
                            for one, count in there.items() if one != chosen)
        told = quality_body(quality(sittings, chosen), damaged) if chosen else hint("No paper is marked yet.")
        return f"{TITLE} All classes", told + (f"<p>Other blueprints: {others}</p>" if others else "") + back_to("/", "Back to the desk")


def _name(blueprint: tuple[str, int]) -> str:
    return f"{blueprint[0]}-{blueprint[1]}"


def quality_body(found: Quality, damaged: list[str]) -> str:
    """The page's own part, from the figures."""
    left_out = _list([f"{name}: left out, the result or its key record cannot be read." for name in damaged])
    drawn = figures.families_figure(found)
    return (left_out + _part("The paper as a whole", words.the_paper(found)) + _drawing(figures.marks_figure(found))
            + _part("At the cut", words.at_the_cut(found)) + _drawing(figures.cut_figure(found))
            + _part("Between the papers", words.between_papers(found))
            + _part("What cannot be concluded", words.cannot_be_concluded(found))
            + "<h2>Question families</h2>" + (_drawing(drawn) if drawn else "") + _families(found)
            + _part("Places of the paper", [f"{place.place}. {work.skill_sentences().get(place.skill, place.skill).rstrip('.')}: {words.place_words(place)}"
                                            for place in found.places]))


def _families(found: Quality) -> str:
    parts = ""
    for look, head in HEADS.items():
        rows = [one for one in words.verdicts(found) if one.look == look]
        if rows:
            parts += f"<h3>{escape(head)}</h3>" + "".join(
                f'<section class="keep"><p><strong>{escape(one.family.family)}</strong> <span class="quiet">version {one.family.version}, '
                f'{escape(words.exposure(one.family))}</span><br>{escape(" ".join(one.said))}</p></section>' for one in rows)
    sentence, few = words.too_few(found)
    return parts + (f"<h3>Too few results for a verdict</h3><details><summary>{escape(sentence)}</summary>{_list(few)}</details>" if few else "")


def _part(head: str, lines: list[str]) -> str:
    return f"<h2>{escape(head)}</h2>{_list(lines)}"


def _list(lines: list[str]) -> str:
    return f"<ul>{''.join(f'<li>{escape(line)}</li>' for line in lines)}</ul>" if lines else ""


def _drawing(figure) -> str:
    return figure._repr_html_()


class Parquet(DeskHandler):
    """All answers of a class as a Parquet file."""

    def get(self, class_id: str) -> None:
        made = results_parquet(work.results(self.desk(), class_id))
        self.set_header("Content-Type", "application/vnd.apache.parquet")
        self.set_header("Content-Disposition", f'attachment; filename="{class_id}-results.parquet"')
        self.finish(made)


ROUTES = [(r"/class/([a-z0-9-]{1,40})/quiz", OfClass), (r"/quiz", OfAll),
          (r"/class/([a-z0-9-]{1,40})/results.parquet", Parquet)]
