"""How hard the pages for the family are to read, and which of the therapist's own sentences make them so."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from docgen.case.keys import texts_in
from docgen.packet.assess import Assessed
from docgen.packet.trees import trees
from docgen.packet.wording import Wording, wording
from docgen.rendering.readability import LONG_SENTENCE, Reading, grade_level, reading, sentences, syllables, words_of

MOST_GRADE = 6.0  # school grade for family and aides: widely advised, from memory
_FEWEST_WORDS = 4  # of a sentence: below this its grade says nothing
_MOST_NAMED = 10


class HardSentence(Struct, frozen=True):
    """A sentence of the case that stands on a page: its words, its own grade, and file and line of its key."""

    says: str
    n_words: int
    grade: float
    where: str


class Ease(Struct, frozen=True):
    """How hard a document is to read: the measures, and the sentences of the case to shorten, hardest first."""

    title: str
    reading: Reading
    shorten: tuple[HardSentence, ...]

    @property
    def easy(self) -> bool:
        """Whether both grades are at most 6."""
        return max(self.reading.grade, self.reading.smog) <= MOST_GRADE


def ease(assessed: Assessed, name: str = "guide", worded: Wording | None = None) -> Ease | None:
    """How hard one document of the case is to read; None when it holds no sentence.

    A sentence is named when it has more than 20 words, and when it is above grade 6 in a document that is.
    """
    worded = worded or wording()
    tree = trees(assessed, [name], worded)[name]
    measured = reading(tree)
    if measured is None:
        return None
    page = " ".join(tree.plain().lower().split())
    hard = max(measured.grade, measured.smog) > MOST_GRADE
    named = [
        sentence
        for sentence in _sentences(assessed, page)
        if sentence.n_words > LONG_SENTENCE or (hard and sentence.grade > MOST_GRADE)
    ]
    once = {sentence.says: sentence for sentence in sorted(named, key=lambda sentence: sentence.grade)}
    shorten = sorted(once.values(), key=lambda sentence: (-sentence.grade, sentence.says))[:_MOST_NAMED]
    return Ease(worded.documents[name].title, measured, tuple(shorten))


def _sentences(assessed: Assessed, page: str) -> Iterator[HardSentence]:
    """The sentences of the case that stand on a page, whose words are given in small letters."""
    for path, text in texts_in(assessed.file.case):
        for sentence in sentences([" ".join(text.split())]):
            words = words_of(sentence)
            if len(words) >= _FEWEST_WORDS and sentence.lower().rstrip(".!?") in page:
                grade = grade_level(len(words), 1, sum(map(syllables, words)))
                yield HardSentence(sentence, len(words), grade, assessed.file.where(*path))
