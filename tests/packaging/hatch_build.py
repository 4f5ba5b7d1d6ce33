"""Run when a wheel is built: the program's own templates and tables go into it as Python too, so that no start reads
them anew."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class CompiledTemplates(BuildHookInterface):
    """docgen/compiled/<language>/<name>.py for each templates/<language>/<name>.md, and docgen/compiled/tables.py."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        if version == "editable":  # what is edited is compiled from its text
            return
        sys.path.insert(0, self.root)
        from docgen.packet.wording import write_python

        self.python = tempfile.TemporaryDirectory()
        for path in write_python(Path(self.python.name)):
            build_data["force_include"][str(path)] = f"docgen/compiled/{path.relative_to(self.python.name).as_posix()}"

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        if version != "editable":
            self.python.cleanup()
