"""Whether what is said to be behind a sentence changes it, and nothing else does: python tests/bench/origins.py [N [M]]

Of the letter of each demo N sentences are drawn by a seed, with up to 6 answers behind each and M others. Each answer
is written into case.toml with values drawn apart from those that docgen tries. Takes 90 seconds for N = 4 and M = 8.
"""

from __future__ import annotations

import random
import sys
import time
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parents[1] / "packet")]

from changed import drawn, sentences_with  # noqa: E402
from support import ASSESSED, DEMOS  # noqa: E402

from docgen.case.keys import table_at  # noqa: E402
from docgen.case.lines import dotted  # noqa: E402
from docgen.packet.origins import Origins  # noqa: E402
from docgen.packet.other_values import others  # noqa: E402


def main(n_sentences: int, n_others: int) -> None:
    """Print what did not hold, then how often it was tried."""
    n_behind = n_same = n_apart = n_changed = 0
    waited = []
    for name in DEMOS:
        rng, file, letter = random.Random(7), ASSESSED[name].file, Origins(ASSESSED[name], "letter")
        texts = [sentence.text for sentence in letter.sentences]
        every = [answer.path for answer in others(file.case, file.lines) if table_at(answer.path[:-1])]
        for sentence in rng.sample(letter.sentences, n_sentences):
            begun = time.perf_counter()
            behind = letter.behind(sentence)
            waited.append(time.perf_counter() - begun)

            def stays(path, text=sentence.text, file=file, rng=rng, texts=texts):
                value = drawn(file, path, rng)
                changed = None if value is None else sentences_with(file, path, value, "letter")
                return None if changed is None else changed.count(text) == texts.count(text)

            for path in behind.keys[:6]:
                tries = {stays(path) for _ in range(3)} - {None}
                n_behind += bool(tries)
                if tries == {True}:
                    n_same += 1
                    print(f"{name}: {dotted(path)} does not change: {sentence.text[:90]}")
            untold = [path for path in every if path not in behind.keys and path not in behind.untried]
            for path in rng.sample(untold, n_others):
                stayed = stays(path)
                n_apart += stayed is not None
                if stayed is False:
                    n_changed += 1
                    print(f"{name}: {dotted(path)} changes unsaid: {sentence.text[:90]}")
    print(f"{n_behind} answers behind a sentence, {n_same} changed nothing; {n_apart} others, {n_changed} changed it")
    waited.sort()
    print(f"seconds to find what is behind a sentence: median {waited[len(waited) // 2]:.1f}, most {waited[-1]:.1f}")


if __name__ == "__main__":
    main(*([int(word) for word in sys.argv[1:]] + [4, 8][len(sys.argv) - 1 :]))
