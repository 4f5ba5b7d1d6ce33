"""What a case has left in a folder of packets -> gone, after it was shown; and where else its words may be."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from msgspec import Struct

from docgen.case.key import known_key
from docgen.errors import Problem, UserError
from docgen.packet.belonging import belongs, packet_names
from docgen.packet.manifest import MANIFEST, read_manifest
from docgen.packet.move import STAGING, refuse_false_staging
from docgen.private import alone_in

ELSEWHERE = (
    "letters, orders and packets that were sent, printed or handed over",
    "calendars that took over training.ics: take its events out there",
    "copies, backups and synchronized folders, and packets built into another folder with --out",
    "de-identified copies: they hold nothing that leads back, so they cannot be told apart here",
    "the case itself with its rows, its approval and its signed letter, which a clinic may have to keep",
)


class Left(Struct, frozen=True):
    """What a case has left in a folder of packets.

    names  in the packet's folder that go: pages, those changed by hand, those set aside, the manifest, unfinished work
    stays  what someone else put there
    """

    case: Path
    folder: Path
    names: tuple[str, ...] = ()
    stays: tuple[str, ...] = ()


def left_by(case: Path, out: Path) -> Left:
    """What a case has left in a folder of packets. Raises UserError when the packet there is of another case."""
    folder = out / case.resolve().name
    if not folder.is_dir():
        return Left(case, folder)
    refuse_false_staging(folder)
    manifest = read_manifest(folder)
    pages, aside = packet_names(folder)
    if not belongs(folder, manifest, known_key(case)):
        raise UserError(
            [
                Problem(
                    str(folder),
                    f"holds the packet of another case than {case}",
                    "Name that case, or take the folder away.",
                )
            ]
        )
    there = {*os.listdir(folder)}
    ours = {*pages, *aside, *manifest.known, *manifest.set_aside.values(), MANIFEST, STAGING} & there
    last = sorted(ours, key=lambda name: (name == MANIFEST, name))  # it tells whose the rest is, should this be stopped
    return Left(case, folder, tuple(last), tuple(sorted(there - ours)))


def forget(left: Left) -> None:
    """Remove what was shown, and the folder if nothing is left in it. Raises UserError."""
    try:
        with alone_in(left.folder):
            for name in left.names:
                path = left.folder / name
                if path.is_dir() and not path.is_symlink():
                    shutil.rmtree(path)
                else:
                    path.unlink(missing_ok=True)
            if not os.listdir(left.folder) and not left.folder.is_symlink():
                left.folder.rmdir()
    except OSError as failure:
        raise UserError(
            [
                Problem(
                    str(failure.filename or left.folder),
                    f"cannot be removed: {failure.strerror}",
                    "What was removed before it is gone; the same command again does the rest.",
                )
            ]
        ) from None
