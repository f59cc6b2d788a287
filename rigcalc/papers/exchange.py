"""Questions as a QTI 3.0 package (one choice, number with tolerance, order) and results as Parquet.

QTI 3.0 is an open standard for questions. What is written holds to the elements of its published examples; the
official schema could not be had, so no validation against it is claimed. A package holds the right answers.
"""

from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ET
import zipfile
from collections.abc import Iterable
from fractions import Fraction
from typing import NamedTuple

from rigcalc.errors import Refusal
from rigcalc.papers.results import typed_in_words
from rigcalc.questions.family import Answer, Round
from rigcalc.questions.scale import bounds, right_in

__all__ = ["KINDS", "Package", "qti_item", "qti_package", "results_parquet"]

KINDS = ("one choice", "number", "order")
ITEM = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
MANIFEST = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
MATCH_CORRECT = "https://purl.imsglobal.org/spec/qti/v3p0/rptemplates/match_correct"
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_DAY = (1980, 1, 1, 0, 0, 0)  # of every file in the package, so that the same questions give the same bytes


class Package(NamedTuple):
    """The bytes of a package, and the questions that could not be put into it, each with the reason."""

    data: bytes
    items: list[str]
    left_out: list[tuple[str, str]]


def qti_package(asked: Iterable[tuple[dict, dict]]) -> Package:
    """A package of questions, each with its key; a question of another kind is left out and named.

    Parameters
    ----------
    asked : iterable of (question, key)
        As `rigcalc.questions.compose` gives them.
    """
    files: dict[str, bytes] = {}
    resources: list[tuple[str, list[str]]] = []
    left_out, numbers = [], {}
    for question, key in asked:
        numbers[key["family"]] = numbers.get(key["family"], 0) + 1
        name = f"{key['family']}-{numbers[key['family']]}"
        try:
            item, drawing = qti_item(question, key, name)
        except Refusal as refusal:
            left_out.append((name, str(refusal)))
            continue
        files |= {f"items/{name}.xml": item} | ({f"items/{name}.svg": drawing} if drawing else {})
        resources.append((name, [f"items/{name}.xml", *([f"items/{name}.svg"] if drawing else [])]))
    if not resources:
        raise Refusal("no question that can be put into a package", "one or more of: " + ", ".join(KINDS), "choose other families")
    return Package(_zipped({"imsmanifest.xml": _manifest(resources)} | files), [name for name, _ in resources], left_out)


def qti_item(question: dict, key: dict, identifier: str) -> tuple[bytes, bytes | None]:
    """One question as an item, and its drawing where it has one.

    Raises
    ------
    Refusal
        Another kind of question, or a number that may have to be refused in words.
    """
    makers = {"one choice": _choice, "number": _number, "order": _order}
    if question["kind"] not in makers:
        raise Refusal(f"a question of the kind '{question['kind']}'", ", ".join(KINDS), "keep it here: this package has no form for it")
    if question.get("refusal"):
        raise Refusal("a number question that may be answered with the word refuse", "a number question that always has a figure",
                      "keep it here: a numeric answer cannot say refuse")
    item = ET.Element("qti-assessment-item", {"xmlns": ITEM, "identifier": identifier, "title": identifier.replace("-", " "),
                                              "time-dependent": "false", "adaptive": "false"})
    kind, correct, inside = makers[question["kind"]](question, key)
    declared = ET.SubElement(item, "qti-response-declaration", {"identifier": "RESPONSE", **kind})
    holds = ET.SubElement(declared, "qti-correct-response")
    for value in correct:
        ET.SubElement(holds, "qti-value").text = value
    ET.SubElement(item, "qti-outcome-declaration", {"identifier": "SCORE", "cardinality": "single", "base-type": "float"})
    item.append(_body(question, identifier, inside))
    item.append(_equal(key) if question["kind"] == "number" else ET.Element("qti-response-processing", {"template": MATCH_CORRECT}))
    return _bytes(item), question["figure"]["svg"].encode() if question.get("figure") else None


def _body(question: dict, identifier: str, inside: ET.Element) -> ET.Element:
    body = ET.Element("qti-item-body")
    for text in (question["text"], question["chart"]):
        if text:
            ET.SubElement(body, "p").text = _plain(text)
    figure = question.get("figure")
    if figure:
        alt = " ".join(words for words in (figure["alt"], figure.get("spoken")) if words)
        ET.SubElement(ET.SubElement(body, "p"), "img", {"src": f"{identifier}.svg", "alt": _plain(alt)})
    body.append(inside)
    return body


def _options(question: dict, interaction: ET.Element) -> ET.Element:
    ET.SubElement(interaction, "qti-prompt").text = _plain(question["instruction"])
    for option in question["options"]:
        ET.SubElement(interaction, "qti-simple-choice", {"identifier": option["letter"]}).text = _plain(option["text"])
    return interaction


def _choice(question: dict, key: dict):
    made = _options(question, ET.Element("qti-choice-interaction", {"response-identifier": "RESPONSE", "max-choices": "1", "shuffle": "false"}))
    return {"cardinality": "single", "base-type": "identifier"}, [key["right"]["letter"]], made


