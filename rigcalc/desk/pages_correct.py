"""Putting a marking right: choose what was wrong, look at whom it moves, enter it; and what was put right so far."""

from __future__ import annotations

from rigcalc.desk import work
from rigcalc.desk.correcting import certificates_in_words, with_certificates
from rigcalc.desk.forms import STYLE, area, back_to, counted, field, form, hint, radios, table
from rigcalc.desk.server import FormHandler, link
from rigcalc.errors import Refusal
from rigcalc.pages import escape
from rigcalc.papers.correcting import changes_in_words
from rigcalc.papers.records import when
from rigcalc.papers.results import agreed_in_words
from rigcalc.questions.own import own_families_in_words

__all__ = ["ROUTES"]

FIELDS = ("family", "way", "misstep", "by", "why", "second")


class Correct(FormHandler):
    """First a look at what would change, then the entering of it."""

    def head(self, *where) -> str:
        return STYLE + "<style>.quiet,summary{overflow-wrap:anywhere}</style>"

    def body(self, desk, typed, class_id) -> tuple[str, str]:
        name = work.class_of(desk, class_id)["name"]
        asked = {field_name: self.get_query_argument(field_name, typed(field_name)) for field_name in FIELDS}
        shown, found = typed("shown") or self.get_query_argument("shown", ""), None
        if typed.values and shown:  # refused: the look as it is now
            asked = {name: typed(name) for name in FIELDS}
            try:
                found = _looked_at(desk, class_id, asked, shown)
            except Refusal:
                pass
        elif self.get_query_argument("look", "") == "1" and not typed.values:
            found = _looked_at(desk, class_id, asked, shown)
        if found and found["second_needed"]:
            asked["second"] = ""  # whoever agreed to another look agrees anew
        return f"Marking put right: {name}", (
            (_look(desk, class_id, asked, found, shown) if found else "") + _ask(desk, class_id, asked, found["shown"] if found else shown)
            + _so_far(desk, class_id) + back_to(link("class", class_id, "mark"), "Back to marking"))

    def act(self, desk, typed, class_id) -> tuple[str, str]:
        asked = {name: typed(name) for name in FIELDS}
        if typed("act") != "enter":
            found = _looked_at(desk, class_id, asked, typed("shown") or None)
            if found["second_needed"] and asked["second"].strip():
                raise Refusal(f"{asked['second'].strip()[:80]}, who agrees, on a page that shows another look than the one of now",
                              "a second person who was shown what would change as it is now", "show that person the look below, then type the name again")
            return link("class", class_id, "correct") + "?" + _query(asked | {"look": "1", "shown": found["shown"]}), "Nothing is changed yet: look first."
        done = work.correct_marking(desk, class_id, asked["way"], asked["family"], asked["by"], asked["why"], asked["misstep"], second=asked["second"], shown=typed("shown"))
        crossed = sum(bool(row["crosses"]) for row in done["moves"])
        return link("class", class_id, "correct"), (
            f"Correction {done['correction']['number']} is entered: {counted(len(done['moves']), 'paper')} {'is' if len(done['moves']) == 1 else 'are'} "
            f"marked again, {crossed} move{'s' * (crossed == 1)} across the cut. Everybody whom it concerns is named below.")


def _looked_at(desk, class_id: str, asked: dict, shown: str | None) -> dict:
    return work.look_at_correction(desk, class_id, asked["way"], asked["family"], asked["by"], asked["why"], asked["misstep"], second=asked["second"], shown=shown)


def _query(asked: dict) -> str:
    from urllib.parse import urlencode
    return urlencode(asked)


def _ask(desk, class_id: str, asked: dict, shown: str) -> str:
    families = work.asked_families(desk, class_id)
    if not families:
        return hint("No papers are set yet.")
    chosen = _one(desk, class_id, asked, shown) if asked["family"] in families else ""
    return chosen + _list(class_id, families, folded=bool(chosen))


def _list(class_id: str, families: dict[str, str], folded: bool) -> str:
    """Every family that the papers asked, to choose the one that was wrong."""
    sentences, here = work.skill_sentences(), link("class", class_id, "correct")
    rows = [[f'<a href="{escape(here + "?" + _query({"family": name}))}">{escape(name)}</a>', escape(sentences.get(skill, skill))]
            for name, skill in families.items()]
    made = table(["Question family", "Skill"], rows)
    if folded:
        return f"<details><summary>Another question was wrong</summary>{made}</details>"
    return "<h2>Which question was wrong?</h2>" + made


