"""What legs, braces and spans share: numbers and points taken with care, and every way in which cables that only pull can balance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

from rigcalc._given import listed, said
from rigcalc.errors import Refusal
from rigcalc.units import exact

__all__ = ["balance", "finite", "governing", "least_energy", "named", "point", "positive", "ways_to_balance"]

Vector = tuple[float, ...]


def finite(value: object, what: str) -> float:
    """A plain number, as float; `what` says in words what it is, with its unit.

    Range: up to a thousand million either way (mm, N). Errors: `Refusal` for anything else, true and false included.
    Source: workbook judgement: nothing that hangs from hand-pressed cable is larger.

    >>> finite(12, "the sag in mm")
    12.0
    """
    try:
        number = value if value.__class__ is float and math.isfinite(value) else float(exact(value))
    except Refusal:
        raise Refusal(f"{said(value)} for {what}", "a finite number", "give it as a number") from None
    if abs(number) > 1e9:
        raise Refusal(f"{number:g} for {what}", "at most 1e9 either way", "look at the unit again")
    return number


def positive(value: object, what: str) -> float:
    """A plain number above zero, as float; `what` says in words what it is, with its unit.

    Range: a thousand-millionth to a thousand million (mm, N). Errors: `Refusal` for anything else.
    Source: workbook judgement.

    >>> positive(300, "the load in N")
    300.0
    """
    number = finite(value, what)
    if number < 1e-9:
        raise Refusal(f"{number:g} for {what}", "a number above zero", "measure it again")
    return number


def point(value: object, numbers: int, what: str) -> Vector:
    """A point of two or three numbers in mm, as floats.

    Errors: `Refusal` unless `value` is a list or tuple of just so many finite numbers. Source: geometry.

    >>> point((0, 1200, -600), 3, "the load point")
    (0.0, 1200.0, -600.0)
    """
    if isinstance(value, str) or not isinstance(value, Sequence) or len(value) != numbers:
        raise Refusal(f"{said(value)} for {what}", f"{numbers} numbers in mm", "give the point again")
    return tuple(finite(part, f"{what}, in mm") for part in value)


def named(names: Sequence[str] | None, count: int, what: str) -> tuple[str, ...]:
    """Names for legs or stays: those given, one each and all different, or A, B, C and so on.

    Errors: `Refusal` for too few, too many or doubled names. Source: workbook judgement.

    >>> named(None, 3, "legs")
    ('A', 'B', 'C')
    """
    if names is None:
        return tuple("ABCDEFGHIJKLMNOPQRSTUVWXYZ"[:count])
    names = (names,) if isinstance(names, str) else listed(names, f"the names of {count} {what}")
    good = all(isinstance(name, str) and name.strip() for name in names)
    if not good or len(set(names)) != len(names) or len(names) != count:
        raise Refusal(f"the names {said(names)} for {count} {what}", "one name each, all different", "name each of them")
    return tuple(names)


def governing(names: Sequence[str], forces: Sequence[float]) -> tuple[str, ...]:
    """Whoever carries most: all that are level with the largest to a thousand-millionth.

    Source: workbook judgement: a tie names everybody in it.

    >>> governing(("A", "B", "C"), (5, 7, 7))
    ('B', 'C')
    """
    most = max(forces)
    return tuple(name for name, force in zip(names, forces) if force >= most * (1 - 1e-9))


def balance(columns: Sequence[Vector], target: Vector, give: Sequence[float]) -> tuple[list[float], int] | None:
    """Forces along the columns that add up to the target, of all such the ones with the least energy, and the rank.

    `give` is how far each cable gives under one unit of force; the energy is half the sum of give x force squared.
    None when no forces, pulling or pushing, add up to the target to a millionth of it.
    Source: statics; least energy by Lagrange's multipliers: force = column . m / give, (sum of column column' / give) m = target.

    >>> balance([(1, 0), (1, 4)], (3, 4), [1, 1])
    ([2.0, 1.0], 2)
    """
    size = len(target)
    matrix = [[math.fsum(column[i] * column[j] / g for column, g in zip(columns, give)) for j in range(size)] for i in range(size)]
    forces, left = [0.0] * len(columns), list(target)
    for _ in range(3):  # the second and third pass only take away what rounding left
        multipliers, rank = _solved(matrix, left)
        forces = [force + math.fsum(c * m for c, m in zip(column, multipliers)) / g
                  for force, column, g in zip(forces, columns, give)]
        left = [t - math.fsum(force * column[i] for force, column in zip(forces, columns)) for i, t in enumerate(target)]
    return (forces, rank) if math.hypot(*left) <= 1e-6 * math.hypot(*target) else None


def _solved(matrix: list[list[float]], right: list[float]) -> tuple[list[float], int]:
    """A symmetric system by elimination with the largest pivot; directions without any stiffness are left at nought."""
    rows = [[*line, value] for line, value in zip(matrix, right)]
    size, order = len(right), []
    largest = max(abs(part) for line in matrix for part in line)
    for _ in range(size):
        free = [i for i in range(size) if i not in order]
        pivot = max(free, key=lambda i: abs(rows[i][i]))
        if abs(rows[pivot][pivot]) <= 1e-12 * largest:
            break
        order.append(pivot)
        for i in range(size):
            if i != pivot:
                share = rows[i][pivot] / rows[pivot][pivot]
                rows[i] = [a - share * b for a, b in zip(rows[i], rows[pivot])]
    return [rows[i][size] / rows[i][i] if i in order else 0.0 for i in range(size)], len(order)


def _pulling(columns: Sequence[Vector], target: Vector, give: Sequence[float], chosen: tuple[int, ...]) -> tuple[Vector, int] | None:
    """The forces when only the chosen ones carry, all of them pulling; None when they cannot."""
    found = balance([columns[i] for i in chosen], target, [give[i] for i in chosen])
    if found is None or min(found[0]) <= 1e-12 * max(found[0]):
        return None
    forces = dict(zip(chosen, found[0]))
    return tuple(forces.get(i, 0.0) for i in range(len(columns))), found[1]


def ways_to_balance(columns: Sequence[Vector], target: Vector) -> dict[tuple[int, ...], Vector]:
    """Every smallest group of cables that can carry the whole target by pulling alone, with the forces of all.

    Every other state of balance without give is a mixture of these, so the most that one cable can get stands among them.
    Source: statics: the corners of the set of balanced forces that are not negative.

    >>> ways_to_balance([(1, 0), (1, 4), (1, 2)], (2, 4))
    {(2,): (0.0, 0.0, 2.0), (0, 1): (1.0, 1.0, 0.0)}
    """
    found = {}
    for count in range(1, len(target) + 1):
        for chosen in combinations(range(len(columns)), count):
            way = _pulling(columns, target, [1.0] * len(columns), chosen)
            if way and way[1] == count:
                found[chosen] = way[0]
    return found


def least_energy(columns: Sequence[Vector], target: Vector, give: Sequence[float]) -> Vector | None:
    """The forces in elastic cables that only pull, each just straight before the load comes; None when nothing balances.

    `give` as in `balance`. Source: statics: least energy among forces that are not negative, found by trying every group.

    >>> least_energy([(1, 0), (1, 4), (1, 2)], (3, 6), [1, 1, 1])
    (1.0, 1.0, 1.0)
    """
    best = None
    for count in range(1, len(columns) + 1):
        for chosen in combinations(range(len(columns)), count):
            way = _pulling(columns, target, give, chosen)
            energy = math.fsum(g * force * force for g, force in zip(give, way[0])) if way else math.inf
            if way and (best is None or energy < best[0]):
                best = (energy, way[0])
    return best and best[1]
