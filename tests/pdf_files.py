"""Reads back the lines, areas and fonts of the PDFs that facewright writes; knows no more of PDF than that needs."""

from __future__ import annotations

import re
import zlib
from dataclasses import dataclass, field

import numpy as np

POINT_MM = 25.4 / 72


@dataclass
class Drawn:
    """A page: its size and its paths, in millimetres from the lower left corner."""

    size_mm: tuple[float, float]
    whole: list[np.ndarray] = field(default_factory=list)
    dashed: list[np.ndarray] = field(default_factory=list)
    filled: list[np.ndarray] = field(default_factory=list)


def pages_of(pdf: bytes) -> list[Drawn]:
    """The pages of a PDF, in order."""
    assert pdf.startswith(b"%PDF-")
    sizes = re.findall(rb"/MediaBox \[ 0 0 ([0-9.]+) ([0-9.]+) \]", pdf)
    streams = []
    for found in re.finditer(rb"stream\n(.*?)\nendstream", pdf, re.S):
        try:
            text = zlib.decompress(found[1])
        except zlib.error:
            continue
        if b"/DeviceRGB CS" in text:
            streams.append(text)
    assert len(sizes) == len(streams) > 0
    return [
        _read(Drawn((float(w) * POINT_MM, float(h) * POINT_MM)), text)
        for (w, h), text in zip(sizes, streams, strict=True)
    ]


def _read(page: Drawn, text: bytes) -> Drawn:
    reader = _Reader(page)
    plain = re.sub(rb"\((?:\\.|[^\\)])*\)", b" ", text)
    for token in re.findall(rb"[\[\]]|[^\s\[\]]+", plain):
        reader.take(token)
    return page


class _Reader:
    def __init__(self, page: Drawn) -> None:
        self._page = page
        self._numbers: list[float] = []
        self._inside: list[float] | None = None
        self._array: list[float] = []
        self._dash: list[float] = []
        self._kept: list[list[float]] = []
        self._path: list[list[tuple[float, float]]] = []

    def take(self, token: bytes) -> None:
        """Takes the next token of a content stream."""
        if token == b"[":
            self._inside = []
        elif token == b"]":
            self._array, self._inside = self._inside or [], None
        elif re.fullmatch(rb"-?[0-9.]+(e-?\d+)?", token):
            (self._numbers if self._inside is None else self._inside).append(float(token))
        else:
            self._operator(token.decode("latin-1"))
            self._numbers = []

    def _operator(self, name: str) -> None:
        if name == "m":
            self._path.append([(self._numbers[-2], self._numbers[-1])])
        elif name == "l":
            self._path[-1].append((self._numbers[-2], self._numbers[-1]))
        elif name == "h":
            self._path[-1].append(self._path[-1][0])
        elif name == "d":
            self._dash = self._array
        elif name == "q":
            self._kept.append(self._dash)
        elif name == "Q":
            self._dash = self._kept.pop()
        elif name in ("S", "f", "n", "b", "B"):
            runs = [np.array(run) * POINT_MM for run in self._path]
            kind = {"S": "dashed" if self._dash else "whole", "f": "filled"}.get(name)
            if kind:
                getattr(self._page, kind).extend(runs)
            self._path = []
