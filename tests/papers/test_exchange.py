"""QTI packages: the rules of the published examples, typed again here; other kinds refused. Parquet: the same answers back."""

import io
import xml.etree.ElementTree as ET
import zipfile
from fractions import Fraction

import pandas as pd
import pytest

from rigcalc.cli import main
from rigcalc.errors import Refusal
from rigcalc.papers.blueprint import Place
from rigcalc.papers.exchange import KINDS, qti_item, qti_package, results_parquet
from rigcalc.papers.issue import one_question
from rigcalc.papers.marking import mark_returned
from rigcalc.papers.results import results_csv
from rigcalc.questions import Stream, load_families, mark
from rigcalc.shop import load_shop, sample_shop_path

from papers import a_class
from papers.test_marking import hand_in

Q = "{http://www.imsglobal.org/xsd/imsqtiasi_v3p0}"
M = "{http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1}"
TEMPLATES = {"https://www.imsglobal.org/question/qti_v3p0/rptemplates/match_correct.xml",
             "https://purl.imsglobal.org/spec/qti/v3p0/rptemplates/match_correct"}


@pytest.fixture(scope="module")
def families():
    return load_families()


@pytest.fixture(scope="module")
def shop():
    return load_shop(sample_shop_path())


def drawn(family, shop, label="one"):
    return one_question(Place(family.skill, family.level, 5), 0, 1, family, shop, Stream(bytes(32), f"{family.id} {label}"))


@pytest.fixture(scope="module")
def asked(families, shop):
    return [drawn(family, shop) for family in families.values() if family.kind in KINDS]


@pytest.fixture(scope="module")
def package(asked):
    return qti_package(asked)


def items(package):
    """(identifier, root, question, key) is found again through the manifest."""
    held = zipfile.ZipFile(io.BytesIO(package.data))
    manifest = ET.fromstring(held.read("imsmanifest.xml"))
    for resource in manifest.iter(f"{M}resource"):
        yield resource, ET.fromstring(held.read(resource.get("href"))), held


def test_the_package_holds_to_the_minimum_of_the_published_examples(package):
    held = zipfile.ZipFile(io.BytesIO(package.data))
    assert held.testzip() is None
    manifest = ET.fromstring(held.read("imsmanifest.xml"))
    assert manifest.tag == f"{M}manifest" and [one.tag for one in manifest] == [f"{M}metadata", f"{M}organizations", f"{M}resources"]
    assert manifest.findtext(f"{M}metadata/{M}schema") == "QTI Package" and manifest.findtext(f"{M}metadata/{M}schemaversion") == "3.0.0"
    assert len(manifest.find(f"{M}organizations")) == 0
    resources = manifest.findall(f"{M}resources/{M}resource")
    assert len(resources) == len(package.items) > 20 and len({one.get("identifier") for one in resources}) == len(resources)
    named = {"imsmanifest.xml"}
    for one in resources:
        files = [file.get("href") for file in one.findall(f"{M}file")]
        assert one.get("type") == "imsqti_item_xmlv3p0" and one.get("href") in files
        named |= set(files)
    assert named == set(held.namelist())


def test_every_item_has_its_parts_in_order(package):
    for resource, item, held in items(package):
        assert item.tag == f"{Q}qti-assessment-item" and all(item.get(name) for name in ("identifier", "title", "time-dependent"))
        assert [one.tag.removeprefix(Q) for one in item] == ["qti-response-declaration", "qti-outcome-declaration", "qti-item-body",
                                                             "qti-response-processing"]
        outcome = item.find(f"{Q}qti-outcome-declaration")
        assert (outcome.get("identifier"), outcome.get("cardinality"), outcome.get("base-type")) == ("SCORE", "single", "float")
        assert all(one.tag.startswith(Q) for one in item.iter())
        for image in item.iter(f"{Q}img"):
            assert len(image.get("alt")) >= 20 and f"items/{image.get('src')}" in held.namelist()


def test_choices_orders_and_numbers_say_what_is_right(package, asked):
    by_name, counted = {}, {}
    for question, key in asked:
        counted[key["family"]] = counted.get(key["family"], 0) + 1
        by_name[f"{key['family']}-{counted[key['family']]}"] = question, key
    seen = set()
    for _, item, _ in items(package):
        question, key = by_name[item.get("identifier")]
        declared, body, processing = (item.find(f"{Q}{name}") for name in ("qti-response-declaration", "qti-item-body", "qti-response-processing"))
        correct = [one.text for one in declared.findall(f"{Q}qti-correct-response/{Q}qti-value")]
        kind = (declared.get("cardinality"), declared.get("base-type"))
        seen.add(question["kind"])
        if question["kind"] == "number":
            entry = body.find(f".//{Q}qti-text-entry-interaction")
            assert kind == ("single", "float") and entry.get("response-identifier") == "RESPONSE" and entry.get("expected-length")
            equal = processing.find(f"{Q}qti-response-condition/{Q}qti-response-if/{Q}qti-equal")
            assert equal.get("tolerance-mode") == "absolute"
            assert_marked_alike(question, key, Fraction(correct[0]), Fraction(equal.get("tolerance").split()[0]))
        else:
            interaction = body.find({"one choice": f"{Q}qti-choice-interaction", "order": f"{Q}qti-order-interaction"}[question["kind"]])
            shown = {one.get("identifier"): one.text for one in interaction.findall(f"{Q}qti-simple-choice")}
            assert kind == ({"one choice": "single", "order": "ordered"}[question["kind"]], "identifier")
            assert interaction.get("response-identifier") == "RESPONSE" and processing.get("template") in TEMPLATES
            assert shown == {one["letter"]: one["text"] for one in question["options"]} and set(correct) <= set(shown)
            assert question["kind"] == "order" or interaction.get("max-choices") == "1"
            assert mark(key, question, correct if question["kind"] == "order" else correct[0])["right"]
    assert seen == set(KINDS)


