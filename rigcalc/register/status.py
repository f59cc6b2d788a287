"""What the register says of a certificate since it was signed: in force, shaken, suspended, withdrawn, replaced, decided against, expired."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from rigcalc.register.finds import Find, counted_against
from rigcalc.register.store import Entry

__all__ = ["ACTS", "DOUBTED", "STANDING", "Status", "bearing_on", "concerns", "form_of", "scope_of", "status_of"]

STANDING = "certificate standing"
ACTS = ("withdrawn", "suspended", "lifted")
DOUBTED = ("in force", "suspended", "expired", "not yet valid")  # states in which what was entered since is told; in the others it is relied on no more
AGAIN = {"bench assessed": "the bench work was entered again", "answers marked": "the written paper was marked again"}
NOT_YET, UNSIGNED = "decided again: not yet", "decided again: not yet, then competent and not signed"


@dataclass(frozen=True)
class Status:
    """The state in a word, the lines that say why, each with its entry, and what was entered since and makes it doubtful.

    `not_passed` is the part of `since` that says that its bench work or paper stands as NOT PASSED now.
    """

    state: str
    lines: tuple[str, ...] = ()
    since: tuple[str, ...] = ()
    not_passed: tuple[str, ...] = ()

    @property
    def in_force(self) -> bool:
        """Whether it holds, be it shaken or not."""
        return self.state == "in force"

    @property
    def shaken(self) -> bool:
        """Whether it is in force beside something that takes its ground away."""
        return self.in_force and bool(self.since)

    @property
    def since_signed(self) -> str:
        """What was entered since and makes it doubtful, as one clause; empty where nothing was."""
        return f"since it was signed {', and '.join(self.since)}" if self.since else ""

    @property
    def words(self) -> str:
        """The state as it is told first: never a bare `in force` beside what shakes it."""
        return f"in force, but shaken: {self.since_signed}" if self.shaken else self.state


def status_of(entries: Iterable[Entry], number: str, on: date | None = None) -> Status:
    """The status of one certificate by its number.

    Parameters
    ----------
    on : date, optional
        The day for which validity is asked; today where left out.

    Returns
    -------
    Status
        `not entered`, `withdrawn`, `replaced`, `suspended`, `decided again: not yet` (also with `, then competent and not signed`),
        `expired`, `not yet valid` or `in force`; the gravest first, and a line for each thing that bears on it. Once decided `not yet`,
        no later decision puts it in force again: a new certificate is signed, and replaces it.
    """
    entries = list(entries)
    certificates = [entry for entry in entries if entry.kind == "certificate signed"]
    signed = next((one for one in certificates if one.body["certificate"] == number), None)
    if signed is None:
        return Status("not entered", (f"No certificate {number} is entered in this register.",))
    newer = [one for one in certificates if number in one.body.get("replaces", [])]
    acts = [entry for entry in entries if entry.kind == STANDING and entry.body["certificate"] == number]
    after = [one for one in bearing_on(entries, signed) if not newer or one.number < newer[0].number]
    against = any(one.body.get("decision") == "not yet" for one in after)
    decision = next((entry for entry in entries if entry.number == signed.body.get("decision_entry")), None)
    bound = _bench_of(decision) if decision else {}
    last = _last(after, bound.get("form_id"))
    shaking = [one for one in last if not one.body["passed"]]
    other = [one for one in last if one.body["passed"] and one.kind == "bench assessed" and one.body["form_id"] == bound.get("form_id")
             and one.body.get("outcome_sha256") != bound.get("outcome_sha256")]
    closed = {one.body.get("decision_entry") for one in certificates}
    state, why = _by_acts(acts, newer) or (_by_decision(after, closed) if against else None) or _by_day(signed.body, on or date.today())
    told = [(one.number, _act_line(one)) for one in acts]
    told += [(one.number, f"Replaced by certificate {one.body['certificate']} on {one.at[:10]}, entry {one.number}.") for one in newer]
    told += [(one.number, _told(one, closed)) for one in (_that_say_more(after) if _says_more(after, against, shaking) else ())]
    told += _elsewhere(entries, signed)
    not_passed = tuple(f"{AGAIN[one.kind]} as NOT PASSED ({_where(one)})" for one in shaking)
    return Status(state, (*(line for _, line in sorted(told)), *why),
                  (*not_passed,
                   *(f"{AGAIN[one.kind]} as passed, with other lines or words than it was decided on ({_where(one)})" for one in other),
                   *(_shop_told(entries, signed, decision) if decision else ())), not_passed)


def _bench_of(decision: Entry) -> dict:
    """The bench work that a decision rests on: its form, and the hash of its outcome; empty where there is none."""
    return (decision.body.get("rests_on") or {}).get("bench") or {}


def _last(after: list[Entry], form_id: str | None) -> list[Entry]:
    """The last entry of each sort: the certificate's own bench form, other forms, the paper."""
    sorts: dict[tuple, Entry] = {}
    for one in after:
        if one.kind in AGAIN:
            sorts[one.kind, one.body.get("form_id") == form_id] = one
    return sorted(sorts.values(), key=lambda one: one.number)


