"""Several choices: which statements or items stand as options, and which of them are right.

From statements, how many are right and which places they take among all, ranked by length, is drawn before the
statements are, so that neither the long ones nor the short ones tell anything. A list of items stands as drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcalc.questions import template
from rigcalc.questions.choosing import offered
from rigcalc.questions.draws import Stream
from rigcalc.questions.family import Family, Statement
from rigcalc.questions.instance import Option, Slip
from rigcalc.questions.lengths import several_fault
from rigcalc.questions.undrawn import Undrawn

__all__ = ["Pattern", "choose_several", "drawn_pattern", "item_text"]

Pattern = tuple[bool, ...]
PICKS = 40  # how often statements are picked to fit the drawn places, before new values are drawn


def item_text(item: Any) -> str:
    """An item as it stands on the page: its text, or its field `en`."""
    return str(item["en"]) if isinstance(item, Mapping) else template.plain(item)


def drawn_pattern(family: Family, stream: Stream) -> Pattern:
    """For each option, from the shortest to the longest, whether it is to be a right one."""
    answer = family.answer
    if family.kind != "several choices" or not family.right:
        return ()
    least, most = answer.right_options
    right = least + stream.below(most - least + 1)
    return tuple(stream.shuffled([True] * right + [False] * (answer.options - right)))


def _option(one: Statement, values: Mapping[str, Any], system: str) -> Option:
    said = template.fill(one.feedback["en"], values, system) if one.feedback else None
    return Option(template.fill(one.en, values, system), one.id if said else None, said)


def _pick(rights: list[Option], wrongs: list[Option], pattern: Pattern, stream: Stream) -> list[tuple[Option, bool]]:
    count = sum(pattern)
    for _ in range(PICKS):
        mixed = [(one, True) for one in stream.shuffled(rights)[:count]]
        mixed += [(one, False) for one in stream.shuffled(wrongs)[:len(pattern) - count]]
        mixed.sort(key=lambda one: (len(one[0].text), one[0].text))
        if tuple(right for _, right in mixed) == pattern and len({one.text for one, _ in mixed}) == len(pattern):
            return mixed
    raise Undrawn(lambda: _no_places(rights, wrongs, pattern))


def _no_places(rights: list[Option], wrongs: list[Option], pattern: Pattern) -> Undrawn:
    """Why right and wrong statements cannot take the drawn places."""
    fault = several_fault([one.text for one in rights], [one.text for one in wrongs], pattern)
    return Undrawn(*fault[1:]) if fault else Undrawn("the right statements cannot take the drawn places")


def _from_statements(family: Family, values: Mapping[str, Any], system: str, stream: Stream,
                     pattern: Pattern) -> list[tuple[Option, bool]]:
    rights, wrongs = ([_option(one, values, system) for one in offered(family, values, pool)]
                      for pool in (family.right, family.wrong))
    true = {one.text for one in rights}
    wrongs = [one for one in wrongs if one.text not in true]
    if len(rights) < sum(pattern) or len(wrongs) < len(pattern) - sum(pattern):
        raise Undrawn("too few statements fit these values")
    return _pick(rights, wrongs, pattern, stream)


def _from_items(family: Family, values: Mapping[str, Any], system: str) -> list[tuple[Option, bool]]:
    answer, found = family.answer, []
    items = template.resolve(answer.items, values)
    rights = None if answer.true_if else {item_text(one) for one in template.resolve(answer.right, values)}
    for item in items:
        text = item_text(item)
        right = _is_true(item, answer.true_if, values) if rights is None else text in rights
        said = item.get("feedback") if isinstance(item, Mapping) else None
        told = template.fill(said, values, system) if said else None
        found.append((Option(text, str(item["id"]) if told and "id" in item else None, told), right))
    texts = [one.text for one, _ in found]
    if len(set(texts)) != len(texts):
        raise Undrawn("two items read alike")
    if rights is not None and not rights <= set(texts):
        raise Undrawn("a right item is not among the items")
    return found


def _is_true(item: Mapping[str, Any], true_if: Mapping[str, Any], values: Mapping[str, Any]) -> bool:
    for name, wanted in true_if.items():
        wanted = template.resolve(wanted, values)
        if item.get(name) not in (wanted if isinstance(wanted, list) else [wanted]):
            return False
    return True


def _slips(family: Family, values: Mapping[str, Any], system: str, work: Callable[..., Any],
           texts: list[str], right: set[str]) -> tuple[Slip, ...]:
    seen, kept = [right], []
    for misstep in family.misstep:
        chosen = {item_text(one) for one in work(misstep, values)}
        if not chosen or chosen in seen or not chosen <= set(texts):
            if misstep.where_it_shows:
                continue
            raise Undrawn(f"misstep '{misstep.id}' chooses {'what is right' if chosen == right else 'nothing, what is not there, or what another misstep chooses'}",
                          "a misstep that chooses a set of its own, of the items on the page", "mend its value, or write where_it_shows = true", misstep)
        seen.append(chosen)
        kept.append(Slip(misstep.id, template.fill(misstep.feedback["en"], values, system), row=tuple(sorted(chosen))))
    return tuple(kept)


def choose_several(family: Family, values: Mapping[str, Any], system: str, stream: Stream, pattern: Pattern,
                   work: Callable[..., Any]) -> dict[str, Any]:
    """The options, which of them are right, and the missteps; Undrawn when none or all would be right."""
    found = (_from_statements(family, values, system, stream, pattern) if family.right
             else _from_items(family, values, system))
    found.sort(key=lambda one: one[0].text)
    right = tuple(place for place, one in enumerate(found) if one[1])
    least, most = family.answer.right_options or (1, len(found) - 1)
    if not least <= len(right) <= most or len(found) > 8:
        raise Undrawn(f"{len(right)} of {len(found)} options are right")
    texts = [one.text for one, _ in found]
    rights = {texts[place] for place in right}
    return {"options": tuple(one for one, _ in found), "right": right, "shown_right": "; ".join(sorted(rights)),
            "slips": _slips(family, values, system, work, texts, rights)}
