"""Taps in any order: each is taken or refused in one sentence, nothing crashes, and replaying gives the same outcome."""

from __future__ import annotations

import json

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rigcalc.bench.observe import accept, take
from rigcalc.bench.page import bench_page
from rigcalc.errors import Refusal

from .filled import DELA, KEY, TOMO, Book, opened, sample

FORM = opened(TOMO, DELA)
SHOP = sample()
KEYS = [i["key"] for s in FORM["stages"] for i in s["items"]]
words = st.text(max_size=12)
taps = st.fixed_dictionaries({"candidate": st.sampled_from(["c1", "c2", "c3"]), "item": st.sampled_from([*KEYS, "T1#nothing"]),
                              "piece": st.integers(0, 3)}).flatmap(lambda base: st.one_of(
    st.builds(lambda result, how: base | {"kind": "seen", "result": result, "how": how}, st.sampled_from(["right", "wrong", "not seen"]),
              st.sampled_from(["live", "piece", "record"])),
    st.builds(lambda crimp, press, passed: base | {"kind": "gauged", "item": "T1#crimps-gauged@1", "piece": 1, "crimp": crimp, "press": press,
                                                   "passed": passed}, st.integers(1, 4), st.integers(1, 2), st.booleans()),
    st.builds(lambda number, call, cause: base | {"kind": "called", "item": "T7#piece-calls", "piece": 0, "number": number, "call": call,
                                                  "cause": cause}, st.sampled_from(["3", "7", "9"]), st.sampled_from(["pass", "reject"]),
              st.sampled_from([None, "crack", "rust"])),
    st.builds(lambda cause: base | {"kind": "rejected", "item": "", "cause": cause}, st.sampled_from(["crack", "other", "none"])),
    st.builds(lambda text: base | {"kind": "wrote", "item": "", "words": text}, words),
    st.builds(lambda value, part: base | {"kind": "measured", "value": value, "unit": "mm", "part": part, "instrument": "steel rule 0.5 mm"},
              st.one_of(st.from_regex(r"[0-9][0-9 ./]{0,6}", fullmatch=True), words), st.integers(0, 3)),
    st.just({"kind": "undo last"}),
))


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(taps, max_size=30))
def test_any_order_of_taps(made):
    book = Book(FORM)
    for fields in made:
        try:
            if fields["kind"] == "undo last":
                if any(e["kind"] != "undone" for e in book.events):
                    book.undo()
            else:
                book.tap(**fields)
        except (Refusal, IndexError) as refused:
            assert isinstance(refused, IndexError) or str(refused).startswith("Refused: ")
    again = []
    for event in json.loads(json.dumps(book.events)):
        again.append(accept(FORM, again, event))
    assert again == book.events
    for candidate in ("c1", "c2"):
        first = book.outcome(candidate, KEY, SHOP)
        replayed = Book(FORM)
        replayed.events = again
        assert replayed.outcome(candidate, KEY, SHOP) == first and not first["passed"] and first["reasons"]
    assert "</script><script>" not in bench_page(FORM, again).split("saved-data")[1].split("</script>")[0]


class Kept:
    def __init__(self):
        self.lines = []

    def entries(self):
        return self.lines

    def append(self, entry):
        self.lines.append(entry)


@settings(max_examples=150, deadline=None)
@given(st.one_of(st.binary(max_size=200), st.recursive(st.one_of(st.none(), st.booleans(), st.integers(), st.text(max_size=8)),
                                                       lambda inside: st.dictionaries(st.text(max_size=8), inside, max_size=4), max_leaves=8)
                 .map(lambda value: json.dumps(value).encode())))
def test_any_bytes_are_answered_with_one_sentence(body):
    kept = Kept()
    status, reply = take(FORM, kept, body, "now")
    assert status in (400, 413) and reply["say"].count("\n") == 0 and kept.lines == []
