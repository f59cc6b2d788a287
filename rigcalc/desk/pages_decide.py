"""Deciding and signing: what lies before the decider, what stands in the way, the reasons, the certificate."""

from __future__ import annotations

from datetime import date

from rigcalc.desk import work
from rigcalc.desk.certify import no_longer_stands
from rigcalc.desk.charts import other_charts
from rigcalc.desk.correcting import marked_again_in_words
from rigcalc.desk.forms import STYLE, area, back_to, check, field, form, held, hint, radios, table
from rigcalc.desk.hands import closings_in_words
from rigcalc.desk.other_forms import forms_of_its_sort, other_forms_in_words, other_sorts, set_aside_in_words
from rigcalc.desk.pages_papers import back
from rigcalc.desk.persons import roles_in_words
from rigcalc.desk.server import FormHandler, link
from rigcalc.desk.since import advice, shaken, since_opened
from rigcalc.desk.standing import certificates_in_words
from rigcalc.desk.watching import time_given_in_words
from rigcalc.errors import Refusal
from rigcalc.pages import escape

__all__ = ["ROUTES"]


class DecideList(FormHandler):
    """Everybody of the class."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        rows = [_row(desk, class_id, person) for person in work.class_of(desk, class_id)["candidates"]]
        return "Decide and sign", (held(work.quietly_changed(desk, class_id)) + table(["Candidate", "In the way", "Decision", ""], rows) + back(class_id))


def _row(desk, class_id: str, person: dict) -> list[str]:
    decision = work.decision_of(desk, class_id, person["id"])
    try:
        found = work.put_forward(desk, class_id, person["id"])
        wrong = work.facts_in_the_way(desk, class_id, person["id"], found)
        more = f" And {len(wrong) - 1} more." if len(wrong) > 1 else ""
        told = f"{wrong[0]}{more}" if wrong else _to_declare(desk, found)
        if found["hands"] and other_sorts(desk, class_id, person["id"], found["hands"]["entry"].body["form_id"]):
            told = f"On {_what_was_made(found['hands'])}: {told} Bench work of another sort is decided on by itself."
    except Refusal as refusal:
        told = str(refusal)
    said = " ".join([f"{decision['decision']}, by {decision['decider']}." if decision else "", *certificates_in_words(desk, class_id, person["id"])])
    return [escape(person["name"]), escape(told), escape(said),
            f'<a href="{escape(link("class", class_id, "decide", person["id"]))}">Decide</a>']


def _to_declare(desk, found: dict) -> str:
    """What is still to be said where no fact is in the way."""
    return "nothing but the declarations" + (", and why the bench form stands" if since_opened(desk, found["hands"]["entry"].body["form_id"]) else "") + "."


class Decide(FormHandler):
    """One candidate."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id, candidate_id) -> tuple[str, str]:
        decision = work.decision_of(desk, class_id, candidate_id)
        like = self._like(typed) or _to_sign(desk, class_id, decision)
        try:
            found = work.put_forward(desk, class_id, candidate_id, like)
        except Refusal as refusal:
            where = f'<p><a href="{escape(link("class", class_id, "bench"))}">The Bench page</a> · <a href="{escape(link("class", class_id, "mark"))}">The Mark page</a></p>'
            return f"Decide: {work.candidate_of(desk, class_id, candidate_id)['name']}", (
                held([f"Nothing can be decided now. {refusal}"]) + where + back_to(link("class", class_id, "decide"), "Back to the list"))
        wrong = work.facts_in_the_way(desk, class_id, candidate_id, found)
        way = ('<div class="card hold"><strong>In the way of a certificate</strong><ul>'
                + "".join(f"<li>{escape(one)}</li>" for one in wrong) + "</ul></div>") if wrong else \
            "<p>Nothing is in the way but what has to be declared below.</p>"
        return f"Decide: {found['person']['name']}", (
            _sorts(desk, class_id, candidate_id, found) + _evidence(desk, class_id, candidate_id, found) + held(work.quietly_changed(desk, class_id)) + way + (_decided(desk, typed, class_id, candidate_id, decision, found) if decision else "")
            + _to_decide(desk, typed, class_id, candidate_id, found, bool(decision), like)
            + back_to(link("class", class_id, "decide"), "Back to the list"))

    def act(self, desk, typed, class_id, candidate_id) -> tuple[str, str]:
        here = link("class", class_id, "decide", candidate_id)
        decision = work.decision_of(desk, class_id, candidate_id)
        if typed("act") == "sign":
            if decision and typed("decision") != str(decision["number"]):
                raise Refusal(f"a signature on a page that does not show the decision in force (entry {decision['number']}, by {decision['decider']})",
                              "a signature on a decision that was read", "read it below, then sign it or decide again")
            made = work.certify(desk, class_id, candidate_id, _day(typed("until")), typed("why"))
            return link("class", class_id, "certificates"), f"The certificate {made['statement']['number']} is signed and entered."
        if not typed("outcome"):
            raise Refusal("no decision", "competent, or not yet", "choose one of the two")
        like = self._like(typed)
        if typed("shown") != work.ground(desk, class_id, candidate_id, work.put_forward(desk, class_id, candidate_id, like)):
            raise Refusal("a decision on a page that does not show all that is entered by now (paper, bench work, shop file or decision changed)",
                          "a decision on what stands now", "read what is told below, then enter it again")
        declared = work.Declared(typed("identified"), typed.has("independent"), typed("exception"), typed.has("no_conflict"),
                                 typed("several"), typed("stands"))
        made = work.decide(desk, class_id, candidate_id, typed("outcome"), typed("decider"), typed("reasons"), declared, like=like)
        return here + (f"?like={like}" if like else ""), f"The decision is entered as entry {made['number']}: {made['decision']}."


    def _like(self, typed) -> str:
        """The form whose sort of bench work is decided on, where one was chosen."""
        return typed("like") or self.get_query_argument("like", "")


