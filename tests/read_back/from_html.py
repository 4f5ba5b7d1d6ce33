"""HTML, read by the parser of the standard library: what stands in its main part, drawings left out."""

from __future__ import annotations

from html.parser import HTMLParser


class _MainWords(HTMLParser):
    _LINE = {"a", "bdi", "strong", "em", "span", "mark"}

    def __init__(self) -> None:
        super().__init__()
        self.depth, self.text = {"main": 0, "svg": 0}, ""

    def handle_starttag(self, tag, attrs):
        if tag in self.depth:
            self.depth[tag] += 1
        self.text += "" if tag in self._LINE else " "

    def handle_endtag(self, tag):
        if tag in self.depth:
            self.depth[tag] -= 1
        self.text += "" if tag in self._LINE else " "

    def handle_data(self, data):
        if self.depth["main"] and not self.depth["svg"]:
            self.text += data


def words(file: bytes) -> list[str]:
    reader = _MainWords()
    reader.feed(file.decode())
    return reader.text.split()