def _one(desk, class_id: str, asked: dict, shown: str) -> str:
    """One family: where its file is, and what can be done about its questions."""
    found, own = work.asked_family(desk, class_id, asked["family"]), own_families_in_words(desk.home)
    known = [("", "none")] + [(name, f"{name}: {said}") for name, said in found["missteps"].items()]
    return (f"<h2>What was wrong in {escape(asked['family'])}</h2>"
            + "".join(hint(line) for line in (f"It asks, for instance: {found['example']}", found["where"], own) if line)
            + hint("The key records stay as they were issued; the correction stands beside them, and both results are kept.")
            + form(link("class", class_id, "correct"),
                   f'<input type="hidden" name="family" value="{escape(asked["family"])}"><input type="hidden" name="shown" value="{escape(shown)}">'
                   + radios("way", "What to do", list(work.WAYS.items()), asked["way"])
                   + (radios("misstep", "Misstep that counts as right (only for that way)", known, asked["misstep"]) if known[1:] else
                      hint("This question has no misstep that could be counted as right."))
                   + field("by", "Corrected by", asked["by"], help="first and family name") + area("why", "Why", asked["why"], rows=3)
                   + field("second", "Agreed by", asked["second"], help="only where somebody loses marks or the pass: first and family name of "
                           "a second person, neither who corrects nor who marked"), "Look at what would change"))


def _look(desk, class_id: str, asked: dict, found: dict, shown: str) -> str:
    hidden = "".join(f'<input type="hidden" name="{name}" value="{escape(value)}">' for name, value in (asked | {"shown": found["shown"]}).items())
    anew = hint("This is another look than the one before: something was changed since.") if shown not in ("", found["shown"]) else ""
    return ('<div class="card hold"><h2>What this would change</h2>' + anew + _moves(with_certificates(desk, class_id, found["moves"]), found["correction"]["appeals_kept"])
            + (hint("This takes marks from somebody, so a second person must agree, neither who corrects nor who marked: "
                    "show that person this, type the name below at \u201cAgreed by\u201d, and look again.") if found["second_needed"] else
               form(link("class", class_id, "correct"), hidden + '<input type="hidden" name="act" value="enter">',
                    "Enter this correction")) + "</div>")


def _moves(rows: list[dict], kept: list[dict]) -> str:
    cells = [[escape(row["candidate"]["name"]), f"{escape(str(row['score_before']))} → {escape(str(row['score_after']))}",
              "passed" if row["passed_before"] else "not passed", "passed" if row["passed_after"] else "not passed",
              f"<strong>{escape(row['crosses'])}</strong>" if row["crosses"] else "",
              "<br>".join(escape(one) for one in certificates_in_words(row))]
             for row in rows]
    lines = "".join(f"<li>{escape(line)}</li>" for line in changes_in_words(rows, kept))
    return (table(["Candidate", "Marks", "Before", "After", "Across the cut", "Certificate"], cells, "Nobody who is marked so far.")
            + (f"<ul>{lines}</ul>" if lines else ""))


def _so_far(desk, class_id: str) -> str:
    cards = "".join(
        f'<section class="card keep"><h3>Correction {row["correction"]}: {escape(row["family"])}, {escape(row["way"])}</h3>'
        f"<p>{escape(row['why'])}</p><p class='quiet'>By {escape(row['by'])}{escape(agreed_in_words(row))}, {escape(when(row['at']))}, register entry {row['number']}."
        f"{escape(_versions(row))}</p>{_moves(row['results'], row.get('appeals_kept', []))}</section>" for row in work.re_markings(desk, class_id))
    return "<h2>Put right so far</h2>" + (cards or hint("Nothing yet."))


def _versions(row: dict) -> str:
    def words(found):
        return ", ".join(f"version {one['version']} ({one['sha256'][:12]})" for one in found)

    return f" Family: papers issued with {words(row['family_before'])}" + (f", now {words(row['family_after'])}." if row["family_after"] else ".")


ROUTES = [(r"/class/([a-z0-9-]{1,40})/correct", Correct)]
