"""Three invented deliveries of lesson 02 whose label, certificate and wall chart disagree: sign for a figure, or send it back."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from functools import lru_cache

from rigcalc.cable import BreakingForce, breaking_force, en_breaking_force_n
from rigcalc.errors import Refusal
from rigcalc.figures import Figure
from rigcalc.figures.reel_papers import Paper, papers_of_a_delivery, signed_against_true
from rigcalc.notebook import lesson
from rigcalc.notebook.board import Board, Said, View, button, choice, pick
from rigcalc.notebook.course.hangings import system
from rigcalc.notebook.course.plainly import NotYet
from rigcalc.notebook.teaching import of_the_scene
from rigcalc.questions.draws import Stream
from rigcalc.reference import table
from rigcalc.units import INCH_MM, LBF_N, read_force_n, show_force, size_inches

__all__ = ["Delivery", "PAPERS", "counts", "deliveries_still", "force_words", "least", "least_words", "own_stream", "scene_still", "sign_step", "sign_three", "sign_view", "three", "which_figure"]

PAPERS = ("label", "certificate", "chart")
FIRST = "6c6573736f6e2030322c2074687265"
INVENTED = "INVENTED reels, lots and certificates; wall chart: AC 43.13-1B, Table 7-3, p 7-28."
GRADE = 1770


def force_words(force_n: float) -> str:
    """A force in both systems, the shop's own first.

    >>> force_words(float(LBF_N) * 2000).endswith("]")
    True
    """
    return show_force(force_n, system())


def short(force_n: float) -> str:
    """The same in the shop's own system alone."""
    return force_words(force_n).partition(" [")[0]


def least_words(force_n: float) -> str:
    """A least force worked out by a factor, in both systems: what is over a whole step is dropped, as in the exercises.

    >>> from rigcalc.units import LBF_N
    >>> "5185 lbf" in least_words(float(LBF_N) * 5185.6) or system() == "SI"
    True
    """
    return show_force(force_n, system(), "down")


def least(force_n: float) -> str:
    """The same in the shop's own system alone."""
    return least_words(force_n).partition(" [")[0]


@dataclass(frozen=True)
class Delivery:
    """A reel as it stands at the door: what its label says, what its certificate says (None where none came), and which trap it is."""

    kind: str
    size: str
    construction: str
    metal: str
    lot: str
    claim: str
    stated: str | None = None
    certificate_lot: str = ""
    system: str = ""


def counts(delivery: Delivery) -> BreakingForce:
    """The figure that may be signed for: the lower of table and certificate, in N.

    Errors: `Refusal` where the certificate is another lot's or states no force, and where neither speaks.
    Source: `rigcalc.cable.breaking_force`.
    """
    if delivery.stated is None:
        return breaking_force(delivery.size, delivery.construction, delivery.metal)
    if delivery.certificate_lot != delivery.lot:
        raise Refusal(f"a certificate of lot {delivery.certificate_lot} with a reel of lot {delivery.lot}", "the certificate of this very lot",
                      "send it back until label and certificate name one lot")
    return breaking_force(delivery.size, delivery.construction, delivery.metal, float(read_force_n(delivery.stated).value), "the reel's certificate")


def _as_printed(force_n: float) -> str:
    """A force as a paper prints it: to ten lbf, or in kN."""
    return show_force(round(force_n / float(LBF_N), -1) * float(LBF_N), system()).partition(" [")[0]


def _by_factor(size: str, construction: str) -> str:
    return least(en_breaking_force_n(construction, float(size_inches(size) * INCH_MM), GRADE).force_n)


SIZES = ("1/8", "5/32", "3/16", "1/4", "5/16")
LOWER, OTHER, BACK = ("by the factor", "a little lower"), ("higher", "no certificate", "no row"), ("another lot", "nothing", "a mass")


def _table_n(size: str, metal: str) -> float:
    return breaking_force(size, "7x19", metal).force_n


