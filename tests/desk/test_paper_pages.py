"""Pages of blueprint, spread, correction and appeal: what they say, and that nothing typed is taken for HTML."""

import html
import re
from datetime import date

import msgspec
import pytest

from rigcalc.desk import work
from rigcalc.desk.pages_papers import blueprint_body
from rigcalc.papers.correcting import misstep_sentences
from rigcalc.papers.cut import judges_cuts
from rigcalc.papers.blueprint import installed_blueprint, own_blueprints_folder
from rigcalc.papers.results import answer_in_words, result_html
from rigcalc.questions import families_folder
from rigcalc.questions.typed import misstep_typed
from rigcalc.room.sitting import Sitting

from .bench_of_two import all_shown, set_up, sit
from .served import Person, served

EVIL = "<img src=x onerror=1>=1+1"


@pytest.fixture
def me(desk):
    with served(desk.home) as port:
        yield Person(port)


def test_the_spread_is_told_before_the_papers_are_set_and_entered_with_them(desk, me):
    class_id = work.set_class(desk, "Spring class", "Tomo Kessig\nDela Orrin", "Ines Varrow")
    page = me.open(f"/class/{class_id}/papers")
    assert "How evenly hard these papers will be" in page and "standard deviation" in page
    assert not desk.entries("paper issued")
    me.send(f"/class/{class_id}/papers", set_by="Ines Varrow", blueprint="narrow")
    entry = desk.entries("paper issued")[0].body
    assert set(entry["expected_marks"]) == {"lowest", "highest", "standard_deviation"}


def test_a_panel_s_spread_stands_on_blueprint_paper_result_and_register(desk, me):
    page = html.unescape(me.open("/blueprint/full"))
    kept = page.split("The 3 judges' own cuts lie from ")[1].split(".</p>")[0]
    assert "standard deviation" in kept and "INVENTED" in page
    class_id = work.set_class(desk, "Autumn class", "Tomo Kessig", "Ines Varrow")
    assert "?blueprint=full" in me.open(f"/class/{class_id}/papers")
    me.open(f"/class/{class_id}/papers?blueprint=full")
    me.send(f"/class/{class_id}/papers", set_by="Ines Varrow", blueprint="full")
    sit(desk, class_id)
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    entry = desk.entries("answers marked")[0].body
    assert entry["blueprint"]["id"] == "full" and len(entry["cut_set"]["judges"]) == 3 and entry["cut_set"]["standard_deviation"]
    assert kept in html.unescape(me.open(f"/class/{class_id}/result/c01"))
    assert work.marked(desk, class_id, "c01")["result"]["score"] == 100


def test_one_person_s_cut_says_that_it_is_one_person_s(me):
    page = html.unescape(me.open("/blueprint/narrow"))
    assert "One person's judgement: how far a second judge would lie from it is not known." in page


@pytest.mark.parametrize("address", ["/blueprint/nothing", "/blueprint/..%2fnarrow", "/class/none/correct", "/class/none/appeal/c01/1"])
def test_what_is_not_there_is_refused(me, address):
    me.open(address)
    assert me.status in (404, 422)


def test_a_correction_is_looked_at_and_then_entered(desk, me):
    class_id = set_up(desk)
    sit(desk, class_id, "c01", blank=("works-the-limit", "follows-the-order", "names-the-size", "stops-and-asks"))
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    record = work.paper_record(desk, work.paper_of(desk, class_id, "c01"))
    family = next(key["family"] for key in record["keys"] if key["skill"] == "works-the-limit")
    at, asked = f"/class/{class_id}/correct", {"family": family, "way": "struck", "misstep": "", "by": "Ines Varrow", "why": EVIL}
    me.open(f"{at}?family={family}")
    me.send(at, **asked)
    assert "Nothing is changed yet" in me.told() and "passes now" in me.page and not desk.entries("answers re-marked")
    me.send(at, **asked, act="enter")
    assert "1 paper is marked again, 1 moves across the cut" in me.told() and "Tomo Kessig gains marks: question " in me.page and "<img src=x" not in me.page and html.escape(EVIL) in me.page
    assert "<img src=x" not in me.open(f"/class/{class_id}/result/c01") and "Marked again" in me.page
    assert "answers re-marked" in me.open("/register") and "<img src=x" not in me.page
    me.open(f"{at}?family={family}")
    me.send(at, **(asked | {"why": ""}))
    assert me.status == 422 and "a reason of 0 letters" in me.told()


