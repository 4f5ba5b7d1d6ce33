"""The workers of a Dask scheduler, which need docgen and no disk in common; over TLS alone.

Certificates are those of Dask's own settings. Dask reads part of what a scheduler says with pickle, so a scheduler, and
whatever holds a certificate of its authority, is trusted with running code here; packets themselves come back as JSON.
"""

from __future__ import annotations

import os
import re
from concurrent.futures import Future
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from msgspec import Struct

from docgen.case.key import known_key
from docgen.errors import Problem, UserError
from docgen.packet.contents import Contents
from docgen.packet.recipe import Recipe
from docgen.packet.reply import answer, from_bytes
from docgen.packet.sent import to_send
from docgen.packet.work import Failed, Made

if TYPE_CHECKING:
    from distributed import Client, Security

_CONNECT_S = 10
_ADDRESS = re.compile(r"tls://(?:\[[0-9A-Fa-f:.]+\]|[A-Za-z0-9._-]+):[0-9]{1,5}")
_SETTINGS = "See 'Many cases' in README.md: ca-file, client.cert and client.key under distributed.comm.tls."


class _Awaited(Struct, frozen=True):
    """A packet that a worker makes; what comes is read here.

    future  of Dask, with the bytes of a reply
    """

    future: Any
    case: Contents
    out: Path
    made_from: str

    def done(self) -> bool:
        """Whether it is there, or never will be."""
        return bool(self.future.done())

    def result(self) -> Made | Failed:
        """Waits for it. Raises what Dask raises when a worker is lost."""
        return from_bytes(self.future.result(), self.case.name, self.out, self.made_from, known_key(self.case.path))


class Cluster:
    """The workers of one scheduler. Raises UserError when it cannot be reached safely; nothing of a case is sent till
    then."""

    def __init__(self, recipe: Recipe, out: Path, address: str) -> None:
        if not _ADDRESS.fullmatch(address):
            raise _refused(
                f"'{address[:80]}' is no address of an encrypted connection, and a case is sent over no other",
                "Give it as tls://10.0.0.5:8786, of a scheduler that runs with --protocol tls.",
            )
        try:
            from distributed import Client
        except ImportError:
            raise _refused("needs the package distributed", "Install it with: pip install 'docgen[cluster]'") from None
        security = _security()
        try:
            self._client: Client = Client(
                address, timeout=_CONNECT_S, set_as_default=False, security=security, direct_to_workers=False
            )
        except (OSError, ValueError) as failure:
            raise _refused(
                f"there is no scheduler at {address} that takes our certificate ({type(failure).__name__})",
                "Check that it runs, with --protocol tls, and that both certificates are of one authority.",
            ) from None
        try:
            n_threads = sum(self._workers().values())
            if not n_threads:
                raise _refused(f"the scheduler at {address} has no workers", "Start some.")
            self.n_ahead, self._out, self._made_from = 2 * n_threads, out, recipe.made_from
            self._recipe = self._client.scatter(recipe, broadcast=True)
        except UserError:
            self._client.close()
            raise

    def _workers(self) -> dict[str, int]:
        """Address of each worker -> its threads. Raises UserError if one is reached without encryption."""
        n_threads: dict[str, int] = self._client.nthreads()
        if plain := [address for address in n_threads if not address.startswith("tls://")]:
            raise _refused(
                f"the worker at {plain[0][:80]} is reached without encryption, and a case is sent to no such one",
                "Set distributed.comm.require-encryption to true on all machines, and start it again.",
            )
        return n_threads

    def submit(self, case: Contents) -> _Awaited | Future[Made | Failed]:
        """The case, to be done by the worker that is free first; one that cannot be read or sent is told at once."""
        try:
            sent = to_send(case)
            self._workers()  # one may have joined meanwhile
        except UserError as failure:
            refusal: Future[Made | Failed] = Future()
            refusal.set_result(Failed(failure.problems))
            return refusal
        future = self._client.submit(answer, self._recipe, sent, pure=False)
        return _Awaited(future, case, self._out, self._made_from(case))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._client.close()


def _security() -> Security:
    """The certificates of Dask's own settings, with encryption required. Raises UserError."""
    from distributed import Security

    security = Security(require_encryption=True)
    for name in ("tls_ca_file", "tls_client_cert", "tls_client_key"):
        path = getattr(security, name)
        if path and "\n" not in path and not os.access(path, os.R_OK):  # with line ends it is the certificate itself
            raise _refused(f"Dask's settings name a certificate or key that cannot be read: {path}", _SETTINGS)
    try:
        context = security.get_connection_args("client")["ssl_context"]
    except (OSError, ValueError) as failure:  # what ssl says of a broken file is an OSError too
        raise _refused(f"a certificate or key of Dask's settings is none: {failure}", _SETTINGS) from None
    if context is None:
        raise _refused("Dask's settings name no certificates to encrypt with", _SETTINGS)
    return security


def _refused(what: str, do: str) -> UserError:
    return UserError([Problem("--cluster", what, do)])
