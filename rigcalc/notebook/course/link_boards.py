"""Lesson 09, the second live figure: point at the link that governs a drawn line, then change fittings and angle."""

from __future__ import annotations

import math
from functools import lru_cache

from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.line_of_links import DrawnLink, line_of_links
from rigcalc.fittings import Fitting, Weakest, fitting_limit_n, weakest_link
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Control, Said, View, choice, pick, slider, tick
from rigcalc.notebook.course.hangings import kit
from rigcalc.notebook.course.limits import down, force_of, pull_words, reels, share_of, shop_factor, stands_in, stated_n
from rigcalc.notebook.teaching import of_the_scene, sample_shop, shop_for_teaching

__all__ = ["find_the_weakest", "line_still", "links_step", "links_view", "links_worked"]

KINDS = {"anchor": ("eyebolt", "eye screw", "wall anchor"), "shackle": ("shackle",), "turnbuckle": ("turnbuckle",), "hook": ("snap hook",)}
LABELS = {"anchor": "At the wall", "shackle": "Shackle", "turnbuckle": "Turnbuckle", "hook": "Snap hook"}
CABLE = "cable at its eyes"
MOST_ANGLE, STEP, ASLANT = 90, 5, 20  # degrees; the live line begins aslant, the still one in line


@lru_cache(maxsize=4)
def _shelf(digest: str) -> tuple[dict[str, tuple[Fitting, ...]], str]:
    shop, words = shop_for_teaching()[0], ""
    if len(shop.fittings) < 3:
        shop, words = sample_shop(), "Your shop file has fewer than three fittings, so the invented sample's shelf stands here."
    return {place: tuple(one.fitting for one in shop.fittings if one.fitting.kind in kinds) for place, kinds in KINDS.items()}, words


def shelf() -> dict[str, tuple[Fitting, ...]]:
    """The fittings on the shelf, by their place in the line."""
    return _shelf(shop_for_teaching()[0].digest)[0]


def cables() -> dict[str, float]:
    """The inch reels with their limit in N by the shop's factor: id -> limit."""
    return _cables(shop_for_teaching()[0].digest)


@lru_cache(maxsize=4)
def _cables(digest: str) -> dict[str, float]:
    found = {}
    for reel in reels():
        try:
            found[reel.id] = stated_n(force_of(reel).force_n, share_of(reel).value, shop_factor().value)
        except Refusal:
            continue
    return found


def start() -> dict:
    """The line as it begins: one of each, pulled in line."""
    reel = next((one.id for one in reels() if one.size == kit().size and one.id in cables()), next(iter(cables())))
    return {"cable": reel, "angle": 0, "pointed": "", "worn": False} | {place: len(rows) - 1 if rows else -1 for place, rows in shelf().items()}


def _fitting(state: dict, place: str) -> Fitting | None:
    rows, at = shelf()[place], state[place]
    if at < 0:
        return None
    one = rows[at]
    return Fitting(one.kind, one.name, None, one.angle_chart, "worn off") if place == "shackle" and state["worn"] else one


def _in_line(state: dict) -> dict[str, Fitting]:
    return {place: one for place in KINDS if (one := _fitting(state, place)) is not None}


def _slanted(one: Fitting) -> bool:
    return one.kind != "wall anchor"


def _angle(state: dict) -> float:
    return math.radians(state["angle"])


def weakest(state: dict) -> Weakest:
    """The weakest link of the line as it stands; refused where a mark or a chart's row is missing."""
    return weakest_link(cables()[state["cable"]], [(one, _angle(state)) if place == "anchor" and _slanted(one) else one for place, one in _in_line(state).items()])


def governing(state: dict) -> tuple[str, ...]:
    """The places that govern."""
    found = weakest(state)
    names = {CABLE: "cable"} | {one.called: place for place, one in _in_line(state).items()}
    return tuple(names[name] for name in (found.governs, *found.ties))


def _mark(one: Fitting) -> str:
    if one.limit_n is None:
        return "mark worn off"
    rows = one.angle_chart.rows if one.angle_chart else ()
    return "\n".join([f"WLL {pull_words(one.limit_n)}", *(f"to {math.degrees(angle):.0f}°: {pull_words(limit)}" for angle, limit in rows)])


