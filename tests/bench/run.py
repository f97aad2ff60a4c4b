"""Benchmarks: ratios against the plain alternatives in the same run, and a table of growth with time and peak memory.

Run by `make bench` (some minutes) or `make bench-quick` (under a minute). Prints Markdown on standard output. A plain
run that reaches its limit is printed as "over N s", without a ratio.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from fractions import Fraction
from importlib import import_module
from importlib.metadata import version
from math import isnan
from pathlib import Path
from typing import Any

from facewright.constraints.brief import parse
from facewright.constraints.duels import least_chance
from facewright.search.engines.factors import Factors
from facewright.search.progress import silent
from facewright.search.stop import never
from facewright.search.threads import one_thread

sys.path.insert(0, str(Path(__file__).parent))
os.environ["FACEWRIGHT_CACHE"] = ""  # answers kept from earlier are no measure of this run
one_thread()  # ours and the plain ones, as the command does
COMMAND = [sys.executable, "-m", "facewright.search.cli"]

LAUNCHER = """
import json, os, sys, tempfile, time
with tempfile.TemporaryFile() as out:
    started = time.perf_counter()
    child = os.posix_spawn(sys.argv[1], sys.argv[1:], os.environ, file_actions=[(os.POSIX_SPAWN_DUP2, out.fileno(), 1)])
    _, status, usage = os.wait4(child, 0)
    seconds = time.perf_counter() - started
    out.seek(0)
    print(json.dumps([seconds, usage.ru_maxrss / 1024, status, out.read().decode()]))
"""
"""Starts the command from a small process: a child's peak memory counts what its parent held when it was made."""


ANY = 'title = "any"\nsolid = "any up to 60"\nreadouts = { two = 2, three = 3, four = 4 }\n'
"""The catalogue asked for three readouts."""


def brief(faces: int, dice: int) -> str:
    """The question that ordinary dice ask of dice like themselves."""
    return f'title = "{dice}d{faces}"\nlike = "{dice}d{faces}"\nread = "total"\ndice = {[faces] * dice}\n'


def engine_seconds(faces: int, dice: int, repeats: int) -> tuple[int, float]:
    """Designs, and the median seconds inside the engine from question to the last design."""
    question = parse(brief(faces, dice), "bench")
    times = []
    for _ in range(repeats):
        started = time.perf_counter()
        answering = Factors().answer(question, 10_000, never, 0, silent)
        for _design in answering:
            pass
        times.append(time.perf_counter() - started)
    return answering.closing.count, statistics.median(times)


def command(arguments: list[str], text: str = "", repeats: int = 1) -> tuple[str, float, float]:
    """Output, median wall seconds and peak memory (MiB) of a whole command, a fresh process each time."""
    times, peak, output = [], 0.0, ""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "brief.toml"
        path.write_text(text)
        named = [
            str(path) if a == "BRIEF" else str(Path(folder) / "run") if a == "RUN" else a for a in arguments
        ]
        for _ in range(repeats):
            told = subprocess.run(
                [sys.executable, "-S", "-c", LAUNCHER, *COMMAND, *named], capture_output=True, check=True
            )
            seconds, memory, status, output = json.loads(told.stdout)
            if status:
                raise SystemExit(
                    f"bench: {' '.join(named)} ended with status {status}: {told.stderr.decode()}"
                )
            times.append(seconds)
            peak = max(peak, memory)
    return output, statistics.median(times), peak


def machine() -> list[str]:
    """What the figures were measured on."""
    model = next(
        (
            line.split(":")[1].strip()
            for line in Path("/proc/cpuinfo").read_text().splitlines()
            if "model name" in line
        ),
        platform.processor(),
    )
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    packages = ", ".join(
        f"{name} {version(name)}" for name in ("python-flint", "numpy", "ortools", "pydantic")
    )
    return [
        f"Machine: {model}, {os.cpu_count()} cores, {memory:.0f} GiB; Python {platform.python_version()}; {packages}.",
        f"Load at the start: {os.getloadavg()[0]:.2f}.",
    ]


