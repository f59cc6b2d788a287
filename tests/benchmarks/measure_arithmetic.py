"""The arithmetic's benchmarks, one after the other, and all their ratios in one table.

    python tests/benchmarks/measure_arithmetic.py
"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
PARTS = ("import", "rating", "section", "cut_list")
RATIO = re.compile(r"\s*(?P<what>\S.*?)(?:: |\s{2,})(?P<found>[0-9].*?) \((?P<bound>(?:must be )?(?:at most|at least|above|[0-9]).*?)\)")


def main() -> int:
    """Run every part in a process of its own; 0 when all keep within their limits."""
    table, failed = [], []
    for part in PARTS:
        done = subprocess.run([sys.executable, str(HERE / f"measure_{part}.py")], capture_output=True, text=True)
        print(f"--- {part}\n{done.stdout}{done.stderr}", flush=True)
        table += [(part, *match.group("what", "found", "bound")) for match in map(RATIO.fullmatch, done.stdout.splitlines()) if match]
        failed += [part] if done.returncode else []
    print(f"{'part':9} {'found':>26}  {'limit':18} what")
    for part, what, found, bound in table:
        print(f"{part:9} {found:>26}  {bound:18} {what}")
    print(f"Over its limit: {', '.join(failed)}." if failed else "All within their limits.")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