def _made(kind: str, size: str, stream) -> Delivery:
    lot, metal = f"L-{2710 + stream.below(80)}", stream.pick(("galvanised", "stainless"))
    claim = _as_printed(_table_n(size, "galvanised") * (1.15 + 0.05 * stream.below(4)))
    one = {"size": size, "construction": "7x19", "metal": metal, "lot": lot, "claim": claim, "certificate_lot": lot}
    if kind == "by the factor":
        return Delivery(kind, **one | {"metal": "galvanised"}, stated=_by_factor(size, "7x19"), system=f"by EN 12385-4; wire grade {GRADE}")
    if kind in ("a little lower", "higher", "another lot"):
        part = {"a little lower": 0.86, "higher": 1.06, "another lot": 1.03}[kind] + 0.01 * stream.below(4)
        one["certificate_lot"] = f"L-{2600 + stream.below(80)}" if kind == "another lot" else lot
        return Delivery(kind, **one, stated=_as_printed(_table_n(size, metal) * part), system="by pulling a piece")
    if kind == "a mass":
        kilograms = round(_table_n(size, metal) * 0.8 / 9.80665, -1)
        return Delivery(kind, **one, stated=f"{kilograms:.0f} kg", system="by pulling a piece")
    if kind == "no row":
        return Delivery(kind, **one | {"construction": "7x7"}, stated=_as_printed(_table_n(size, metal) * 0.91), system="by pulling a piece")
    if kind == "nothing":
        return Delivery(kind, **one | stream.pick(({"size": "7/64"}, {"size": "9/64"}, {"construction": "7x7"}, {"size": "6 mm"})))
    return Delivery(kind, **one)


@lru_cache(maxsize=8)
def _three(fresh: str, shown_in: str) -> tuple[Delivery, ...]:
    stream = Stream(bytes.fromhex(fresh), "three deliveries")
    sizes = stream.shuffled(SIZES)
    kinds = stream.shuffled((stream.pick(LOWER), stream.pick(OTHER), stream.pick(BACK)))
    return tuple(_made(kind, size, stream) for kind, size in zip(kinds, sizes))


def own_stream() -> Stream:
    """Where the question that is done unaided takes its first figures from: not those that the page has asked before."""
    return Stream(bytes.fromhex(FIRST), "lesson 02, no steps")


def three(fresh: str = FIRST) -> tuple[Delivery, ...]:
    """The three deliveries of a draw: one whose certificate is the lower, one other to sign for, one to send back."""
    return _three(fresh, system())


def _rows(delivery: Delivery):
    """The rows that the chart has at this size and on either side of it, thinnest first."""
    all_rows = sorted(table("cable_strength"), key=lambda row: (size_inches(row.size), len(row.construction)))
    try:
        inches = float(size_inches(delivery.size))
    except Refusal:
        inches = float(delivery.size.partition(" ")[0]) / float(INCH_MM)
    below = [row for row in all_rows if float(size_inches(row.size)) < inches - 1e-9]
    own = [row for row in all_rows if abs(float(size_inches(row.size)) - inches) < 1e-9]
    above = [row for row in all_rows if float(size_inches(row.size)) > inches + 1e-9]
    return [*below[-1:], *own, *above[:1]]


def _cell(lbf: int | None) -> str:
    return "none" if lbf is None else short(float(lbf * LBF_N)).partition(" ")[0]


def papers(delivery: Delivery, read) -> tuple[Paper, ...]:
    """The three papers of a delivery; `read` names those that lie face up."""
    label = (f"{delivery.size} {delivery.construction}", delivery.metal, f"lot {delivery.lot}", f"“holds {delivery.claim}”", "INVENTED")
    if delivery.stated is None:
        certificate = ("none came with it",)
    else:
        certificate = (f"lot {delivery.certificate_lot}", "least breaking force", delivery.stated, *delivery.system.split("; "), "INVENTED")
    unit = "lbf" if system() == "US" else "kN"
    chart = (f"{unit}: galv. | stainless", *(f"{row.size} {row.construction}: {_cell(row.galvanised_lbf)} | {_cell(row.stainless_lbf)}" for row in _rows(delivery)),
             "no rows between these")
    return (Paper("label", "Reel label", label, "label" in read), Paper("certificate", "Certificate", certificate, "certificate" in read),
            Paper("chart", "Wall chart", chart, "chart" in read))


