"""A question made of statements judged anew: which of the very options that were shown are right by the corrected family.

Drawn again, a family whose statement moved from right to wrong would show other options. So nothing is drawn here: the kept values
fill the family's texts, and each option is looked up among its statements.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcalc.errors import Refusal
from rigcalc.questions import template
from rigcalc.questions.choosing import offered
from rigcalc.questions.choosing_several import _option as statement_option
from rigcalc.questions.drawing import _headed, _instruction
from rigcalc.questions.family import Family
from rigcalc.questions.instance import Instance, Option

__all__ = ["shown_again"]


def shown_again(family: Family, kept: Mapping[str, Any], texts: list[str], language: str = "en") -> Instance | None:
    """The question as it was shown, with what is right by the family as it is now; None where it cannot be told so.

    `kept` are the values as the key record has them, `texts` the options shown. Of one choice `right` is None where no option is
    right any more, of several choices it is empty then.

    Raises
    ------
    Refusal
        A statement that stands as right and as wrong, or one choice with two right options.
    """
    if not family.right or family.figure is not None:
        return None
    values = {name: value for name, value in kept.items() if name != "right"}
    system = values["system"]
    try:
        right, wrong = ({made.text: made for one in offered(family, values, pool) for made in [statement_option(one, values, system)]}
                        for pool in (family.right, family.wrong))
        ask, chart = (template.fill(words["en"], values, system) if words else None for words in (family.ask, family.chart))
    except (KeyError, TypeError, ValueError):  # the family names what was not drawn then
        return None
    if not all(text in right or text in wrong for text in texts):
        return None
    both = next((text for text in texts if text in right and text in wrong), None)
    if both is not None:
        raise Refusal(f"the statement '{both}', which stands as right and as wrong in the family '{family.id}'", "each statement once", "take one out")
    options = tuple(_option(family, right, wrong, text) for text in sorted(texts))
    places = tuple(place for place, one in enumerate(options) if one.text in right)
    said = values | {"right": "; ".join(options[place].text for place in places)}
    return Instance(
        family=family, system=system, values=said, text=ask or "", chart=_headed(chart) if chart is not None else None, figure=None,
        instruction=template.fill(family.instruction["en"], values, system) if family.instruction else _instruction(family),
        hint=template.fill(family.hint["en"], said, system), working=template.fill(family.working["en"], said, system),
        right=places if family.kind == "several choices" else _one(family, options, places), options=options, language=language)


def _option(family: Family, right: dict[str, Option], wrong: dict[str, Option], text: str) -> Option:
    """An option of one choice says nothing where it is right; one of several may say why it is left out wrongly."""
    return Option(text) if family.kind == "one choice" and text in right else right.get(text) or wrong[text]


def _one(family: Family, options: tuple[Option, ...], places: tuple[int, ...]) -> int | None:
    if len(places) > 1:
        raise Refusal(f"{len(places)} options that are right by the corrected family '{family.id}' ({'; '.join(options[at].text for at in places)})",
                      "one right option", "count a misstep as right too, or strike the question")
    return places[0] if places else None
