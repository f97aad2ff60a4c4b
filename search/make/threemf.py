"""3MF: the surface of a die as triangles, with its unit and its title, in a package that slicers and print shops read.

Source: 3MF Consortium, "3D Manufacturing Format: Core Specification", version 1.3 (from memory). Every file is read
back and judged before it counts as written. The same die gives the same bytes.
"""

from __future__ import annotations

import io
import zipfile
from typing import TYPE_CHECKING, Any
from xml.sax.saxutils import escape, quoteattr

import numpy as np
from facewright.search.make.files import read_whole, write_whole
from facewright.search.make.mesh_check import MeshFault, MeshFinding, require

if TYPE_CHECKING:
    from pathlib import Path

    from facewright.search.make.surface import Surface
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

VERTEX = '<vertex x="%.9g" y="%.9g" z="%.9g"/>\n'
TRIANGLE = '<triangle v1="%d" v2="%d" v3="%d"/>\n'

FIRST_DATE = (1980, 1, 1, 0, 0, 0)
"""The earliest date that a zip file can hold: the bytes must not depend on the day."""


def write_3mf(die: Surface, path: Path, title: str = "") -> MeshFinding:
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


def _model(die: Surface, title: str) -> str:
    """The part of the package that holds the die."""
    # all at once: a die has tens of thousands of triangles
    points = VERTEX * len(die.points) % tuple(die.points.ravel().tolist())
    triangles = TRIANGLE * len(die.triangles) % tuple(die.triangles.ravel().tolist())
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
        columns = [_attributes(mesh, f"m:vertices/m:vertex/@{axis}") for axis in "xyz"]
        corners = [_attributes(mesh, f"m:triangles/m:triangle/@v{corner}") for corner in (1, 2, 3)]
        points = np.array([list(map(float, column)) for column in columns], dtype=np.float32).T
        triangles = np.array([list(map(int, column)) for column in corners], dtype=np.int64).T
    except (zipfile.BadZipFile, KeyError, ValueError, TypeError, etree.XMLSyntaxError) as wrong:
        raise MeshFault(f"{path}: not a 3MF package with one mesh ({wrong})") from wrong
    return points, triangles


def _attributes(mesh: Any, path: str) -> list[str]:
    """The values of one attribute of all elements of a kind, in their order."""
    from lxml import etree

    found: list[str] = etree.XPath(path, namespaces={"m": CORE}, smart_strings=False)(mesh)
    return found