def _order(question: dict, key: dict):
    made = _options(question, ET.Element("qti-order-interaction", {"response-identifier": "RESPONSE", "shuffle": "false"}))
    return {"cardinality": "ordered", "base-type": "identifier"}, list(key["right"]["row"]), made


def _number(question: dict, key: dict):
    right, _ = _figure(key)
    made = ET.Element("p")
    unit = question["unit"]
    made.text = _plain(f"Type the figure alone{f', in {unit}' if unit else ''}; {question['tolerance']}. ")
    ET.SubElement(made, "qti-text-entry-interaction", {"response-identifier": "RESPONSE", "expected-length": "12"})
    return {"cardinality": "single", "base-type": "float"}, [right], made


def _figure(key: dict) -> tuple[str, str]:
    """The right figure in the unit asked and how far an answer may lie from it, both as decimals."""
    kept, turn = key["right"], key["right"]["round"]
    rule = Answer(tolerance={name: float(value) for name, value in kept["tolerance"].items()},
                  round=Round(direction=turn["direction"], step={unit: float(step) for unit, step in turn["step"].items()}) if turn else None)
    exact, unit = Fraction(kept["exact"]), kept["unit"]
    low, high = bounds(rule, exact, unit)
    return f"{float(right_in(rule, exact, unit)):.12g}", f"{float((high - low) / 2):.6g}"


def _equal(key: dict) -> ET.Element:
    """Absolute tolerance, the bounds counted in; a relative one is worked out for this figure."""
    _, tolerance = _figure(key)
    processing = ET.Element("qti-response-processing")
    condition = ET.SubElement(processing, "qti-response-condition")
    then = ET.SubElement(condition, "qti-response-if")
    equal = ET.SubElement(then, "qti-equal", {"tolerance-mode": "absolute", "tolerance": f"{tolerance} {tolerance}",
                                              "include-lower-bound": "true", "include-upper-bound": "true"})
    ET.SubElement(equal, "qti-variable", {"identifier": "RESPONSE"})
    ET.SubElement(equal, "qti-correct", {"identifier": "RESPONSE"})
    _score(then, "1")
    _score(ET.SubElement(condition, "qti-response-else"), "0")
    return processing


def _score(inside: ET.Element, value: str) -> None:
    outcome = ET.SubElement(inside, "qti-set-outcome-value", {"identifier": "SCORE"})
    ET.SubElement(outcome, "qti-base-value", {"base-type": "float"}).text = value


def _manifest(resources: list[tuple[str, list[str]]]) -> bytes:
    root = ET.Element("manifest", {"xmlns": MANIFEST, "identifier": "questions"})
    metadata = ET.SubElement(root, "metadata")
    ET.SubElement(metadata, "schema").text = "QTI Package"
    ET.SubElement(metadata, "schemaversion").text = "3.0.0"
    ET.SubElement(root, "organizations")
    listed = ET.SubElement(root, "resources")
    for name, files in resources:
        one = ET.SubElement(listed, "resource", {"identifier": f"item-{name}", "type": "imsqti_item_xmlv3p0", "href": files[0]})
        for file in files:
            ET.SubElement(one, "file", {"href": file})
    return _bytes(root)


def _bytes(root: ET.Element) -> bytes:
    ET.indent(root)
    return ET.tostring(root, encoding="utf-8", xml_declaration=True) + b"\n"


def _plain(text: str) -> str:
    if _NOT_XML.search(text):
        raise Refusal("a text with a sign that XML does not know", "printed letters", "mend the family's text")
    return text


def _zipped(files: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as package:
        for name, data in files.items():
            package.writestr(zipfile.ZipInfo(name, _DAY), data, zipfile.ZIP_DEFLATED)
    return out.getvalue()


_COLUMNS = {"candidate_id": "str", "candidate": "str", "class": "str", "paper_id": "str", "question": "int64", "place": "int64",
            "skill": "str", "must_be_right": "bool", "weight": "int64", "right": "bool", "share": "float64", "marks": "float64",
            "answered": "bool", "typed": "str", "read_as": "str", "missteps": "str", "score": "float64", "out_of": "int64",
            "cut": "int64", "passed": "bool", "receipt": "str", "marked_at": "str"}


def results_parquet(results: list[dict]) -> bytes:
    """One row a candidate and question, for analysis; texts stand as they were typed, as nothing here runs formulas."""
    import pandas as pd

    rows = [(one["candidate"]["id"], one["candidate"]["name"], one["class"], one["paper_id"], slot["slot"], slot["place"], slot["skill"],
             slot["must_be_right"], slot["weight"], slot["right"], float(slot.get("share", slot["right"])),
             float(slot.get("marks", slot["weight"] * slot["right"])), slot["typed"] is not None,
             "" if slot["typed"] is None else typed_in_words(slot["typed"]), slot["read_as"], " ".join(slot["missteps"]),
             float(one["score"]), one["out_of"], one["cut"]["marks"], one["passed"], one["receipt"], one["marked_at"])
            for one in results for slot in one["slots"]]
    return pd.DataFrame(rows, columns=list(_COLUMNS)).astype(_COLUMNS).to_parquet(engine="pyarrow", index=False)
