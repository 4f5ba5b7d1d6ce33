"""What the tests of plan, lesson card and report look at: the documents of training of each demo."""

from __future__ import annotations

from support import ASSESSED, Lazily

from docgen.packet.trees import trees
from docgen.packet.wording import language_words

WORDS = language_words()
MADE = Lazily(lambda folder: trees(ASSESSED[folder.name], ["plan", "programming", "lesson", "progress", "appeal"]))
