"""A word of its own in every text of every demo case, looked for in every document: how many leak to whom.

    python tests/bench/canaries.py

Ends with 1 when a document shows a word that its reader must never see (tests/documents/readers).
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from canaries import every_word, keys_in  # noqa: E402
from documents.readers import NEVER, beyond  # noqa: E402
from support import DEMOS  # noqa: E402

from docgen.packet.trees import trees  # noqa: E402
from docgen.packet.wording import wording  # noqa: E402


def main() -> int:
    n_words = n_looked_for = n_shown = 0
    leaks: list[str] = []
    for demo in DEMOS:
        assessed, words = every_word(demo)
        n_words += len(words)
        for name, tree in trees(assessed, worded=wording()).items():
            shown = keys_in(tree.plain(), words)
            n_looked_for += len(words)
            n_shown += len(shown)
            leaks += [f"{demo}: the {name} shows {key}" for key in sorted(beyond(name, shown))]
    print(
        f"{n_words} canaries in {len(DEMOS)} cases, looked for {n_looked_for} times in {len(NEVER)} kinds of document"
    )
    print(f"shown where their reader may see them: {n_shown - len(leaks)}; failures: {len(leaks)}")
    print("\n".join(leaks), end="\n" if leaks else "")
    return 1 if leaks else 0


if __name__ == "__main__":
    sys.exit(main())
