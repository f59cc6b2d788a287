"""The values, still figures and tables of lesson 09: what the gate's brace, the curtain's wire and the kayak's legs may carry."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache, lru_cache

from rigcalc._order_shapes import read_weight
from rigcalc.assembly import job_sheet
from rigcalc.cable import BreakingForce, breaking_force
from rigcalc.figures.limit_steps import Cut, Glass, limit_steps
from rigcalc.notebook import lesson
from rigcalc.notebook.course.hangings import GATE_CLASS, SHEET_DAY, gate, kayak, kit, pull, system
from rigcalc.notebook.teaching import of_order, of_the_scene, sample_shop, shop_for_teaching
from rigcalc.published import published_factors
from rigcalc.questions import Stream
from rigcalc.questions.registry_proof import limit_as_stated_n
from rigcalc.rating import EFFICIENCY, EFFICIENCY_CONDITIONS, DesignFactor, Efficiency, class_of_use, efficiency, required_breaking_force_n, working_load_limit_n
from rigcalc.reference import constant
from rigcalc.sleeve import chart_line
from rigcalc.spans import uniform_load_span
from rigcalc.units import LBF_N, exact, read_force_n, read_length_mm, show_force

__all__ = ["CLASS_WORDS", "ORDERS", "Rated", "covers", "designers_factor", "down", "factor_words", "force_of", "fine", "glass_of", "opening", "order_words",
           "published_table", "pull_words", "rated", "reels", "rounding_still", "safe_side", "scope_stream", "share_conditions", "share_of", "shop_factor", "sleeve_for", "stands_in", "stated_n", "steps_still", "strength_up",
           "three_limits", "waved", "whose_words", "worked_curtain", "worked_gate", "worked_kayak"]

ORDERS = {"gate": "01_gate_brace", "curtain": "04_glasshouse_curtain", "kayak": "05_kayak_bridle", "engine": "09_engine_hoist"}
TITLES = {"gate": "gate brace", "curtain": "curtain wire", "kayak": "kayak bridle", "engine": "engine hoist"}
CLASS_WORDS = {"nobody": "nobody can be there", "people": "people can be there", "refused": "refused, whatever the sum says"}
STANDS_IN = "Your shop file has no design factor with an owner, so the invented sample's stands here."
ORDERS_INVENTED = ("The orders of this page and their sheets are INVENTED: the sample shop's, whose factor, {theirs}, was set by {owner}. "
                   "Your shop's factor stands where a question speaks of the shop's, in “What may it carry?” and on the links.")


# --- shop, factors, reels -------------------------------------------------------------------------

def shop_factor() -> DesignFactor:
    """The design factor of the shop that the lessons speak of; the sample's where it has none."""
    shop = shop_for_teaching()[0]
    return shop.factors[0] if shop.factors else sample_shop().factors[0]


def stands_in() -> str:
    """A sentence where the sample's factor stands in, else nothing."""
    return "" if shop_for_teaching()[0].factors else STANDS_IN


@cache
def _scene_shop(unit: str):
    return replace(sample_shop(), system=unit)


def scene_shop():
    """The invented sample shop, whose orders the page works, in the units of the shop in force."""
    return _scene_shop(system())


def scene_reel(order: str):
    """The invented shop's reel that an order is made from."""
    return scene_shop().reel(of_order(ORDERS[order]).reel)


def designers_factor(order: str = "05_kayak_bridle") -> DesignFactor:
    """The factor of an order's named designer, for that order only."""
    one = of_order(order)
    return DesignFactor(float(one.designer_factor), one.designer, one.designer_date, "this order only")


def factor_words(factor: DesignFactor) -> str:
    """A factor with its owner, day and scope."""
    return f"{factor.value:g}, set by {factor.owner} on {factor.set_on} for {factor.scope}"


def reels() -> tuple:
    """The reels of the shop, traps and all."""
    return shop_for_teaching()[0].reels


def force_of(reel) -> BreakingForce:
    """The breaking force of a reel, the lower of table and certificate; refused for what no sleeve fits."""
    return breaking_force(reel.size, reel.construction, reel.metal, reel.certificate_n, reel.certificate)


def sleeve_for(reel) -> str:
    """The sleeve metal that suits a reel's cable."""
    return "zinc-plated copper" if reel.metal == "stainless" else "aluminium"


