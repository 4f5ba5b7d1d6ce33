"""Stretches that overlap are taken apart: nothing is kept that one of them would take out."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.case.nobody.spans import Span, apart, without

TEXT = "Ada B. Cole, 3 Elm Row; call 555 01, Dee"
_PLACE = st.integers(0, len(TEXT))
_SPANS = st.lists(
    st.tuples(_PLACE, _PLACE).filter(lambda ends: ends[0] < ends[1]).map(lambda ends: Span(*ends, "[x]")), max_size=8
)


@settings(max_examples=300, deadline=None)
@given(_SPANS)
def test_the_stretches_stand_apart_in_order_and_cover_each_letter_of_all(spans):
    done = apart(spans, TEXT)
    assert all(before.end <= after.start for before, after in zip(done, done[1:], strict=False))
    covered = {at for span in done for at in range(span.start, span.end)}
    asked = {at for span in spans for at in range(span.start, span.end)}
    assert covered <= asked and not any(TEXT[at].isalnum() for at in asked - covered)
    assert spans == [] or done[0].start >= min(span.start for span in spans)


@settings(max_examples=300, deadline=None)
@given(_SPANS)
def test_the_first_of_two_is_whole(spans):
    assert not spans or spans[0] in apart(spans, TEXT)


def test_a_stretch_that_keeps_what_stands_there_takes_nothing_beside_it():
    kept = Span(0, 3, "Ada")
    assert without(TEXT, apart([Span(1, 2, "-"), kept], TEXT)) == "A-a" + TEXT[3:]
    assert without(TEXT, apart([kept, Span(0, 11, "[x]")], TEXT)) == "Ada [x]" + TEXT[11:]
