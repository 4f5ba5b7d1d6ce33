"""A value that carries its own classes of privacy, where the key it stands under cannot say them."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from docgen.case.privacy import Privacy
from docgen.documents.made_from import Classes
from docgen.rendering.template import Gap, Number

Leaf = str | Number | Gap


class Classed(Struct, frozen=True):
    """A value, what a reader must be allowed to see to be shown it, and what is shown instead.

    needs    of each set the reader must be allowed at least one class: a text that stands under several keys may be
             shown to whoever may see any of them
    instead  for a reader who may not see it; None leaves it out
    """

    value: Leaf
    needs: tuple[Classes, ...]
    instead: Classed | Leaf | None = None

    def shown_to(self, may_see: Iterable[Privacy]) -> Leaf | None:
        """The value, or what stands instead of it."""
        allowed = frozenset(may_see)
        if all(need & allowed for need in self.needs):
            return self.value
        return self.instead.shown_to(allowed) if isinstance(self.instead, Classed) else self.instead


def each(classes: Classes) -> tuple[Classes, ...]:
    """What a value needs that is made from all of these classes."""
    return tuple(frozenset([privacy]) for privacy in sorted(classes))
