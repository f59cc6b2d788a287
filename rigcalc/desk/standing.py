"""A signed certificate withdrawn or suspended, or its suspension lifted: entered with the reason and the person."""

from __future__ import annotations

from datetime import datetime

from rigcalc.desk.classes import class_of
from rigcalc.desk.decide import TEXT_LIMIT
from rigcalc.desk.folder import Desk, sha256_of
from rigcalc.desk.other_forms import failed_on_others, unclosed_forms
from rigcalc.desk.persons import no_candidate
from rigcalc.desk.since import decision_on, status_and_doubt
from rigcalc.errors import Refusal
from rigcalc.register.status import ACTS, DOUBTED, STANDING, Status, status_of

__all__ = ["as_it_is", "change_standing", "certificates_in_words", "may_be_entered", "not_lifted_while", "standing_and_doubt", "standing_of", "standing_shown"]


def standing_of(desk: Desk, number: str) -> Status:
    """What this desk's register says of a certificate now."""
    return status_of(desk.register.entries(), number)


def standing_and_doubt(desk: Desk, signed: dict) -> tuple[Status, str]:
    """What the register says of a certificate, and what shakes one that may be relied on again, by all that the desk sees, as a clause; `signed` is one of `certificates`."""
    found = standing_of(desk, signed["certificate"])
    return status_and_doubt(desk, signed) if found.state in DOUBTED else (found, "")


def standing_shown(desk: Desk, signed: dict) -> str:
    """A hash of what a page shows of a certificate's standing: an act on it is an act on what was read."""
    found, doubt = standing_and_doubt(desk, signed)
    return sha256_of([found.state, *found.lines, "", *found.since, "", doubt])


def as_it_is(found: Status) -> str:
    """The state as the end of a sentence."""
    if found.state.startswith("decided again"):
        return f"not in force now ({found.state})"
    return "in force now, but shaken" if found.shaken else f"{found.state} now"


def may_be_entered(desk: Desk, number: str) -> tuple[str, ...]:
    """Which of `ACTS` the state of a certificate allows now; none where it is withdrawn, which is for good."""
    last = next((entry.body["act"] for entry in reversed(desk.entries(STANDING, certificate=number))), "")
    return {"withdrawn": (), "suspended": ("lifted", "withdrawn")}.get(last, ("suspended", "withdrawn"))


def not_lifted_while(desk: Desk, number: str) -> Refusal | None:
    """Why a suspension cannot be lifted now: the shop file cannot be read, the bench work or the paper stands as NOT PASSED, or more was tapped
    on a form of its scope than was entered; else nothing."""
    if desk.unread:
        return Refusal("'lifted' while the shop file cannot be read", "a suspension lifted by a shop file that says what is known of tool and gauge now",
                       "mend the shop file first")
    if still := standing_of(desk, number).not_passed:
        return Refusal(f"'lifted' while {', and '.join(still)}", "a suspension lifted where bench work and paper stand as passed",
                       "leave it suspended or withdraw it; once the work is passed, decide and sign anew")
    failed, open_now = _beside(desk, number)
    if failed:
        return Refusal(f"'lifted' while another form stands against it ({failed[0]})", "a suspension lifted where all bench work of its scope is passed",
                       "leave it suspended or withdraw it; once the work is passed, decide and sign anew")
    if open_now:
        return Refusal(f"'lifted' beside bench form {', '.join(open_now)}, tapped on and not closed as it stands", "a suspension lifted where all that was tapped is entered", "on the Bench page close it for this candidate, or, where nobody was assessed on it, set it aside with the reason")
    return None


def _beside(desk: Desk, number: str) -> tuple[list[str], list[str]]:
    """What was entered on other forms against the one that a certificate rests on; the forms of its scope on which more was tapped than was entered."""
    signed = next(one.body for one in desk.register.entries("certificate signed") if one.body["certificate"] == number)
    where = signed["class"], signed["candidate"]["id"], decision_on(desk, signed)["rests_on"]["bench"]["form_id"]
    return failed_on_others(desk, *where), unclosed_forms(desk, *where)


def certificates_in_words(desk: Desk, class_id: str, candidate_id: str) -> list[str]:
    """A sentence for each certificate signed for a candidate: how it stands now, and of one withdrawn or suspended by whom and why. A new decision weighs it.

    Example: `Certificate spring-c01-7 is suspended now, by Ines Varrow: the gauge was doubted.`
    """
    said = []
    for entry in desk.entries("certificate signed", **{"class": class_id, "candidate": candidate_id}):
        found, number = standing_of(desk, entry.body["certificate"]), entry.body["certificate"]
        last = desk.entries(STANDING, certificate=number)[-1:] if found.state in ("withdrawn", "suspended") else []
        said.append(f"Certificate {number} is {as_it_is(found)}" + (f", by {last[0].body['by']}: {last[0].body['reason'].rstrip('.')}." if last else "."))
    return said


def change_standing(desk: Desk, number: str, act: str, by: str, reason: str, now: datetime | None = None) -> Status:
    """Withdraw or suspend a certificate, or lift its suspension; entered as `certificate standing`.

    Parameters
    ----------
    act : str
        `withdrawn`, `suspended` or `lifted`.

    Errors
    ------
    Refusal : no such certificate; an act that its state does not allow (what is withdrawn stays so); a suspension lifted while the shop file
        cannot be read, or while the bench work or the paper stands as NOT PASSED; no name, or that of a candidate of its class; no reason.
    """
    signed = next((one for one in desk.register.entries("certificate signed") if one.body["certificate"] == number), None)
    if signed is None:
        raise Refusal(f"the certificate '{number[:60]}'", "a certificate signed at this desk", "choose it from the list")
    if act not in ACTS:
        raise Refusal(f"the act '{act[:40]}'", ", ".join(ACTS), "choose one of these")
    allowed = may_be_entered(desk, number)
    if act not in allowed:
        now_it_is = "suspended" if "lifted" in allowed else "neither withdrawn nor suspended" if allowed else "withdrawn"
        raise Refusal(f"'{act}' for the certificate {number}, which is {now_it_is}",
                      "withdrawn or suspended once, lifted after suspended; what is withdrawn stays withdrawn",
                      "look at the list; a withdrawn one is replaced by deciding and signing again")
    if act == "lifted" and (refusal := not_lifted_while(desk, number)):
        raise refusal
    if act == "lifted" and desk.invented and signed.body.get("standing") == "genuine":
        raise Refusal("'lifted' by the invented sample's shop file", "a suspension lifted by the shop's own file, which says what is known of tool and gauge now",
                      "put the shop's own file back first")
    by = no_candidate(class_of(desk, signed.body["class"])["candidates"], by, "person answering for it")
    reason = " ".join(reason.split())
    if not reason or len(reason) > TEXT_LIMIT:
        raise Refusal(f"a reason of {len(reason)} letters", f"1 to {TEXT_LIMIT} letters", "write why in a sentence or two")
    desk.note(STANDING, {"class": signed.body["class"], "candidate": signed.body["candidate"], "certificate": number, "act": act,
                         "by": by, "reason": reason, "certificate_entry": signed.number}, now)
    return standing_of(desk, number)
