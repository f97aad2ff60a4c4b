"""Labels that read as others upside down, and which of them need a mark that says which way is up."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from functools import lru_cache
from typing import Any, TypeVar

from facewright.constraints.readouts import Label

L = TypeVar("L", bound=Label)

FIGURES: Mapping[str, str] = {"0": "0", "6": "9", "8": "8", "9": "6"}
"""Each figure that a half turn makes a figure; a 1 without a flag joins them, as itself."""

LETTERS: Mapping[str, str] = {
    **{letter: letter for letter in "HINOSXZosxzl"},
    **dict(zip("MWundpbq", "WMnupdqb", strict=True)),
}
"""Each letter that a half turn makes a letter, in upright sans-serif type (our own list, by eye)."""


@lru_cache(maxsize=4_096)
def turned(text: str, flag_on_one: bool = True) -> str | None:
    """What a text reads as when it stands upside down; None where that is no text.

    Example:
        >>> turned("68"), turned("NO"), turned("16"), turned("16", flag_on_one=False), turned("east")
        ('89', 'ON', None, '91', None)
    """
    images = {**FIGURES, **LETTERS} if flag_on_one else {**FIGURES, **LETTERS, "1": "1"}
    found = [images.get(character) for character in reversed(text)]
    return None if None in found else "".join(character or "" for character in found)


@lru_cache(maxsize=4_096)
def half_turn(label: int, flag_on_one: bool = True) -> int | None:
    """What a number reads as when its face is upside down; None where that is no label.

    A label does not begin with 0, so 60 has none; nor has -6, whose minus sign would stand behind.

    Example:
        >>> half_turn(6), half_turn(68), half_turn(69), half_turn(16), half_turn(16, flag_on_one=False)
        (9, 89, 69, None, 91)
    """
    image = turned(str(label), flag_on_one)
    return None if image is None or (image[0] == "0" and image != "0") else int(image)


def mistaken(labels: Collection[L], *, flag_on_one: bool = True, within_range: bool = True) -> Mapping[L, L]:
    """The labels of one die that read as another upside down, each with what it reads as.

    A number is mistaken where its image stands on the die as well, or, `within_range`, could stand there: where it
    lies between the least and the greatest label. A word is mistaken only for a word of the same die.

    Example:
        >>> mistaken([1, 2, 3, 4, 5, 6]), mistaken([6, 9]), mistaken([69, 96]), mistaken(["NO", "ON"])
        ({}, {6: 9, 9: 6}, {}, {'NO': 'ON', 'ON': 'NO'})
        >>> mistaken([2, 4, 6, 8, 10, 12]), mistaken([2, 4, 6, 8, 10, 12], within_range=False)
        ({6: 9}, {})
    """
    here = dict.fromkeys(labels)
    numbers = [label for label in here if isinstance(label, int)]
    found: dict[L, Any] = {}
    for label in here:
        image: Label | None
        if isinstance(label, int):
            image = half_turn(label, flag_on_one)
            near = within_range and image is not None and min(numbers) <= image <= max(numbers)
        else:
            image, near = turned(str(label), flag_on_one), False
        if image is not None and image != label and (near or image in here):
            found[label] = image
    return found
