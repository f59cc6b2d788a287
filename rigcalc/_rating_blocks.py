"""The arrays behind `rate_many`: read, checked and worked in blocks that stay in the processor's cache."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from rigcalc import rating_arrays as one
from rigcalc._given import said
from rigcalc._records import record
from rigcalc._strength import most_of_a_circle_n
from rigcalc.cable import METALS, sizes
from rigcalc.errors import Refusal
from rigcalc.units import INCH_MM, size_inches

if TYPE_CHECKING:
    import numpy as np

__all__ = ["Batch"]

_MOST_FITTINGS = 100


@record
class Batch:
    """Arrays of one length: places in the list of cables, the cables' strengths in N, and what goes with each row.

    `most_n` is the most that a certificate can say, in N, where it alone speaks for a cable; None where a table speaks for each.
    """

    cables: tuple[tuple[str, str, str], ...]
    strengths_n: np.ndarray
    most_n: np.ndarray | None
    index: np.ndarray
    efficiency: np.ndarray
    factor: np.ndarray
    certificate_n: np.ndarray | None
    fittings_n: np.ndarray | None
    fitted: np.ndarray | None

    @classmethod
    def of(cls, size: Any, construction: Any, metal: Any, efficiency: Any, factor: Any, certificate_n: Any, fittings_n: Any,
           fitted: Any) -> Batch:
        """The arrays as given, or a `Refusal` for what is no array of numbers, or of another shape."""
        import numpy as np

        cables, index = _cables(size, construction, metal)
        count = len(index)
        known = one.strengths_n()
        # A size without a sleeve counts as no strength at all, so that no certificate speaks for it.
        strengths = np.array([np.nan if (force := known.get(cable, 0.0)) is None else force for cable in cables])
        silent = np.isnan(strengths)
        most = np.array([most_of_a_circle_n(float(size_inches(cable[0]) * INCH_MM)) for cable in cables]) if silent.any() else None
        fittings = None if fittings_n is None else _fittings(fittings_n, count)
        return cls(cables, strengths, None if most is None else np.where(silent, most, np.inf), index, _numbers("efficiency", efficiency, count), _numbers("factor", factor, count),
                   None if certificate_n is None else _numbers("certificate_n", certificate_n, count, one_for_all=False),
                   fittings, None if fitted is None else _fitted(fitted, fittings))

    def alone(self, row: int, single: Callable) -> tuple[float, float, int]:
        """One row as `single` answers it; its `Refusal` with the row's number."""
        certificate = None if self.certificate_n is None else float(self.certificate_n[row])
        places = range(0) if self.fittings_n is None else range(self.fittings_n.shape[1])
        if self.fitted is not None:
            places = [place for place in places if self.fitted[row, place]]
        try:
            found = single(*self._cable(row), _at(self.efficiency, row), _at(self.factor, row),
                           None if certificate != certificate else certificate,
                           [float(self.fittings_n[row, place]) for place in places])
        except Refusal as refused:
            raise _of_row(row, refused) from None
        return found.limit_n, found.stated, places[found.governs - 1] + 1 if found.governs else 0

    def _cable(self, row: int) -> tuple[str, str, str]:
        place = int(self.index[row])
        if not 0 <= place < len(self.cables):
            raise Refusal(f"the size number {place}", f"0 to {len(self.cables) - 1}", "count in cable.sizes()")
        return self.cables[place]


def _at(figures: np.ndarray, row: int) -> float:
    return float(figures[row] if figures.ndim else figures)


def _of_row(row: int, refused: Refusal) -> Refusal:
    return Refusal(f"row {row}: {refused.given}", refused.accepted, refused.do)


# --- reading ------------------------------------------------------------------------------------

def _cables(size: Any, construction: Any, metal: Any) -> tuple[tuple, np.ndarray]:
    import numpy as np

    names = sizes()
    index = _places("size", size, names)
    built = [construction] if isinstance(construction, str) else list(one.CONSTRUCTIONS)
    metals = [metal] if isinstance(metal, str) else list(METALS)
    for what, given, accepted in (("construction", built, one.CONSTRUCTIONS), ("metal", metals, METALS)):
        if given[0] not in accepted:
            raise Refusal(f"the {what} {said(given[0])}", ", ".join(accepted), "read it from the reel's label")
    cables = tuple((name, b, m) for b in built for m in metals for name in names)
    if len(built) > 1 or len(metals) > 1:
        outside = (index < 0) | (index >= len(names))
        if outside.any():
            raise _of_row(int(np.argmax(outside)), Refusal("a size number outside the list", f"0 to {len(names) - 1}", "count in cable.sizes()"))
        places = [_places(what, given, known, len(index)) if len(known) > 1 else 0
                  for what, given, known in (("construction", construction, built), ("metal", metal, metals))]
        index = (places[0] * len(metals) + places[1]) * len(names) + index
    return cables, index


def _places(what: str, given: Any, known: Any, count: int | None = None) -> np.ndarray:
    """Names, or whole numbers, as places in the list of known names."""
    import numpy as np

    array = np.asarray(given)
    if array.ndim != 1 or count not in (None, len(array)):
        raise Refusal(f"{what} of shape {array.shape}", "one for each assembly, shape (assemblies,)", "give them in one row")
    if array.dtype.kind in "iu":
        return array.astype(np.intp, copy=False)
    place = {name: number for number, name in enumerate(known)}
    found = np.fromiter((place.get(name, -1) if isinstance(name, str) else -1 for name in array.tolist()), np.intp, len(array))
    if len(found) and found.min() < 0:
        row = int(np.argmax(found < 0))
        raise _of_row(row, Refusal(f"the {what} {said(array.tolist()[row])}", ", ".join(known), "take a name from the list"))
    return found


