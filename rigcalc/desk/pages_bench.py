"""The bench: sealed sets, forms for one or two candidates, and closing an assessment."""

from __future__ import annotations

from rigcalc.bench.choices import bench_notes
from rigcalc.bench.printed import printed_form
from rigcalc.bench.tasks import load_tasks
from rigcalc.desk import work
from rigcalc.desk.bench_notes import told_beside
from rigcalc.desk.folder import sha256_of
from rigcalc.desk.forms import STYLE, address, area, back_to, button, check, choice, field, form, held, hint, table
from rigcalc.desk.pages_papers import back
from rigcalc.desk.server import DeskHandler, FormHandler, link
from rigcalc.desk.since import advice, certificates_on
from rigcalc.errors import Refusal
from rigcalc.pages import escape
from rigcalc.papers.records import when
from rigcalc.register.status import form_of

__all__ = ["ROUTES"]


class Bench(FormHandler):
    """Open a form; see those that are open."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        room = self.settings["room"]
        base = room.address if room.running else ""
        told = "" if base else hint("The room is closed: open it (step 4) so that the form can be reached from a tablet.")
        forms = work.forms(desk, class_id)
        rows = [_row(desk, class_id, one, base) for one in forms]
        return "Bench", (held(work.quietly_changed(desk, class_id) + _changed_since(desk, class_id, forms)) + told + "<h2>Forms</h2>" + table(["Opened", "Candidates", "Made with", "Device address", "Close"], rows,
                                                         "No form has been opened yet.")
                         + "<h2>Open a form</h2>"
                         + f'<p><a href="{escape(link("class", class_id, "sealed-set"))}">Enter a sealed set of pieces</a></p>'
                         + _to_open(desk, typed, class_id) + _to_set_aside(desk, typed, class_id, forms)
                         + back(class_id))

    def act(self, desk, typed, class_id) -> tuple[str, str]:
        if typed("act") == "set aside":
            work.set_aside(desk, typed("form"), typed("aside_by"), typed("why"))
            return link("class", class_id, "bench"), f"The form {typed('form')} is set aside."
        if not typed.all("candidate"):
            raise Refusal("no candidate", "one or two candidates", "tick who is at the bench")
        if not typed("set") and not typed.has("without"):
            raise Refusal("no sealed set", "a sealed set of finished pieces",
                          "enter one first, or tick 'open without finished pieces: it cannot lead to a certificate'")
        made = work.open_bench(desk, class_id, typed.all("candidate"), typed("assessor"), set_id=typed("set") or None,
                               again=typed.has("again"), choice=typed("made"))
        names = " and ".join(one["name"] for one in made["form"]["candidates"])
        return link("class", class_id, "bench"), f"The form {made['form']['form_id']} is open for {names}: open its address on the tablet."


def _changed_since(desk, class_id: str, forms: list[dict]) -> list[str]:
    """For each form that is open or put forward unsigned: a sentence where its chart, tool or gauge is no longer as it was, else nothing; its tablet says it too."""
    return [told_beside(desk, one["form_id"]) for one in forms if not one["set_aside"] and any(
        _unsigned(desk, class_id, one["form_id"], person["id"]) for person in one["candidates"])]


def _unsigned(desk, class_id: str, form_id: str, candidate_id: str) -> bool:
    """Whether a form is open for a candidate, or is the one put forward and no certificate is signed on it yet."""
    whose = {"class": class_id, "candidate": candidate_id}
    closed = [entry.body["form_id"] for entry in desk.entries("bench assessed", **whose)]
    if form_id not in closed or closed[-1] != form_id:
        return form_id not in closed
    signed = {entry.body["decision_entry"] for entry in desk.entries("certificate signed", **whose)}
    return not any(entry.number in signed and form_of(entry) == form_id for entry in desk.entries("decision", **whose))


def _to_open(desk, typed, class_id: str) -> str:
    people = "".join(check("candidate", person["name"], person["id"], person["id"] in typed.all("candidate"))
                     for person in work.class_of(desk, class_id)["candidates"])
    choices = [(one.key, one.words) for one in work.pieces_to_make(desk)]
    if not choices:
        return "".join(hint(f"No form can be opened: {one}") for one in bench_notes(load_tasks(), desk.shop)) or hint(
            "No form can be opened: the shop file has no size that a chart and a tool have.")
    sets = [(one, one) for one in work.sealed_sets(desk)]
    sets = [*sets, ("", "none")] if sets else []
    tasks = "; ".join(f"{task.id} {task.title}" for task in load_tasks().values())
    chosen = (choice("set", "Sealed set of finished pieces", sets, typed("set", sets[0][0] if sets else "")) if sets else
              hint("No sealed set has been entered: the form then leaves out the finished pieces, and there is no certificate."))
    gauges = "; ".join(f"{gauge.id} {gauge.out_of_use or f'due {gauge.due_on}'}" for gauge in desk.shop.gauges)
    return form(link("class", class_id, "bench"), (
        f'<fieldset><legend>At the bench: one or two</legend><div class="names">{people}</div></fieldset>'
        + choice("made", "What is made: cable, sleeves and tool on the bench", choices, typed("made", choices[0][0]))
        + "".join(hint(one[:1].upper() + one[1:]) for one in bench_notes(load_tasks(), desk.shop)) + chosen
        + check("without", "open without finished pieces: it cannot lead to a certificate", "yes", typed.has("without"))
        + check("again", "open another form all the same, though one is open and not closed", "yes", typed.has("again"))
        + field("assessor", "Assessor", typed("assessor", desk.shop.person("assessor") or ""))
        + hint(f"Tasks: {tasks}. Gauges: {gauges}. {desk.shop.chart_line()}")), "Open the form")


def _to_set_aside(desk, typed, class_id: str, forms: list[dict]) -> str:
    """For a form opened by mistake, which nobody was assessed on."""
    open_now = [(one["form_id"], f"{one['form_id']}, {', '.join(person['name'] for person in one['candidates'])}") for one in forms
                if not one["set_aside"] and not desk.entries("bench assessed", form_id=one["form_id"])]
    if not open_now:
        return ""
    return ("<details><summary>A form was opened by mistake</summary>"
            + form(link("class", class_id, "bench"), choice("form", "Form to set aside", open_now, typed("form", open_now[0][0]))
                   + field("aside_by", "Set aside by", typed("aside_by")) + field("why", "Why", typed("why"), size=48),
                   "Set it aside", second=True, extra='<input type="hidden" name="act" value="set aside">')
            + hint("Its address closes; what was tapped on it stays, and the register says who set it aside and why.") + "</details>")


def _row(desk, class_id: str, one: dict, base: str) -> list[str]:
    closing = escape(one["set_aside"]) or "".join(_close(desk, class_id, one, person) for person in one["candidates"])
    bad = {(kind, found.id): f", which {found.out_of_use}" for kind, all_of in (("gauge", desk.shop.gauges), ("tool", desk.shop.tools)) for found in all_of if found.found_bad}
    gauge = f"{one['gauge']['id']}, due {one['gauge']['due_on']}{bad.get(('gauge', one['gauge']['id']), '')}" if one["gauge"] else "none"
    device = address(base + one["address"]) if base and one["address"] else ""
    when = f'<span class="day">{escape(one["at"][:10])}</span> {escape(one["at"][11:16])} UTC'
    prints, several = link("class", class_id, "bench", one["form_id"], "print"), len(one["candidates"]) > 1
    paper = "<br>".join(f'<a href="{escape(prints + ("?who=" + who["id"] if several else ""))}">Print the form{escape(" of " + who["name"] if several else "")}</a>' for who in one["candidates"])
    made = one["made"]
    return [f"{when}<br>{escape(one['form_id'])}<br>sealed set: {escape(one['set'] or 'none')}<br>{paper}", escape(", ".join(p["name"] for p in one["candidates"])),
            f"{escape(made['size'])} {escape(made['construction'])} {escape(made['metal'])}, {escape(made['sleeve_metal'])} sleeves<br>"
            f"tool {escape(made['tool'])}, cavity {escape(str(made['cavity'] or 'as marked'))}{escape(bad.get(('tool', made['tool']), ''))}<br>gauge {escape(gauge)}", device, closing]


def _close(desk, class_id: str, one: dict, person: dict) -> str:
    done = desk.entries("bench assessed", form_id=one["form_id"], candidate=person["id"])
    state = (": " + ("passed" if done[-1].body["passed"] else "not passed")) if done else ""
    if done and work.closed_as_it_stands(desk, one["form_id"], person["id"]) is None:
        state += ", and something was changed or added since: look, and close it again"
    return (f'<a href="{escape(link("class", class_id, "bench", one["form_id"], person["id"]))}">Look at {escape(person["name"])}</a>'
            f"{escape(state)}<br>")


class Look(FormHandler):
    """What a form comes to for one candidate, and closing it."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id, form_id, candidate_id) -> tuple[str, str]:
        found = work.look_at_form(desk, form_id, candidate_id)
        reasons = "".join(f"<li>{escape(one)}</li>" for one in found["reasons"])
        weigh = "".join(f"<li>{escape(one)}</li>" for one in found["to_weigh"])
        state = "proposes a pass" if found["passed"] else "proposes no pass"
        if self.get_query_argument("close", "") or typed("act") == "close it":
            return f"Close the assessment of {found['candidate']['name']}?", _closing(desk, found, class_id, form_id, candidate_id)
        return f"Bench: {found['candidate']['name']}", (
            held([advice(desk, form_id)])
            + f"<p>Form {escape(form_id)}, assessor {escape(found['assessor']['name'])}. As it stands the form <strong>{state}</strong>.</p>"
            f"<ul>{reasons}</ul>" + (f"<h2>To weigh</h2><ul>{weigh}</ul>" if weigh else "") + _measured(found)
            + _to_close(desk, class_id, form_id, candidate_id)
            + back_to(link("class", class_id, "bench"), "Back to the bench"))

    def act(self, desk, typed, class_id, form_id, candidate_id) -> tuple[str, str]:
        here = link("class", class_id, "bench", form_id, candidate_id)
        if typed("act") != "close it":
            return f"{here}?close=1", ""
        look = work.look_at_form(desk, form_id, candidate_id)
        if typed("shown") != _shown(look, _told_at_closing(desk, class_id, form_id, candidate_id, look["passed"])):
            raise Refusal("a closing on a page that does not show all that stands by now (something was tapped, or told of its chart, tool or gauge, meanwhile)",
                          "a closing of what was read", "read what is told below, then close it")
        found = work.assess(desk, form_id, candidate_id)
        told = "passed" if found["passed"] else "not passed"
        return link("class", class_id, "bench"), f"The assessment of {found['candidate']['name']} is entered: {told}."