def share_of(reel, shop=None) -> Efficiency:
    """What an eye on that reel's cable is taken to hold, with the sleeve metal that suits it; less where that shop's chart, else the chart in force, gives less."""
    sleeve = sleeve_for(reel)
    share = efficiency(sleeve, reel.metal, reel.construction)
    given = [row.efficiency for chart in (shop or shop_for_teaching()[0]).charts if chart.sleeve_metal == sleeve for row in chart.rows if row.size == reel.size and row.efficiency]
    if given and min(given) < share.value:
        return Efficiency(min(given), share.conditions, "", "chart in force", "the chart in force", sleeve_metal=sleeve, cable_metal=reel.metal)
    return share


def down(force_n: float) -> str:
    """A limit as it is stated: rounded down, in the shop's own unit alone."""
    return show_force(force_n, system(), "down").partition(" [")[0]


def fine(force_n: float, direction: str = "down") -> str:
    """The same to a tenth of the shop's step, so that what the rounding takes is seen."""
    return show_force(force_n, system(), direction, step="0.1" if system() == "US" else "0.001" if force_n >= 1000 else "0.1").partition(" [")[0]


# --- what must be covered -------------------------------------------------------------------------

@lru_cache(maxsize=8)
def covers(order: str) -> tuple[tuple[str, float], ...]:
    """What the limit of an order's cable has to cover: names and forces in N."""
    one = of_order(ORDERS[order])
    if order == "gate":
        return (("the pull in the brace", gate()[3].tension_n), ("the greatest tension", float(read_force_n(one.greatest_tension).value)))
    if order == "kayak":
        return (("the pull in the short leg", max(leg.tension_n for leg in kayak().legs)), ("the design load", float(read_force_n(one.designer_load).value)))
    span, sag = (float(read_length_mm(text).value) for text in (one.span, one.sag))
    wire = uniform_load_span(span, sag, float(read_weight(one.weight, one.gravity)[0]))
    return (("the pull at the end of the wire", max(wire.left_n, wire.right_n)),)


# --- the steps ------------------------------------------------------------------------------------

@dataclass(frozen=True)
class Rated:
    """A cable worked from breaking force to stated limit: the cuts as drawn, the glass, and the limit in N before and after rounding."""

    cuts: tuple[Cut, ...]
    glass: Glass
    limit_n: float
    stated_n: float


def stated_n(breaking_n: float, share: float, factor: float) -> float:
    """A limit in N as a tag states it: down to a whole lbf, or to 10 N from 1 kN and a whole N below."""
    return limit_as_stated_n(breaking_n, share, factor, system())


def rated(reel, factor: DesignFactor, shop=None) -> Rated:
    """The steps of one reel of the shop in force, or of another, under one factor; refused for a reel that no sleeve fits or that has no strength."""
    force, share = force_of(reel), share_of(reel, shop)
    at_eye = float(exact(force.force_n) * exact(share.value))
    limit_n = working_load_limit_n(force.force_n, share.value, factor.value)
    stated = stated_n(force.force_n, share.value, factor.value)
    higher = max(one for one in (force.from_table_n, force.from_certificate_n) if one)
    papers = ", ".join(f"{name} {pull_words(one)}" for name, one in (("table", force.from_table_n), ("certificate", force.from_certificate_n)) if one)
    cuts = (Cut("the lower of table and certificate", force.force_n, higher - force.force_n, pull_words(force.force_n), pull_words(higher - force.force_n) if higher > force.force_n else "", papers),
            Cut("times the efficiency of the eyes, once", at_eye, force.force_n - at_eye, down(at_eye), pull_words(force.force_n - at_eye), f"{share.value:.2f}: {share.how_known}"),
            Cut("divided by the design factor, once", limit_n, at_eye - limit_n, fine(limit_n), pull_words(at_eye - limit_n), f"{factor.value:g}, {factor.owner}"))
    return Rated(cuts, glass_of(limit_n, stated), limit_n, stated)


def pull_words(force_n: float) -> str:
    """A force to the nearest step, in the shop's own unit alone."""
    return show_force(force_n, system()).partition(" [")[0]


def glass_of(limit_n: float, tag_n: float) -> Glass:
    """The rounding of one limit, six marks of the step around it."""
    step = float(LBF_N) if system() == "US" else 10.0 if limit_n >= 1000 else 1.0
    marks = tuple(pull_words(tag_n + step * place) for place in (-2, -1, 0, 1, 2, 3))
    return Glass(marks, 2 + (limit_n - tag_n) / step, 2.0, fine(limit_n), down(tag_n))