def _numbers(what: str, given: Any, count: int, one_for_all: bool = True) -> np.ndarray:
    import numpy as np

    array = np.asarray(given)
    if array.dtype.kind not in "iuf" or not (array.shape == (count,) or one_for_all and array.ndim == 0):
        raise Refusal(f"{what} of shape {array.shape} and kind {array.dtype}",
                      f"numbers, {'one for all or ' if one_for_all else ''}shape ({count},)", "give one number for each assembly")
    return np.ascontiguousarray(array, dtype=float) if array.ndim else array.astype(float)


def _fittings(given: Any, count: int) -> np.ndarray:
    import numpy as np

    array = np.asarray(given)
    if array.dtype.kind not in "iuf" or array.ndim != 2 or len(array) != count or array.shape[1] > _MOST_FITTINGS:
        raise Refusal(f"fitting limits of shape {array.shape} and kind {array.dtype}",
                      f"numbers, shape ({count}, fittings), at most {_MOST_FITTINGS} fittings", "give one row for each assembly")
    return array.astype(float, copy=False)


def _fitted(given: Any, fittings: np.ndarray | None) -> np.ndarray:
    import numpy as np

    array = np.asarray(given)
    if fittings is None or array.dtype.kind != "b" or array.shape != fittings.shape:
        raise Refusal(f"fitted of shape {array.shape} and kind {array.dtype}", "True or False, the shape of the fitting limits",
                      "say of each place whether there is a fitting")
    return array


# --- working ------------------------------------------------------------------------------------

def work(batch: Batch, unit_n: Fraction, step: Fraction | None, single: Callable, block: int = 8192) -> tuple:
    """Limits in N, stated limits and governing links of every row; `single` works one row alone, or refuses it.

    `step` is in the unit of `unit_n`; None is the tag's: 10 N from 1 kN, 1 N below. `block` rows are worked at once,
    so that they stay in the processor's cache.
    """
    import numpy as np

    one.share_and_factor(one._MOST if batch.efficiency.ndim else float(batch.efficiency),
                         2.0 if batch.factor.ndim else float(batch.factor))
    count = len(batch.index)
    limits, stated, governs = np.empty(count), np.empty(count), np.zeros(count, np.int8)
    spare = np.empty((2, block))
    for start in range(0, count, block):
        rows = slice(start, min(start + block, count))
        room = spare[:, :rows.stop - start]
        good = _limits(batch, rows, limits[rows], governs[rows], room)
        alone = _round(limits[rows], stated[rows], unit_n, step, room) if good else range(rows.stop - start)
        for row in alone:
            limits[start + row], stated[start + row], governs[start + row] = batch.alone(start + int(row), single)
    return limits, stated, governs


def _limits(batch: Batch, rows: slice, limits: np.ndarray, governs: np.ndarray, room: np.ndarray) -> bool:
    """The least limit in N and the link that governs, for one block; False where a row of it is out of range."""
    import numpy as np

    index = batch.index[rows]
    if index.min() < 0 or index.max() >= len(batch.cables):
        return False
    np.take(batch.strengths_n, index, out=limits, mode="clip")
    if batch.certificate_n is not None:
        certificate = batch.certificate_n[rows]
        if np.fmax.reduce(certificate) == np.inf or batch.most_n is not None and (certificate > batch.most_n[index]).any():
            return False
        np.fmin(limits, certificate, out=limits)
    for figures, least, most, work_in in ((batch.efficiency, 0, np.nextafter(one._MOST, 2), np.multiply), (batch.factor, 1, np.inf, np.divide)):
        part = figures[rows] if figures.ndim else figures
        if figures.ndim and not (part.min() > least and part.max() < most):
            return False
        work_in(limits, part, out=limits)
    return bool(limits.min() > 0) and (batch.fittings_n is None or _weakest(batch, rows, limits, governs, room))


def _weakest(batch: Batch, rows: slice, limits: np.ndarray, governs: np.ndarray, room: np.ndarray) -> bool:
    """The fittings of one block, compared as `rate` compares them; False where a mark is no force above zero."""
    import numpy as np

    fittings, most = batch.fittings_n[rows], np.inf
    if batch.fitted is not None:
        there = batch.fitted[rows]
        if (there & ~(fittings < np.inf)).any():
            return False
        fittings, most = np.where(there, fittings, np.inf), np.nan
    threshold, column = room
    np.multiply(limits, one.TIE, out=threshold)
    for place in range(fittings.shape[1]):
        np.copyto(column, fittings[:, place])
        if not column.min() > 0 or column.max() == most:
            return False
        less = column < threshold
        np.maximum(governs, less.view(np.int8) * np.int8(place + 1), out=governs)
        np.minimum(threshold, column, out=threshold)
        np.minimum(limits, column, out=limits)
    return True


def _round(limits: np.ndarray, stated: np.ndarray, unit_n: Fraction, step: Fraction | None, room: np.ndarray) -> np.ndarray | tuple:
    """Rounded down; the rows where floating point is not certain, or where a limit is less than one step."""
    import numpy as np

    times, parts = (np.where(limits >= 1000, 10.0, 1.0), 1) if step is None else (step.numerator, step.denominator)
    steps, over = room
    np.divide(limits, times if step is None else float(unit_n * step), out=steps)
    dust = float(steps.max()) * one.DUST
    np.add(steps, one.SLACK, out=steps)
    np.floor(steps, out=stated)
    np.subtract(steps, stated, out=over)
    certain = stated.min() >= 1 and over.min() > dust and over.max() < 1 - dust
    alone = () if certain else np.flatnonzero(~((stated >= 1) & (over > dust) & (over < 1 - dust)))
    if step is None or times != 1:
        np.multiply(stated, times, out=stated)
    if parts != 1:
        np.divide(stated, parts, out=stated)
    return alone