def offers(delivery: Delivery) -> list[tuple[str, str, float | None]]:
    """What can be signed for: (words, key, force in N; None for sending it back)."""
    found = [(f"label: {delivery.claim}", "label", float(read_force_n(delivery.claim).value))]
    if delivery.stated is not None and delivery.kind != "a mass":
        found.append((f"certificate: {delivery.stated}", "certificate", float(read_force_n(delivery.stated).value)))
    if delivery.kind == "a mass":
        number = delivery.stated.partition(" ")[0]
        unit = "lbf" if system() == "US" else "daN"
        found.append((f"certificate, read as {number} {unit}", "certificate", float(number) * (float(LBF_N) if unit == "lbf" else 10.0)))
    for row in _rows(delivery):
        own = row.size == delivery.size and row.construction == delivery.construction
        for metal in ("galvanised", "stainless") if own else (delivery.metal,):
            lbf = getattr(row, f"{metal}_lbf")
            if lbf is not None:
                force = float(lbf * LBF_N)
                found.append((f"chart, {row.size} {row.construction} {metal}: {short(force)}", f"chart {row.size} {row.construction} {metal}", force))
    return [*found, ("send it back", "back", None)]


def right_key(delivery: Delivery) -> str:
    """Which of the offers is right."""
    try:
        found = counts(delivery)
    except Refusal:
        return "back"
    return "certificate" if found.system == "reel certificate" else f"chart {delivery.size} {delivery.construction} {delivery.metal}"


EDGE = " Signed for as where it may part: nothing hangs on it by itself."
WHY = {
    "by the factor": "The certificate is the lower. Its maker worked by another system, and this reel is that maker's.",
    "a little lower": "The certificate is the lower of the two. It speaks of this very reel.",
    "higher": "The chart is the lower. A better certificate lets nobody go above the chart.",
    "no certificate": "No certificate came, but the chart has this size, construction and metal. Its figure counts, and the sheet names the chart.",
    "no row": "The chart has no row for this construction. The certificate alone speaks, and it is this lot's.",
    "another lot": "The certificate is another reel's. Nobody knows which of the two papers is wrong.",
    "nothing": "No certificate, and no row of its own. A row beside it is another cable's.",
    "a mass": "Its certificate states a mass. A mass is no force until somebody says with what g, and worked so it would lie below the chart.",
}


# --- The first answer -----------------------------------------------------------------------------

def scene() -> Delivery:
    """The reel of the scene: 1/8 as the gate's order first thought of it, its certificate worked by the EN factor."""
    return Delivery("by the factor", "1/8", "7x19", "galvanised", "L-2709", _as_printed(_table_n("1/8", "galvanised") * 1.2), _by_factor("1/8", "7x19"), "L-2709",
                    f"by EN 12385-4; wire grade {GRADE}")


def scene_still() -> Figure:
    """The three papers of the scene, all face up."""
    return papers_of_a_delivery("A new reel for order 1", papers(scene(), PAPERS), caption=INVENTED)


def first_view(state: dict) -> View:
    """Which figure goes on the sheet; what was taken pulls beside what the papers stand for."""
    one, found = scene(), counts(scene())
    middle = (found.from_table_n + found.from_certificate_n) / 2
    ways = {"label": float(read_force_n(one.claim).value), "chart": found.from_table_n, "middle": middle, "certificate": found.from_certificate_n, "": None}
    words = {"label": "the label's", "chart": "the wall chart's", "middle": "the middle of chart and certificate", "certificate": "the certificate's"}
    options = [("I have not said yet", ""), *((f"{words[key]}: {short(ways[key])}", key) for key in words)]
    control = choice("taken", "On the sheet goes", options, state["taken"])
    if not state["taken"]:
        return View((), (control,), (Said("Choose one. No sums."),))
    taken = ways[state["taken"]]
    figure = signed_against_true(taken, short(taken), found.force_n, short(found.force_n), "1/8 7x19 galvanised", INVENTED)
    if state["taken"] == "certificate":
        said = Said(f"Yes: the lower of chart and certificate counts, {force_words(found.force_n)}. Why the two differ so much comes further down. It is the edge where the wire may part, and no load to hang.", "ok")
    else:
        said = Said(f"That is {100 * (taken / found.force_n - 1):.0f} % more than this reel's own certificate stands for. Nobody promised you that.", "no")
    return View((figure,), (control,), (said,))


def which_figure() -> Board:
    """One reel, three figures: which goes on the sheet?"""
    return Board(of_the_scene("Which breaking force goes on the sheet?"), {"taken": ""}, first_view)


# --- Three deliveries -----------------------------------------------------------------------------

def _start(fresh: str = FIRST) -> dict:
    return {"fresh": fresh, "at": 0, "read": [[], [], []], "signed": ["", "", ""], "on": ""}


def deliveries_still() -> Figure:
    """The first delivery with its papers face down."""
    return papers_of_a_delivery("Delivery 1 of 3", papers(three()[0], ()), caption=INVENTED)


