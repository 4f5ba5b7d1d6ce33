"""Facts, measures and dates in the words of a language: patterns come from its words.toml, sums from nowhere."""

from __future__ import annotations

import calendar
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from itertools import takewhile
from typing import Any

from markupsafe import Markup

from docgen.case.nobody.birth import YearOnly
from docgen.coins import ABOUT_MM, fits, in_words, like, quarters_that_fit, quarters_too_big, too_big
from docgen.documents import measures
from docgen.documents.measures import decimal
from docgen.documents.plural import plural_rule
from docgen.evidence.fact import Fact
from docgen.grammar import with_verb
from docgen.months import MONTHS
from docgen.rendering.template import Gap, Number, escape
from docgen.units import MM_PER_INCH, decimals, inches, limit_mm, rounded, two_digits

_BETWEEN_SENTENCES = re.compile(r"(?<=[.!?])\s+(?=[\"“¿¡(]*[A-ZÁÉÍÓÚÑ0-9])")

Words = Mapping[str, Any]
InWords = Callable[[Fact | None], Number | Gap | None]  # a fact as a template takes it; None where there is none
_ISO_DAY = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")
_AT_REST = re.compile(r"\bin rest\b")


def sentences_apart(text: str) -> list[str]:
    """The sentences of a text of the case, in its order."""
    return [sentence for sentence in _BETWEEN_SENTENCES.split(text.strip()) if sentence]


def number(fact: Fact, words: Words) -> Number | Gap:
    """The fact as a document prints it; a fact without a value is a gap that says why."""
    if fact.kind == "words":
        text = _ISO_DAY.sub(lambda match: day_in_words(date.fromisoformat(match.group()), words), fact.text)
        return Number(fact.id, text, text, verdict=fact.verdict, note=fact.note)
    if fact.value is None:
        return Gap(fact.id, words["not_recorded"].format(label=fact.note or fact.label))
    low, high, bare = (decimal(_bound(fact, value), words) for value in (fact.low, fact.high, fact.value))
    kind = (
        "share" if fact.kind == "proportion" and not fact.n else fact.kind
    )  # a chance that was worked out, of nothing counted
    short = measures.of_fact(fact, fact.value, bare, words) or words["short"][kind].format(
        value=bare, n=fact.n, k=decimal(_plain(fact.k), words)
    )
    pattern = words["full"].get(_case_of(fact), "{short}") if low or high else "{short}"
    full = pattern.format(short=short, low=low, high=high)
    if fact.kind == "in_attempts":  # without its attempts it says nothing
        bare = short
    aside = full.removeprefix(short).strip()
    counted = f"{_counted_over(fact)} ({bare})" if fact.kind in ("rate_100_m", "rate_minute") else bare
    level = f"{fact.level * 100:g}%"
    return Number(fact.id, short, full, bare, aside, counted, level, fact.value, fact.n, fact.verdict, fact.note)


def _counted_over(rate: Fact) -> str:
    """Events of a rate and what they were counted over, such as "5 in 349 m"."""
    over, *left_out = rate.note.split("; ")
    return f"{over}, not all sessions" if left_out else over


def _case_of(fact: Fact) -> str:
    """Which pattern of words: all of n and none of n speak of one side only."""
    if fact.kind == "proportion" and fact.k == fact.n:
        return "all"
    if fact.kind == "proportion" and fact.k == 0:
        return "none"
    if fact.kind in ("rate_100_m", "rate_minute") and fact.k == 0:
        return "none_rate"
    return fact.kind


def _bound(fact: Fact, value: float | None) -> str:
    return "" if value is None else _shown(fact, value)


def _shown(fact: Fact, value: float) -> str:
    match fact.kind:
        case "proportion" if not fact.n and 0 < value < 0.01:  # a chance that was worked out, as criteria say it
            return "less than 1"
        case "proportion" | "difference":
            return f"{value * 100:.0f}".replace("-0", "0") if round(value * 100) == 0 else f"{value * 100:.0f}"
        case "seconds":
            return two_digits(value, fact.side) if value else "0"
        case "rate_100_m" | "degrees" | "turn_rate" | "ratio":
            return f"{value:.1f}"
        case "score":
            return f"{round(value, 1):g}"
        case "rate_minute" | "metres" | "speed":
            return decimals(value, 2, fact.side)
        case "limit":
            return str(limit_mm(value))
        case "millimetres":
            return str(rounded(value, fact.side))
        case "p":
            return f"{value:.3f}" if value >= 0.0005 else "less than 0.001"
    return f"{value:.0f}"


