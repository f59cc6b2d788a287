"""Which sleeve metal may go on which cable, in which service: the verdict and its reasons."""

from __future__ import annotations

from rigcalc._given import among, of_kind, said, texts, yes_or_no
from rigcalc._records import record
from rigcalc.cable import METALS
from rigcalc.errors import Refusal
from rigcalc.reference import table
from rigcalc.sleeve import SLEEVE_METALS

__all__ = ["COATED_NOTE", "SERVICES", "Verdict", "pairing", "refuse_from_memory", "refuse_never"]

SERVICES = ("dry", "outdoor", "marine", "immersed")
COATED_NOTE = ("A coat does not change the pair: judge the metal of the bare cable, strip both legs under the sleeve, "
               "and look more often, because nothing can be seen under the coat.")


@record
class Verdict:
    """May this pair be used here, how often it is looked at, and why."""

    allowed: bool
    verdict: str
    inspect_months: int | None
    reasons: tuple[str, ...]
    source: str
    how_known: str


def pairing(cable_metal: str, sleeve_metal: str, service: str, coated: bool = False) -> Verdict:
    """The verdict on a cable and a sleeve metal in a service, with its reasons, the deciding one first.

    Parameters: cable metal (galvanised, stainless, bright); sleeve metal; service: dry, outdoor, marine, or
    immersed (immersed, or pool-hall air); whether the cable is coated.
    Errors: `Refusal` for an unknown word, or coated neither True nor False. The maker's chart governs. Why it is so, part by part: `galvanic.pair_reasons`.
    Source: common practice and this workbook's judgement, row by row in reference/pairing.csv; galvanizers' guidance and
    HSE SIM 05/2002/18 where a row names them.

    >>> verdict = pairing("stainless", "aluminium", "dry")
    >>> verdict.allowed, verdict.verdict
    (False, 'never')
    """
    for word, known, what in ((cable_metal, METALS, "cable metal"), (sleeve_metal, SLEEVE_METALS, "sleeve metal"),
                              (service, SERVICES, "service")):
        if not among(word, known):
            raise Refusal(f"the {what} {said(word)}", ", ".join(known), "take the word from the label or the order")
    yes_or_no(coated, "whether the cable is coated")
    row = next(row for row in table("pairing")
               if (row.cable, row.sleeve, row.service) == (cable_metal, sleeve_metal, service))
    reasons = tuple(reason.strip() for reason in row.reasons.split("|"))
    if coated:
        reasons = (*reasons, COATED_NOTE)
    return Verdict(row.allowed == "yes", row.verdict, row.inspect_months, reasons, row.cited, row.how_known)


def refuse_never(cable_metal: str, sleeve_metal: str) -> None:
    """Refuses a pair that no service allows: whatever it would hold when new, nothing is rated with it.

    Parameters: cable metal and sleeve metal, in the words of `pairing`. Errors: `Refusal` for such a pair, and for an unknown word.
    Source: the verdicts of `pairing`.

    >>> refuse_never("galvanised", "aluminium")
    """
    verdicts = [pairing(cable_metal, sleeve_metal, service) for service in SERVICES]
    if not any(verdict.allowed for verdict in verdicts):
        raise Refusal(f"a {sleeve_metal} sleeve on {cable_metal} cable ({verdicts[0].verdict})", "a pair that some service allows",
                      f"do not press it: {verdicts[0].reasons[0][:1].lower()}{verdicts[0].reasons[0][1:]}")


def refuse_from_memory(verdict: Verdict, real: bool, makers_word: str = "") -> None:
    """Refuses real work on a verdict that rests on memory: it teaches, and the maker is asked.

    Parameters: the verdict; whether the piece is for real work (its chart is not invented); the sleeve maker's own word on the pair,
    by document and edition, if the shop has it.
    Errors: `Refusal` for a pair that is allowed from memory alone, in real work. Source: workbook judgement: what is from memory accepts nothing.

    >>> refuse_from_memory(pairing("stainless", "tin-plated copper", "dry"), real=False)
    """
    texts(of_kind(verdict, Verdict, "a verdict"), "verdict how_known", "a verdict")
    yes_or_no(verdict.allowed, "whether the pair is allowed")
    told = isinstance(makers_word, str) and any(sign.isalnum() for sign in makers_word)
    if yes_or_no(real, "whether the work is real") and verdict.allowed and verdict.how_known == "from memory" and not told:
        raise Refusal(f"a pair whose verdict, {verdict.verdict}, is from memory", "a pair that was read of, or the sleeve maker's own word on it",
                      "ask the maker, and enter the document and its edition")