def assert_marked_alike(question, key, right, tolerance):
    """What the package takes as right is right here too, just inside the bounds, and just outside is not."""
    def typed(figure):
        return f"{float(figure):.6f} {question['unit']}".strip()

    small = max(tolerance, abs(right)) * Fraction(1, 1000) + Fraction(1, 10**5)
    assert mark(key, question, typed(right))["right"]
    if tolerance > Fraction(1, 1000):
        assert mark(key, question, typed(right + tolerance * Fraction(999, 1000)))["right"]
        assert mark(key, question, typed(right - tolerance * Fraction(999, 1000)))["right"]
    assert not mark(key, question, typed(right + tolerance + small))["right"]
    assert not mark(key, question, typed(right - tolerance - small))["right"]


def test_other_kinds_and_refusals_are_left_out_in_words(families, shop, package):
    why = dict(package.left_out)
    assert set(why) == {f"{family.id}-1" for family in families.values() if family.kind in KINDS and family.answer.refusal}
    assert why and all("cannot say refuse" in words for words in why.values())
    for kind in {family.kind for family in families.values()} - set(KINDS):
        family = next(one for one in families.values() if one.kind == kind)
        with pytest.raises(Refusal, match="one choice, number, order"):
            qti_item(*drawn(family, shop), family.id)
    with pytest.raises(Refusal, match="no question"):
        qti_package([drawn(next(one for one in families.values() if one.kind == "match"), shop)])


def test_texts_are_text_and_never_markup(families, shop):
    question, key = drawn(families["limit-of-an-eye"], shop)
    evil = "<b>1 & 2</b> ]]> \"'"
    assert question["kind"] == "number"
    question = question | {"text": evil, "refusal": False}
    item = ET.fromstring(qti_item(question, key, "evil")[0])
    assert item.find(f"{Q}qti-item-body/{Q}p").text == evil and item.find(f".//{Q}b") is None
    with pytest.raises(Refusal, match="XML"):
        qti_item(question | {"text": "\x07"}, key, "evil")


def test_the_command_writes_a_private_package_and_names_what_it_leaves_out(tmp_path, capsys, families):
    order, match = (next(name for name, one in families.items() if one.kind == kind) for kind in ("order", "match"))
    assert main(["exchange", str(tmp_path / "out.zip"), "--family", order, "--family", match, "--each", "2"]) == 0
    said = capsys.readouterr().out
    assert "2 questions" in said and f"Left out: {match}-2" in said
    assert (tmp_path / "out.zip").stat().st_mode & 0o777 == 0o600
    assert sum(name.endswith(".xml") for name in zipfile.ZipFile(tmp_path / "out.zip").namelist()) == 3
    assert main(["exchange", str(tmp_path / "no.zip"), "--family", "nothing"]) == 2 and not (tmp_path / "no.zip").exists()


def test_parquet_holds_the_same_answers_as_the_table(held, tmp_path):
    hand_in(held, a_class.right_answers(held))
    hand_in(held, a_class.wrong_answers(held, 1), 1)
    results = mark_returned(held.returned, held.keys).results
    results[0]["slots"][0]["typed"] = "=1+1"
    frame = pd.read_parquet(io.BytesIO(results_parquet(results)))
    table = pd.read_csv(io.StringIO(results_csv(results)))
    assert len(frame) == len(table) == 6 and set(table.columns) <= set(frame.columns)
    for name in ("candidate", "paper_id", "question", "skill", "weight", "marks", "score", "out_of", "cut"):
        assert frame[name].tolist() == table[name].tolist(), name
    assert [("no", "yes")[one] for one in frame["right"]] == table["right"].tolist()
    assert frame["typed"][0] == "=1+1" and table["typed"][0] == "'=1+1"
    assert frame["right"].dtype == bool and frame["place"].dtype == "int64"
    empty = pd.read_parquet(io.BytesIO(results_parquet([])))
    assert list(empty.columns) == list(frame.columns) and empty["marks"].dtype == float