def _of_order(order: str) -> Rated:
    return rated(scene_reel(order), scene_shop().factors[0], scene_shop())


def steps_still() -> lesson.Block:
    """The gate's reel, every step worked with the invented shop's factor; waiting for whoever has said which step takes most."""
    found, reel, factor = _of_order("gate"), scene_reel("gate"), scene_shop().factors[0]
    return lesson.answer(limit_steps(found.cuts, len(found.cuts) + 1, found.glass, of_the_scene(f"{reel.label}. Factor {factor_words(factor)}. Strengths: {force_of(reel).source}.")))


def rounding_still() -> lesson.Block:
    """The curtain's core: a limit that is no whole step; waiting for whoever has said what goes on the tag."""
    found = _of_order("curtain")
    return lesson.answer(limit_steps(found.cuts[2:], 2, found.glass, of_the_scene(f"{scene_reel('curtain').label}: its last two steps.")))


def strength_up() -> lesson.Block:
    """The other way round: a load asks for a strength, and that is rounded up."""
    load = covers("gate")[1][1]
    share, factor = share_of(scene_reel("gate"), scene_shop()).value, scene_shop().factors[0]
    need = required_breaking_force_n(load, share, factor.value)
    rows = (("the gate's greatest tension", pull(load)), (f"times the factor, {factor.value:g} ({factor.owner}), divided by {share:.2f}", fine(need, "up")),
            ("the breaking force to ask for, rounded up", show_force(need, system(), "up")))
    return lesson.answer(lesson.table(("Step", "gives"), rows, of_the_scene("Strength to ask for")))


SAFE_SIDE = (  # a figure of a job sheet, what it is and where that is taught, whether it may at most or must at least be
    ("a shackle's mark in kN, read in lbf", "what the shackle may carry", "may"),
    ("the load on a leg", "what one cable of several must hold (lesson 10)", "must"),
    ("broken wires allowed", "of all wires, so many may be broken (lesson 07)", "may"),
    ("the tail", "cable that must show beyond the sleeve (lesson 05)", "must"),
    ("the warmest place", "how warm it may become there (further down)", "may"),
    ("the pin of a soft eye", "how thick its hook must be (further down)", "must"),
    ("the length of a soft eye", "how long it must be, sleeve to pin (further down)", "must"))
WAYS = {"may": "down: the most that may be", "must": "up: the least that must be"}


def safe_side() -> lesson.Block:
    """Other figures of a job sheet, and folded, which way each is rounded."""
    asked = lesson.table(("Figure", "what it is"), [row[:2] for row in SAFE_SIDE], "Figures that come out between two steps")
    told = lesson.when_said(lesson.table(("Rounded", "figures"), [(words, "; ".join(name for name, _, one in SAFE_SIDE if one == kind)) for kind, words in WAYS.items()]))
    return lesson.Block(asked.html + told.html, f"{asked.text}\n{told.text}")


BECAUSE = ("on a coat the sleeve grips plastic; of other constructions the figure does not speak", "the metals must suit each other, and a larger sleeve does not close on the cable",
           "too few grip too little, too many thin the sleeve", "a crimp that the gauge refuses is not closed", "a buried tail leaves part of the sleeve gripping one leg")


def share_conditions() -> lesson.Block:
    """What the efficiency of an eye rests on; folded until the reader has named it."""
    share = constant("eye efficiency")
    return lesson.when_said(lesson.table(("Only with", "because"), tuple(zip(EFFICIENCY_CONDITIONS, BECAUSE, strict=True)), f"All of these together: then {float(share.value):.0%} ({share.how_known})"))



# --- worked examples ------------------------------------------------------------------------------

@cache
def _sheet_in(name: str, unit: str):
    return job_sheet(of_order(name), _scene_shop(unit), SHEET_DAY)


def _sheet(name: str):
    return _sheet_in(name, system())


def _worked(order: str, caption: str) -> lesson.Block:
    sheet, shop = _sheet(ORDERS[order]), scene_shop()
    first, eyes, divided = sheet.limit_working
    factor = designers_factor() if of_order(ORDERS[order]).designer else shop.factors[0]
    before = working_load_limit_n(force_of(shop.reel(of_order(ORDERS[order]).reel)).force_n, float(EFFICIENCY), factor.value)
    steps = [("breaking force, the lower of two papers", first.removeprefix("breaking force ")), (eyes.partition(": ")[0], eyes.partition(": ")[2]),
             (divided.rpartition(": ")[0], show_force(before, shop.system, "down", "0.1" if shop.system == "US" or before < 1000 else "0.001")),
             ("rounded down, as on the tag", sheet.limit_shown), ("and so", sheet.limit_notes[0])]
    return lesson.answer(lesson.table(("Step", "gives"), steps, of_the_scene(caption)))