def sign_view(state: dict) -> View:
    """The papers of one delivery; once signed, what that pull does to its wire, and why."""
    at = state["at"]
    one, signed, read = three(state["fresh"])[at], state["signed"][at], state["read"][at]
    figures = [papers_of_a_delivery(f"Delivery {at + 1} of 3", papers(one, read), lambda shape, value, words: pick(shape, "paper", value, words, value == state["on"]),
                                    state["on"], INVENTED)]
    controls = [choice("at", "Delivery", [(str(number + 1), number) for number in range(3)], at)]
    if len(read) == 3:
        options = [("not signed yet", ""), *((words, key) for words, key, _ in offers(one))]
        controls.append(choice("sign", "You sign for", options, signed, as_list=True))
    else:
        controls.append(button("sign_blind", "Sign now"))
    controls.append(button("fresh", "Three other deliveries", second=True))
    if not signed:
        left = [name for name in PAPERS if name not in read]
        said = (Said(f"Read the papers: point at each. Still face down: {', '.join(left)}." if left else "All three are read. Sign for one figure, or send the reel back."),)
    else:
        force = next(force for _, key, force in offers(one) if key == signed)
        figure, said = _pulled(one, signed, force)
        figures.insert(0, figure)
    return View(tuple(figures), tuple(controls), (*said, *_tally(state)))


def _pulled(one: Delivery, signed: str, force: float | None) -> tuple[Figure, tuple[Said, ...]]:
    try:
        true = counts(one)
    except Refusal:
        true = None
    figure = signed_against_true(force, "sent back:\nnothing is pulled" if force is None else short(force), true.force_n if true else None,
                                 short(true.force_n) if true else "no figure:\nsend it back", f"{one.size} {one.construction} {one.metal}", INVENTED)
    if signed == right_key(one):
        return figure, (Said(f"{'Sent back, and rightly' if true is None else f'Signed for {force_words(true.force_n)}, and rightly'}. {WHY[one.kind]}{'' if true is None else EDGE}", "ok"),)
    if true is None:
        return figure, (Said(f"You signed. {WHY[one.kind]} Send it back.", "no"),)
    if force is None:
        return figure, (Said(f"Sent back without need: {force_words(true.force_n)} can be signed for. {WHY[one.kind]}", "no"),)
    if force > true.force_n:
        return figure, (Said(f"{100 * (force / true.force_n - 1):.0f} % more than the papers stand for: {force_words(true.force_n)}. {WHY[one.kind]}", "no"),)
    return figure, (Said(f"Less than its papers stand for, by luck: that is not its figure. Right is {force_words(true.force_n)}. {WHY[one.kind]}", "no"),)


def _tally(state: dict) -> tuple[Said, ...]:
    if not all(state["signed"]):
        return ()
    good = sum(key == right_key(one) for key, one in zip(state["signed"], three(state["fresh"])))
    return (Said(f"All three are dealt with: {good} of 3 rightly."),)


def sign_step(state: dict, name: str, value=None) -> dict:
    """A paper is read, a delivery taken up, a figure signed for; three others are drawn."""
    at = state["at"]
    if name == "fresh":
        return _start(secrets.token_bytes(16).hex())
    if name == "at":
        return state | {"at": value, "on": ""}
    if name == "paper":
        read = [list(one) for one in state["read"]]
        read[at] = [paper for paper in PAPERS if paper in (*read[at], value)]
        return state | {"read": read, "on": value}
    if len(state["read"][at]) < 3:
        raise NotYet(f"Only {len(state['read'][at])} of 3 papers are read. Point at each, the label, the certificate and the wall chart, then sign.")
    return state | {"signed": [value if number == at else key for number, key in enumerate(state["signed"])]}


def sign_three() -> Board:
    """Three deliveries: read the papers, then sign or send back."""
    return Board(of_the_scene("Three deliveries at the door"), _start(), sign_view, sign_step)


def four_rules() -> lesson.Block:
    """What is done with each state of the papers."""
    rows = (("chart row and certificate of this lot", "the lower of the two"), ("certificate of this lot, no chart row", "the certificate"),
            ("chart row, no certificate", "the chart, with its name on the sheet"), ("neither", "refuse: send it back, ask for a certificate"),
            ("certificate of another lot, or without a force", "refuse until it is cleared up"), ("a figure on the label, or by telephone", "never counts"))
    return lesson.table(("What there is", "What is signed for"), rows, "Six states of the papers")
