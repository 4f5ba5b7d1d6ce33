"""What pages say with one key gone from a case, each key by itself: run by hand, not part of the test run.

    python tests/bench/keys_gone.py [DEMO ...]

Every key that any demo has, on one of the demos that have it: stray words and marks, empty headings, and sentences of
letter and order that stay though the fact they tell is gone, or go though another value would leave them. The suite
takes several keys at a time (tests/test_templates.py), so that what one leaves may hide what another does. Ends with 1
where anything is wrong.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parent.parent)]

import pytest  # noqa: E402
from keys_gone import KeysGone, shares  # noqa: E402
from support import DEMO_FOLDERS  # noqa: E402


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("demos", nargs="*")
    asked = parser.parse_args()
    n_keys, troubles = 0, []
    for folder in (f for f in DEMO_FOLDERS if not asked.demos or f.name in asked.demos):
        with pytest.MonkeyPatch.context() as patched:
            gone = KeysGone(folder, patched)
            for path in shares()[folder]:
                troubles += gone.troubles([path])
                n_keys += 1
    for trouble in troubles:
        print(*trouble)
    print(f"{n_keys} keys, {len(troubles)} troubles")
    return 1 if troubles else 0


if __name__ == "__main__":
    sys.exit(main())