def test_an_appeal_has_one_page_with_all_that_bears_on_it(desk, me):
    class_id = set_up(desk, "number")
    paper = work.question_paper(desk, work.paper_of(desk, class_id, "c01"))
    work.type_in(desk, paper["paper_id"], {question["slot"]: EVIL for question in paper["questions"] if question["kind"] == "number"},
                 "Parvel Minch", "Hana Obrey")
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    record = work.paper_record(desk, paper["paper_id"])
    for slot in work.marked(desk, class_id, "c01")["result"]["slots"]:
        page = me.open(f"/class/{class_id}/appeal/c01/{slot['slot']}")
        key = next(one for one in record["keys"] if one["slot"] == slot["slot"])
        said = html.unescape(page)
        for part in (slot["text"], key["working"], key["right"]["shown"], key["family"], record["paper"]["chart_line"], slot["feedback"]):
            assert part in said, (slot["slot"], part)
        assert "<img src=x" not in page
        if key["kind"] == "number":
            assert EVIL in said and "could not be read" in said
            assert key["right"]["exact"] == "refuse" or "Accepted: " in said
        others = [one["working"] for one in record["keys"] if one["slot"] != slot["slot"] and one["working"] != key["working"]]
        assert not [one for one in others if one in said]
    number = next(one["slot"] for one in record["keys"] if one["kind"] == "number")
    at = f"/class/{class_id}/appeal/c01/{number}"
    for decider, told in (("Osk Tamberlin", "who marked the paper"), ("Parvel Minch", "who typed the paper in")):
        me.open(at)
        me.send(at, outcome="the mark stands", reasons="So.", decider=decider, said="")
        assert me.status == 422 and told in me.told()
    me.send(at, outcome="counted as right", reasons="It is right.", decider="Bettan Roole", said=EVIL)
    assert "decided and entered: counted as right" in me.told() and "nothing to appeal" in me.page
    assert f"/class/{class_id}/appeal/c01/{number}" in me.open(f"/class/{class_id}/result/c01")
    entry = desk.entries("appeal decided")[-1].number
    assert f"Bettan Roole decided the appeal on question {number} (entry {entry}): counted as right" in me.page


def test_an_appeal_shows_what_was_typed_and_not_confirmed(desk, me):
    """It said 'Typed: nothing' and below it 'Typed but not confirmed'."""
    class_id = set_up(desk, "number")
    paper_id = work.paper_of(desk, class_id, "c01")
    slot = next(one["slot"] for one in work.question_paper(desk, paper_id)["questions"] if one["kind"] == "number")
    sitting = Sitting(desk.room, paper_id)
    sitting.start()
    sitting.save(slot, 1, "<b>17 lbf", False)
    sitting.hand_in({slot: 1})
    sitting.close()
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    page = me.open(f"/class/{class_id}/appeal/c01/{slot}")
    assert "&lt;b&gt;17 lbf (not confirmed in time: it does not count)" in page and "Typed but not confirmed." in page
    other = next(one["slot"] for one in work.question_paper(desk, paper_id)["questions"] if one["slot"] != slot)
    page = me.open(f"/class/{class_id}/appeal/c01/{other}")
    assert "17 lbf" not in page and "Not answered." in page


def test_what_was_chosen_and_not_confirmed_is_shown_on_the_result_and_nothing_else_is_said_to_be_typed(desk, me):
    class_id = set_up(desk, "one choice", "number")
    paper_id = work.paper_of(desk, class_id, "c01")
    questions = {kind: next(one for one in work.question_paper(desk, paper_id)["questions"] if one["kind"] == kind) for kind in ("one choice", "number")}
    sitting = Sitting(desk.room, paper_id)
    sitting.start()
    sitting.save(questions["one choice"]["slot"], 1, "B", False)
    sitting.save(questions["number"]["slot"], 1, "<b>17 lbf", False)
    sitting.hand_in({one["slot"]: 1 for one in questions.values()})
    sitting.close()
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    page = me.open(f"/class/{class_id}/result/c01")
    option = next(one["text"] for one in questions["one choice"]["options"] if one["letter"] == "B")
    assert f"Chosen but not confirmed: B, {option}. It does not count." in html.unescape(page)
    assert "Typed but not confirmed: &lt;b&gt;17 lbf. It does not count." in page and "Typed: nothing" not in page
    assert work.marked(desk, class_id, "c01")["result"]["score"] == 0


