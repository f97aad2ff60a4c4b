"""A folder of files for whoever makes a die: net, artwork, meshes, drawing and notes, all of them or none."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from facewright.constraints.errors import RunError
from facewright.constraints.solids.sizes import both_units, size_mm
from facewright.search.make.sizing import Sized, measured
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, Stopped, never

if TYPE_CHECKING:
    from facewright.search.make.nets import Net

FILES = ("artwork.svg", "net.pdf", "die.stl", "die.3mf", "die.step", "drawing.pdf", "notes.txt")
"""All files of a die, in the order in which they are made."""


DRAFT = ".making"
"""The folder, within that of the die, in which files stand until all are there; one that was cut short is cleared."""

HANDY_MM = 2.0
"""A tab shallower than this is hard to fold and to hold (our choice)."""


@dataclass(frozen=True)
class Made:
    """What was made: the names of the files, and sentences about what was left out or should be looked at."""

    files: tuple[str, ...]
    told: tuple[str, ...]


def make_files(folder: Path, names: tuple[str, ...], drafted: Callable[[Path], Made]) -> Made:
    """Makes files in a folder of drafts and puts them into the folder itself once all are there.

    Files of an earlier making that are now left out are taken away; other files in the folder stay.

    Params:
        folder: where they go.
        names: all that can come.
        drafted: makes them in the folder that it is given.
    Raises: RunError where a file cannot be written, and what `drafted` raises.
    """
    draft = folder / DRAFT
    with _held(folder):
        try:
            shutil.rmtree(draft, ignore_errors=True)
            draft.mkdir()
            made = drafted(draft)
            for name in names:
                if name in made.files:
                    (draft / name).replace(folder / name)
                else:
                    (folder / name).unlink(missing_ok=True)
        except OSError as wrong:
            raise RunError(
                f"{folder}: cannot be written ({wrong.strerror}); make room or name another with --out"
            ) from wrong
        finally:
            shutil.rmtree(draft, ignore_errors=True)
            with suppress(OSError):
                folder.rmdir()  # only where it is empty
    return made


def make_die(one: Sized, folder: Path, stop: Stop = never, report: Progress = silent) -> Made:
    """Makes all files of one die and puts them into a folder once all are there.

    Files of an earlier making that are now left out are taken away; other files in the folder stay.

    Params:
        one: the die in its size.
        folder: where its files go.
        stop: asked now and then whether to stop.
        report: told which file is being made.
    Raises: RunError where a file cannot be written; MeshFault where a mesh is not sound; Stopped.
    """
    return make_files(folder, FILES, lambda draft: _drafted(one, draft, stop, report))


@contextmanager
def _held(folder: Path) -> Iterator[None]:
    """Makes the folder of a die where there is none, and holds it for one process; RunError where that cannot be."""
    import fcntl

    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    except OSError as wrong:
        raise RunError(
            f"{folder}: cannot be made ({wrong.strerror}); name another folder with --out"
        ) from wrong
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as wrong:
            raise RunError(
                f"{folder}: another process is making files there; wait for it, or name another folder with --out"
            ) from wrong
        yield
    finally:
        os.close(handle)


def _drafted(one: Sized, folder: Path, stop: Stop, report: Progress) -> Made:
    from facewright.search.make.artwork_svg import artwork_svg
    from facewright.search.make.die_mesh import die_mesh
    from facewright.search.make.drawing import drawing_pdf
    from facewright.search.make.files import write_whole
    from facewright.search.make.net_pdf import net_pdf
    from facewright.search.make.nets import NetTooLarge, net_of
    from facewright.search.make.notes import notes_text
    from facewright.search.make.numerals_mesh import flat_radius_mm
    from facewright.search.make.paper import PAPERS
    from facewright.search.make.step import NO_CAD, cad_available, write_step
    from facewright.search.make.stl import write_stl
    from facewright.search.make.threemf import write_3mf

    die, mm = one.die, one.inradius_mm
    body, title = die.artwork.solid, f"{die.title} ({die.design[:8]})"
    files: list[str] = []
    told = one.remarks()

    def begin(name: str) -> Path:
        if reason := stop():
            raise Stopped(reason)
        report(name, len(files), len(FILES))
        files.append(name)
        return folder / name

    write_whole(begin("artwork.svg"), artwork_svg(die.artwork, mm, title, f"Size: {one.across}.").encode())
    try:
        net = net_of(body, mm, PAPERS[one.wishes.paper])
        told += net_remarks(one, net)
        about = [f"Design {die.design} · {body.name} · {one.across}"]
        write_whole(begin("net.pdf"), net_pdf(net, die.artwork, die.title, about))
    except NetTooLarge as too_large:
        told.append(f"net.pdf was left out: {too_large}.")
    radius = flat_radius_mm(die.artwork, mm)
    mesh = die_mesh(die.artwork, mm, one.least.route.recess, radius, raised=one.wishes.raised)
    told += mesh.notes
    write_stl(mesh, begin("die.stl"), title)
    write_3mf(mesh, begin("die.3mf"), title)
    if cad_available():
        write_step(mesh, die.artwork, begin("die.step"), title, stop=stop, report=report)
    else:
        told.append(f"die.step was left out: {NO_CAD}.")
    write_whole(begin("drawing.pdf"), drawing_pdf(one, mesh))
    write_whole(begin("notes.txt"), notes_text(one, mesh, told).encode())
    return Made(tuple(files), tuple(told))


def net_remarks(one: Sized, net: Net) -> list[str]:
    """What should be known of a paper net before it is printed: in how many pieces it comes, how small its tabs are."""
    most = f"{both_units(size_mm(net.solid, net.whole_mm, one.size_is))} {measured(one.size_is)}"
    said = []
    if len(net.pieces) > 1:
        said.append(
            f"Paper net: {len(net.pieces)} pieces on {net.sheets} sheets; up to {most} it hangs together on one sheet."
        )
    if net.least_tab_mm < HANDY_MM:
        said.append(
            f"Paper net: at this size its tabs are as shallow as {net.least_tab_mm:.1f} mm. A larger model, of up to "
            f"{most} on one sheet, is easier to fold: make it again with --size, in another folder."
        )
    return said
