"""Cut lists of 200 pieces in 12 lengths on 10 reels, against first-fit decreasing.

    python tests/benchmarks/measure_cut_list.py [how many orders]

One hundred random orders, each on ten reels of unequal length that together hold 1.02 to 1.10 times the length asked.
First-fit decreasing is written here, apart from the package, and may choose: reels as listed or longest first, whichever
comes out better. Better means, in this order: every piece is cut, fewer reels, less scrap.
"""

from __future__ import annotations

import random
import statistics
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent.parent))
ORDERS, PIECES, KINDS, REELS = 100, 200, 12, 10
KERF_MM, KEEP_MM, SECONDS, GAP = 2, 1000, 10.0, 0.01


def order(seed: int) -> tuple[list[tuple[int, int]], list[int]]:
    """Lengths with their counts, and the reels, in whole mm."""
    draw = random.Random(seed)
    lengths = draw.sample(range(300, 3001), KINDS)
    counts = [1] * KINDS
    for _ in range(PIECES - KINDS):
        counts[draw.randrange(KINDS)] += 1
    asked = sum(length * count for length, count in zip(lengths, counts))
    parts = [draw.uniform(0.6, 1.4) for _ in range(REELS)]
    holds = draw.uniform(1.02, 1.10)
    reels = [-int(-asked * holds * part / sum(parts) // 1) for part in parts]
    return list(zip(lengths, counts)), reels


def first_fit_decreasing(asked: list[tuple[int, int]], reels: list[int]) -> tuple[bool, int, int]:
    """Whether some piece found no place, reels opened, scrap in mm."""
    here: list[list[int]] = [[] for _ in reels]
    failed = False
    for length in sorted((length for length, count in asked for _ in range(count)), reverse=True):
        for reel, whole in enumerate(reels):
            if sum(here[reel]) + length + len(here[reel]) * KERF_MM <= whole:
                here[reel].append(length)
                break
        else:
            failed = True
    left = [max(0, whole - sum(cut) - len(cut) * KERF_MM) for whole, cut in zip(reels, here) if cut]
    return failed, len(left), sum(rest for rest in left if rest < KEEP_MM)


def main(orders: int = ORDERS) -> int:
    """Print one table; the exit code is 1 where a promise is broken."""
    from rigcalc.cutlist import Material, Piece, Stock, cut_list

    wire = Material("1/8", "7x19", "galvanised")
    rows = []
    for seed in range(orders):
        asked, reels = order(seed)
        plain = min(first_fit_decreasing(asked, reels), first_fit_decreasing(asked, sorted(reels, reverse=True)))
        found = cut_list([Piece(f"length {n}", length, count, wire) for n, (length, count) in enumerate(asked, 1)],
                         [Stock(f"reel {n}", length, wire) for n, length in enumerate(reels, 1)], KERF_MM, KEEP_MM, SECONDS)
        ours = (False, found.opened, round(found.scrap_mm))
        rows.append((ours > plain, ours < plain, ours[:2] < plain[:2], found, plain, found.opened > found.opened_at_least))
    worse, better, fewer = (sum(row[part] for row in rows) for part in range(3))
    gap, slowest = max(row[3].gap for row in rows), max(row[3].seconds for row in rows)
    unproven = sum(row[5] for row in rows)
    print(f"{orders} orders of {PIECES} pieces in {KINDS} lengths on {REELS} reels that hold 1.02 to 1.10 times the length asked;")
    print(f"kerf {KERF_MM} mm, keep length {KEEP_MM} mm. Against the better of two first-fit decreasing lists:")
    for words, value in (
            ("worse", f"{worse} (must be 0)"), ("strictly better", f"{better} of {orders}, {100 * better / orders:.0f} % (must be above 0)"),
            ("  of these by a piece or a reel", f"{fewer}"),
            ("first-fit leaves a piece out", f"{sum(row[4][0] for row in rows)}"),
            ("scrap, sum, first-fit / here", f"{sum(row[4][2] for row in rows)} / {sum(row[3].scrap_mm for row in rows):.0f} mm"),
            ("fewest reels not proven", f"{unproven} (must be 0)"),
            ("largest gap", f"{100 * gap:.4f} % of the length used (must be at most {100 * GAP:g} %)"),
            ("seconds, median / slowest", f"{statistics.median(row[3].seconds for row in rows):.2f} / {slowest:.2f} (must be at most {SECONDS:g})")):
        print(f"  {words:<32}{value}")
    return 0 if not worse and better and not unproven and gap <= GAP and slowest <= SECONDS else 1


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:2])))
