"""What importing costs: rigcalc with every calculation module, against numpy, both net of a bare interpreter.

    python tests/benchmarks/measure_import.py

Processor time of fresh interpreters, the least of many turns taken in turn, so that a busy machine burdens all alike. The
uninstalled checkout is imported by its path alone (-I -S: no installed package is seen). Limit: 0.7 of numpy.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
TURNS = 15
MOST = 0.7
NOT_CALCULATIONS = ("__init__", "__main__", "cli")


def main() -> int:
    """Print one table; 0 when both imports of rigcalc keep within the limit."""
    import numpy

    site = Path(numpy.__file__).parent.parent
    modules = sorted(path.stem for path in (ROOT / "rigcalc").glob("*.py") if path.stem not in NOT_CALCULATIONS)
    ours = f"import rigcalc, {', '.join(f'rigcalc.{name}' for name in modules)}"
    ways = {
        "a bare interpreter": (["-I", "-S"], "import sys"),
        "numpy, by its path": (["-I", "-S"], f"import sys; sys.path.insert(0, {str(site)!r}); import numpy"),
        "rigcalc, uninstalled checkout": (["-I", "-S"], f"import sys; sys.path.insert(0, {str(ROOT)!r}); {ours}"),
        "a bare interpreter with its packages": (["-I"], "import sys"),
        "numpy, as installed": (["-I"], "import numpy"),
        "rigcalc, as installed": (["-I"], ours),
    }
    least = dict.fromkeys(ways, float("inf"))
    for _ in range(TURNS):
        for name, (flags, code) in ways.items():
            least[name] = min(least[name], seconds(flags, code))
    print(f"{len(modules)} modules; processor time of {TURNS} turns, the least, ms")
    for name, time in least.items():
        print(f"  {name:38} {time * 1000:7.1f}")
    return report(least)


def report(least: dict[str, float]) -> int:
    """The two ratios, each net of its own bare interpreter."""
    names = list(least)
    worst = 0.0
    for bare, other, mine in (names[:3], names[3:]):
        ratio = (least[mine] - least[bare]) / (least[other] - least[bare])
        worst = max(worst, ratio)
        print(f"{mine} / {other}, both net of {bare}: {ratio:.2f} (at most {MOST})")
    return 1 if worst > MOST else 0


def seconds(flags: list[str], code: str) -> float:
    """Processor time of one fresh interpreter, user and system."""
    process = os.posix_spawn(sys.executable, [sys.executable, *flags, "-c", code], os.environ)
    _, status, used = os.wait4(process, 0)
    if status:
        raise SystemExit(f"This could not be imported: {code}")
    return used.ru_utime + used.ru_stime


if __name__ == "__main__":
    sys.exit(main())
