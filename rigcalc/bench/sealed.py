"""A sealed set of numbered pieces against its key: at the desk only, never in a form."""

from __future__ import annotations

from rigcalc.errors import Refusal

__all__ = ["agreement", "check_set", "judge_calls"]


def check_set(form_rule: dict, causes: list[dict], numbers: list[str], set_key: dict) -> None:
    """Refuse a key that does not fit the pieces on the form, or a set too easy to show anything.

    Parameters
    ----------
    form_rule : dict
        ``form["set_rule"]``: how many pieces, how many good and how many critical ones at least.
    causes : list of dict
        ``form["causes"]``.
    numbers : list of str
        The numbers on the form.
    set_key : dict
        ``{"id": "S1", "pieces": {"3": "buried-tail", "7": None}}``: the cause of the fault, or None for a good piece.
    """
    key = set_key.get("pieces", {})
    missing = [n for n in numbers if n not in key]
    if missing:
        raise Refusal(f"a set key without piece {', '.join(missing)}", "the key of every piece on the form", "take the key of this set")
    critical = {c["id"]: c["critical"] for c in causes}
    for number in numbers:
        if key[number] is not None and key[number] not in critical:
            raise Refusal(f"piece {number} with the cause '{key[number]}' in the set key", "no cause for a good piece, or a cause of T7.toml",
                          "correct the set key")
    good = sum(key[n] is None for n in numbers)
    grave = sum(bool(critical.get(key[n])) for n in numbers)
    if good < form_rule["good_at_least"] or grave < form_rule["critical_at_least"]:
        raise Refusal(f"a set with {good} good pieces and {grave} with a critical fault",
                      f"at least {form_rule['good_at_least']} good and {form_rule['critical_at_least']} critical",
                      "pick other pieces: with these nothing would be shown")


def judge_calls(form: dict, live: list[dict], candidate: str, set_key: dict | None) -> dict | None:
    """A candidate's calls against the key, false passes and false rejects counted apart; None without a set on the form.

    Without a key the calls are listed and nothing is judged: ``marked`` is False.
    """
    if form["set"] is None:
        return None
    numbers = form["set"]["pieces"]
    calls = {e["number"]: e for e in live if e["kind"] == "called" and e["candidate"] == candidate}
    texts = {c["id"]: c["text"] for c in form["causes"]}
    listed = [{"number": n, "call": calls[n]["call"] if n in calls else None,
               "cause": calls[n].get("cause") if n in calls else None,
               "cause_text": texts.get(calls[n].get("cause")) if n in calls else None} for n in numbers]
    result = {"set": form["set"]["id"], "of": len(numbers), "calls": listed, "marked": False}
    if set_key is None:
        return result
    if str(set_key.get("id")) != form["set"]["id"]:
        raise Refusal(f"the key of set {set_key.get('id')}", f"the key of set {form['set']['id']}", "take the key of the set on the form")
    check_set(form["set_rule"], form["causes"], numbers, set_key)
    critical = {c["id"] for c in form["causes"] if c["critical"]}
    truth = {n: set_key["pieces"][n] for n in numbers}
    for line in listed:
        cause = truth[line["number"]]
        true_call = "pass" if cause is None else "reject"
        line |= {"right": None if line["call"] is None else line["call"] == true_call, "true_call": true_call,
                 "true_cause": cause, "true_cause_text": texts.get(cause),
                 "cause_right": line["cause"] == cause if line["call"] == true_call == "reject" else None}
    false_passes = [x["number"] for x in listed if x["call"] == "pass" and x["true_call"] == "reject"]
    plain, kappa = agreement([(x["call"], x["true_call"]) for x in listed if x["call"]])
    return result | {
        "marked": True, "right": sum(bool(x["right"]) for x in listed), "causes_right": sum(bool(x["cause_right"]) for x in listed),
        "false_passes": false_passes, "critical_passed": [n for n in false_passes if truth[n] in critical],
        "false_rejects": [x["number"] for x in listed if x["call"] == "reject" and x["true_call"] == "pass"],
        "agreement": plain, "kappa": kappa}


def agreement(pairs: list[tuple[str, str]]) -> tuple[float | None, float | None]:
    """Plain agreement and Cohen's kappa of calls beside the key, each from 0 to 1 (kappa from -1); None where undefined.

    Example
    -------
    >>> agreement([("pass", "pass"), ("reject", "reject"), ("reject", "pass"), ("reject", "reject")])
    (0.75, 0.5)
    >>> agreement([("pass", "pass")])
    (1.0, None)
    """
    if not pairs:
        return None, None
    n = len(pairs)
    plain = sum(a == b for a, b in pairs) / n
    chance = sum((sum(a == w for a, _ in pairs) / n) * (sum(b == w for _, b in pairs) / n) for w in ("pass", "reject"))
    return round(plain, 4), None if chance >= 1 else round((plain - chance) / (1 - chance), 4)
