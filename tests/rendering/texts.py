"""Texts that try to be something else: any character a page can show, mark-up more often than not."""

from __future__ import annotations

from hypothesis import strategies as st

HOSTILE = "<b onclick='x'>&amp;</title></style>\"\\2c -->]]>"
_MARKUP = st.sampled_from("<>&\"'\\;{}/#-=\u00a0\u2011]")


def any_text(blanks: str = "\t\n") -> st.SearchStrategy[str]:
    """Text of at least one character; `blanks` are the control characters it may hold."""
    shown = st.characters(exclude_categories=("Cs", "Cc"), exclude_characters="\ufffe\uffff")
    return st.text(st.one_of(shown, _MARKUP, *([st.sampled_from(blanks)] if blanks else [])), min_size=1)
