"""Names of months, in English in every form, and elsewhere so that they are known."""

from __future__ import annotations

from datetime import date

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_SHORT = tuple(month[:3] for month in MONTHS)
ALSO_WORDS = ("March", "Mar", "May")  # alone, they are a month only after a word such as "in"; small, only with a year
NAMES = "|".join((*MONTHS, "Sept", *_SHORT))
# Spanish, German, French, Italian and Portuguese, as CLDR has them; without those that are English words
FOREIGN = (
    "enero|febrero|marzo|abril|mayo|junio|julio|agosto|septiembre|octubre|noviembre|diciembre|"
    "januar|jänner|februar|märz|maerz|juni|juli|oktober|dezember|"
    "janvier|février|fevrier|mars|avril|mai|juin|juillet|août|aout|septembre|octobre|novembre|décembre|decembre|"
    "gennaio|febbraio|aprile|maggio|giugno|luglio|settembre|ottobre|dicembre|"
    "janeiro|fevereiro|março|maio|junho|julho|setembro|outubro|novembro|dezembro"
)


def month_number(name: str) -> int:
    """1 to 12. Raises ValueError for what is no month."""
    return _SHORT.index(name[:3].capitalize()) + 1


def month_like(name: str, day: date) -> str:
    """The month of a day in the form of another name: long or short, in capitals or not."""
    short = len(name) < 5 and name.capitalize() not in MONTHS
    shown = _SHORT[day.month - 1] if short else MONTHS[day.month - 1]
    return shown.upper() if name.isupper() else shown
