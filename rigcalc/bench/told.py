"""What stands in words on the paper form: how each piece ended, the help given, what the assessor wrote, and what was changed."""

from __future__ import annotations

from rigcalc.bench.changed import at_in_words, entered_again
from rigcalc.bench.observe import live_events
from rigcalc.bench.pieces import crimp_presses, current_piece, ended_by_gauge, gauge_items

__all__ = ["how_ended", "to_tell"]


def how_ended(form: dict, live: list[dict], candidate: str, piece: int) -> str:
    """How a piece ended: rejected by its maker, with cause and time, or scrap by the gauge; empty while nothing ended it."""
    causes = {c["id"]: c["text"] for c in form["causes"]} | {"other": "another reason, in the words at the end"}
    rejected = next((e for e in live if e["kind"] == "rejected" and (e["candidate"], e["piece"]) == (candidate, piece)), None)
    if rejected:
        return f"rejected by the candidate, {at_in_words(rejected)}: {causes[rejected['cause']]}"
    if not ended_by_gauge(form, live, candidate, piece):
        return ""
    failed = [(item, crimp) for item in gauge_items(form) for crimp, made in crimp_presses(live, candidate, piece, item["key"]).items() if made[:2] == [False, False]]
    last = [e for e in live if e["kind"] == "gauged" and (e["candidate"], e["piece"]) == (candidate, piece) and e["press"] == 2
            and any((e["item"], e["crimp"]) == (item["key"], crimp) for item, crimp in failed)][-1]
    return (f"scrap, {at_in_words(last)}: " + ", ".join(f"crimp {crimp} of eye {item['eye']}" for item, crimp in failed)
            + " did not pass at the gauge a second time; the tool is out of use")


def to_tell(form: dict, events: list[dict], candidate: str) -> list[str]:
    """What fills the box at the end of the form, a sentence a line; empty where there is nothing to tell."""
    live = live_events(events)
    own = [e for e in live if e["candidate"] == candidate]
    titles = {s["id"]: f"{s['number']} {s['title']}" for s in form["stages"]}
    words = {e["about"]: e["words"].strip() for e in own if e["kind"] == "wrote" and not e["item"]}
    said = [f"Help given, {at_in_words(e)}, at {titles.get(e['item'], e['item'])}: " + (f"\"{words[e['id']]}\"" if words.get(e["id"]) else "its words are not written down yet")
            for e in own if e["kind"] == "helped"]
    for piece in range(1, current_piece(form, live, candidate) + 1):
        ended = how_ended(form, live, candidate, piece)
        said += [f"Piece {piece} {ended}."] if ended else []
    said += [f"The assessor wrote: \"{words['']}\""] if words.get("") else []
    return said + [f"Changed after the first tap: {one}." for one in entered_again(form, events, candidate)]
