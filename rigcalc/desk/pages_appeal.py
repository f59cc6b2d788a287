"""An appeal: one question of one result with all that bears on it, and the decision of somebody who did not mark it."""

from __future__ import annotations

from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, area, back_to, field, form, hint, radios
from rigcalc.desk.persons import marking_in_words
from rigcalc.desk.server import FormHandler, link
from rigcalc.errors import Refusal
from rigcalc.pages import escape
from rigcalc.papers.appeal import appeal_body
from rigcalc.papers.printed import PRINT_STYLE
from rigcalc.papers.records import when

__all__ = ["ROUTES"]


class Appeal(FormHandler):
    """One question of a candidate's result."""

    def head(self, *where) -> str:
        return STYLE + f"<style>{PRINT_STYLE}.facts th{{text-align:left;vertical-align:top;min-width:9rem}}.facts p{{margin:.1rem 0}}.facts td{{overflow-wrap:anywhere}}</style>"

    def body(self, desk, typed, class_id, candidate_id, slot) -> tuple[str, str]:
        found = work.marked(desk, class_id, candidate_id)
        if found is None:
            raise Refusal("an appeal on a paper that is not marked", "a marked paper", "mark it first")
        result = found["result"]
        made = appeal_body(work.paper_record(desk, result["paper_id"]), result, int(slot), work.corrections_of(desk, class_id),
                           work.uncounted(desk, result["paper_id"]).get(int(slot)))
        row = next(one for one in result["slots"] if one["slot"] == int(slot))
        return f"Question {slot} of {result['candidate']['name']}", (
            made + _before(desk, class_id, candidate_id, int(slot))
            + (hint("This answer counts as right: there is nothing to appeal.") if row["right"] else
               _ask(typed, link("class", class_id, "appeal", candidate_id, slot), marking_in_words(desk, result["paper_id"])))
            + back_to(link("class", class_id, "result", candidate_id), "Back to the result"))

    def act(self, desk, typed, class_id, candidate_id, slot) -> tuple[str, str]:
        done = work.decide_appeal(desk, class_id, candidate_id, int(slot), typed("outcome"), typed("decider"), typed("reasons"),
                                  typed("said"))
        moved = next((row["crosses"] for row in done["moves"] if row["crosses"]), "")
        return link("class", class_id, "appeal", candidate_id, slot), (
            f"The appeal is decided and entered: {done['outcome']}." + (f" The candidate {moved}." if moved else ""))


def _ask(typed, here: str, marked: str) -> str:
    return ("<h2>Decide the appeal</h2>" + hint(f"{marked} Somebody else decides, who neither typed the paper in nor settled it nor agreed to marking it again. Deciding on another of its appeals is no marking.")
            + form(here, area("said", "What the candidate brings forward", typed("said"), rows=3)
                   + radios("outcome", "Decision", [("the mark stands", "The mark stands"),
                                                    ("counted as right", "The answer is counted as right")], typed("outcome"))
                   + area("reasons", "Reasons", typed("reasons"), rows=3) + field("decider", "Decided by", typed("decider")),
                   "Enter the decision"))


def _before(desk, class_id: str, candidate_id: str, slot: int) -> str:
    rows = "".join(f"<li>{escape(when(one['at']))}: {escape(one['outcome'])}, by {escape(one['decider'])}. {escape(one['reasons'])} "
                   f"The candidate brought forward: {escape(one['said'] or 'nothing')} (register entry {one['number']})</li>"
                   for one in work.appeals(desk, class_id, candidate_id) if one["question"] == slot)
    return f"<h2>Decided before</h2><ul>{rows}</ul>" if rows else ""


ROUTES = [(r"/class/([a-z0-9-]{1,40})/appeal/(c[0-9]{2})/([0-9]{1,3})", Appeal)]