def against_plain(title: str, plain: str, faces: int, limit: float, workers: int, repeats: int) -> str:
    """A row: the engine against a plain alternative on two dice, in the same run."""
    count, ours = engine_seconds(faces, 2, repeats)
    found, seconds = import_module(plain).run(faces, limit, workers)
    if found is None:
        return f"| {title} | {count} | {ours:.5f} s | over {limit:.0f} s | – |"
    if found != count:
        raise SystemExit(f"bench: {title}: the engine counts {count}, the plain alternative {found}")
    return f"| {title} | {count} | {ours:.5f} s | {seconds:.2f} s | {seconds / ours:,.0f} |"


def growth(cases: list[tuple[int, int]]) -> list[str]:
    """Rows: dice of one kind like themselves, counted by the whole command."""
    rows = [
        "| question | numberings | whole command | in the engine | peak memory |",
        "|---|---:|---:|---:|---:|",
    ]
    for dice, faces in cases:
        output, seconds, peak = command(["find", "BRIEF", "--count", "--json", "--quiet"], brief(faces, dice))
        answer = json.loads(output)
        inside = answer["evidence"]["seconds"]
        rows.append(
            f"| {dice}d{faces} | {answer['count']:,} | {seconds:.2f} s | {inside:.3f} s | {peak:.0f} MiB |"
        )
        print(f"{dice}d{faces}", file=sys.stderr)
    return rows