def _to_sign(desk, class_id: str, decision: dict | None) -> str:
    """The form that a decision rests on which is still to be signed: its page shows that sort of bench work; else nothing."""
    bench = decision["rests_on"]["bench"] if decision and decision["decision"] == "competent" else None
    return bench["form_id"] if bench and all(one["decision_entry"] != decision["number"] for one in work.certificates(desk, class_id)) else ""


def _sorts(desk, class_id: str, candidate_id: str, found: dict) -> str:
    """Which bench work is put forward, and a way to that of each other sort; nothing where there is one sort alone."""
    if not found["hands"]:
        return ""
    at, others = link("class", class_id, "decide", candidate_id), other_sorts(desk, class_id, candidate_id, found["hands"]["entry"].body["form_id"])
    ways = "".join(f'<li><a href="{escape(at)}?like={escape(name)}">Decide on {escape(made)}</a></li>' for name, made in others.items())
    return (f"<p>Each sort of bench work is decided on by itself; a new decision takes the place of one that is not signed yet. This page: <strong>{escape(_what_was_made(found['hands']))}</strong>.</p><ul>{ways}</ul>" if ways else "")


def _day(text: str) -> date | None:
    if not text.strip():
        return None
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise Refusal(f"the date '{text[:20]}'", "year, month and day, as in 2033-04-30", "type the last day of validity") from None


def _evidence(desk, class_id: str, candidate_id: str, found: dict) -> str:
    lines = []
    if found["written"]:
        result = found["written"]["result"]
        lines.append(f'Written paper: {result["score"]} of {result["out_of"]} marks, cut score {result["cut"]["marks"]}, '
                     f'{"passed" if result["passed"] else "not passed"}. '
                     f'{escape(marked_again_in_words(desk, class_id, result["paper_id"]))} '
                     f'<a href="{escape(link("class", class_id, "result", candidate_id))}">Look</a>')
        lines += _to_weigh(time_given_in_words(desk, result["paper_id"]))
    if found["hands"]:
        hands = found["hands"]
        where = link("class", class_id, "bench", hands["entry"].body["form_id"], candidate_id)
        lines.append(f'Bench, {escape(_what_was_made(hands))}: {"passed" if hands["outcome"]["passed"] else "not passed"}, assessed by '
                     f'{escape(hands["entry"].body["assessor"])}. {escape(closings_in_words(desk, class_id, candidate_id, hands["entry"].body["form_id"]))} <a href="{escape(where)}">Look</a>')
        lines += _to_weigh([*hands["outcome"]["to_weigh"], advice(desk, hands["entry"].body["form_id"])])
    if found["written"] and found["hands"]:
        lines += _to_weigh([other_charts(desk, result["paper_id"], hands["entry"].body["form_id"])])
    others = other_forms_in_words(desk, class_id, candidate_id, found["hands"]["entry"].body["form_id"]) if found["hands"] else []
    lines += _to_weigh([*others, *set_aside_in_words(desk, class_id, candidate_id), *certificates_in_words(desk, class_id, candidate_id)])
    roles = roles_in_words(desk, found)
    if roles:
        lines.append(f"Who did what: {escape(roles)}. Whoever decides is somebody else, or the exception is stated below.")
    return "<ul>" + "".join(f"<li>{line}</li>" for line in lines) + "</ul>"


def _what_was_made(hands: dict) -> str:
    """Size, cable, sleeves, tool and form of the bench work that is put forward."""
    made = hands["opened"]["made"]
    return f"{made['size']} {made['construction']} {made['metal']}, {made['sleeve_metal']} sleeves, tool {made['tool']}, form {hands['entry'].body['form_id']}"


def _to_weigh(told: list[str]) -> list[str]:
    return [f"To weigh: {escape(one)}" for one in told if one]


