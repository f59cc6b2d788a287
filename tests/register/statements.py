"""A whole statement for the tests; names of the invented shop."""

from copy import deepcopy

from rigcalc.cautions import CAUTIONS, CERTIFICATE_CAUTION

_STATEMENT = {
    "number": "C-0001", "invented": True,
    "person": {"name": "Tomo Kessig", "candidate": "c01", "identified": "passport shown, photograph compared by Osk Tamberlin"},
    "scope": {"scheme": "narrow", "sleeve_metal": "aluminium", "construction": "7x19", "finish": "galvanised",
              "tool": "LB", "cavity": "1/8", "sizes": ["1/8"],
              "limits": "One size of one tool was shown: this is no evidence for any other size."},
    "not_shown": ["any size other than 1/8", "stainless cable", "lap splices", "coated cable"],
    "written": {"paper": "P01", "blueprint": "narrow 1", "score": "11", "out_of": "12", "cut": "9",
                "cut_how": "mean of two judges' sums", "cut_by": "Ines Varrow and Bettan Roole",
                "must_be_right": ["1", "19", "46", "50", "59"], "answers_sha256": "a" * 64,
                "skills": ["names what these must not be used for"]},
    "bench": {"form": "B01", "tasks": ["T1", "T7, six pieces"], "done_on": "2031-03-02",
              "piece": "pulled: held 800 lbf without slip for 60 s, in-line gauge FG2", "piece_set": "six of six right",
              "gauge": "GB", "gauge_checked_on": "2031-01-10", "gauge_due_on": "2031-07-10", "events_sha256": "b" * 64,
              "skills": ["gauges every crimp"]},
    "chart": {"line": "LB aluminium chart, INVENTED, edition 1", "kind": "maker"},
    "assessor": "Osk Tamberlin",
    "declarations": {"training": "did not train this candidate within two years", "conflict": "no conflict of interest"},
    "decision": {"decider": "Bettan Roole", "on": "2031-03-02", "reasons": "Both parts passed, no critical missed."},
    "validity": {"starts": "2031-03-02", "ends": "2033-03-01", "why": "two years, the shop's rule: hands lose practice"},
    "register": {"entry": 40, "hash": "c" * 64},
    "cautions": [CERTIFICATE_CAUTION, *CAUTIONS],
}


def statement(**changes) -> dict:
    made = deepcopy(_STATEMENT)
    made.update(changes)
    return made
