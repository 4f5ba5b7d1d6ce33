"""Modules of a package folder, found by scanning: one new thing is one new file."""

from __future__ import annotations

import importlib
import pkgutil
from types import ModuleType


def modules_in(package: ModuleType) -> list[ModuleType]:
    """Every public module of the package, sorted by name; names starting with _ are left out."""
    names = sorted(info.name for info in pkgutil.iter_modules(package.__path__) if not info.name.startswith("_"))
    return [importlib.import_module(f"{package.__name__}.{name}") for name in names]