def _plain(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


def spoken_count(count: float | None, words: Words) -> str:
    """A small whole count as a word; empty for any other."""
    numbers: Sequence[str] = words["numbers"]
    return numbers[int(count)] if count is not None and count == int(count) and 0 <= count < len(numbers) else ""


def joined(parts: Sequence[str], words: Words, last: str = "and") -> str:
    """The parts as one list in words: a, b and c."""
    ways: Mapping[str, str] = words["lists"]
    return ways[last].join(filter(None, [", ".join(parts[:-1]), *parts[-1:]]))


# two words with capitals, of which the first is no article, preposition or pronoun; or a title
_NAME = re.compile(
    r"(?:Dr|Mr|Mrs|Ms|Prof)\b|(?!(?:The|A|An|In|On|At|By|To|Of|For|From|With|His|Her|Their|My|Our|Each|Every|Both|All|No|"
    r"Two|Three|Four|Five|Six|When|While|After|Before|During|Since|Until|As|If|And|But)\b)"
    r"[A-ZÀ-ÖØ-Þ][a-zß-öø-ÿ]+ [A-ZÀ-ÖØ-Þ][a-zß-öø-ÿ]"
)

_STOP = re.compile(r"(?<!\b[ap]\.m)\.$")  # of a sentence, and not of "4 p.m."


_CAPITAL = frozenset({"I", *MONTHS, *calendar.day_name})


# whose a thing is: a name keeps its capital, a word for somebody or a place does not. How a text is spelled, and no
# fact: the words of a case stand alone where they are written, and inside a sentence here
_OWNER = re.compile(r"([A-ZÀ-ÖØ-Þ][a-zß-öø-ÿ]+)['’]s\b")
_NO_NAMES = frozenset(
    "aide aunt brother building center child class client clinic coach dad daughter day doctor driver family father "
    "friend helper hospital husband mom mother neighbor nurse parent patient payer person pupil school sister son "
    "staff student supplier teacher therapist today trainer uncle user vendor week wife".split()
)


def inside(text: str, called: str = "") -> str:
    """A text as it goes on inside a sentence: without its full stop, and with its first letter small unless it begins
    with the client's name, with another's ("Jo Example", "Dr. Example"), with "I", with a month or a day of the week,
    or with a word of capitals or figures."""
    begun = _STOP.sub("", text.rstrip())
    first = re.split(r"\W", begun, maxsplit=1)[0]
    is_word = first[1:].islower() or len(first) < 2
    is_name = _NAME.match(begun) or ((owner := _OWNER.match(begun)) and owner[1].lower() not in _NO_NAMES)
    keeps = first in _CAPITAL or first in called.split() or not is_word or bool(is_name)
    return begun if keeps else begun[:1].lower() + begun[1:]


def day_in_words(value: date, words: Words) -> str:
    if isinstance(value, YearOnly):
        return str(words["deidentified"]["oldest_born"] if value.oldest else value.year)
    pattern: str = words["date"]
    return pattern.format(day=value.day, month=words["months"][value.month - 1], year=value.year)


def short_day(value: date, near: date | None, words: Words) -> str:
    """The day; without its year when that is the year of `near`."""
    if near is None or near.year != value.year:
        return day_in_words(value, words)
    pattern: str = words["day_of_year"]
    return pattern.format(day=value.day, month=words["months"][value.month - 1])


def missing(words: Words) -> Callable[[str, str], Gap]:
    """What a template calls where a whole group of facts is missing: gap(key path, label)."""
    return lambda name, label: Gap(name, words["not_recorded"].format(label=label))


def filters(words: Words) -> dict[str, Callable[..., Any]]:
    """What templates may do to a value before they print it, in this language. A gap passes through them all."""

    def day(value: date) -> str:
        return day_in_words(value, words)

    def day_of_year(value: date) -> str:
        """The day without its year, where the year has just been said."""
        return short_day(value, value, words)

    def days(values: Iterable[date]) -> str:
        """Days in order, each month and year once: March 3, 10 and 17, 2026."""
        months: dict[tuple[int, int], list[str]] = {}
        for value in sorted(values):
            months.setdefault((value.year, value.month), []).append(str(value.day))
        last = list(months)[-1]
        ways: Mapping[str, str] = words["lists"]
        return ways["and"].join(
            words["date" if (year, month) == last or year != last[0] else "day_of_year"].format(
                day=joined(of_month, words), month=words["months"][month - 1], year=year
            )
            for (year, month), of_month in months.items()
        )

    def measure(value: float, unit: str = "") -> str:
        return decimal(f"{value:g}", words) + (f"\u00a0{unit}" if unit else "")

    def full(value: Number) -> Markup:
        return _linked(value, value.full)

    def bare(value: Number) -> Markup:
        """The number without its unit, for a column whose head names the unit."""
        return _linked(value, value.bare)

    def counted(value: Number) -> Markup:
        """A rate after what it was counted over, for a column whose head names both; any other number bare."""
        return _linked(value, value.counted)

    def interval(value: Number) -> Markup:
        """The interval alone, in its brackets, to follow a noun."""
        return Markup(" ") + _linked(value, value.aside) if value.aside else Markup("")

    def listed(values: Iterable[Any], last: str = "and") -> Markup:
        parts = [v.__html__() if hasattr(v, "__html__") else escape(str(v)) for v in values]
        return Markup(joined(parts, words, last))

    def upper_first(value: str) -> str:
        return value[:1].upper() + value[1:]

    def sentence(value: str | Number) -> str | Markup:
        """The text with a full stop, unless it already ends in one."""
        text = value.short if isinstance(value, Number) else value
        stop = "" if text.rstrip(" \"')”’").endswith((".", "!", "?")) else "."
        return _linked(value, text) + stop if isinstance(value, Number) else text + stop

    def within(text: str, called: str | Gap) -> str:
        """A text of the case as it goes on inside a sentence: without its full stop, its first letter small unless a
        name or an abbreviation begins it."""
        return inside(text, called if isinstance(called, str) else "")

    def now_used(text: str) -> str:
        """What is told of the chair in use now; a name of it that makes no sentence follows "In use now:"."""
        return f"In use now: {inside(text)}" if text.startswith(("A ", "An ")) else text

    def in_trade(text: str) -> str:
        """A text of the case in which the states that helpers call rest and the other device have the names that
        technicians give them."""
        return _AT_REST.sub("in standby", text).replace("the other device", "the external device")

    def spoken(count: int | str | Number) -> str | Markup:
        """A small count as a word: of the case, or of the evidence with the record it comes from; words as they are."""
        if isinstance(count, str):
            return count
        if isinstance(count, Number):
            return _linked(count, spoken_count(count.value, words) or count.short)
        return spoken_count(count, words) or str(count)

    def about_seconds(measured_s: float) -> str:
        """A time that must not be passed, as people count it: the whole seconds that are surely in it."""
        whole = int(measured_s)
        pattern = words["about_seconds"][min(whole, 2)]
        return str(pattern).format(n=spoken(whole))

    def times(count: int) -> str:
        """How often: once, twice, three times."""
        return str(
            words["times"][count - 1] if 1 <= count <= len(words["times"]) else words["n_times"].format(n=spoken(count))
        )

    def word(value: str, table: str) -> str:
        """A key word of the case, such as a help level, in plain words."""
        in_words: str = words[table][value]
        return in_words

    def everyday(gap_mm: float) -> str:
        """The gap beside an everyday thing, such as "about as wide as a dime"; empty where nothing fits."""
        fit = like(gap_mm)
        if fit is None:
            return ""
        name, n, wider_mm = fit
        patterns: Mapping[str, str] = words["everyday"]
        thing = patterns["stack"].format(n=spoken(n), coin=patterns[name]) if n > 1 else patterns[name]
        how = "about" if abs(wider_mm) <= ABOUT_MM else "more" if wider_mm > 0 else "less"
        return patterns[f"{how}_{'high' if n > 1 else 'wide'}"].format(thing=thing)

    def points(text: str) -> list[str]:
        """The sentences of a text of the case, each to stand as a point of its own; of one that is left in another
        language each has the sign of that around it."""
        before, _, after = str(words.get("original", "")).partition("{text}")
        before, after = (before, after) if before and text.startswith(before) else ("", "")
        each = sentences_apart(text.removeprefix(before).removesuffix(after))
        return [f"{before}{sentence(point)}{after}" for point in each]

    def by_place(text: str) -> tuple[str, str]:
        """A point as where, or in which case, it holds, and what to do then; all of it the latter where nothing is told
        apart by a colon."""
        other_language = str(words.get("original", "")).partition("{text}")[0]
        is_own = not (other_language and text.startswith(other_language))
        where, colon, act = text.partition(": ")
        return (where, act) if colon and is_own else ("", text)

    def before_switch(acts: Sequence[str], letter: str) -> list[str]:
        """The acts up to the first that names a switch by its letter, as drawn on the card; all where none does."""
        return list(takewhile(lambda act: not re.search(rf"\b{letter}\b", act), acts))

    def steps_and_known(text: str) -> tuple[str, list[str], list[str]]:
        """What a text of the case has steps for, the steps, and what stands after the word for "Know:"; nothing where
        that word is not in it."""
        steps, knows, known = text.partition(f" {words['know']}: ")
        heading, first_steps = by_place(steps)
        return (heading, points(first_steps), points(known)) if knows and heading else ("", [], [])

    verb_of = re.compile(rf"\b(?:{'|'.join(words['verbs'])}) ", re.IGNORECASE) if words.get("verbs") else None

    def by_verb(text: str) -> list[tuple[str, str, str]]:
        """Each sentence of a text as what stands before its first verb of the words' list, that verb, and the rest; a
        sentence without one whole, as the rest."""
        other_language = str(words.get("original", "")).partition("{text}")[0]
        is_own = verb_of is not None and not (other_language and text.startswith(other_language))
        cut = [(point, verb_of.search(point) if verb_of and is_own else None) for point in points(text)]
        return [
            (point[: verb.start()].rstrip(), verb.group().rstrip(), point[verb.end() :]) if verb else ("", "", point)
            for point, verb in cut
        ]

    def fitting(gap_mm: float, low_mm: float, at_lips: bool = False) -> str:
        """What must go into a gap and how it is held, for whoever has no gauge; a ruler where nothing is of that size,
        and at the lips, where a loose coin can choke."""
        figures = words["figures"]
        if not at_lips:
            return in_words(fits(low_mm, gap_mm), figures)
        n = quarters_that_fit(low_mm, gap_mm)
        return str(figures["lips_ruler"].format(inches=inches(n * MM_PER_INCH / 4)) if n else figures["coin_at_lips"])

    def over(gap_mm: float, high_mm: float, at_lips: bool = False) -> str:
        """What must not go into a gap, likewise."""
        if not at_lips:
            return in_words(too_big(high_mm, gap_mm), words["figures"])
        n = quarters_too_big(high_mm, gap_mm)
        return str(
            words["figures"]["lips_inches"].format(inches=inches(n * MM_PER_INCH / 4)) if n else words["no_value"]
        )

    form_of = plural_rule(words.get("plural_forms", ""))

    def plural(count: float, *forms: str) -> str:
        return forms[min(form_of(count), len(forms) - 1)]

    plain = (
        day,
        day_of_year,
        days,
        measure,
        full,
        bare,
        counted,
        listed,
        upper_first,
        fitting,
        over,
        sentence,
        within,
        now_used,
        in_trade,
        spoken,
        about_seconds,
        times,
        word,
        plural,
        with_verb,
    )
    passing = {
        name: _past_gaps(f) for name, f in ({f.__name__: f for f in plain} | measures.filters(words)).items()
    } | {
        "interval": _past_gaps(interval, Markup("")),
        "everyday": _past_gaps(everyday, ""),
        "points": lambda text: [text] if isinstance(text, Gap) else points(text or ""),
        "by_verb": lambda text: [("", "", text)] if isinstance(text, Gap) else by_verb(text or ""),
        "before_switch": before_switch,
        "steps_and_known": lambda text: ("", [], []) if isinstance(text, Gap) else steps_and_known(text or ""),
        "by_place": lambda text: ("", text) if isinstance(text, Gap) else by_place(text or ""),
    }

    def whole(value: Any) -> Any:
        """A sentence; a gap in its place ends as a sentence too."""
        return Markup(f"{value.__html__()}.") if isinstance(value, Gap) else sentence(value)

    return passing | {"sentence": whole}


def _linked(value: Number, shown: str) -> Markup:
    return Markup(f"[{escape(shown)}](fact:{value.name})")


def _past_gaps(change: Callable[..., Any], instead: Any = None) -> Callable[..., Any]:
    """The filter, but a gap comes out as it went in (or as `instead`)."""

    def passing(value: Any, *rest: Any) -> Any:
        if isinstance(value, Gap):
            return value if instead is None else instead
        return change(value, *rest)

    return passing
