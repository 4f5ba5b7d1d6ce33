"""Two hundred plausible variations of the demos: the questions of what is usual, agrees and fits say nothing.

python tests/bench/plausible.py [how many]
"""

from __future__ import annotations

import sys
from pathlib import Path

from docgen.criteria.criterion import criteria

sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parents[1] / "criteria")]


def main(number: int) -> int:
    """Each variation that something is said of, with what is said; how many there were."""
    from variations import QUESTIONS, varied  # beside the tests of criteria

    said = 0
    for seed in range(number):
        grounds = varied(seed)
        for name in QUESTIONS:
            answer = criteria()[name].ask(grounds, **criteria()[name].settings)
            if answer.status != "met":
                said += 1
                print(f"{seed} {name}: {answer.reason}")
    print(f"{number} variations, {said} answers that are not met")
    return min(said, 1)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