def _that_say_more(after: list[Entry]) -> list[Entry]:
    """Without the markings of a paper that leave it as it stood: passed at the signature, and each time as the time before."""
    found, passed = [], True
    for one in after:
        if one.kind != "answers marked" or one.body["passed"] != passed:
            found.append(one)
        passed = one.body["passed"] if one.kind == "answers marked" else passed
    return found


def concerns(entries: Iterable[Entry], signed: dict, form_id: str | None) -> bool:
    """Whether bench work on a form is of a certificate's scope, or no form is named; what is not known is taken to be.

    `signed` is the body of its entry `certificate signed`.
    """
    scope, made = signed.get("scope"), _made(entries, form_id) if form_id else None
    return not scope or not made or all(scope.get(name, value) == value for name, value in scope_of(made).items())


def bearing_on(entries: Iterable[Entry], signed: Entry) -> list[Entry]:
    """What was entered after a signature and bears on its certificate: bench work and decisions of its scope, the paper marked again."""
    entries = list(entries)
    return [one for one in _later(entries, signed, (*AGAIN, "decision"))
            if one.kind == "answers marked" or concerns(entries, signed.body, form_of(one))]


def _later(entries: list[Entry], signed: Entry, kinds: tuple[str, ...]) -> list[Entry]:
    return [one for one in entries if one.number > signed.number and one.kind in kinds and _whose(one) == _whose(signed)]


def _whose(entry: Entry) -> tuple[str, str]:
    return entry.body["class"], entry.body["candidate"]["id"]


def form_of(entry: Entry) -> str | None:
    """The bench form of an assessment, or the one that a decision rests on."""
    return entry.body.get("form_id") if entry.kind == "bench assessed" else _bench_of(entry).get("form_id")


def _made(entries: Iterable[Entry], form_id: str) -> dict | None:
    return next((one.body.get("made") for one in entries if one.kind == "bench form opened" and one.body["form_id"] == form_id), None)


def scope_of(made: dict) -> dict:
    """What a form was opened for, as the scope of a certificate says it."""
    return {"sleeve_metal": made["sleeve_metal"], "construction": made["construction"], "finish": made["metal"], "tool": made["tool"],
            "cavity": str(made["cavity"]), "sizes": [str(made["size"])]}


def _by_acts(acts: list[Entry], newer: list[Entry]) -> tuple[str, tuple[str, ...]] | None:
    last = acts[-1].body["act"] if acts else ""
    state = "withdrawn" if last == "withdrawn" else "replaced" if newer else "suspended" if last == "suspended" else ""
    return (state, ()) if state else None