def _to_close(desk, class_id: str, form_id: str, candidate_id: str) -> str:
    entered = work.closed_as_it_stands(desk, form_id, candidate_id)
    if entered is not None:
        return hint(f"Closed: register entry {entered.number}, {when(entered.at)}. Nothing was tapped since.")
    return (hint("Closing enters the outcome in the register. If more is tapped afterwards, close again: both entries stay.")
            + button(link("class", class_id, "bench", form_id, candidate_id), "Close this assessment", act="close"))


def _closing(desk, found: dict, class_id: str, form_id: str, candidate_id: str) -> str:
    """The second step: what closing enters, before it is entered."""
    untapped = sum(one["critical"] and one["state"] == "none" for one in found["lines"])
    points = {0: "Every critical point has its tap", 1: "1 critical point has no tap"}.get(untapped, f"{untapped} critical points have no tap")
    here = link("class", class_id, "bench", form_id, candidate_id)
    entered = "PASSED" if found["passed"] else "NOT PASSED"
    told = _told_at_closing(desk, class_id, form_id, candidate_id, found["passed"])
    rests = ("rests on this form as it was entered before, and is in force: with other lines or words it is shaken once this is entered, and somebody decides again"
             if found["passed"] else "rests on this candidate's bench work and is in force: once this is entered, suspend or withdraw it, or decide again")
    shaken = [f"Certificate {one} {rests}." for one in told[1:]]
    return (held([told[0], *shaken]) + f"<p><strong>{points}.</strong></p><p>Closing enters <strong>{entered}</strong> for {escape(found['candidate']['name'])} "
            "in the register. The entry stays, also where more is tapped and the form is closed again.</p>"
            + button(here, "Close it", act="close it", shown=_shown(found, told))
            + f'<p><a href="{escape(here)}">Back without closing</a></p>')


