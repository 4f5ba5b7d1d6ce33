"""What the tests of what is on disk look at: packets of made-up files, and what stands in their folder."""

from __future__ import annotations

from support import DEMO_FOLDERS

CASE = next(f for f in DEMO_FOLDERS if f.name == "saoirse-villalobos-ng")


def files_of(version):
    return {
        f"{name}.{suffix}": f"{name} {suffix} {version} ".encode() * 500
        for name in ("cover", "letter")
        for suffix in ("html", "pdf")
    }


def on_disk(folder):
    return {
        path.name: path.read_bytes() for path in folder.iterdir() if path.is_file() and path.name != "manifest.json"
    }
