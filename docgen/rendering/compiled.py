"""Templates as Python, made once when the package is built, so that no start compiles what never changes.

They stand in the package, and a run writes none. One that was made from another text or by another release of Jinja2 is
left aside; its template is then compiled from its text, as every template of a clinic's own is.
"""

from __future__ import annotations

from collections.abc import Callable, MutableMapping
from hashlib import sha256
from importlib.machinery import SourceFileLoader
from pathlib import Path
from typing import Any

import jinja2
from jinja2 import Environment, FunctionLoader, Template

_MADE_FROM = "made_from"  # name in the Python of a template


def python_of(environment: Environment, name: str) -> str:
    """The Python of a template, which says what it was made from."""
    text, path, _ = _loader(environment).get_source(environment, name)
    return f"{environment.compile(text, name, path, raw=True)}\n{_MADE_FROM} = {_digest(text)!r}\n"


class CompiledLoader(FunctionLoader):
    """Templates by a function, as Python where there is some.

    python  folder with the Python of `name.md` as `name.py`; it need not be there
    """

    def __init__(self, source: Callable[[str], tuple[str, str, None] | None], python: Path) -> None:
        super().__init__(source)
        self.python = python

    def load(self, environment: Environment, name: str, globals: MutableMapping[str, Any] | None = None) -> Template:
        """The template. Raises TemplateNotFound."""
        text, path, _ = self.get_source(environment, name)
        file = (self.python / name).with_suffix(".py")
        code = SourceFileLoader(file.stem, str(file)).get_code(file.stem) if file.is_file() else None
        if code is not None:
            namespace: dict[str, Any] = {
                "environment": environment,
                "__file__": path,
            }  # so mistakes are told by its lines
            exec(code, namespace)
            if namespace.get(_MADE_FROM) == _digest(text):
                return environment.template_class.from_module_dict(environment, namespace, globals or {})
        return super().load(environment, name, globals)


def _loader(environment: Environment) -> jinja2.BaseLoader:
    if environment.loader is None:
        raise ValueError("an environment without templates")
    return environment.loader


def _digest(text: str) -> str:
    return sha256(f"{jinja2.__version__}\n{text}".encode()).hexdigest()
