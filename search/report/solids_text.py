"""The fair solids as text: a table of many, the particulars of one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

HEADS = ("solid", "rests", "F", "V", "E", "group", "sym", "rot", "opposite", "read", "settles", "")
_RIGHT = {1, 2, 3, 4, 6, 7, 10}


def cells(row: dict[str, Any]) -> tuple[str, ...]:
    """What the table says of a solid, in the order of `HEADS`, from `constraints.solids.geometry.about`."""
    return (
        row["name"],
        str(row["rests"]),
        str(row["faces"]),
        str(row["vertices"]),
        str(row["edges"]),
        row["point_group"],
        str(row["symmetry"]),
        str(row["rotations"]),
        "yes" if row["opposite"] else "no",
        row["read"],
        f"{row['settles']:.3f}",
        "!" if row["warning"] else "",
    )


def table(rows: Sequence[dict[str, Any]]) -> str:
    """The table of solids with a line on each column that needs one, then the warnings."""
    lines = [HEADS, *(cells(row) for row in rows)]
    wide = [max(len(line[column]) for line in lines) for column in range(len(HEADS))]
    text = [
        "  ".join(
            part.rjust(wide[column]) if column in _RIGHT else part.ljust(wide[column])
            for column, part in enumerate(line)
        ).rstrip()
        for line in lines
    ]
    notes = [
        "",
        "F, V, E: faces, vertices, edges. sym, rot: symmetries, and the rotations among them; they carry any rest to",
        "any other, which is checked for each solid. settles: how far the centre of mass must rise, in inradii, before",
        "the solid tips over an edge.",
    ]
    warnings = [(part, row["name"]) for row in rows for part in row["warning"].split("; ") if part]
    for warning in dict.fromkeys(part for part, _ in warnings):
        notes.append(f"! {warning}: {', '.join(name for part, name in warnings if part == warning)}")
    return "\n".join(text + notes)


def particulars(row: dict[str, Any]) -> str:
    """One solid in words, from `constraints.solids.geometry.geometry`."""
    counts = f"{len(row['faces'])} faces, {len(row['vertices'])} vertices, {len(row['edges'])} edges"
    said = [
        row["name"] + (f" (also {', '.join(row['also'])})" if row["also"] else ""),
        f"  {counts}; rests on {len(row['rests'])} of its faces",
        f"  symmetry {row['point_group']}: {row['symmetry']}, of them {row['rotations']} rotations; "
        + (
            "they carry any rest to any other"
            if row["fair"]
            else "they do not carry every rest to every other"
        ),
        f"  {'every rest has' if row['opposite'] else 'no'} opposite parallel face; read: {row['read']}"
        + (", since the top does not tell all rests apart" if row["read"] == "face below" else ""),
        f"  the point under the centre of mass lies {row['margin']:.3f} inradii inside the face below; "
        f"the centre must rise {row['settles']:.3f} to tip",
    ]
    if row["shape"]:
        said.append(
            "  proportions: " + ", ".join(f"{name} {number:g}" for name, number in row["shape"].items())
        )
    first = row["rests"][0]
    said.append(f"  lying on {first['below']} it shows {' '.join(first['shows'])}")
    if row["warning"]:
        said.append(f"  ! {row['warning']}")
    return "\n".join(said)
