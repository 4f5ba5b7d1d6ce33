"""What a sheet leaves open, and the answers given to it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from msgspec import Struct, field

_MOST_IN_FULL = 6  # answers that are written out as options of the command


class Question(Struct, frozen=True):
    """One question: the key that `--map KEY=ANSWER` answers, the question, and the answers there are (none for one in
    words of one's own)."""

    key: str
    asks: str
    options: tuple[str, ...] = ()

    def __str__(self) -> str:
        if len(self.options) > _MOST_IN_FULL:
            return f"{self.asks} One of: {', '.join(self.options)}. --map '{self.key}=...'"
        answers = " or ".join(f"--map '{self.key}={option}'" for option in self.options) or f"--map '{self.key}=...'"
        return f"{self.asks} {answers}"


class Asking(Struct):
    """The answers given, the questions that stay open, and what was made of the sheet, as sentences."""

    answers: Mapping[str, str]
    questions: dict[str, Question] = field(default_factory=dict)
    says: list[str] = field(default_factory=list)
    used: set[str] = field(default_factory=set)

    def ask(self, key: str, asks: str, *options: str, fits: Callable[[str], bool] | None = None) -> str | None:
        """The answer to a question; None, and the question is kept, while there is none that fits.

        options  the answers allowed; any where there are none
        fits     whether an answer in words of one's own can be taken; beside the options where both are given
        """
        given = self.answers.get(key)
        if given is not None:
            self.used.add(key)
            if given in options or (fits(given) if fits else not options):
                return given
            asks = f"'{given}' is no answer to this. {asks}"
        self.questions.setdefault(key, Question(key, asks, options))
        return None

    def say(self, sentence: str) -> None:
        """Keep a sentence once."""
        if sentence not in self.says:
            self.says.append(sentence)

    def warn(self, sentence: str) -> None:
        """Keep a sentence before all others, so that no long list hides it."""
        self.says.insert(0, sentence)
