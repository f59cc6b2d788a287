"""Setting papers, their blueprint and how evenly hard they are, their addresses, and printing them."""

from __future__ import annotations

from rigcalc.bench.tasks import load_tasks
from rigcalc.desk import work
from rigcalc.desk.forms import STYLE, address, back_to, counted, field, form, hint, table
from rigcalc.desk.server import DeskHandler, FormHandler, link
from rigcalc.errors import Refusal
from rigcalc.pages import escape
from rigcalc.papers.blueprint import rules_in_words
from rigcalc.papers.cut import cut_as_kept, judges_cuts, rounded_in_words
from rigcalc.papers.printed import printed_paper
from rigcalc.papers.results import cut_in_words, shares_in_words
from rigcalc.questions.own import own_families_in_words

__all__ = ["ROUTES", "back"]

MOST_ALIKE = 12  # told line by line
WIDTHS = ("<style>table.places td:nth-child(2){min-width:17rem}table.places th,table.places td{padding:.3rem .45rem}"
          "table.places td:nth-child(n+3){font-variant-numeric:tabular-nums}</style>")


def back(class_id: str) -> str:
    """The way back to a class's steps."""
    return back_to(link("class", class_id))


class Papers(FormHandler):
    """Set the papers of a class; afterwards their addresses."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        rows = work.links(desk, class_id)
        name = work.class_of(desk, class_id)["name"]
        wanted = typed("blueprint") or self.get_query_argument("blueprint", "") or _first(desk)
        return f"Papers of {name}", (_set(desk, rows, self.settings["room"], class_id) if rows
                                     else _to_set(desk, typed, class_id, wanted)) + back(class_id)

    def act(self, desk, typed, class_id) -> tuple[str, str]:
        made = work.set_papers(desk, class_id, typed("set_by"), blueprint=typed("blueprint", "narrow"))
        return link("class", class_id, "papers"), f"{counted(len(made), 'paper')} {'is' if len(made) == 1 else 'are'} set. The keys stay in the desk's own folder."


def _first(desk) -> str:
    """The plan that a paper is set by unless another is chosen: in a real shop one of its own, in an invented one the sample."""
    real = [] if desk.invented else [name for name in work.blueprints(desk) if not work.blueprint_in_force(desk, name).invented]
    return next(iter(real), "narrow")


def _to_set(desk, typed, class_id: str, wanted: str) -> str:
    plan = work.blueprint_in_force(desk, wanted)
    rules = "".join(f"<li>{escape(rule)}</li>" for rule in rules_in_words(plan))
    practice = "" if desk.shop.has_maker_chart else hint("Without a maker's chart these are PRACTICE papers.")
    others = " · ".join(f'<a href="{escape(link("class", class_id, "papers"))}?blueprint={escape(name)}">{escape(name)}</a>'
                        for name in work.blueprints(desk) if name != wanted)
    spread = "".join(f"<li>{escape(line)}</li>" for line in work.spread_before_setting(desk, class_id, wanted).in_words())
    return (f"<p>{escape(plan.title)}. Every candidate gets own values and an own order, as far as a family has texts enough: what stands on two papers is told once they are set. "
            f'<a href="{escape(link("blueprint", wanted))}">The whole blueprint</a>, with its cut and judges.</p><ul>{rules}</ul>'
            + (f"<p>Other blueprints: {others}</p>" if others else "") + _own(desk) + practice + "".join(hint(one) for one in work.notes_before_setting(desk, plan)) + _for_shares(plan) + _beyond_the_bench(plan)
            + f"<h2>How evenly hard these papers will be</h2><ul>{spread}</ul>"
            + form(link("class", class_id, "papers"),
                   field("set_by", "Set by", typed("set_by", desk.shop.person("trainer") or "")), "Set the papers",
                   extra=f'<input type="hidden" name="blueprint" value="{escape(wanted)}">'))


def _for_shares(plan) -> str:
    said = shares_in_words(plan)
    return f'<p class="card hold">{escape(said)}</p>' if said else ""


def _beyond_the_bench(plan) -> str:
    """Said before a long paper is set: the bench decides how much the certificate can say."""
    if plan.id == work.SCHEME:
        return ""
    tasks = ", ".join(f"{task.id} ({task.title})" for task in load_tasks().values())
    return (f'<p class="card hold"><strong>The certificate can be "{work.SCHEME}" only.</strong> The bench tasks here are '
            f"{escape(tasks)}: one size of one tool. A paper of {plan.minutes} minutes does not widen that. "
            f"Set it to see what people know; for the certificate alone a paper as short as the {work.SCHEME} one is enough.</p>")


def _own(desk) -> str:
    """Which question families of the workplace's own are in force; nothing where there are none."""
    said = own_families_in_words(desk.home)
    return hint(said) if said else ""


