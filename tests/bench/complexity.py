"""Is there a function with more branches than a reader can hold? radon counts them (McCabe), and what is graded D or
worse is listed in complexity_reviewed.toml with the reason why nothing would be clearer for being split.

    python tests/bench/complexity.py

Status 1 when radon finds another, or no longer finds what is listed.
"""

from __future__ import annotations

import sys
import tomllib
from pathlib import Path

from radon.complexity import cc_rank, cc_visit

PACKAGE = Path(__file__).resolve().parents[2] / "docgen"
REVIEWED = Path(__file__).with_name("complexity_reviewed.toml")
WORST = "C"  # grade of radon that needs no reason: up to 20 ways through a function


def complex_functions() -> dict[str, int]:
    """Functions and methods of the package above that grade, by "file name", with the number of ways through each."""
    return {
        f"{file.relative_to(PACKAGE).as_posix()} {block.fullname}": block.complexity
        for file in sorted(PACKAGE.rglob("*.py"))
        for block in cc_visit(file.read_text(encoding="utf-8"))
        if cc_rank(block.complexity) > WORST
    }


def main() -> int:
    """Print what is not listed, and what is listed and simple or gone; status 1 when there is any of it."""
    reviewed: dict[str, str] = tomllib.loads(REVIEWED.read_text(encoding="utf-8"))
    graded = complex_functions()
    faults = [f"{name}: {graded[name]} ways through, and no reason is listed" for name in graded.keys() - reviewed]
    faults += [f"{name}: listed, and simple or gone" for name in reviewed.keys() - graded]
    print("\n".join(sorted(faults)))
    print(f"{len(graded)} functions above grade {WORST}, {len(faults)} of them not as listed")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
