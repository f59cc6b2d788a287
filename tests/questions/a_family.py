"""What the tests of questions share: the sample shop, the installed families, and a written family to break."""

from __future__ import annotations

from functools import lru_cache

from many import many

from rigcalc.questions import Stream, compose, draw, load_families
from rigcalc.shop import load_shop, sample_shop_path

SECRET = bytes(range(32))
DRAWS = many(24, 100)  # of each family; the thousands are in sweep.py


@lru_cache(maxsize=None)
def shop():
    return load_shop(sample_shop_path())


@lru_cache(maxsize=None)
def families():
    return load_families()


def instance(family_id: str, number: int, secret: bytes = SECRET):
    return draw(families()[family_id], Stream(secret, f"{family_id}/{number}"), shop())


def composed(family_id: str, number: int, secret: bytes = SECRET):
    """(question, key) of the numbered draw."""
    return compose(instance(family_id, number, secret), Stream(secret, f"{family_id}/{number}"), 1)


_MADE: dict[str, list] = {}


def pairs(family_id: str, draws: int = DRAWS):
    """Many draws of a family, each made once for all tests: (question, key)."""
    made = _MADE.setdefault(family_id, [])
    made += [composed(family_id, number) for number in range(len(made), draws)]
    return made[:draws]


def ids(kind: str | None = None) -> list[str]:
    return [name for name, family in families().items() if kind in (None, family.kind)]