def _set(desk, rows: list[dict], room, class_id: str) -> str:
    base = room.address if room.running else ""
    told = (f"The room is open at {base}. Give each candidate the own address." if base else
            "The room is closed: open it (step 4) to see whole addresses.")
    cells = [[escape(row["candidate"]["name"]), escape(row["paper_id"]),
              *([address(base + row["address"])] if base else []),
              f'<a href="{escape(link("paper", row["paper_id"], "print"))}">Print</a> · '
              f'<a href="{escape(link("class", class_id, "type-in", row["paper_id"]))}">Type in</a>'] for row in rows]
    slips = f'<p><a class="button second" href="{escape(link("class", class_id, "slips"))}">Slips with addresses, to print</a></p>' if base else ""
    return (f"<p>{escape(told)}</p>{slips}" + table(["Candidate", "Paper", *(["Address"] if base else []), "On paper"], cells)
            + _alike(work.alike_in_words(desk, class_id)))


def _alike(said: list[str]) -> str:
    """Which questions a neighbour could copy the answer of; nothing where each stands on one paper alone."""
    if not said:
        return ""
    more = f"<li>and {counted(len(said) - MOST_ALIKE, 'question')} more</li>" if len(said) > MOST_ALIKE else ""
    return (f"<details><summary>{counted(len(said), 'question')} {'stands' if len(said) == 1 else 'stand'} the same, values and all, on two papers or more: "
            "seat these people apart</summary><ul>" + "".join(f"<li>{escape(one)}</li>" for one in said[:MOST_ALIKE]) + more + "</ul>"
            + hint("A family with few texts runs out of them: there are only so many sleeve sizes. One of your own with fewer than 30 can be given more.") + "</details>")


class Slips(FormHandler):
    """One slip a candidate, with the own address, to cut apart."""

    def head(self, *where) -> str:
        return STYLE + "<style>.slip{border:1px dashed var(--quiet);padding:.7rem 1rem;margin:.5rem 0;break-inside:avoid}</style>"

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        room = self.settings["room"]
        if not room.running:
            raise Refusal("slips of a room that is closed", "slips while the room is open", "open the room first")
        slips = "".join(f'<div class="slip"><strong>{escape(row["candidate"]["name"])}</strong>, paper {escape(row["paper_id"])}'
                        f'<br><span class="address">{escape(room.address + row["address"])}</span></div>'
                        for row in work.links(desk, class_id))
        return "Addresses, one a candidate", hint("Cut apart. Whoever holds a slip can answer as that person.") + slips + back(class_id)


class Print(DeskHandler):
    """A paper with its answer sheet."""

    def get(self, paper_id: str) -> None:
        self.finish(printed_paper(work.question_paper(self.desk(), paper_id), nav='<a href="/">Desk</a>'))


class BlueprintPage(DeskHandler):
    """A blueprint: its places, its rules, its cut and how far the judges lay apart."""

    def get(self, name: str) -> None:
        desk = self.desk()
        plan = work.blueprint_in_force(desk, name)
        self.show(plan.title, _own(desk) + blueprint_body(plan), desk, head=WIDTHS)


def blueprint_body(plan) -> str:
    """A blueprint as a page: what is asked, how it was judged, and what the judges' own cuts were."""
    kept, judges = cut_as_kept(plan.cut, plan.question), plan.cut.judge
    sentences = work.skill_sentences()
    rows = [[str(number), escape(sentences.get(place.skill, place.skill)) + (" <strong>Must be right.</strong>" if place.must_be_right else ""),
             str(place.level), str(place.marks), *(f"{judge.judged[number - 1]:.2f}" for judge in judges)]
            for number, place in enumerate(plan.question, 1)]
    own = [[escape(judge.name), f"{marks:.1f}"] for judge, (_, marks) in zip(judges, judges_cuts(plan.cut, plan.question), strict=True)]
    rules = "".join(f"<li>{escape(rule)}</li>" for rule in rules_in_words(plan))
    invented = hint("The cut and the people who set it are INVENTED: a workplace writes its own.") if plan.invented else ""
    return (f"<p>Blueprint <strong>{escape(plan.id)}</strong>, version {plan.version}.</p><ul>{rules}</ul>{invented}"
            f"<h2>The cut</h2><p>{escape(cut_in_words(kept))}</p>" + (hint(rounded_in_words(plan.cut, plan.question)) if judges else "") + _for_shares(plan) + table(["Judge", "Own cut, marks"], own, "No judge's expectations are kept.")
            + "<h2>What is asked</h2>" + table(["No.", "Skill", "Level", "Marks", *(judge.name for judge in judges)], rows, kind="places")
            + hint("Under a judge's name: the share of just good enough candidates expected to answer right.")
            + back_to("/", "Back to the desk"))


ROUTES = [(r"/class/([a-z0-9-]{1,40})/papers", Papers), (r"/class/([a-z0-9-]{1,40})/slips", Slips),
          (r"/paper/([a-z0-9-]{1,40})/print", Print), (r"/blueprint/([a-z0-9-]{1,40})", BlueprintPage)]