def _told_at_closing(desk, class_id: str, form_id: str, candidate_id: str, passed: bool) -> list[str]:
    """What is told beside the closing: what changed since the form was opened, or '', then the certificates that it shakes."""
    return [advice(desk, form_id), *certificates_on(desk, class_id, candidate_id, form_id, passed)]


def _shown(found: dict, told: list[str]) -> str:
    """A hash of all that the page of a closing shows, so that nothing is closed on a page that shows something else."""
    return sha256_of([found["events_sha256"], found["passed"], found["reasons"], told])


def _measured(found: dict) -> str:
    rows = [[escape(one["number"]), escape(one["text"] + (f", eye {one['eye']}" if one["eye"] else "")),
             escape(", ".join(value["shown"] for value in one["values"])), escape(one["limit"]),
             {True: "within", False: "not within"}.get(one["within"], "not measured")] for one in found["measured"]]
    return "<h2>Measured</h2>" + table(["Line", "What", "Measured", "Limit", ""], rows)


class Print(DeskHandler):
    """The form on paper, one person's sheets with `who`, with what was tapped so far; what is written on it is typed in on the form's own page."""

    def get(self, class_id: str, form_id: str) -> None:
        desk = self.desk()
        form, _ = work.bench_form(desk, form_id)
        who = self.get_query_argument("who", "")
        if who and who not in [one["id"] for one in form["candidates"]]:
            raise Refusal(f"the candidate '{who[:40]}'", "a candidate of this form", "choose it from the class's list")
        self.finish(printed_form(form, work.bench_events(desk, form_id)[0], advice(desk, form_id), who))


