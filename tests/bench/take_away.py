"""What pages say that they did not say before one thing was taken out of a case: run by hand, not part of the test run.

    python tests/bench/take_away.py [--every 1] [DEMO ...]

Every optional key, entry of a list and column of every demo, one at a time; letter, guide, plan, order and cover. Each
new sentence that is neither a gap nor a shorter form of an old one is printed with what was taken away, unless
`take_away_reviewed.toml` holds its form with the reason why it follows from what is left. Where all is looked at, each
form of that list that no sentence needs is printed too. Ends with 1 where there is one of either.
"""

from __future__ import annotations

import argparse
import collections
import sys
import tempfile
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parent.parent / "hostile"), str(Path(__file__).parent.parent)]

from support import DEMO_FOLDERS  # noqa: E402
from taking_away import Said, Whole, all_forms, everything_taken, forms, less  # noqa: E402

from docgen.errors import UserError  # noqa: E402


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("--every", type=int, default=1, help="look at one change in so many")
    parser.add_argument("demos", nargs="*")
    asked = parser.parse_args()
    said: dict[Said, list[str]] = collections.defaultdict(list)
    by_form: dict[tuple[str, str], set[str]] = collections.defaultdict(set)
    n_looked_at = n_refused = 0
    with tempfile.TemporaryDirectory() as under:
        for folder in (f for f in DEMO_FOLDERS if not asked.demos or f.name in asked.demos):
            whole = Whole(folder)
            for taken in [*everything_taken(folder)][:: asked.every]:
                try:
                    case = less(folder, taken, Path(under))
                except UserError:
                    n_refused += 1
                    continue
                n_looked_at += 1
                for new in whole.newly_said(case):
                    for form in forms(new):
                        by_form[new.document, form].add(new.sentence)
                    if not forms(new):
                        said[new].append(f"{folder.name} without {taken.label}")
    for new, labels in sorted(said.items(), key=lambda entry: (entry[0].document, entry[0].sentence)):
        print(f"{new.document}: {new.sentence}   <- {len(labels)}, first {labels[0]}")
    idle = [] if asked.demos or asked.every > 1 else sorted({*all_forms()} - by_form.keys())
    for document, form in idle:
        print(f"{document}: no sentence has the form {form}")
    n_reviewed = len(set().union(*by_form.values()))
    print(
        f"{n_looked_at} looked at, {n_refused} refused when read; "
        f"new sentences: {n_reviewed} of {len(by_form)} reviewed forms, {len(said)} others"
    )
    return 1 if said or idle else 0


if __name__ == "__main__":
    sys.exit(main())
