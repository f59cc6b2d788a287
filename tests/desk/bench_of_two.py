"""A class of two at a desk: papers sat through the room's own saving, the bench form filled tap by tap.

What many tests begin with is made once, at a desk of the sample shop, and copied into each test's own folder.
"""

import atexit
import shutil
import tempfile
from pathlib import Path

from rigcalc.demonstration.answers import sit_paper, typed_by
from rigcalc.demonstration.cast import SEALED_SET, Learner
from rigcalc.demonstration.hands import watch
from rigcalc.desk import work
from rigcalc.shop.load import load_shop, sample_shop_path

def shop_text_with(more: str, name: str) -> str:
    """The sample's shop file with some lines more in the block of one tool or gauge."""
    text = sample_shop_path().read_text("utf-8")
    at = text.index(f'id = "{name}"')
    return text[:at] + more + text[at:]


def found_bad_text(name: str, why: str) -> str:
    """The sample's shop file with a tool or gauge found bad."""
    return shop_text_with(f'found_bad = 2026-04-02\nfound_bad_by = "Ines Varrow"\nwhy = "{why}"\n', name)


DECLARED = work.Declared("photo card seen and compared", True, "", True)
ROSTER = "Tomo Kessig, 15, large\nDela Orrin"
_MADE: dict[tuple, tuple] = {}


def begun(desk, make, *more):
    """What `make` makes at a desk, and what it returns: copied there from one made before, where the desk is of the sample shop and new."""
    if desk.shop != load_shop(sample_shop_path()) or desk.entries("class set"):
        return make(desk, *more)
    which = (make, more, ROSTER)
    if which not in _MADE:
        folder = Path(tempfile.mkdtemp(prefix="workbook-begun-"))
        atexit.register(shutil.rmtree, folder, ignore_errors=True)
        _MADE[which] = folder, make(work.open_desk(folder, desk.shop), *more)
    folder, made = _MADE[which]
    shutil.copytree(folder, desk.home, dirs_exist_ok=True)
    desk.register = work.open_desk(desk.home, desk.shop).register  # signed with the key that was copied
    return made


def set_up(desk, *kinds: str) -> str:
    """A class with its papers set; classes are set until the paper of c01 asks a question of each of these kinds."""
    return begun(desk, _set_up, *kinds)


def all_shown(desk) -> str:
    """A class in which c01 has shown everything and nothing is decided."""
    return begun(desk, _all_shown)


def _set_up(desk, *kinds: str) -> str:
    for number in range(1, 60):
        class_id = work.set_class(desk, "Spring class" if number == 1 else f"Spring class {number}", ROSTER, "Ines Varrow")
        work.set_papers(desk, class_id, "Ines Varrow")
        if set(kinds) <= {one["kind"] for one in work.question_paper(desk, work.paper_of(desk, class_id, "c01"))["questions"]}:
            return class_id
    raise AssertionError(f"no paper asks a question of each of {kinds}")


def sit(desk, class_id, candidate_id="c01", misses=(), blank=()) -> str:
    """One paper answered and handed in."""
    paper_id = work.paper_of(desk, class_id, candidate_id)
    record = work.paper_record(desk, paper_id)
    return sit_paper(desk.room, paper_id, typed_by(Learner("x", misses=misses, blank=blank), record["paper"], record["keys"]))


def fill(desk, form_id, **happens) -> None:
    """The bench form filled, with what happens to each candidate."""
    form, opened = work.bench_form(desk, form_id)
    key = desk.kept("sets", opened["set"]) if opened["set"] else None
    watch(form, desk.room / "bench" / f"{form_id}.jsonl", happens, key)


def work_at_bench(desk, class_id, set_id="", **happens) -> str:
    """A form opened, filled and closed for each candidate named."""
    set_id = set_id or work.keep_set(desk, class_id, "set 1", SEALED_SET, "Ines Varrow")
    form_id = work.open_bench(desk, class_id, list(happens), "Osk Tamberlin", "LB", set_id)["form"]["form_id"]
    fill(desk, form_id, **happens)
    for candidate in happens:
        work.assess(desk, form_id, candidate)
    return form_id


def _all_shown(desk) -> str:
    class_id = _set_up(desk)
    sit(desk, class_id)
    work.mark_papers(desk, class_id, "Osk Tamberlin")
    work_at_bench(desk, class_id, c01="right")
    return class_id