def test_a_struck_question_is_headed_struck(desk, me):
    class_id = set_up(desk)
    sit(desk, class_id, "c01", blank=("works-the-limit",))
    me.open(f"/class/{class_id}/mark")
    me.send(f"/class/{class_id}/mark", by="Osk Tamberlin")
    assert "1 paper is marked now, 1 is not handed in yet." in me.told()
    me.send(f"/class/{class_id}/mark", by="Bettan Roole")
    assert "0 papers are marked now, 1 stood marked already and keeps its result, 1 is not handed in yet." in me.told()
    assert "Marked by Osk Tamberlin." in me.page and "Marked by Bettan" not in me.page
    result = me.open(f"/class/{class_id}/result/c01")
    assert "Who did what: Ines Varrow set the paper; Osk Tamberlin marked it." in result and ": not right, 0 of " in result
    result = work.marked(desk, class_id, "c01")["result"]
    slot = next(one for one in result["slots"] if one["skill"] == "works-the-limit")
    key = next(one for one in work.paper_record(desk, result["paper_id"])["keys"] if one["slot"] == slot["slot"])
    work.correct_marking(desk, class_id, "struck", key["family"], "Ines Varrow", "It could be read in two ways.")
    page = html.unescape(me.open(f"/class/{class_id}/result/c01"))
    assert f"Question {slot['slot']}: struck, {slot['weight']} marks" in page and f"Question {slot['slot']}: right" not in page
    assert "Marked again by correction 1: see above." in page and "struck, " in html.unescape(me.open(f"/class/{class_id}/appeal/c01/{slot['slot']}"))


def test_a_paper_with_shares_says_what_its_cut_was_judged_for(desk, me):
    set_up(desk)
    words = "Have the cut judged for shares"
    assert words not in me.open("/blueprint/narrow")
    text = (installed_blueprint("narrow")).read_text("utf-8").replace('partial_credit = "none"', 'partial_credit = "shares"')
    own = own_blueprints_folder(desk.home) / "parts.toml"
    own.parent.mkdir(parents=True)
    own.write_text(re.sub(r'^id = "narrow"', 'id = "parts"', text, flags=re.M), "utf-8")
    work.set_class(desk, "With parts", "Pell Orrin", "Ines Varrow")
    assert words in me.open("/blueprint/parts") and words in me.open("/class/with-parts/papers?blueprint=parts")


def test_a_misstep_is_listed_with_the_answer_that_candidates_saw(desk, me):
    class_id = set_up(desk, "number")
    record = work.paper_record(desk, work.paper_of(desk, class_id, "c01"))
    for kind in ("one choice", "number"):
        question, key = next((one, key) for one, key in zip(record["paper"]["questions"], record["keys"], strict=True)
                             if key["missteps"] and key["kind"] == kind)
        page = html.unescape(me.open(f"/class/{class_id}/correct?family={key['family']}"))
        for slip in key["missteps"]:
            seen = misstep_typed(question, key, slip)
            text = next((f"{one['letter']} {one['text']}" for one in question["options"] if one["letter"] == seen), seen)
            assert f"{slip['id']}: the answer '{text}'" in page, slip


