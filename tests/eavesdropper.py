"""A machine in the middle of a connection: it passes every byte on and keeps a copy."""

from __future__ import annotations

import socket
import threading
from contextlib import suppress
from typing import Self


class Eavesdropper:
    """Listens on a port of this machine and passes on to another.

    port   where it listens
    heard  every byte that went through, in both directions, one entry a direction of a connection
    """

    def __init__(self, to_port: int | None = None) -> None:
        self._to = to_port
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.port: int = self._listener.getsockname()[1]
        self.heard: list[bytearray] = []
        self.n_connections = 0
        self._open: list[socket.socket] = []
        self._threads = [threading.Thread(target=self._listen, daemon=True)]
        self._threads[0].start()

    def _listen(self) -> None:
        while True:
            try:
                near, _ = self._listener.accept()
            except OSError:
                return
            self.n_connections += 1
            self._open.append(near)
            if self._to is None:
                continue
            far = socket.create_connection(("127.0.0.1", self._to))
            self._open.append(far)
            for source, sink in ((near, far), (far, near)):
                self.heard.append(bytearray())
                thread = threading.Thread(target=self._pass_on, args=(source, sink, self.heard[-1]), daemon=True)
                thread.start()
                self._threads.append(thread)

    @staticmethod
    def _pass_on(source: socket.socket, sink: socket.socket, heard: bytearray) -> None:
        try:
            while data := source.recv(65536):
                heard += data
                sink.sendall(data)
            sink.shutdown(socket.SHUT_WR)
        except OSError:
            return

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._listener.shutdown(socket.SHUT_RDWR)
        self._listener.close()
        self._threads[0].join()
        for end in self._open:
            with suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
        for thread in self._threads[1:]:
            thread.join()
        for end in self._open:
            end.close()