def _by_decision(after: list[Entry], closed: set) -> tuple[str, tuple[str, ...]]:
    """The state once somebody decided `not yet`, and what puts the person's certificate right again."""
    last = [one for one in after if one.kind == "decision"][-1]
    if last.body["decision"] == "not yet" or last.number in closed:
        return NOT_YET, ("It does not come in force again: decide anew, and where that is competent sign a new certificate. Until then do not rely on this one.",)
    return UNSIGNED, (f"A decision without a signature puts nothing in force: sign a new certificate for entry {last.number}, or decide anew. Until then do not rely on this one.",)


def _by_day(signed: dict, on: date) -> tuple[str, tuple[str, ...]]:
    if (ends := signed.get("ends")) and on > date.fromisoformat(ends):
        return "expired", (f"It ended on {ends}.",)
    if (starts := signed.get("starts")) and on < date.fromisoformat(starts):
        return "not yet valid", (f"It starts on {starts}.",)
    return "in force", ()


def _says_more(after: list[Entry], against: bool, shaking: list[Entry]) -> bool:
    """Whether one by one the entries say more than the last of each kind: a `not yet`, or a NOT PASSED that was entered anew since."""
    return against or any(one.body.get("passed") is False and one not in shaking for one in after)


def _where(entry: Entry) -> str:
    return f"entry {entry.number}, {entry.at[:10]}" + (f", form {entry.body['form_id']}" if entry.kind == "bench assessed" else "")


def _told(entry: Entry, closed: set) -> str:
    body, where = entry.body, f"E{_where(entry)[1:]}"
    if entry.kind in AGAIN:
        return f"{where}: {AGAIN[entry.kind]}: {'passed' if body['passed'] else 'NOT PASSED'}."
    unsigned = " No certificate is signed for it." if body["decision"] == "competent" and entry.number not in closed else ""
    reasons = body["reasons"].rstrip()
    return f"{where}: decided again: {body['decision']}. {body['decider']}: {reasons}{'' if reasons.endswith(('.', '!', '?')) else '.'}{unsigned}"


def _elsewhere(entries: list[Entry], signed: Entry) -> list[tuple[int, str]]:
    """Number and line of each later `not yet` on bench work of another scope: the state does not change by it."""
    later = [one for one in _later(entries, signed, ("decision",)) if one.body["decision"] == "not yet" and not concerns(entries, signed.body, form_of(one))]
    return [(one.number, f"Entry {one.number}, {one.at[:10]}: not yet, on other bench work ({_in_words(_made(entries, form_of(one)))}). "
                         f"{one.body['decider']}: {one.body['reasons']} Not about this certificate's bench work: whoever signed says whether the reason reaches it.") for one in later]


def _in_words(made: dict) -> str:
    return (f"{made['size']} {made['construction']} {made['metal']} cable, {made['sleeve_metal']} sleeves, tool {made['tool']}, "
            f"cavity {made['cavity'] or 'as marked'}")


def _shop_told(entries: list[Entry], signed: Entry, decision: Entry) -> list[str]:
    """What was entered as told by a shop file of the bench form that the certificate's decision rests on; found bad, also where it was told on another form."""
    form_id = form_of(decision)
    opened = next((one for one in entries if form_id and one.kind == "bench form opened" and one.body["form_id"] == form_id), None)
    if opened is None:
        return []
    with_it = {("tool", (opened.body.get("made") or {}).get("tool")), ("gauge", (opened.body.get("gauge") or {}).get("id"))}
    told = [found for one in entries if one.kind == "shop file told" and one.number > opened.number for found in (Find(**fields) for fields in one.body["told"])
            if one.body.get("form_id") == form_id or found.bad and (found.thing, found.id) in with_it]
    return counted_against(told, decision.body.get("since", []), signed.body["starts"]) if told else []


def _act_line(entry: Entry) -> str:
    told = {"withdrawn": "Withdrawn", "suspended": "Suspended", "lifted": "Suspension lifted"}[entry.body["act"]]
    return f"{told} on {entry.at[:10]} by {entry.body['by']}, entry {entry.number}: {entry.body['reason']}"
