"""The whole search: thousands of draws of every family. `python tests/questions/sweep.py [DRAWS] [SHOP.toml] [FAMILY ...]`.

The tests take what is cheap; this takes minutes. It prints a line for each family and ends with 1 when one fails.
"""

from __future__ import annotations

import sys

from rigcalc.errors import Refusal
from rigcalc.questions import Stream, load_families, mark
from rigcalc.questions.giveaways import found_in
from rigcalc.questions.report import drawn_pairs, shown
from rigcalc.questions.simulated import guesses_told, missteps_told
from rigcalc.questions.typed import right_typed
from rigcalc.shop import load_shop, sample_shop_path
from told_apart import told_as_another

DRAWS = 3000
SECRET = bytes(range(100, 132))


def faults(family, shop, draws: int) -> list[str]:
    """What a family fails at in so many draws."""
    pairs = drawn_pairs(family, shop, draws, SECRET)
    wrong = sum(not mark(key, question, right_typed(question, key))["right"] for question, key in pairs)
    alike = sum(len({one["text"] for one in asked["options"]}) < len(asked["options"])
                for question, _ in pairs for asked in [question, *question["boxes"]])
    found = [f"{wrong} right answers marked wrong"] * bool(wrong) + [f"{alike} draws with two options alike"] * bool(alike)
    if len({shown(question) for question, _ in pairs}) < 30 and not family.few_texts:
        found.append("fewer than 30 questions and no reason in few_texts")
    gained = [] if family.kind == "number" else found_in(pairs)
    found += [f"'{name}' brings {share:.2f}, chance {chance:.2f}" for name, share, chance in gained[:3]]
    told, guessed = missteps_told(pairs[:draws // 10]), guesses_told(pairs[:draws // 10], Stream(SECRET, "guesses"))
    if told.share < 0.95:
        found.append(f"missteps told in {told.share:.3f}")
    if guessed.tried and guessed.share > 0.10:
        found.append(f"{guessed.share:.3f} of guesses told a misstep")
    found += [f"'{misstep}' told as '{other}' {often} times" for (misstep, other), often in told_as_another(family, shop, draws // 10, SECRET).most_common(3)]
    return found


def main(arguments: list[str]) -> int:
    draws = int(arguments[0]) if arguments and arguments[0].isdigit() else DRAWS
    files = [one for one in arguments if one.endswith(".toml")]
    names = [one for one in arguments if not one.isdigit() and one not in files]
    shop, failed = load_shop(files[0] if files else sample_shop_path()), 0
    for name, family in load_families().items():
        if names and name not in names:
            continue
        try:
            found = faults(family, shop, draws)
        except Refusal as wrong:
            found = [str(wrong)]
        failed += bool(found)
        print(f"{name}: {'; '.join(found) or 'well'}", flush=True)
    print(f"{failed} families failed, {draws} draws each")
    return 1 if failed else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
