"""Labels typed on a command line."""

from __future__ import annotations

import pytest
from facewright.constraints.own import FORM, parse_labels
from facewright.constraints.texts import TextError


@pytest.mark.parametrize(
    ("text", "labels"),
    [
        ("1 2 2 3 3 4", (1, 2, 2, 3, 3, 4)),
        ("4,3,3, 2 2,1", (1, 2, 2, 3, 3, 4)),
        ("1..6", (1, 2, 3, 4, 5, 6)),
        ("1 .. 3", (1, 2, 3)),
        ("-2..1, 5 +7", (-2, -1, 0, 1, 5, 7)),
        ("−1 1", (-1, 1)),
        ("0 0", (0, 0)),
        ("1..1000", tuple(range(1, 1001))),
    ],
)
def test_labels_are_read_and_sorted(text: str, labels: tuple[int, ...]) -> None:
    assert parse_labels(text) == labels


@pytest.mark.parametrize(
    ("text", "found", "accepted"),
    [
        ("", "no label", FORM),
        (" , ", "no label", FORM),
        ("6", "one label, 6", "at least two labels a die, all in one pair of quotation marks"),
        ("1 two 3", '"two"', FORM),
        ("1.5 2", '"1.5"', FORM),
        ("1...3", '"1...3"', FORM),
        ("1-6", '"1-6"', 'a range with two dots, "1..6"'),
        ("6..1", '"6..1", a range that runs downwards', '"1..6"'),
        ("1..1001", '"1..1001", 1,001 labels', "up to 1,000 labels a die"),
        ("1..600 1..600", "more than 1,000 labels", "up to 1,000 labels a die"),
        ("1 1000001", '"1000001"', "labels from -1,000,000 to 1,000,000"),
        ("1 " + "9" * 5000, '"' + "9" * 59 + '…"', "labels from -1,000,000 to 1,000,000"),
    ],
)
def test_refusals_are_kind(text: str, found: str, accepted: str) -> None:
    with pytest.raises(TextError) as refused:
        parse_labels(text)
    assert (refused.value.found, refused.value.accepted) == (found, accepted)
