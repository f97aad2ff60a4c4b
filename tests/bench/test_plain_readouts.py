"""The plain model of readouts and the engine agree, so that the benchmark compares like with like."""

from __future__ import annotations

import pytest

from tests.bench import plain_readouts
from tests.readouts_asked import answered, asked


@pytest.mark.parametrize(
    ("name", "sizes"),
    [
        ("octahedron", (2, 2)),
        ("rhombic dodecahedron", (2, 4)),
        ("rhombic dodecahedron", (2, 3, 4)),
        ("hexagonal trapezohedron", (3, 4)),
        ("triakis tetrahedron", (2, 2, 3)),
        ("pentagonal trapezohedron", (2, 5)),
    ],
)
def test_the_plain_model_agrees(name: str, sizes: tuple[int, ...]) -> None:
    least, _ = plain_readouts.run(name, sizes, 60, 2)
    [design], closing = answered(asked(name, *sizes))
    assert closing.verdict == "best"
    assert design.dependence == least