def _to_decide(desk, typed, class_id: str, candidate_id: str, found: dict, again: bool, like: str) -> str:
    hands = found["hands"]
    assessor = hands["entry"].body["assessor"] if hands else "the assessor"
    identity = (hands["outcome"]["identity"] or "") if hands else ""
    changed = since_opened(desk, hands["entry"].body["form_id"]) if hands else []
    declared = (
        field("identified", "How the person was identified on the day", typed("identified", identity), size=60,
              help="it stands on the certificate; for instance: " + work.WAYS_OF_IDENTIFYING[0])
        + check("independent", f"{assessor} did not train this candidate within the last two years", "yes", typed.has("independent"))
        + field("exception", "Or the exception, with its reason", typed("exception"), size=60,
                help="it is printed on the certificate; leave it empty when the box above is ticked")
        + check("no_conflict", f"{assessor} has no tie to the candidate that could sway the judgement", "yes", typed.has("no_conflict"))
        + field("several", "If whoever decides also set, typed, marked or assessed here: why nobody else could", typed("several"), size=60,
                help="an exception; it is printed on the certificate; leave it empty where somebody else decides")
        + (field("stands", f"Since the bench form was opened: {'; '.join(changed)}. Why the form stands all the same", typed("stands"), size=60,
                 help="up to 200 letters, printed on the certificate; for instance: all crimps gauged again with another gauge, by whom, and each passed") if changed or typed("stands") else "")
        + f'<input type="hidden" name="shown" value="{work.ground(desk, class_id, candidate_id, found)}">'
        f'<input type="hidden" name="like" value="{escape(like)}">')
    return (f"<h2>{'Decide again' if again else 'Decide'}</h2>" + form(
        link("class", class_id, "decide", candidate_id),
        f"<fieldset><legend>Declared</legend>{declared}</fieldset>"
        + radios("outcome", "Decision", [("competent", "Competent"), ("not yet", "Not yet")], typed("outcome"))
        + area("reasons", "Reasons", typed("reasons"), rows=3, help="up to 400 letters; they stand on the certificate")
        + field("decider", "Decided by", typed("decider"), help="whoever decides types the own name")
        + hint("'Not yet' can always be decided. 'Competent' can only be decided when nothing is in the way."), "Enter the decision"))


def _stands(decision: dict) -> str:
    return f"<p>Why the bench form stands: {escape(decision['stands'])}</p>" if decision.get("stands") else ""


def _decided(desk, typed, class_id: str, candidate_id: str, decision: dict, found: dict) -> str:
    roles = f"<p>{escape(decision['roles'])}.</p>" if decision.get("roles") else ""
    bench = decision["rests_on"]["bench"]
    elsewhere = other_sorts(desk, class_id, candidate_id, found["hands"]["entry"].body["form_id"]) if found["hands"] and bench else {}
    name = next((one for one in forms_of_its_sort(desk, class_id, candidate_id, bench["form_id"]) if one in elsewhere), "") if elsewhere else ""
    on = f", on {escape(elsewhere[name])}" if name else f", on {escape(_what_was_made(found['hands']))}" if elsewhere else ""
    told = (f'<div class="card"><strong>Decided: {escape(decision["decision"])}</strong>{on}, by {escape(decision["decider"])}, entry '
            f'{decision["number"]}.<p>{escape(decision["reasons"])}</p>{_stands(decision)}{roles}</div>')
    signed = next((one for one in work.certificates(desk, class_id) if one["decision_entry"] == decision["number"]), None)
    if signed:
        return told + held([shaken(desk, signed)]) + f'<p>Signed: <a href="{escape(link("class", class_id, "certificates"))}">Certificates</a></p>'
    if decision["decision"] != "competent":
        return told
    if moved := no_longer_stands(desk, class_id, candidate_id, decision):
        return told + held([f"This decision no longer stands ({moved}): decide again."])
    if name:
        return told + f'<p>It is not signed yet: <a href="{escape(link("class", class_id, "decide", candidate_id))}?like={escape(name)}">sign it beside the bench work that it rests on</a></p>'
    kind = "DEMONSTRATION certificate" if desk.invented else "certificate"
    return told + f"<h2>Sign the {kind}</h2>" + form(
        link("class", class_id, "decide", candidate_id),
        f'<input type="hidden" name="act" value="sign"><input type="hidden" name="decision" value="{decision["number"]}">'
        + field("until", "Valid until (year-month-day; empty: two years)", typed("until"), size=14)
        + area("why", "Why until that day", typed("why"), rows=2,
               help=f"needed for any other end than two years; empty for two years: {work.WHY_TWO_YEARS}"), f"Sign the {kind}")


ROUTES = [(r"/class/([a-z0-9-]{1,40})/decide", DecideList), (r"/class/([a-z0-9-]{1,40})/decide/(c[0-9]{2})", Decide)]
