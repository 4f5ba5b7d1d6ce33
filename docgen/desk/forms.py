"""What a form of the desk sent: texts by name, and files, which lie on the disk as they come in and never in memory."""

from __future__ import annotations

import shutil
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path, PurePosixPath
from urllib.parse import parse_qs

from msgspec import Struct
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request

from docgen.private import private_folder, write_private

_PLAIN, _WITH_FILES = "application/x-www-form-urlencoded", "multipart/form-data"
_MOST_FIELDS, _MOST_FILES = 500, 20


class Upload(Struct, frozen=True):
    """A file that a form sent: its name, without any folder, and what it holds."""

    name: str
    sent: UploadFile

    def put(self, path: Path) -> None:
        """Write it for its owner alone, a piece at a time."""
        write_private(path, b"")
        with path.open("wb") as target:
            shutil.copyfileobj(self.sent.file, target)

    async def put_in(self, folder: Path) -> Path:
        """The same into a folder, under its own name."""
        private_folder(folder)
        await run_in_threadpool(self.put, folder / self.name)
        return folder / self.name


async def texts_of(request: Request) -> dict[str, list[str]]:
    """The texts of a form without files: name -> its texts. Raises HTTPException for anything else."""
    if _kind(request) != _PLAIN:
        raise HTTPException(415)
    try:
        return parse_qs((await request.body()).decode(), keep_blank_values=True, max_num_fields=_MOST_FIELDS)
    except ClientDisconnect:  # more than is allowed, or the browser has gone
        raise HTTPException(413) from None
    except ValueError:
        raise HTTPException(400) from None


@asynccontextmanager
async def sent_with(request: Request) -> AsyncIterator[tuple[dict[str, list[str]], dict[str, list[Upload]]]]:
    """The texts and the files of a form that may bring files, which are gone at the end. Raises HTTPException."""
    if _kind(request) != _WITH_FILES:
        yield await texts_of(request), {}
        return
    texts: dict[str, list[str]] = {}
    files: dict[str, list[Upload]] = {}
    try:
        async with request.form(max_files=_MOST_FILES, max_fields=_MOST_FIELDS) as form:
            for name, value in form.multi_items():
                if isinstance(value, str):
                    texts.setdefault(name, []).append(value)
                elif value.filename:  # a field in which nothing was chosen sends an empty one
                    files.setdefault(name, []).append(Upload(_bare(value.filename), value))
            yield texts, files
    except ClientDisconnect:
        raise HTTPException(413) from None


def _kind(request: Request) -> str:
    return request.headers.get("content-type", "").partition(";")[0].strip().lower()


def _bare(name: str) -> str:
    """The name of a file without what leads elsewhere or hides it."""
    bare = PurePosixPath(name.replace("\\", "/")).name.replace("\0", "").lstrip(".")
    return bare[-100:] or "file"
