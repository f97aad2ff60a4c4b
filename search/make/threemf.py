"""3MF: the surface of a die as triangles, with its unit and its title, in a package that slicers and print shops read.

Source: 3MF Consortium, "3D Manufacturing Format: Core Specification", version 1.3 (from memory). Every file is read
back and judged before it counts as written. The same die gives the same bytes.
"""

from __future__ import annotations

import io
import zipfile
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape, quoteattr

import numpy as np
from facewright.search.make.files import read_whole, write_whole
from facewright.search.make.mesh_check import MeshFault, MeshFinding, require

if TYPE_CHECKING:
    from pathlib import Path

    from facewright.search.make.die_mesh import DieMesh
    from numpy.typing import NDArray

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
MODEL = "3D/3dmodel.model"
DECLARATION = '<?xml version="1.0" encoding="UTF-8"?>\n'

TYPES = (
    f'{DECLARATION}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>\n'
)
RELATIONS = (
    f'{DECLARATION}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    f'<Relationship Id="model" Target="/{MODEL}" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>\n'
)

FIRST_DATE = (1980, 1, 1, 0, 0, 0)
"""The earliest date that a zip file can hold: the bytes must not depend on the day."""


def write_3mf(die: DieMesh, path: Path, title: str = "") -> MeshFinding:
    """Writes a die as a 3MF file, reads it back and judges it.

    Params:
        die: the die, in millimetres.
        path: of the file; its folder is made where there is none.
        title: names the die; without it, its solid does.
    Returns: what the file holds.
    Raises: RunError where it cannot be written; MeshFault where the file does not hold one closed body of that volume.
    """
    package = io.BytesIO()
    with zipfile.ZipFile(package, "w") as archive:
        for name, text in (
            ("[Content_Types].xml", TYPES),
            ("_rels/.rels", RELATIONS),
            (MODEL, _model(die, title or die.name)),
        ):
            entry = zipfile.ZipInfo(name, FIRST_DATE)
            entry.compress_type, entry.create_system, entry.external_attr = (
                zipfile.ZIP_DEFLATED,
                3,
                0o644 << 16,
            )
            archive.writestr(entry, text.encode("utf-8"), compresslevel=6)
    write_whole(path, package.getvalue())
    points, triangles = read_3mf(path)
    return require(points, triangles, die.volume_mm3, str(path))


def _model(die: DieMesh, title: str) -> str:
    """The part of the package that holds the die."""
    points = "".join(f'<vertex x="{x:.9g}" y="{y:.9g}" z="{z:.9g}"/>\n' for x, y, z in die.points.tolist())
    triangles = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>\n' for a, b, c in die.triangles.tolist())
    return (
        f'{DECLARATION}<model unit="millimeter" xml:lang="en" xmlns="{CORE}">\n'
        f'<metadata name="Title">{escape(title)}</metadata>\n<metadata name="Application">facewright</metadata>\n'
        f'<resources><object id="1" type="model" name={quoteattr(title)}><mesh>\n'
        f"<vertices>\n{points}</vertices>\n<triangles>\n{triangles}</triangles>\n"
        '</mesh></object></resources>\n<build><item objectid="1"/></build>\n</model>\n'
    )


def read_3mf(path: Path) -> tuple[NDArray[np.floating], NDArray[np.int64]]:
    """Points, shape (n, 3), in millimetres, and triangles, shape (m, 3), of a 3MF file with one object.

    Raises: RunError where it cannot be read; MeshFault where it is no such package.
    """
    from lxml import etree

    try:
        with zipfile.ZipFile(io.BytesIO(read_whole(path))) as archive:
            text = archive.read(MODEL)
        model = etree.fromstring(
            text, etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=True)
        )
        space = {"m": CORE}
        unit = model.get("unit", "millimeter")
        if unit != "millimeter":
            raise MeshFault(f"{path}: found unit {unit!r}; accepted: millimeter")
        [mesh] = model.findall("m:resources/m:object/m:mesh", space)
        points = [[float(v.get(k)) for k in "xyz"] for v in mesh.iterfind("m:vertices/m:vertex", space)]
        triangles = [
            [int(t.get(k)) for k in ("v1", "v2", "v3")]
            for t in mesh.iterfind("m:triangles/m:triangle", space)
        ]
    except (zipfile.BadZipFile, KeyError, ValueError, TypeError, etree.XMLSyntaxError) as wrong:
        raise MeshFault(f"{path}: not a 3MF package with one mesh ({wrong})") from wrong
    return np.array(points, dtype=np.float32), np.array(triangles, dtype=np.int64)
