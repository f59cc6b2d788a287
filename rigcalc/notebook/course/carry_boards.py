"""Lesson 09, the first live figure: an order's class, whose factor, which reel, and then the limit, a piece lost at each step."""

from __future__ import annotations

from rigcalc.cable import breaking_force
from rigcalc.errors import Refusal
from rigcalc.figures.limit_steps import limit_steps
from rigcalc.notebook.board import Board, Control, Said, View, button, choice
from rigcalc.notebook.course.hangings import pull, system
from rigcalc.notebook.course.limits import (CLASS_WORDS, ORDERS, covers, designers_factor, down, factor_words, force_of, order_words, rated, reels,
                                            share_of, sleeve_for, shop_factor, stands_in)
from rigcalc.notebook.teaching import of_order, of_the_scene, shop_for_teaching
from rigcalc.published import published_factors
from rigcalc.rating import class_of_use, limit
from rigcalc.units import read_force_n

__all__ = ["carry_step", "carry_view", "what_may_it_carry"]

START = {"order": "gate", "class": "", "owner": "", "reel": "", "step": 0}
STRONG = ("3/8", "7x19", "galvanised")  # a cable that no load of these orders is too much for: the factor alone is judged with it
ASKED = ("Two papers may speak of one reel. Which figure counts? Say it, then take the step.",
         "The sleeves hold a part of the cable. How often is that counted, with an eye at each end? Say it, then step.",
         "Now the factor. Divided or multiplied? Say what is left, then step.",
         "Last: the tag. Up, down or to the nearest? Say the figure, then step.")


def _order(state: dict):
    return of_order(ORDERS[state["order"]])


def _factors() -> dict[str, tuple[str, object]]:
    """Whom one could ask for a factor: key -> (words, factor)."""
    book = next(one for one in published_factors() if one.equipment == "wire rope sling, general lifting")
    kayak, lantern = designers_factor(), designers_factor("03_lantern")
    return {"shop": (f"the shop's, {shop_factor().value:g} ({shop_factor().owner})", shop_factor()),
            "kayak": (f"{kayak.owner}'s for the kayak, {kayak.value:g}", kayak),
            "lantern": (f"{lantern.owner}'s for the lantern, {lantern.value:g}", lantern),
            "book": (f"a rule book's for slings, {book.factor:g}", book), "none": ("nobody has set one", None)}


def _loads(state: dict) -> dict:
    """What `limit` is told of the order."""
    one = _order(state)
    more = {"designer": one.designer, "design_load_n": float(read_force_n(one.designer_load).value)} if one.designer else {"design_load_n": covers(state["order"])[0][1]}
    if one.tightened not in (None, "no"):
        more |= {"tightened": True, "greatest_tension_n": float(read_force_n(one.greatest_tension).value), "tension_check": one.tension_check}
    return more


def _check_factor(state: dict, key: str) -> None:
    """Refused unless that factor is for this order."""
    factor, one = _factors()[key][1], _order(state)
    if key == "book":
        raise Refusal(f"a rule book's factor, {factor.factor:g}, for {factor.equipment}", "a factor that a named person set, with date and scope",
                      f"leave it in its book: it is {factor.said}")
    if key in ("kayak", "lantern") and not one.designer:
        raise Refusal(f"{factor.owner}'s factor for order {one.number}", "the shop's own factor, or one of a designer named on this order",
                      "leave it where it belongs: it was set for another order")
    limit(breaking_force(*STRONG), factor, one.use, order=f"order {one.number}", **_loads(state))


