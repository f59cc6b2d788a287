"""Why a form proposes a pass or none, in plain words: what stands against it first, then what has to be weighed."""

from __future__ import annotations

__all__ = ["reasons_of"]


def reasons_of(form: dict, result: dict) -> dict:
    """``{"passed", "reasons", "to_weigh"}`` for a result whose parts are worked out."""
    against = [*_about_the_form(form, result), *_about_lines(result), *_about_pieces(form, result), *_about_the_day(form, result)]
    reasons = against or ["Every critical point was seen right, every line is filled, and the piece kept its limits."]
    return {"passed": not against, "reasons": reasons, "to_weigh": _to_weigh(form, result)}


def _about_the_form(form: dict, result: dict) -> list[str]:
    said = []
    if form["practice"]:
        said.append("PRACTICE: no maker's chart has been entered, so this is a practice record and no assessment.")
    if form["gauge"] is None:
        said.append("No gauge stands on the form: nobody is assessed by eye alone.")
    said += [f"Task {task} was not on this form." for task in form["left_out"]]
    return said


def _about_lines(result: dict) -> list[str]:
    said = [f"CRITICAL, {x['number']} {x['text']}: {x['why']}." for x in result["criticals_failed"]]
    if result["pieces_made"]["scrapped_at_gauge"]:
        unfilled = len(result["not_seen"]) + len(result["missing"])
        return [*said, f"{unfilled} lines were not reached or not filled in."] if unfilled else said
    said += [f"CRITICAL and not shown, {x['number']} {x['text']}: {x['why']}; nobody passes on what was not seen."
             for x in result["not_seen"]]
    said += [f"{x['number']} {x['text']}: {x['why']}." for x in result["required_wrong"]]
    said += [f"Not filled in, {x['number']} {x['text']}: {x['why']}." for x in result["missing"]]
    return said


def _about_pieces(form: dict, result: dict) -> list[str]:
    said = []
    made = result["pieces_made"]
    if made["scrapped_at_gauge"]:
        contained = result["containment"] and result["containment"]["right"]
        said.append("A crimp did not pass a second time: the piece is scrap and the tool is out of use. "
                    + ("What to do next was done right and is not counted against the candidate: open a new form with another tool."
                       if contained else "Not all of what has to follow was done right."))
    elif not made["finished"]:
        said.append("The candidate rejected every piece that was issued, so no finished piece can be judged.")
    calls = result["pieces"]
    if calls is not None and not calls["marked"]:
        said.append(f"The calls on set {calls['set']} are not marked: the set's key was not given.")
    elif calls is not None:
        said += _about_calls(form["set_rule"], calls)
    for material in result["material"]:
        if material["balanced"] is False:
            said.append(f"The {material['text']} do not balance: {material['out']} out, {material['in_pieces']} in pieces and "
                        f"{material['unused']} unused; a hidden spare hides a spoiled crimp.")
    return said


def _about_calls(rule: dict, calls: dict) -> list[str]:
    said = [f"CRITICAL: piece {number} was passed and has a critical fault." for number in calls["critical_passed"]]
    if calls["right"] < rule["right_at_least"]:
        said.append(f"{calls['right']} of {calls['of']} calls are right; at least {rule['right_at_least']} are asked.")
    if calls["causes_right"] < rule["causes_right_at_least"]:
        said.append(f"{calls['causes_right']} causes are right; at least {rule['causes_right_at_least']} are asked.")
    if len(calls["false_rejects"]) > rule["wrong_rejects_at_most"]:
        said.append(f"{len(calls['false_rejects'])} good pieces were rejected; {rule['wrong_rejects_at_most']} is forgiven.")
    return said


def _about_the_day(form: dict, result: dict) -> list[str]:
    said = []
    for task in form["tasks"]:
        wrong = [x for x in result["seen_wrong"] if x["item"].startswith(task["id"] + "#")]
        if len(wrong) > task["wrong_at_most"]:
            said.append(f"{len(wrong)} points of {task['id']} that are not critical were wrong; {task['wrong_at_most']} at most: "
                        + ", ".join(x["number"] for x in wrong) + ".")
    if any(not given["words"] for given in result["help"]):
        said.append("Help was given and its words are not written down yet.")
    return said


def _to_weigh(form: dict, result: dict) -> list[str]:
    said = [f"Not right, though not critical, {x['number']} {x['text']}: {x['why']}." for x in result["seen_wrong"]]
    said += [f"Not seen, {x['number']} {x['text']}." for x in result["lines"] if x["state"] == "not seen" and not x["critical"]]
    said += [f"Help at {x['stage']}: \"{x['words'] or 'words not written'}\"" for x in result["help"]]
    said += [f"Piece {x['piece']} was rejected by the candidate ({x['text']}): judgement, not failure."
             for x in result["pieces_made"]["rejected_by_candidate"]]
    said += [f"Changed after the first tap: {x}." for x in result["changed"]]
    calls = result["pieces"]
    if calls and calls["marked"] and calls["false_rejects"]:
        said.append(f"Good piece {', '.join(calls['false_rejects'])} was rejected: it counts against, it does not fail alone.")
    for crimp in result["crimps"]:
        if crimp["passed"] == [False, True]:
            said.append(f"Crimp {crimp['crimp']} of eye {crimp['eye']}, piece {crimp['piece']}: pressed again once, then passed.")
    if result["tool_stopped_by"] and result["tool_stopped_by"] != result["candidate"]["name"]:
        said.append(f"Tool {form['made']['tool']} was taken out of use on this form after {result['tool_stopped_by']}'s piece: "
                    "gauge again what it pressed since the last good gauging.")
    if result["words"] and result["words"][-1].strip():
        said.append(f"The assessor wrote: \"{result['words'][-1].strip()}\"")
    if result["shop_changed"]:
        said.append("The shop file has changed since the form was opened; the form's own limits were used.")
    return said