def test_a_certificate_is_withdrawn_through_the_pages_and_shown_so(desk, me):
    class_id = all_shown(desk)
    at = f"/class/{class_id}/decide/c01"
    assert "Ines Varrow set the paper; Osk Tamberlin marked it, assessed the bench work" in me.open(at)
    asked = dict(identified="photo card seen", independent="yes", no_conflict="yes", outcome="competent", reasons="All of it.")
    me.send(at, decider="Osk Tamberlin", **asked)
    assert me.status == 422 and "Osk Tamberlin decides and also marked it" in me.told()
    me.send(at, decider="Osk Tamberlin", several=f"One person in this shop. {EVIL}", **asked)
    assert "EXCEPTION: Osk Tamberlin decides on own work too" in me.page and EVIL not in me.page
    until = f"{date.today().year + 3}-02-01"
    me.send(at, act="sign", until=until, why="")
    assert me.status == 422 and "without a reason of its own" in me.told() and f'value="{until}"' in me.page
    me.send(at, act="sign", until="", why="")
    number = work.certificates(desk, class_id)[0]["certificate"]
    assert "in force" in me.page
    me.open(f"/certificate/{number}/standing")
    me.send(me.at, act="withdrawn", by="Bettan Roole", reason=f"Signed in error. {EVIL}")
    assert f"the certificate {number} is withdrawn now" in me.told() and "<strong>withdrawn</strong>" in me.page
    for path in (f"/class/{class_id}/certificates", "/register", f"/certificate/{number}"):
        page = me.open(path)
        assert "ithdrawn" in page and "Signed in error." in page and EVIL not in page, path
    assert f"To weigh: Certificate {number} is withdrawn now, by Bettan Roole: Signed in error." in me.open(at)
    assert "NOT IN FORCE: withdrawn. " in page.partition('<p class="mark">')[2]  # printed, not for the screen only


def test_a_paper_beyond_the_bench_is_warned_of_before_it_is_set(desk, me):
    class_id = work.set_class(desk, "Spring class", "Tomo Kessig", "Ines Varrow")
    page = me.open(f"/class/{class_id}/papers?blueprint=full")
    assert 'The certificate can be "narrow" only.' in page and "T1 (" in page and "125 minutes" in page
    assert "The certificate can be" not in me.open(f"/class/{class_id}/papers?blueprint=narrow")


def test_the_correction_page_shows_one_family_with_its_missteps_and_its_file(desk, me):
    """From the list of what the papers asked to one family: its missteps in sentences, the path of its file, an own one in force."""
    class_id = set_up(desk)
    record = work.paper_record(desk, work.paper_of(desk, class_id, "c01"))
    key = next(one for one in record["keys"] if one["missteps"] and one["kind"] == "one choice")
    at = f"/class/{class_id}/correct"
    page = html.unescape(me.open(at))
    assert all(f"?family={one['family']}" in page for one in record["keys"]) and "Misstep that counts" not in page
    page = html.unescape(me.open(f"{at}?family={key['family']}"))
    shown = re.findall(r'name="misstep" value="([^"]+)"', page)
    known = misstep_sentences([work.paper_record(desk, work.paper_of(desk, class_id, who)) for who in ("c01", "c02")], key["family"])
    assert set(shown) == set(known) >= {one["id"] for one in key["missteps"]}
    assert all(f"{name}: {said}" in page for name, said in known.items()) and all(one["feedback"] in page for one in key["missteps"])
    own = desk.home / "working" / "quizzes" / "families" / f"{key['family']}.toml"
    installed = families_folder() / own.name
    assert f"copy {installed} to {own}" in page and "Own families in force" not in page
    own.parent.mkdir(parents=True)
    own.write_bytes(installed.read_bytes())
    page = html.unescape(me.open(f"{at}?family={key['family']}"))
    assert f"Its file is {own}: correct it there" in page and "Own families in force: 1" in page
    assert "Own families in force: 1" in me.open("/blueprint/narrow")
    work.set_class(desk, "Another", "Pell Orrin", "Ines Varrow")
    assert f"in place of the installed {key['family']}" in me.open("/class/another/papers")
    own.write_text("form = = 1")
    told = html.unescape(me.open("/class/another/papers"))
    assert me.status == 422 and f"{own.name}, line 1: a value that is no text, number, date or list ('form = = 1')" in told, told[-900:]