class SealedSet(FormHandler):
    """The key of a sealed set: typed here, kept in the desk's folder, never in the room."""

    def head(self, *where) -> str:
        return STYLE

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        rule = next(task.set for task in load_tasks().values() if task.set)
        causes = "".join(f"<li>{escape(cause.id)}: {escape(cause.text)}{' (critical)' if cause.critical else ''}</li>"
                         for task in load_tasks().values() for cause in task.cause)
        return "A sealed set of pieces", (
            form(link("class", class_id, "sealed-set"),
                 field("name", "Name of the set", typed("name"), help="as it stands on the box")
                 + field("by", "Put together by", typed("by", desk.shop.person("trainer") or ""))
                 + area("pieces", f"The {rule.pieces} pieces, one a line", typed("pieces"), rows=rule.pieces + 1,
                        help="The number, a colon, then good or the cause, as in 3: good and 7: crack"), "Keep the set")
            + f"<h2>Causes</h2><ul>{causes}</ul>" + hint(f"At least {rule.good_at_least} good and {rule.critical_at_least} critical. "
                                                        f"Source: {rule.source}.")
            + back_to(link("class", class_id, "bench"), "Back to the bench"))

    def act(self, desk, typed, class_id) -> tuple[str, str]:
        set_id = work.keep_set(desk, class_id, typed("name"), typed("pieces"), typed("by"))
        return link("class", class_id, "bench"), f"The set {set_id} is kept at the desk."


ROUTES = [(r"/class/([a-z0-9-]{1,40})/bench", Bench), (r"/class/([a-z0-9-]{1,40})/sealed-set", SealedSet),
          (r"/class/([a-z0-9-]{1,40})/bench/(b-[0-9a-f]{10})/print", Print),
          (r"/class/([a-z0-9-]{1,40})/bench/(b-[0-9a-f]{10})/(c[0-9]{2})", Look)]
