"""A photo that a form sent, put beside the case as its pixels alone: no place, camera, day, comment or author."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from docgen.desk.forms import Upload
from docgen.errors import Problem, UserError
from docgen.photo import MOST_BYTES, NoUsablePhoto, plain_photo
from docgen.private import write_private

_NO_NAME = re.compile(r"[^a-z0-9]+")
_MOST_NAME = 40


@contextmanager
def beside(case: Path, sent: Upload) -> Iterator[str]:
    """The name of the photo once it stands beside the case; it is taken away again where what follows fails.

    Raises UserError for what is no photo.
    """
    data = sent.sent.file.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise UserError([Problem(sent.name, f"is over {MOST_BYTES:,} bytes", "Save a smaller one.")])
    try:
        jpeg = plain_photo(data).jpeg
    except NoUsablePhoto as failure:
        raise UserError([Problem(sent.name, f"the photo {failure.what}", failure.do)]) from None
    path = _free(case, Path(sent.name).stem)
    write_private(path, jpeg)
    try:
        yield path.name
    except BaseException:
        path.unlink(missing_ok=True)
        raise


def _free(case: Path, stem: str) -> Path:
    """A name that no file beside the case has yet."""
    name = _NO_NAME.sub("_", stem.lower()).strip("_")[:_MOST_NAME] or "photo"
    paths = (case / f"{name}{f'_{n}' if n > 1 else ''}.jpg" for n in range(1, 1000))
    return next(path for path in paths if not path.exists() and not path.is_symlink())