def solids(repeats: int) -> list[str]:
    """Rows: the solids of the catalogue built anew with their groups, all together and the slowest of them alone."""
    from facewright.constraints.solids import catalogue

    catalogue.build("cube")
    names = catalogue.listed()
    totals, slowest = [], []
    for _ in range(repeats):
        catalogue._built.cache_clear()
        alone = {}
        for name in names:
            started = time.perf_counter()
            catalogue.build(name)
            alone[name] = time.perf_counter() - started
        totals.append(sum(alone.values()))
        slowest.append(max(alone.items(), key=lambda pair: pair[1]))
    name, seconds = sorted(slowest, key=lambda pair: pair[1])[repeats // 2]
    return [
        f"| all {len(names)}, families up to twelve sides | {statistics.median(totals):.3f} s |",
        f"| the slowest of them, {name} | {seconds:.3f} s |",
    ]


def readouts(cases: list[tuple[str, tuple[int, ...]]], limit: float, workers: int, repeats: int) -> list[str]:
    """Rows: the engine of readouts against the plain model of them, each to a proved optimum."""
    from facewright.constraints.readouts import Readout, Readouts
    from facewright.search.engines.readouts import Marking

    rows = []
    for name, sizes in cases:
        marks = [Readout.of(f"r{at}", tuple(range(size)), (1,) * size) for at, size in enumerate(sizes)]
        question = Readouts(tuple(marks), (name,))
        times = []
        for _ in range(repeats):
            started = time.perf_counter()
            answering = Marking().answer(question, 1, never, 0, silent, alone=False)
            [design] = list(answering)
            times.append(time.perf_counter() - started)
        ours = statistics.median(times)
        least, seconds = import_module("plain_readouts").run(name, sizes, limit, workers)
        if least not in (None, design.dependence):
            raise SystemExit(
                f"bench: {name} {sizes}: the engine says {design.dependence}, the plain model {least}"
            )
        plain = f"over {limit:.0f} s | –" if least is None else f"{seconds:.2f} s | {seconds / ours:,.0f}"
        said = ", ".join(map(str, sizes))
        rows.append(f"| {said} on the {name} | {design.dependence} | {ours:.3f} s | {plain} |")
        print(rows[-1], file=sys.stderr)
    return rows


def dice(cases: list[tuple[str, float]], repeats: int) -> list[str]:
    """Rows: a die with numerals from its marks to both files, read back, against numeral after numeral with trimesh."""
    from facewright.constraints.solids import solid
    from facewright.search.artwork.placing import numbered
    from facewright.search.make.die_mesh import die_mesh
    from facewright.search.make.stl import write_stl
    from facewright.search.make.threemf import write_3mf

    rows = []
    with tempfile.TemporaryDirectory() as name_of_folder:
        folder = Path(name_of_folder)
        for name, inradius in cases:
            artwork = numbered(solid(name))
            times = []
            for _ in range(repeats):
                started = time.perf_counter()
                die = die_mesh(artwork, inradius, 0.5, 0.5)
                write_stl(die, folder / "die.stl")
                write_3mf(die, folder / "die.3mf")
                times.append(time.perf_counter() - started)
            ours = statistics.median(times)
            volume, seconds = import_module("plain_mesh").run(name, inradius, 0.5, 0.5, 3, folder)
            if abs(volume - die.volume_mm3) > 2e-3 * volume:
                raise SystemExit(f"bench: {name}: our die has {die.volume_mm3} mm³, the plain one {volume}")
            rows.append(
                f"| {name}, {2 * inradius:g} mm | {len(artwork.marks)} | {ours:.3f} s | {seconds:.2f} s | "
                f"{seconds / ours:,.0f} |"
            )
            print(rows[-1], file=sys.stderr)
    return rows


DICE = [
    ("cube", 8.0),
    ("pentagonal trapezohedron", 8.0),
    ("icosahedron", 10.0),
    ("rhombic triacontahedron", 12.0),
    ("deltoidal hexecontahedron", 15.0),
]
"""Dice as meshes, with half their distance across flats in millimetres; the last two only in the long form."""


READOUTS = [
    ("rhombic dodecahedron", (2, 4)),
    ("rhombic dodecahedron", (2, 3, 4)),
    ("rhombic dodecahedron", (4, 6)),
    ("tetrakis hexahedron", (2, 3, 4)),
    ("triakis octahedron", (2, 3, 4)),
    ("deltoidal icositetrahedron", (2, 3, 4)),
    ("disdyakis dodecahedron", (2, 2, 3, 4)),
    ("deltoidal hexecontahedron", (2, 3, 4)),
    ("disdyakis triacontahedron", (4, 5, 6)),
    ("disdyakis triacontahedron", (2, 3, 4, 5)),
]
"""Cases of readouts; the last four only in the long form."""


NEAREST = [((12, 8), "2d10", 12), ((12, 20), "2d10", 12), ((12, 12), "2d10", 12), ((20, 20), "2d12", 18)]
"""Nearest totals: face counts, the target, the greatest label."""


def nearest(
    cases: list[tuple[tuple[int, int], str, int]], limit: float, workers: int, repeats: int
) -> list[str]:
    """Rows: the nearest totals of two dice, proved, against the plain model."""
    from facewright.constraints.labels import Die, LabelRules
    from facewright.constraints.like import parse_like
    from facewright.constraints.question import Numbering
    from facewright.search.engines.nearest.totals import NearestTotals

    rows = []
    for faces, like, highest in cases:
        dice = tuple(Die(n, str(n), 1, LabelRules(1, highest)) for n in faces)
        question = Numbering("total", parse_like(like), (dice,), accept="nearest")
        times = []
        for _ in range(repeats + 1):  # the first compiles, or loads what was compiled
            started = time.perf_counter()
            answering = NearestTotals().answer(question, 1, never, 0, silent)
            list(answering)
            times.append(time.perf_counter() - started)
        ours, least = statistics.median(times[1:]), answering.closing.bound
        run = import_module("plain_nearest").run
        proved, best, bound, seconds = run(faces, parse_like(like).ways, highest, limit, workers)
        if proved is not None and str(proved) != least:
            raise SystemExit(f"bench: {faces} to {like}: the engine says {least}, the plain model {proved}")
        plain = f"{seconds:.1f} s | {seconds / ours:,.0f}"
        if proved is None:
            plain = f"over {limit:.0f} s, best {float(best):.4f}, bound {float(bound):.4f} | –"
        named = f"{faces[0]} and {faces[1]} faces to {like}, labels 1..{highest}"
        rows.append(f"| {named} | {least} | {times[0]:.2f} s | {ours:.3f} s | {plain} |")
        print(rows[-1], file=sys.stderr)
    return rows


def contest(text: str, most: int, repeats: int) -> tuple[Any, Any, float]:
    """What the engine of a contest states, its designs, and the median seconds."""
    from facewright.search.engines import CONTEST_ENGINES

    question: Any = parse(text, "bench")
    times = []
    for _ in range(repeats):
        started = time.perf_counter()
        answering = CONTEST_ENGINES[question.read].answer(question, most, never, 0, silent)
        found = list(answering)
        times.append(time.perf_counter() - started)
    return answering.closing, found, statistics.median(times)


def contests(limit: float, workers: int, *, quick: bool) -> list[str]:
    """Rows: duels and finishing orders against their plain models."""
    plain = import_module("plain_contests")
    rows = []
    text = 'title = "d"\nread = "each-beats-next"\ndice = [6, 6, 6]\nlabels = { highest = 9 }\n'
    closing, [design], ours = contest(text, 1, 5)
    least = least_chance([die.labels for die in design.dice], ((0, 1), (1, 2), (2, 0)))
    proved, best, bound, seconds = plain.duels(6, 3, 9, limit, workers)
    if closing.verdict != "best" or (proved is not None and least != Fraction(proved, 36)):
        raise SystemExit(f"bench: duels: the engine says {closing.verdict} {least}, the plain model {proved}")
    slow = f"{seconds:.1f} s | {seconds / ours:,.0f}"
    if proved is None:
        slow = f"over {limit:.0f} s, best {best}/36, bound {bound}/36 | –"
    rows.append(
        f"| three 6-face dice, each beats the next, labels 1..9 | {least} proved | {ours:.2f} s | {slow} |"
    )
    cases = [(6, 3, True), (12, 4, False)]
    for faces, dice, every in cases[:1] if quick else cases:
        stop = "" if every else "stop = { designs = 1 }\n"
        text = f'title = "o"\nread = "every-order"\ndice = {[faces] * dice}\n{stop}'
        closing, found, ours = contest(text, 10_000 if every else 1, 5)
        count, seconds = plain.orders(faces, dice, limit, every=every)
        if every and count not in (None, closing.count):
            raise SystemExit(f"bench: orders: the engine says {closing.count}, the plain model {count}")
        slow = f"over {limit:.0f} s | –" if count is None else f"{seconds:.1f} s | {seconds / ours:,.0f}"
        said = "all sets" if every else f"{len(found)} set found"
        rows.append(f"| {dice} {faces}-face dice in every order | {said} | {ours:.2f} s | {slow} |")
    for row in rows:
        print(row, file=sys.stderr)
    return rows


LAYOUTS = [
    ("icosahedron", ("opposite-sums", "even-vertices")),
    ("icosahedron", ("even-vertices",)),
    ("rhombic triacontahedron", ("even-vertices",)),
    ("disdyakis dodecahedron", ("even-vertices",)),
    ("disdyakis dodecahedron", ("opposite-sums", "even-vertices")),
]
"""Layouts of 1 to n with vertices as even as can be; the last only in the long form."""

SEEDS = 5
"""So many searches for each layout, each from other random numbers; the slowest is told too."""


def layouts(cases: list[tuple[str, tuple[str, ...]]], limit: float, workers: int) -> list[str]:
    """Rows: the evenest vertices, proved, against the plain model."""
    from facewright.constraints.layout import Layout
    from facewright.constraints.solids import solid
    from facewright.search.engines.layout import Laying

    rows = []
    for name, goals in cases:
        body = solid(name)
        question = Layout(name, tuple(range(1, len(body.faces) + 1)), goals, title="bench")
        times, reached = [], set()
        for seed in range(SEEDS + 1):  # the first compiles, or loads what was compiled
            started = time.perf_counter()
            answering = Laying().answer(question, 1, never, seed, silent)
            [design] = list(answering)
            times.append(time.perf_counter() - started)
            reached.add((str(design.balance.deviation), answering.closing.verdict))
        [(least, verdict)] = reached
        run = import_module("plain_layouts").layout
        opposite = "opposite-sums" in goals
        proved, best, bound, seconds = run(body, opposite=opposite, seconds=limit, workers=workers)
        if verdict != "best" or (proved is not None and str(proved) != least):
            raise SystemExit(f"bench: {name} {goals}: the engine says {verdict} {least}, the plain {proved}")
        ours = statistics.median(times[1:])
        plain = f"{seconds:.2f} s | {seconds / ours:,.1f}"
        if proved is None:
            plain = f"over {limit:.0f} s, best {best}, bound {bound} | –"
        how = "opposite faces with one sum" if opposite else "free"
        rows.append(f"| {name}, {how} | {least} | {ours:.2f} s | {max(times[1:]):.2f} s | {plain} |")
        print(rows[-1], file=sys.stderr)
    return rows


def text_boxes(repeats: int) -> list[str]:
    """Rows: the largest boxes for one, two and three characters, at any angle, on all solids of polyhedral groups."""
    from facewright.constraints.solids import catalogue, solid
    from facewright.constraints.solids.boxes import boxes
    from facewright.constraints.solids.frames import face_frame

    bodies = [solid(name) for name in catalogue.listed()]
    bodies = [body for body in bodies if body.point_group[0] in "TOI" and len(body.faces) == len(body.rests)]
    widths = (0.6, 1.2, 1.8)
    times = []
    for _ in range(repeats):
        boxes.cache_clear()
        started = time.perf_counter()
        found = [[boxes(body, wide, any_angle=True)[0] for wide in widths] for body in bodies]
        times.append(time.perf_counter() - started)
    plain = import_module("plain_layouts").box
    started = time.perf_counter()
    for body, ours in zip(bodies, found, strict=True):
        polygon = face_frame(body, 0).polygon
        for wide, one in zip(widths, ours, strict=True):
            if one is None or abs(plain(polygon, wide) - one.height) > 1e-3 * one.height:
                raise SystemExit(f"bench: {body.name}: boxes {wide} times as wide as high differ")
    seconds = time.perf_counter() - started
    ours = statistics.median(times)
    return [
        f"| {len(bodies)} solids, three widths each | {ours:.3f} s | {seconds:.1f} s | {seconds / ours:,.0f} |"
    ]


SMOOTH = (9, 15, 25, 33, 45)
"""Degrees of the best smooth body."""


def smooth(degrees: tuple[int, ...], repeats: int) -> list[str]:
    """Rows: the best tetrahedral body of constant width, proved, against a plain programme that proves nothing."""
    from facewright.constraints.smooth import Smooth
    from facewright.search.engines.smooth.engine import Smoothing

    rows = []
    for degree in degrees:
        times, plain_times = [], []
        for _ in range(repeats):
            started = time.perf_counter()
            answering = Smoothing().answer(Smooth("tetrahedral", Fraction(0), degree), 1, never, 0, silent)
            [design] = answering
            times.append(time.perf_counter() - started)
            if answering.closing.verdict != "best":
                raise SystemExit(f"bench: the smooth body of degree {degree} was not proved")
            value, seconds = import_module("plain_smooth").run(degree)
            plain_times.append(seconds)
        ours, plain = statistics.median(times), statistics.median(plain_times)
        rows.append(
            f"| {degree} | {design.settling:.5f}, {design.settling / design.bound:.1%} | {ours:.2f} s | "
            f"{'no solution' if isnan(value) else f'{value:.5f}'} | "
            f"{plain:.2f} s | {plain / ours:.1f} |"
        )
        print(rows[-1], file=sys.stderr)
    return rows


def main() -> None:
    """Measures and prints."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--quick", action="store_true", help="under a minute")
    options.add_argument(
        "--workers", type=int, default=os.cpu_count() or 1, help="workers of the plain model"
    )
    options.add_argument("--limit", type=float, default=None, help="seconds for a plain run")
    asked = options.parse_args()
    limit = asked.limit or (20.0 if asked.quick else 180.0)
    print("\n".join(machine()))
    print(
        f"\n## Against the plain alternatives\n\nPlain model with {asked.workers} workers; ours with one.\n"
    )
    print("| question | numberings | ours, in the engine | plain | ratio |\n|---|---:|---:|---:|---:|")
    for faces in (8, 12) if asked.quick else (8, 12, 16):
        title = f"two {faces}-face dice, against a CP-SAT model"
        print(against_plain(f"{title} as first written", "plain_untuned", faces, limit, 1, 51), flush=True)
        print(
            against_plain(f"{title} reviewed for speed", "plain", faces, limit, asked.workers, 51), flush=True
        )
    faces = 60 if asked.quick else 120
    title = f"two {faces}-face dice, against one split after the other"
    print(against_plain(title, "plain_split", faces, limit, 1, 5), flush=True)
    print("\n## Readouts\n\nEqually likely labels, a proved optimum, against the plain model.\n")
    print("| readouts | least dependence | ours, in the engine | plain | ratio |\n|---|---:|---:|---:|---:|")
    cases = READOUTS[:6] if asked.quick else READOUTS
    print("\n".join(readouts(cases, limit, asked.workers, 3)), flush=True)
    print("\n## Nearest totals\n\nTotal variation distance, a proved optimum, against the plain model.\n")
    print("| question | distance | ours, first time | ours | plain | ratio |\n|---|---:|---:|---:|---:|---:|")
    print(
        "\n".join(nearest(NEAREST[:1] if asked.quick else NEAREST, min(limit, 90), asked.workers, 3)),
        flush=True,
    )
    print("\n## Best first\n\nThe best 20, proved, against listing and scoring all.\n")
    print("| question | numberings | ours | plain | ratio |\n|---|---:|---:|---:|---:|")
    best_first = import_module("best_first").best_first
    print("\n".join(best_first(quick=asked.quick, repeats=3)), flush=True)
    print(
        "\n## Layouts\n\nThe evenest vertices, proved, against the plain model; five seeds, median and slowest.\n"
    )
    print("| layout of 1 to n | deviation | ours | slowest | plain | ratio |\n|---|---:|---:|---:|---:|---:|")
    even = LAYOUTS[:4] if asked.quick else LAYOUTS
    print("\n".join(layouts(even, min(limit, 100), asked.workers)), flush=True)
    print("\n## Text boxes\n\nThe largest at any angle, to 0.1 %, against a sweep of linear programmes.\n")
    print("| faces | ours | plain | ratio |\n|---|---:|---:|---:|")
    print("\n".join(text_boxes(5)), flush=True)
    print("\n## Contests\n\nEngines against plain models.\n")
    print("| question | answer | ours | plain | ratio |\n|---|---:|---:|---:|---:|")
    print("\n".join(contests(min(limit, 60), asked.workers, quick=asked.quick)), flush=True)
    print(
        "\n## Smooth bodies\n\nThe greatest settling, proved from both sides, against a plain dense programme.\n"
    )
    print(
        "| degree | settling, of the bound | ours | plain settling | plain | ratio |\n|---|---:|---:|---:|---:|---:|"
    )
    print("\n".join(smooth(SMOOTH[:3] if asked.quick else SMOOTH, 1 if asked.quick else 3)), flush=True)
    print(
        "\n## Dice as meshes\n\nFrom marks to STL and 3MF, read back, against trimesh, numeral after numeral.\n"
    )
    print("| die | marks | ours | plain | ratio |\n|---|---:|---:|---:|---:|")
    print("\n".join(dice(DICE[:3] if asked.quick else DICE, 5)), flush=True)
    print("\n## Whole commands\n\nA fresh process each time, median of five.\n")
    print("| command | seconds | peak memory |\n|---|---:|---:|")
    commands = [
        ("`facewright --help`", ["--help"], ""),
        ("two cubes, `--json`", ["find", "BRIEF", "--json"], brief(6, 2)),
        ("two cubes, with report", ["find", "BRIEF", "--out", "RUN", "--replace"], brief(6, 2)),
        ("two 120-face dice, all 956, `--json`", ["find", "BRIEF", "--json"], brief(120, 2)),
        (
            "two 120-face dice, all 956, with report",
            ["find", "BRIEF", "--out", "RUN", "--replace"],
            brief(120, 2),
        ),
        ("three 24-face dice, all, `--json`", ["find", "BRIEF", "--json"], brief(24, 3)),
        ("readouts 2, 3, 4 on any solid up to 60 faces, `--json`", ["find", "BRIEF", "--json"], ANY),
    ]
    for title, arguments, text in commands:
        _, seconds, peak = command(arguments, text, 5)
        print(f"| {title} | {seconds:.2f} s | {peak:.0f} MiB |", flush=True)
    print("\n## Solids\n\nBuilt anew with sites, symmetries and rests, in one process, median of five.\n")
    print("| solids | seconds |\n|---|---:|")
    print("\n".join(solids(5)), flush=True)
    print("\n## Growth\n\nDice of one kind with the totals of ordinary ones, all counted exactly.\n")
    sizes = (6, 12, 24, 48, 60, 120) if asked.quick else (6, 12, 24, 48, 60, 96, 120, 144, 180, 192, 240)
    two = [(2, n) for n in sizes]
    more = [(k, 12) for k in range(3, 7)]
    some = (24, 36, 48) if asked.quick else (24, 30, 36, 48, 60)
    big = [(k, n) for k in (3, 4) for n in some] + (
        [] if asked.quick else [(5, 60), (6, 60), (3, 96), (3, 120)]
    )
    print("\n".join(growth(two + more + big)), flush=True)
    import_module("batches").batches(quick=asked.quick)


if __name__ == "__main__":
    main()
