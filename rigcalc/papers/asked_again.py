"""The key of a question that was asked, worked out again from its corrected family."""

from __future__ import annotations

from collections.abc import Mapping

from rigcalc.errors import Refusal
from rigcalc.papers.blueprint import Place
from rigcalc.papers.issue import one_question, posed
from rigcalc.questions import Stream
from rigcalc.questions.shown_again import shown_again

__all__ = ["key_again"]


def key_again(record: dict, key: dict, families: Mapping, shop, secret: bytes) -> dict | None:
    """The key as the corrected family gives it for the very question that was asked; None where no option shown is right any more.

    What was shown must stay the same, not where a statement stands: a family of statements is judged by its texts, any other is drawn again.

    Raises
    ------
    Refusal
        The family or the shop file is as it was or another, or the family would have asked another question.
    """
    family = families.get(key["family"])
    who = record["candidate"]["name"]
    if family is None or family.sha256 == key["family_sha256"]:
        raise Refusal(f"the family '{key['family']}', which is as it was when {who}'s paper was set",
                      "a family that was corrected since", "correct its file first, and raise its version")
    if family.version <= key["version"]:
        raise Refusal(f"the corrected family '{family.id}' with the version {family.version}, which {who}'s paper has already",
                      f"a version above {key['version']}", "raise the version in its file: two wordings under one number could not be told apart later")
    if shop.digest != record["shop_sha256"]:
        raise Refusal("a shop file changed since the papers were set", "the shop file of that day",
                      "put that shop file back for this, or use another way")
    asked = next(one for one in record["paper"]["questions"] if one["slot"] == key["slot"])
    stream = Stream(secret, f"paper|{record['class']}|{record['candidate']['id']}|{key['place']}")
    made = shown_again(family, key["values"], [option["text"] for option in asked["options"]], getattr(shop, "language", "en"))
    if made is None:
        place = Place(key["skill"], key["level"], key["weight"], key["must_be_right"])
        question, new = one_question(place, key["place"] - 1, key["slot"], family, shop, stream)
    else:
        question, new = posed(made, stream, key["slot"], key.get("stood_in", False))
        new |= {name: key[name] for name in ("place", "weight", "must_be_right")}
    if not _same_question(asked, question, key, new):
        raise Refusal(f"the corrected family '{family.id}', which would have asked {who} another question",
                      "a correction of right answers, missteps or a wider tolerance that leaves the question as it was asked",
                      "count a misstep as right too, or strike the question")
    return None if made and made.right in (None, ()) else new


def _same_question(asked: dict, question: dict, key: dict, new: dict) -> bool:
    """Whether the candidate would have seen the same; a tolerance may have become wider, never narrower."""
    if {**asked, "tolerance": ""} != {**question, "tolerance": ""}:
        return False
    if asked["tolerance"] == question["tolerance"]:
        return True
    before, after = key["right"]["tolerance"], new["right"]["tolerance"]
    return before.keys() <= after.keys() and all(float(after[name]) >= float(before[name]) for name in before)
