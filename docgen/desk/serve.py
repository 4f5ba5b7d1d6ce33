"""The desk at work: a port of this machine alone, the browser opened at the one-time link, until it is closed."""

from __future__ import annotations

import socket
from collections.abc import Callable
from pathlib import Path

import uvicorn

from docgen.desk.app import application
from docgen.desk.guard import Door, Guard
from docgen.errors import Problem, UserError

_HERE = "127.0.0.1"


def serve(folder: Path, port: int, show: Callable[[str], object]) -> None:
    """Serve a folder of cases until the page or the terminal closes it.

    port  0 for any that is free
    show  is given the one-time link
    Raises UserError where the port is taken.
    """
    listening = _bound(port)
    door = Door(listening.getsockname()[1])

    def close() -> None:
        server.should_exit = True

    config = uvicorn.Config(
        Guard(application(folder, close), door),
        access_log=False,  # a request names a case
        log_level="critical",
        lifespan="off",
        server_header=False,
        timeout_graceful_shutdown=3,
    )
    server = uvicorn.Server(config)
    show(f"http://{_HERE}:{listening.getsockname()[1]}{door.link}")
    server.run(sockets=[listening])


def _bound(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.bind((_HERE, port))
        listening.listen()  # a browser that is quicker than the server waits its turn
    except OSError as failure:
        listening.close()
        do = "Leave --port out: a free one is then taken."
        raise UserError([Problem("--port", f"{port} cannot be had: {failure.strerror}", do)]) from None
    return listening
