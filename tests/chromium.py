"""Where the browser that tests look through is; None where there is none."""

from __future__ import annotations

import shutil

_NAMES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
CHROMIUM = next(filter(None, map(shutil.which, _NAMES)), None)
NARROW_PX, TALL_PX = 320, 800
