"""The twelve, all INVENTED: what each knows, how each answers, and what happens to each at the bench."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["CAST", "DECIDER", "CLASS_NAME", "Learner", "SEALED_SET", "TRAINER", "ASSESSOR", "roster_text"]

CLASS_NAME = "invented class of twelve"
TRAINER, ASSESSOR, DECIDER = "Ines Varrow", "Osk Tamberlin", "Bettan Roole"

# Six pieces of the sealed set, numbers as on their tags: what each is and why it must not pass.
SEALED_SET = "3: good\n5: small-cable\n8: missing-crimp\n11: good\n14: buried-tail\n17: loose-thimble"


@dataclass(frozen=True)
class Learner:
    """One invented learner.

    `misses` are skills answered wrong on the paper, `blank` skills left unanswered, `types` the habit of writing
    numbers. `bench` names what happens at the bench; `paper` how the answers come in.
    """

    name: str
    extra_minutes: int = 0
    larger_print: bool = False
    misses: tuple[str, ...] = ()
    blank: tuple[str, ...] = ()
    types: str = "plain"
    paper: str = "room"
    bench: str = "right"
    reasons: str = ""


CAST = (
    Learner("Tomo Kessig", extra_minutes=15, reasons="Slow and sure. Looked at the tail again after every first stroke."),
    Learner("Dela Orrin", types="close", bench="buried tail",
            reasons="The second eye's tail was under the sleeve and went unseen: to make two more eyes with Ines and come back."),
    Learner("Yara Quent", misses=("works-the-cut-length",), types="spaced", bench="helped",
            reasons="Clean strokes; asked once where the thimbles lay, and the words stand on the form."),
    Learner("Lio Harbend", misses=("takes-the-lower-strength",), bench="pressed again",
            reasons="One crimp did not pass, was pressed again once in the same place, and passed: as the rule says."),
    Learner("Nessa Torvick", misses=("refuses-aluminium-on-stainless",),
            reasons="A must-be-right question missed: stainless and aluminium, lesson 03 again, then a new paper."),
    Learner("Abdel Purrow", misses=("works-the-limit", "stops-and-asks", "takes-the-lower-strength", "names-the-size",
                                    "picks-the-sleeve-metal"),
            blank=("follows-the-order",), types="close", reasons="Below the cut score; good hands. Lessons 01 to 03 again."),
    Learner("Gwil Santer", larger_print=True, paper="on paper", reasons="Sat on paper with larger print; everything shown."),
    Learner("Mirko Eddage", paper="damaged", reasons="The returned file is damaged, so there is no result: a new paper is to be set."),
    Learner("Hana Obrey", misses=("follows-the-order",), types="spaced", bench="rejects own piece",
            reasons="Rejected an own piece for a crooked sleeve and made a sound one: judgement shown."),
    Learner("Petro Lusk", misses=("works-the-limit",), bench="passes a bad piece",
            reasons="Passed the piece with the small cable because the gauge passed: rule 10 again, then six other pieces."),
    Learner("Ama Tollivar", types="close", bench="sectioned", reasons="Everything shown; the piece was sectioned and is full of metal."),
    Learner("Joss Renwith", misses=("takes-the-lower-strength",), blank=("works-the-limit",), bench="not seen",
            reasons="The strokes on the second eye were not seen, and nobody passes on what was not seen: one more eye, watched."),
)


def roster_text() -> str:
    """The class list as somebody types it."""
    return "\n".join(", ".join([one.name] + [str(one.extra_minutes or "")] * bool(one.extra_minutes or one.larger_print)
                               + ["large"] * one.larger_print) for one in CAST)
