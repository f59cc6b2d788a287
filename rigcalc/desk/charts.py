"""Charts that were changed under their edition: kept with papers and bench forms, and compared with the shop file in force."""

from __future__ import annotations

from rigcalc.desk.folder import Desk
from rigcalc.shop.card import chart_digest

__all__ = ["charts_now", "other_charts", "quietly_changed"]


def charts_now(desk: Desk) -> dict[str, dict[str, str]]:
    """Edition and digest of each chart in the shop file, as the register keeps them beside what rests on them."""
    return {chart.id: {"edition": chart.edition, "sha256": chart_digest(chart)} for chart in desk.shop.charts}


def quietly_changed(desk: Desk, class_id: str) -> list[str]:
    """A sentence for each chart that says something else than when the class's papers were set or its bench forms opened, by the same edition.

    Entries made before charts were kept with them say nothing.
    """
    now, told = charts_now(desk), {}
    kept = [entry for kind in ("paper issued", "bench form opened") for entry in desk.entries(kind, **{"class": class_id})]
    for entry in sorted(kept, key=lambda one: one.number, reverse=True):
        for name, then in entry.body.get("charts", {}).items():
            if name in now and name not in told and now[name]["edition"] == then["edition"] and now[name]["sha256"] != then["sha256"]:
                told[name] = (f"Chart {name} has changed since {entry.at[:10]} without a new edition: it is still called edition {then['edition']}. "
                              "Have its owner check it, and give it an edition.")
    return [told[name] for name in sorted(told)]


def other_charts(desk: Desk, paper_id: str, form_id: str) -> str:
    """A sentence where a paper was set with other charts, or other editions, than its bench form was opened with; else nothing."""
    then, there = (next((entry.body.get("charts", {}) for entry in desk.entries(kind, **which)), {})
                   for kind, which in (("paper issued", {"paper_id": paper_id}), ("bench form opened", {"form_id": form_id})))
    named = [{name: chart["edition"] for name, chart in kept.items()} for kept in (then, there)]
    if not all(named) or named[0] == named[1]:
        return ""
    paper, bench = (", ".join(f"{name} edition {edition}" for name, edition in sorted(one.items())) for one in named)
    return f"The paper was set with other charts ({paper}) than the bench form was opened with ({bench})."