def carry_view(state: dict) -> View:
    """What is seen: the letter, and once class, factor and reel are settled, the steps."""
    controls: list[Control] = [choice("order", "Order", [("1: gate", "gate"), ("4: curtain", "curtain"), ("5: kayak", "kayak"), ("9: engine", "engine")], state["order"]),
                               choice("class", "If it lets go", [("not said yet", ""), *((words, key) for key, words in CLASS_WORDS.items())], state["class"])]
    kind = class_of_use(_order(state).use)
    under = order_words(state["order"])
    if state["class"] != kind.name:
        told = Said("Class of use first. Read the letter: who can be under it, beside it, in its fall or whip? What is it for?") if not state["class"] else \
            Said(f"Read it again: {_order(state).what}; {_order(state).near}. {'In doubt the safer class is right; here the letter leaves none. ' if (state['class'], kind.name) == ('people', 'nobody') else ''}That is another class.", "no")
        return View((), tuple(controls), (told,), under)
    if kind.name == "refused":
        return View((), tuple(controls), (Said(f"Right: refused, whatever the sum says. No factor, no reel, no figure. {kind.ask[0].upper()}{kind.ask[1:]}.", "ok"),), under)
    controls.append(choice("owner", "Whose factor", [("not said yet", ""), *((words, key) for key, (words, _) in _factors().items())], state["owner"]))
    if not state["owner"]:
        return View((), tuple(controls), (Said(f"Right: {CLASS_WORDS[kind.name]}. Now: whose factor may this order carry?", "ok"),), under)
    factor = _factors()[state["owner"]][1]
    try:
        _check_factor(state, state["owner"])
    except Refusal as refusal:
        return View((), tuple(controls), (Said(str(refusal), "no"), Said("No factor, so no reel and no limit. Whose factor may this order carry?")), under)
    controls.append(choice("reel", "Reel", [("not taken yet", ""), *((reel.label, reel.id) for reel in reels())], state["reel"], as_list=True))
    if not state["reel"]:
        return View((), tuple(controls), (Said(f"The factor is {factor_words(factor)}. {stands_in()} Take a reel.".replace("  ", " "), "ok"),), under)
    reel = next(one for one in reels() if one.id == state["reel"])
    try:
        found = rated(reel, factor)
    except Refusal as refusal:
        return View((), tuple(controls), (Said(f"{reel.label}: {refusal}", "no"), Said("So no limit stands for this order. Take another reel.")), under)
    last = len(found.cuts) + 1
    controls += [button("on", "Take the next step", state["step"] < last), button("again", "Begin the steps again", second=True)]
    figure = limit_steps(found.cuts, state["step"], found.glass, f"{reel.label}; factor {factor_words(factor)}.")
    said = (Said(ASKED[state["step"]]),) if state["step"] < last else _verdict(state, reel, factor, found)
    return View((figure,), tuple(controls), said, under)


def _verdict(state: dict, reel, factor, found) -> tuple[Said, ...]:
    share = share_of(reel)
    notes = tuple(Said(words) for words in (f"The coat counts for nothing: {reel.size} is the cable, {reel.coating_to} its coat." if reel.coating_to else "", share.note) if words)
    greatest = max(force for _, force in covers(state["order"]))
    try:
        one = limit(force_of(reel), factor, _order(state).use, share=share, order=f"order {_order(state).number}", system=system(), **_loads(state))
    except Refusal as refusal:
        return (Said(str(refusal), "no"), *notes)
    shop, sleeve = shop_for_teaching()[0], sleeve_for(reel)
    if not any(chart.kind == "maker" and chart.sleeve_metal == sleeve and row.size == reel.size for chart in shop.charts for row in chart.rows):
        return (Said(f"The sum gives {down(one.stated_n)}, and it stands on no tag: no chart of the shop has {reel.size} in {sleeve} sleeves, so nothing is pressed from this reel.", "no"), *notes)
    words = " and ".join(f"{name}, {pull(force).partition(' [')[0]}" for name, force in covers(state["order"]))
    return (Said(f"{down(one.stated_n)} stands on the tag. It covers {words}.", "ok"),
            Said(f"The greatest of these is {greatest / found.stated_n:.0%} of the limit. {factor.owner} answers for the factor."), *notes)


def carry_step(state: dict, name: str, value=None) -> dict:
    """An order, a class, an owner, a reel or a step is chosen; what is refused is shown as refused, and no figure stands beside it."""
    if name == "order":
        return START | {"order": value}
    if name == "class":
        return state | {"class": value, "owner": "", "reel": "", "step": 0}
    if name == "owner":
        return state | {"owner": value, "step": min(state["step"], 2)} if value else state | {"owner": "", "reel": "", "step": 0}
    if name == "reel":
        return state | {"reel": value, "step": 0}
    if name == "again":
        return state | {"step": 0}
    return state | {"step": state["step"] + 1}


def what_may_it_carry() -> Board:
    """From an order to what its cable may carry, class of use first."""
    return Board(of_the_scene("What may it carry?", mark="INVENTED orders, as if they came to your shop"), START, carry_view, carry_step)