def test_the_key_is_worked_out_again_from_the_workplaces_own_family(desk):
    """The way the page names: copy the installed file, widen what was wrong, raise the version; the desk takes it."""
    class_id = set_up(desk)
    sit(desk, class_id, "c01")
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    record = work.paper_record(desk, work.paper_of(desk, class_id, "c01"))
    key = next(one for one in record["keys"] if one["missteps"] and one["kind"] == "one choice")
    installed = families_folder() / f"{key['family']}.toml"
    own = desk.home / "working" / "quizzes" / "families" / installed.name
    own.parent.mkdir(parents=True)
    own.write_text(installed.read_text(encoding="utf-8").replace(f"version = {key['version']}", f"version = {key['version'] + 1}", 1), encoding="utf-8")
    done = work.correct_marking(desk, class_id, "key again", key["family"], "Ines Varrow", "INVENTED.")
    assert done["correction"]["family_after"][0]["version"] == key["version"] + 1


def test_the_cut_is_explained_where_it_is_rounded_up(desk, me):
    plan = work.blueprint_in_force(desk, "full")
    own = [marks for _, marks in judges_cuts(plan.cut, plan.question)]
    page = html.unescape(me.open("/blueprint/full"))
    assert f"The cut is the judged expectation, {sum(own) / len(own):.1f} marks, rounded up to {plan.cut.marks}: somebody who is exactly" in page
    assert "about every second such paper" in page
    alone = msgspec.structs.replace(plan, cut=msgspec.structs.replace(plan.cut, judge=[], method="one named person"))
    assert "judged expectation" not in blueprint_body(alone)


def test_a_result_shows_each_question_whole(desk, me):
    """Options with the chosen one marked in words, chart and drawing; an appeal only beside what is not right."""
    class_id = work.set_class(desk, "Full class", "Tomo Kessig", "Ines Varrow")
    work.set_papers(desk, class_id, "Ines Varrow", blueprint="full")
    sit(desk, class_id, "c01", blank=("works-the-limit",), misses=("picks-the-sleeve-metal", "names-the-size"))
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    result, paper = work.marked(desk, class_id, "c01")["result"], work.question_paper(desk, work.paper_of(desk, class_id, "c01"))
    page = me.open(f"/class/{class_id}/result/c01")
    parts = page.split("<details class='card'")[1:]
    assert len(parts) == len(result["slots"]) > 40
    chosen = 0
    for slot, question, part in zip(result["slots"], paper["questions"], parts, strict=True):
        said = html.unescape(part)
        assert question["text"] in said and said.startswith(">" if slot["right"] else " open>")
        assert all(line in said for line in (question["chart"] or "").splitlines()) and ("<img alt=" in part) == bool(question["figure"])
        assert all(option["text"] in said for option in question["options"] if question["kind"] != "place")
        assert all(box["label"] in said for box in question["boxes"]) and all(left in said for left in question["left"])
        assert (f"/appeal/c01/{slot['slot']}\">Appeal</a>" in part) == (not slot["right"])
        if question["kind"] == "one choice" and slot["typed"]:
            option = next(one for one in question["options"] if one["letter"] == slot["typed"])
            assert f"{option['text']} <strong>(chosen)</strong>" in said and said.count("(chosen)") == 1
            assert f"Chosen: {option['letter']}. " in said and option["text"] not in said.partition("</section>")[2].partition(". ")[0]
            chosen += 1
    assert chosen > 5


def test_a_result_opened_without_its_paper_stays_short(desk):
    class_id = set_up(desk)
    sit(desk, class_id, "c01")
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    made = result_html(work.marked(desk, class_id, "c01")["result"])
    assert "<details" not in made and "(chosen)" not in made and "Appeal" not in made


@pytest.mark.parametrize("kind, typed, told", [
    ("order", ["B", "A"], "B, second; A, first"), ("match", ["B", ""], "left one: B, second; left two: nothing"),
    ("place", "C", "C"), ("sheet", ["12 mm", "A"], "Cut: 12 mm; Metal: A, copper"), ("several choices", [], "nothing"),
    ("one choice", None, "nothing"), ("number", "12 mm", "12 mm")])
def test_an_answer_is_told_with_the_texts_beside_its_letters(kind, typed, told):
    question = {"kind": kind, "options": [{"letter": "A", "text": "first"}, {"letter": "B", "text": "second"}], "left": ["left one", "left two"],
                "boxes": [{"label": "Cut", "options": []}, {"label": "Metal", "options": [{"letter": "A", "text": "copper"}]}]}
    assert answer_in_words(question, typed) == told
