"""The page `How good is the quiz?`: sentences, drawings with words, no names, nothing taken for HTML."""

import html
import io
import json

import pandas as pd
import pytest

from rigcalc.desk import work

from .bench_of_two import set_up, sit
from .served import Person, served


@pytest.fixture
def me(desk):
    with served(desk.home) as port:
        yield Person(port)


@pytest.fixture
def class_id(desk):
    made = set_up(desk)
    sit(desk, made, "c01")
    sit(desk, made, "c02", blank=("works-the-limit", "follows-the-order"))
    work.mark_papers(desk, made, "Osk Tamberlin")
    return made


def test_the_page_says_what_can_and_what_cannot_be_said(desk, me, class_id):
    page = html.unescape(me.open(f"/class/{class_id}/quiz"))
    assert me.status == 200 and "2 papers of 1 class" in page and "fewer than 30 results: whether such a question is good" in page
    assert "Below 30 papers no reliability" in page and "no verdict" not in page
    for figure in ("Reliability (", "Standard error of measurement:", "Decided alike", "lie within one standard error", "Grey: one"):
        assert figure not in page
    assert "What cannot be concluded" in page and "retire it" not in page and "check the key" not in page
    assert all(person["name"] not in page for person in work.class_of(desk, class_id)["candidates"])
    assert page.count("<img alt=") == 2 and "<script" not in page


def test_it_is_found_from_summary_and_first_page(desk, me, class_id):
    assert f'href="/class/{class_id}/quiz"' in me.open(f"/class/{class_id}/summary")
    assert 'href="/quiz"' in me.open("/")
    assert "How good is the quiz? All classes" in me.open("/quiz") and "2 papers of 1 class" in me.page
    me.open("/quiz?blueprint=nothing-1")
    assert me.status == 422 and f"narrow-{work.blueprint_in_force(desk, 'narrow').version}" in me.page


def test_before_marking_it_says_so(desk, me):
    made = set_up(desk)
    assert "No paper of this class is marked yet" in me.open(f"/class/{made}/quiz")
    assert "No paper is marked yet" in me.open("/quiz")
    me.open("/class/none/quiz")
    assert me.status == 422


def test_what_is_named_in_a_damaged_record_is_left_out_and_escaped(desk, me, class_id):
    name = work.paper_of(desk, class_id, "c01")
    path = desk.path("results", f"{name}.json")
    result = json.loads(path.read_bytes())
    result["slots"][0]["missteps"] = ["<img src=x>"]
    path.write_text(json.dumps(result))
    assert "<img src=x>" not in me.open(f"/class/{class_id}/quiz") and me.status == 200
    path.write_text("{")
    assert f"{name}.json: left out" in html.unescape(me.open(f"/class/{class_id}/quiz"))


def test_the_answers_go_out_as_parquet(desk, me, class_id):
    import http.client
    line = http.client.HTTPConnection("127.0.0.1", me.port)
    line.request("GET", f"/class/{class_id}/results.parquet", headers={"Host": f"127.0.0.1:{me.port}", "Cookie": me.cookie})
    frame = pd.read_parquet(io.BytesIO(line.getresponse().read()))
    line.close()
    assert frame["candidate_id"].nunique() == 2 and frame.groupby("candidate_id")["marks"].sum().tolist() == [
        one["score"] for one in work.results(desk, class_id)]
