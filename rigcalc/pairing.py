"""Which sleeve metal may go on which cable, in which service: the verdict and its reasons."""

from __future__ import annotations

from rigcalc._records import record
from rigcalc.cable import METALS
from rigcalc.errors import Refusal
from rigcalc.reference import table
from rigcalc.sleeve import SLEEVE_METALS

__all__ = ["COATED_NOTE", "SERVICES", "Verdict", "pairing"]

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
    Errors: `Refusal` for an unknown word. The maker's chart governs. Why it is so, part by part: `galvanic.pair_reasons`.
    Source: common practice and this workbook's judgement, row by row in reference/pairing.csv; galvanizers' guidance and
    HSE SIM 05/2002/18 where a row names them.

    >>> verdict = pairing("stainless", "aluminium", "dry")
    >>> verdict.allowed, verdict.verdict
    (False, 'never')
    """
    for word, known, what in ((cable_metal, METALS, "cable metal"), (sleeve_metal, SLEEVE_METALS, "sleeve metal"),
                              (service, SERVICES, "service")):
        if word not in known:
            raise Refusal(f"the {what} {word!r:.40}", ", ".join(known), "take the word from the label or the order")
    row = next(row for row in table("pairing")
               if (row.cable, row.sleeve, row.service) == (cable_metal, sleeve_metal, service))
    reasons = tuple(reason.strip() for reason in row.reasons.split("|"))
    if coated:
        reasons = (*reasons, COATED_NOTE)
    return Verdict(row.allowed == "yes", row.verdict, row.inspect_months, reasons, row.cited, row.how_known)