def worked_gate() -> lesson.Block:
    """Order 1, from its job sheet."""
    return _worked("gate", "The gate's brace (INVENTED order 1; table strength printed in AC 43.13-1B)")


def worked_curtain() -> lesson.Block:
    """Order 4, from its job sheet."""
    return _worked("curtain", "The curtain's wire, by its bare core (INVENTED order 4)")


def worked_kayak() -> lesson.Block:
    """Order 5, from its job sheet."""
    return _worked("kayak", "The kayak's legs (INVENTED order 5)")


def three_limits() -> lesson.Block:
    """Cable, factor and its owner, limit of the three orders."""
    rows = []
    for order in ("gate", "curtain", "kayak"):
        sheet, one = _sheet(ORDERS[order]), of_order(ORDERS[order])
        factor = designers_factor() if one.designer else scene_shop().factors[0]
        rows.append((TITLES[order], scene_reel(order).label, f"{factor.value:g}", f"{factor.owner}: {factor.scope}", sheet.limit_shown))
    return lesson.when_said(lesson.table(("Job", "Reel", "Factor", "Whose, for what", "May carry"), rows, of_the_scene("Three jobs, three limits (INVENTED orders 1, 4, 5)")))


# --- whose factor ---------------------------------------------------------------------------------

def order_words(order: str) -> lesson.Block:
    """An order as its letter tells it, no class and no factor said."""
    one = of_order(ORDERS[order])
    rows = [("what", one.what), ("where", one.where), ("if it lets go", one.near)]
    if order != "engine":
        rows += [(f"must cover {name}", pull(force)) for name, force in covers(order)]
    if one.temperature:
        rows.append(("how cold, how warm", one.temperature))
    return lesson.table(("The letter", "says"), rows, f"Order {one.number} (INVENTED)")


def whose_words() -> lesson.Block:
    """The four orders as they ask; and folded, for when it has been said, the class of use and whose factor that asks for."""
    rows, asked = [], []
    for order in ORDERS:
        one = of_order(ORDERS[order])
        kind = class_of_use(one.use)
        whose = {"nobody": f"the shop's own: {factor_words(scene_shop().factors[0])}", "people": f"only a named designer's: {one.designer}, {one.designer_factor}, with design load {one.designer_load}",
                 "refused": f"nobody's; {kind.ask}"}[kind.name]
        asked.append((one.what, one.near))
        rows.append((one.what, GATE_CLASS if order == "gate" else CLASS_WORDS[kind.name], whose))
    letters = lesson.table(("Job", "If it lets go"), asked, "Four letters (INVENTED orders 1, 4, 5, 9)")
    return lesson.asked_then_told(letters, lesson.table(("Job", "Class of use", "Whose factor"), rows, of_the_scene("Class first, then factor")))


WAVED = ("wire rope sling, general lifting", "pendant and guy lines, Alberta", "winch lines, Alberta", "suspension rope of a non-adjustable scaffold", "builders' hoist, international code of practice",
         "rigging that raises or lowers a worker, Alberta")


def waved() -> tuple:
    """The published factors that the page shows, each written for other equipment."""
    return tuple(one for one in published_factors() if one.equipment in WAVED)


def scope_stream() -> Stream:
    """Where the question on the scope takes its first orders from: not those that the page has told of just above it."""
    return Stream(bytes([35]) * 16, "lesson 09, the shop's scope")


def published_table() -> lesson.Block:
    """Some factors that rule books give to other equipment, each said to be not for this work."""
    rows = [(one.equipment, f"{one.factor:g}", one.note, one.source, one.how_known, one.said) for one in waved()]
    return lesson.table(("Written for", "Factor", "Its note", "From", "Known", "Here"), rows, "For comparison only", numbers=(1,))


def opening() -> lesson.Block:
    """The chart in force and whether the shop is invented."""
    shop, note = shop_for_teaching()
    theirs = sample_shop().factors[0]
    scene = "" if shop.invented else ORDERS_INVENTED.format(theirs=f"{theirs.value:g}", owner=theirs.owner)
    return lesson.opening_lines(chart_line(kit().chart), shop.invented, note, tuple(filter(None, (scene, stands_in()))))
