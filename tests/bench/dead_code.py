"""Is there code that nothing uses? vulture looks through the package, and what it may find is listed here with the
reason.

    python tests/bench/dead_code.py

Status 1 when it finds anything else, or no longer finds what is listed. What only a test uses counts as unused.
"""

from __future__ import annotations

import sys
from fnmatch import fnmatch
from pathlib import Path

import vulture

PACKAGE = Path(__file__).resolve().parents[2] / "docgen"
CONFIDENCE = 60  # per cent; below that vulture reports every name that it sees written once

# reason -> files and names of it, with * for any
ALLOWED: dict[str, list[str]] = {
    "keys of a case, read from its TOML and shown by templates under their names": [
        "case/asked.py *",
        "case/model.py *",
        "case/need.py *",
        "case/paper.py *",
        "case/stop.py *",
        "case/supervision.py *",
        "case/training.py *",
        "case/transport.py *",
        "case/chair.py *",
        "case/tried.py *",
        "case/who.py *",
    ],
    "columns of the rows and keys of the plan of a trial, filled and asked for by their names": [
        "case/record.py *",
        "case/trial_plan.py *",
    ],
    "a consent that a case must hold for each photo, and that no page tells": [
        "case/photos.py agreed_by",
        "case/photos.py agreed_on",
    ],
    "codes of a submission, asked for by their names": [
        "request/submission.py request_type",
        "request/submission.py certification",
    ],
    "keys of tables that templates show": [
        f"documents/{module}.py *"
        for module in (
            "as_fitted",
            "base_asked",
            "checklist",
            "daily_use",
            "drive_profiles",
            "emergency",
            "emergency_answers",
            "emergency_steps",
            "follow_up",
            "lesson_cards",
            "lines",
            "matched",
            "matched_findings",
            "mounting",
            "options",
            "parameters",
            "places",
            "planned",
            "planned_order",
            "row_rule",
            "simpler_devices",
            "sitting",
            "slopes",
            "standard_parts",
            "stop_tests",
            "stops_elsewhere",
            "stopping_told",
            "supervised",
            "telling",
        )
    ],
    "keys of a document's front matter, which the README lists": ["documents/document.py leaves_out"],
    "keys of data held by tests: codes that exclude each other, sources of terms, the law's millimetres": [
        "codes/hcpcs.py conflicts_with",
        "fit/feature.py term_source",
        "fit/finding.py term_source",
        "evidence/spaces.py printed_mm",
    ],
    "parts of a result that make it whole, held by tests": [
        "evidence/difference.py greater",
        "evidence/further_attempts.py n_per_method",
        "evidence/rate.py p_doubled",
        "evidence/trend.py n_worse",
        "evidence/trend.py tau_u",
        "evidence/trend.py nap_se",
    ],
    "what a page of the desk shows": [
        "desk/behind.py href",
        "desk/fields.py is_long",
        "desk/fields.py ticked",
        "desk/fields.py unit_word",
        "desk/grid.py is_filled",
        "desk/grid.py from_totals",
        "desk/renaming.py on_phone",
    ],
    "words of a page that are chosen by the tone of a call-out": [
        "rendering/labels.py important",
    ],
    "read by pydantic": [
        "* model_config",
        "case/mount.py _no_gap_where_it_touches",
        "fit/condition.py _only_what_was_read",
        "fit/condition.py _rows_are_there",
    ],
    "called by the language, by typer, by singledispatch or by a parser": [
        "__init__.py __getattr__",
        "__init__.py __dir__",
        "case/base.py handler",
        "rendering/dialect.py validateLink",
        "rendering/dialect.py url",
        "rendering/pdf/drawing.py _rect",
        "rendering/pdf/drawing.py _circle",
        "rendering/pdf/drawing.py _poly",
        "rendering/template.py intercepted_binops",
    ],
    "set for a library to read": [
        "case/toml_tree.py display_name",
        "desk/serve.py should_exit",
        "desk/reading.py background",
        "rendering/docx/package.py last_modified_by",
        "rendering/docx/package.py created",
        "rendering/docx/package.py modified",
        "rendering/docx/package.py compress_type",
        "rendering/docx/package.py external_attr",
        "rendering/pdf/inside.py StructParents",
        "rendering/pdf/inside.py Tabs",
        "rendering/pdf/inside.py Annots",
        "rendering/pdf/inside.py MarkInfo",
        "rendering/pdf/inside.py StructTreeRoot",
    ],
    "a type, named within a string": ["rendering/docx/package.py DocumentPackage"],
}


def main() -> int:
    """Print what is unused and not listed, and what is listed and used; status 1 when there is any of it."""
    search = vulture.Vulture()
    search.scavenge([PACKAGE, PACKAGE.parent / "tests" / "packaging" / "hatch_build.py"])
    unused = {
        f"{item.filename.relative_to(PACKAGE).as_posix()} {item.name}": f"{item.first_lineno}: unused {item.typ}"
        for item in search.get_unused_code(min_confidence=CONFIDENCE)
        if item.filename.is_relative_to(PACKAGE)
    }
    patterns = [pattern for listed in ALLOWED.values() for pattern in listed]
    new = [f"{name}, line {what}" for name, what in unused.items() if not any(fnmatch(name, p) for p in patterns)]
    used = [pattern for pattern in patterns if not any(fnmatch(name, pattern) for name in unused)]
    print("\n".join([*new, *(f"{pattern}: listed, and used or gone" for pattern in used)]))
    print(f"{len(unused)} names that vulture finds, {len(new)} of them not listed")
    return 1 if new or used else 0


if __name__ == "__main__":
    sys.exit(main())
