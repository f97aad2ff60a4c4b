"""The values of moulding: the file that is shipped, copies of it, and files that are none."""

from __future__ import annotations

from pathlib import Path

import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.moulding import SHIPPED, moulding


def test_a_copy_with_another_value(tmp_path: Path) -> None:
    text = SHIPPED.read_text(encoding="utf-8")
    assert "no source" in text
    copy = tmp_path / "ours.toml"
    copy.write_text(text.replace("stripped_to_deg = 75", "stripped_to_deg = 40"), encoding="utf-8")
    assert moulding(copy).release.stripped_to_deg == 40
    assert moulding(copy).rounding == moulding().rounding
    assert moulding().release.stripped_to_deg == 75


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (
            ("free_to_deg = 15", "free_to_deg = -1"),
            r"release\.free_to_deg: found -1; accepted: a number above 0",
        ),
        (("free_to_deg = 15", "free_to_deg = true"), r"release\.free_to_deg: found True"),
        (("free_to_deg = 15", 'free_to_deg = "15"'), r"release\.free_to_deg: found '15'"),
        (("free_to_deg = 15", ""), "release: found stripped_to_deg; accepted: free_to_deg, stripped_to_deg"),
        (("free_to_deg = 15", "free_to_deg = 15\nfee = 2"), "release: found free_to_deg, fee"),
        (
            ("[release]", "[relase]"),
            "found the parts relase, recess, rounding; accepted: release, recess, rounding",
        ),
        (("[release]", "[release"), "accepted: a copy of moulding.toml"),
    ],
)
def test_files_that_are_none(change: tuple[str, str], words: str, tmp_path: Path) -> None:
    copy = tmp_path / "ours.toml"
    copy.write_text(SHIPPED.read_text(encoding="utf-8").replace(*change), encoding="utf-8")
    with pytest.raises(UsageError, match=words):
        moulding(copy)


def test_a_part_that_is_no_table(tmp_path: Path) -> None:
    copy = tmp_path / "ours.toml"
    copy.write_text("release = 3\nrecess = 1\nrounding = 4\n", encoding="utf-8")
    with pytest.raises(UsageError, match="release: found 3; accepted: a table"):
        moulding(copy)


def test_no_file(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match=r"none\.toml"):
        moulding(tmp_path / "none.toml")