def _drawn(state: dict, told: bool) -> tuple[DrawnLink, ...]:
    limit = cables()[state["cable"]]
    label = next(reel.label for reel in reels() if reel.id == state["cable"])
    govern = governing(state) if told else ()
    links = []
    for place in ("anchor", "shackle", "cable", "turnbuckle", "hook"):
        one = _in_line(state).get(place)
        if place == "cable":
            links.append(DrawnLink("cable", label, f"limit {down(limit)}", limit if told else None, down(limit) if told else "", place in govern))
        elif one is not None:
            own = fitting_limit_n(one, _angle(state) if place == "anchor" and _slanted(one) else 0.0) if told else None
            links.append(DrawnLink(place, one.name, _mark(one), own, down(own) if told else "", place in govern))
    return tuple(links)


def _figure(state: dict, told: bool, live: bool = True) -> Figure:
    anchor = _fitting(state, "anchor")
    caption = f"Cable limits: shop's factor {shop_factor().value:g}. Marks are working limits as they stand. {_shelf(shop_for_teaching()[0].digest)[1]} {stands_in()}"
    return line_of_links(_drawn(state, told), state["angle"] if anchor is not None and _slanted(anchor) else None, state["pointed"],
                         (lambda shape, place, words: pick(shape, "pointed", place, words, place == state["pointed"])) if live else None, " ".join(caption.split()))


def line_still() -> Figure:
    """The line as it begins, nothing told."""
    return _figure(start(), False, live=False)


def links_worked() -> lesson.Block:
    """The line as it begins, its limits side by side and the least."""
    found = weakest(start())
    rows = [(name, down(force), "governs" if name in (found.governs, *found.ties) else "") for name, force in found.links]
    return lesson.when_said(lesson.table(("Link", "may carry", ""), rows, "The least of them is the line's limit"))


def links_view(state: dict) -> View:
    """The line, its controls, and what the last act came to."""
    controls: list[Control] = [choice("cable", "Cable", [(next(reel.label for reel in reels() if reel.id == key), key) for key in cables()], state["cable"], as_list=True)]
    for place, rows in shelf().items():
        if rows:
            controls.append(choice(place, LABELS[place], [("left out", -1), *((f"{one.kind}: {one.name}" if place == "anchor" else one.name, at) for at, one in enumerate(rows))], state[place]))
    anchor = _fitting(state, "anchor")
    if anchor is not None and _slanted(anchor):
        controls.append(slider("angle", f"Pull off the line of the {anchor.kind}", 0, MOST_ANGLE, STEP, state["angle"], f"{state['angle']}°"))
    if _fitting(state, "shackle") is not None:
        controls.append(tick("worn", "The shackle's mark is worn off", state["worn"]))
    try:
        govern = governing(state)
    except Refusal as refusal:
        return View((_figure(state, False),), tuple(controls), (Said(str(refusal), "no"), Said("No limit for this line until that is mended.")))
    told = state["pointed"] in govern
    return View((_figure(state, told),), tuple(controls), _said(state, govern, told))


def _said(state: dict, govern: tuple[str, ...], told: bool) -> tuple[Said, ...]:
    if not state["pointed"]:
        return (Said("Read the marks, and the angle. Point at the link that sets the limit of the whole line."),)
    links = {link.place: link for link in _drawn(state, True)}
    one = links[state["pointed"]]
    if not told:
        return (Said(f"{one.name} may carry {one.limit} as it stands here. Another link may carry less. Look again, at the angle too.", "no"),)
    ties = [links[place].name for place in govern if place != state["pointed"]]
    said = [Said(f"Yes: {one.name}, {one.limit}. So the whole line may carry {one.limit}, however strong the rest is.", "ok")]
    if ties:
        said.append(Said(f"{' and '.join(ties)} may carry just as much."))
    anchor = _fitting(state, "anchor")
    turned = "anchor" in govern and anchor is not None and fitting_limit_n(anchor, 0.0) > weakest(state).limit_n
    return (*said, Said(f"Now make the line carry more: change that link{', or turn the pull into line' if turned else ''}. Changing another one gains nothing."))


def links_step(state: dict, name: str, value=None) -> dict:
    """A link is pointed at, or a fitting, the cable or the angle is changed: then somebody has to look again."""
    if name == "pointed":
        if value != "cable" and _fitting(state, value) is None:
            raise Refusal("a link that is not in the line", "one that is", "put it in first")
        return state | {"pointed": value}
    return state | {name: int(value) if name == "angle" else value, "pointed": ""}


def find_the_weakest() -> Board:
    """Point at the link that governs; then change the line."""
    return Board(of_the_scene("Which link governs?", sample_shop() if _shelf(shop_for_teaching()[0].digest)[1] else shop_for_teaching()[0], "INVENTED fittings, not yours"), start() | {"angle": ASLANT}, links_view, links_step)
