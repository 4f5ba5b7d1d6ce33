"""The records of each criterion share whole_case, ready_case, changes and records, which stand here."""

from __future__ import annotations

import pytest

pytest.register_assert_rewrite("records")
