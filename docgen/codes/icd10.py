"""ICD-10-CM: whether a diagnosis code exists, and whether it is billable (a code with nothing below it).

The list is in the folder icd10_codes beside this file, one file for each first letter: every category and subcategory
of the April 2026 release, sorted, without dots, one a line; a code that has codes below it ends in "-". It was written
once by tests/codes/make_icd10.py from the data of the Python package simple-icd-10-cm 1.5.0 (MIT; the list itself is a
US public release). It holds codes only, no descriptions. A letter is unpacked at the first question for it: nearly all
take less than a millisecond, injuries (a third of the list) a few.

diagnoses.txt.xz holds the billable codes of what power chairs are usually requested for (nervous system, muscles,
joints, spine, malformations, stroke, injuries of brain and spinal cord), each with its name, by the same script. They
are offered to whoever looks for a code, and never chosen; `exists` and `billable` know every code.
"""

from __future__ import annotations

import lzma
from collections import Counter
from collections.abc import Mapping
from functools import cache, lru_cache
from math import log
from pathlib import Path
from string import ascii_uppercase

from docgen.nearest import stems

RELEASE = "ICD-10-CM, April 2026 release"

_NAMES = Path(__file__).with_name("diagnoses.txt.xz")
_LEAST = 0.45  # share of what the words weigh that a name has to hold
_OF_THE_NAME = 3  # how much more a word before a comma counts than one behind it
_BEGIN = 5  # letters by which one word is the beginning of another: "spastic" and "spasticity"
_NAMES_KEPT = 200  # a screen of the desk asks for the names of a case's diagnoses each time it is laid out
_LISTS = Path(__file__).with_name("icd10_codes")
_FIRST = frozenset(ascii_uppercase)


def exists(code: str) -> bool:
    """Whether the code is in the list, billable or not.

    Check: G99.9 is not; G35 and G82.5 are (list of the package named above).
    """
    return _holds(code, "") or _holds(code, "-")


def billable(code: str) -> bool:
    """Whether the code is in the list and has no codes below it.

    Check: G12.21 and Z99.3 are; G35 and G82.5 are not (list of the package named above).
    """
    return _holds(code, "")


def _holds(code: str, mark: str) -> bool:
    plain = code.replace(".", "", 1)
    return plain.isalnum() and plain[0] in _FIRST and f"\n{plain}{mark}\n".encode() in _codes(plain[0])


@cache
def _codes(first: str) -> bytes:
    """Every code that begins with a letter, with a line feed before and after each."""
    return lzma.decompress((_LISTS / f"{first}.txt.xz").read_bytes())


def names() -> Mapping[str, str]:
    """The usual billable codes -> their names."""
    return _named()


@lru_cache(_NAMES_KEPT)
def nearest_by_name(words: str, most: int = 5) -> tuple[str, ...]:
    """The usual billable codes whose names hold most of these words, best first; a rare word counts for more.

    Check: "postpolio syndrome" gives G14, "spinal muscular atrophy type 2" G12.1 or G12.9 (their names in the list).
    """
    # the words of all names are held against each word once: most stand in many names
    alike = {word: {known for known in _rarity() if _same(word, known)} for word in dict.fromkeys(stems(words))}
    weights = {word: max(_rarity()[stem] for stem in alike[word]) for word in alike if alike[word]}
    if not weights:
        return ()
    head = set(stems(words.partition(",")[0])) & weights.keys()
    if len(head) < len(weights):  # what follows a comma tells of the name and is none
        weights |= {word: _OF_THE_NAME * weights[word] for word in head}
    total = sum(weights.values())
    scored = []
    for code, known in _stems_of().items():
        share = sum(weight for word, weight in weights.items() if not alike[word].isdisjoint(known)) / total
        if share >= _LEAST:
            scored.append((-share, len(known), code))
    return tuple(code for _, _, code in sorted(scored)[:most])


def _same(word: str, known: str) -> bool:
    begins = (len(word) >= _BEGIN and known.startswith(word)) or (len(known) >= _BEGIN and word.startswith(known))
    return begins or word == known


@cache
def _named() -> dict[str, str]:
    lines = lzma.decompress(_NAMES.read_bytes()).decode().splitlines()
    return dict(line.split("\t") for line in lines)


@cache
def _stems_of() -> dict[str, tuple[str, ...]]:
    return {code: tuple(dict.fromkeys(stems(name))) for code, name in _named().items()}


@cache
def _rarity() -> dict[str, float]:
    """Each word of the names -> how much it says: the fewer names hold it, the more."""
    counts = Counter(word for known in _stems_of().values() for word in known)
    return {word: log(len(_stems_of()) / count) + 1 for word, count in counts.items()}
