"""What would turn an open answer into "met": the keys to fill in, the entries to add, and the sentence a reader
gets."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from docgen.criteria.sentences import listed


class NewEntry(Struct, frozen=True):
    """An entry to add to a list of tables.

    table  the list by its dotted path, such as "configuration.items"
    keys   keys it should hold besides those that it cannot do without
    fixed  keys whose value follows from the question, each as TOML writes it, such as ("role", '"evaluator"')
    """

    table: str
    keys: tuple[str, ...] = ()
    fixed: tuple[tuple[str, str], ...] = ()


class Mend(Struct, frozen=True):
    """The shortest way to "met".

    say   what to do, as a sentence
    fill  keys to fill in: with dots from the top of the case, without dots in the tables that the answer points to
    add   entries to add
    work  the keys are not all there is to do, so the sentence is printed beside them
    """

    say: str
    fill: tuple[str, ...] = ()
    add: tuple[NewEntry, ...] = ()
    work: bool = False


def fill_in(forms: Mapping[str, str], tail: str = "", lead: str = "") -> Mend:
    """Fill in keys; each is told with its form, such as {"dates.ordered_on": "<date>"}, or alone where that is "".

    tail  what follows the keys, with its space or comma
    lead  what to do before, in place of "Fill in"
    """
    keys = listed(f"{key} {form}".rstrip() for key, form in forms.items())
    return Mend(f"{lead or 'Fill in'} {keys}{tail}.", fill=tuple(forms), work=bool(lead))


def add_entry(table: str, *keys: str, tail: str = "", **fixed: str | bool) -> Mend:
    """Add an entry to a list of tables, with these keys, some of them with a fixed value."""
    pairs = tuple(
        (key, str(value).lower() if isinstance(value, bool) else f'"{value}"') for key, value in fixed.items()
    )
    content = listed([*(f"{key} = {value}" for key, value in pairs), *keys])
    return Mend(f"Add [[{table}]]{f' with {content}' if content else ''}{tail}.", add=(NewEntry(table, keys, pairs),))
