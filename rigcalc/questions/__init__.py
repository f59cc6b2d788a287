"""Questions: families with changing values, the missteps behind wrong answers, reading and marking an answer."""

from __future__ import annotations

from rigcalc.questions.composing import compose
from rigcalc.questions.drawing import draw
from rigcalc.questions.draws import Stream
from rigcalc.questions.family import Family, FamilyError, families_folder, load_families
from rigcalc.questions.instance import Instance
from rigcalc.questions.marking import mark
from rigcalc.questions.reading import read_answer

__all__ = ["Family", "FamilyError", "Instance", "Stream", "compose", "draw", "families_folder", "load_families",
           "mark", "read_answer"]
