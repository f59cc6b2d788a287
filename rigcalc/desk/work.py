"""Every act of the assessor as a plain function. Pages, commands and the demonstration call these and nothing else."""

from __future__ import annotations

from rigcalc.desk.certify import SCHEME, WHY_TWO_YEARS, certificate, certificates, certify
from rigcalc.desk.classes import candidate_of, class_of, classes, look_at_class, read_roster, set_class
from rigcalc.desk.correcting import (WAYS, appeals, asked_families, asked_family, correct_marking, decide_appeal,
                                     look_at_correction, re_markings)
from rigcalc.desk.charts import quietly_changed
from rigcalc.desk.decide import (Declared, WAYS_OF_IDENTIFYING, blockers, decide, decision_of, facts_in_the_way, ground,
                                 put_forward)
from rigcalc.desk.folder import Desk, open_desk
from rigcalc.desk.hands import (assess, assessed, bench_events, bench_form, closed_as_it_stands, forms, keep_set, look_at_form, open_bench,
                                pieces_to_make, sealed_sets, set_aside)
from rigcalc.desk.quiz import sittings
from rigcalc.desk.room_process import RoomProcess
from rigcalc.desk.standing import change_standing, may_be_entered, standing_of
from rigcalc.desk.typing_in import hand_in_typed, to_settle, type_sheet, typings
from rigcalc.desk.watching import who_has_handed_in
from rigcalc.desk.written import (alike_in_words, blueprint_in_force, blueprints, corrections_of, give_more_time, links, mark_papers,
                                  marked, notes_before_setting, paper_of, paper_record, question_paper, results, set_papers, skill_sentences,
                                  spread_before_setting, summary, type_in, uncounted)

__all__ = [
    "Declared", "Desk", "RoomProcess", "SCHEME", "WAYS", "WAYS_OF_IDENTIFYING", "WHY_TWO_YEARS", "alike_in_words", "appeals", "asked_families",
    "asked_family", "assess", "assessed", "bench_events", "bench_form", "blockers", "blueprint_in_force", "blueprints",
    "candidate_of", "certificate", "certificates", "certify", "change_standing", "class_of", "classes", "closed_as_it_stands", "correct_marking",
    "corrections_of", "decide", "decide_appeal", "decision_of", "facts_in_the_way", "forms", "give_more_time", "ground",
    "hand_in_typed", "keep_set", "links", "look_at_class", "look_at_correction", "look_at_form", "mark_papers", "marked", "may_be_entered", "notes_before_setting",
    "open_bench", "open_desk", "paper_of", "paper_record", "pieces_to_make", "put_forward", "question_paper", "quietly_changed", "re_markings",
    "read_roster", "results", "sealed_sets", "set_aside", "set_class", "set_papers", "sittings", "skill_sentences", "spread_before_setting",
    "standing_of",
    "summary", "to_settle", "type_in", "type_sheet", "typings", "uncounted", "who_has_handed_in",
]
