"""A former case -> the start of a new one: what the person is and was tried stays, each dated fact to be looked at.

Works on the text, so that a case in the words of an earlier version can be carried over too.
"""

from __future__ import annotations

import re
from datetime import date

from docgen.case.by_name import PRESENT
from docgen.case.lines import lines_of
from docgen.case.short_form import DAY_OF_VISIT
from docgen.terms import renamed

# tables that belong to the former request alone
_PAPERS = ("authorization", "confirmed", "dates", "delivery", "denial", "encounter", "order")
_SESSIONS = "training.totals"  # were held with the former device
_ID = re.compile(r"""(?m)^id\s*=\s*["'][^"'\n]*["']""")
_DATED = re.compile(r"""^[^"'#]*(?:"[^"]*"[^"'#]*)*=\s*\d{4}-\d{2}-\d{2}(?:[ ,}][^#]*)?(#.*)?$""")
_HEAD = re.compile(r"^\s*\[\[?\s*([a-z_]+(?:\.[a-z_0-9]+)*)")
_NAME = re.compile(r"^([a-z_][a-z0-9_]*)(?=\s*[.=])")
_FORMAT = re.compile(r"""^format\s*=\s*["']docgen case 1["']""")
# lists whose entries are named by a word of the vocabulary
_OF_VOCABULARY = ("configuration.commands", "configuration.features", "configuration.settings")
# visits whose name gives a day of the request, which the former one is not of the new
_OF_REQUEST = "|".join(DAY_OF_VISIT)
_VISIT_NAME = re.compile(rf"^(\s*)({_OF_REQUEST})(?=\s*[.=])")
_VISIT_HEAD = re.compile(rf"(?<=\[visits\.)({_OF_REQUEST})(?=\])")
_OF_VISIT = re.compile(rf"""(\bvisit\s*=\s*["'])({_OF_REQUEST})(?=["'])""")
_ID_OF_VISIT = re.compile(rf"""^(\s*id\s*=\s*["'])({_OF_REQUEST})(?=["'])""")
_FORMER = "former_"
_QUOTED = re.compile(r'"([a-z][a-z0-9_.]*)"')


def carried_over(text: str, case_id: str, today: date) -> str:
    """case.toml of a new case made from that of a former one.

    text  of a case.toml that is valid TOML, under the names of any version
    Papers of the former request are commented out; each other line with a date says that it is to be looked at again.
    A visit whose name gives a day of the request, as `encounter`, is renamed.
    """
    lines_of(text)
    was = re.search(_ID, text)
    renames = {old: new for kind in ("features", "settings", "values") for old, new in renamed(kind).items()}
    carried: list[str] = [
        f"# Carried over on {today.isoformat()}" + (f" from {was[0].partition('=')[2].strip()}" if was else "") + ".",
        "# Each date marked 'look again' is of the former request: confirm what it stands for, or record it again.",
    ]
    table, first = "", True
    for line in text.split("\n"):
        if head := _HEAD.match(line):
            table = head[1]
            of_list, _, name = table.rpartition(".")
            if of_list in _OF_VOCABULARY and name in renames:
                line = line.replace(table, f"{of_list}.{renames[name]}", 1)
        elif table in _OF_VOCABULARY:
            line = _NAME.sub(lambda name: _new_name(name[1], renames), line)
        if table.partition(".")[0] in _PAPERS or table == _SESSIONS:
            carried.append(f"# {line}" if line.strip() and not line.startswith("#") else line)
            continue
        line = _OF_VISIT.sub(rf"\1{_FORMER}\2", _VISIT_HEAD.sub(rf"{_FORMER}\1", line))
        if table == "visits":
            line = _ID_OF_VISIT.sub(rf"\1{_FORMER}\2", _VISIT_NAME.sub(rf"\1{_FORMER}\2", line))
        line = _FORMAT.sub(f'format = "{PRESENT}"', line)
        if not table and first and _ID.match(line):
            line, first = f'id = "{case_id}"', False
        line = _QUOTED.sub(lambda quoted: f'"{_new_name(quoted[1], renames)}"', line)
        if dated := _DATED.match(line):
            bare = line[: dated.start(1)].rstrip() if dated[1] else line.rstrip()
            line = f"{bare}  # look again"
        carried.append(line)
    return "\n".join(carried)


def _new_name(name: str, renames: dict[str, str]) -> str:
    return renames.get(name, name)
