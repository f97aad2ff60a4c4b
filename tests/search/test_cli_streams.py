"""The command as a process: pipes, closed streams, full disks, other encodings, narrow terminals, colours."""

from __future__ import annotations

import json
import os
import pty
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

COMMAND = str(Path(sys.executable).with_name("facewright"))
HARBOUR = 'title = "Zölle – heute"\nlike = "d8 + d12"\nread = "total"\ndice = [6, 16]\n'
MANY = HARBOUR + "labels = { lowest = -40 }\n"


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a brief, a larger one, and a run of each."""
    folder = tmp_path_factory.mktemp("streams")
    for name, text in (("brief", HARBOUR), ("many", MANY)):
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
        done = shell(f"{COMMAND} find {name}.toml --out runs/{name}", folder)
        assert done.returncode == 0, done.stderr
    return folder


def shell(line: str, folder: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """What a shell makes of a line."""
    return subprocess.run(
        ["bash", "-c", f"set -o pipefail; {line}"],
        cwd=folder,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env=os.environ | environment,
        timeout=60,
        check=False,
    )


@pytest.mark.parametrize(
    "line",
    [
        "show many --all | head -1",
        "show many --json | head -c 10",
        "show many --csv | head -1",
        "find many.toml --json | head -c 1",
        "show many --all 2>&1 | head -1",
        "show many --all | true",
    ],
)
def test_a_reader_that_leaves_is_no_error(line: str, place: Path) -> None:
    done = shell(f"{COMMAND} {line}", place)
    assert (done.returncode, done.stderr) == (0, "")


def test_a_report_is_written_though_the_reader_left(place: Path) -> None:
    done = shell(f"{COMMAND} find many.toml --out piped --quiet | true", place)
    assert (done.returncode, done.stderr) == (0, "")
    assert (place / "piped" / "report.html").stat().st_size > 10_000


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full, the disk that is always full")
@pytest.mark.parametrize(
    "line", ["show brief", "show brief --json", "find brief.toml", "new", "list", "--help"]
)
def test_standard_output_on_a_full_disk(line: str, place: Path) -> None:
    done = shell(f"{COMMAND} {line} > /dev/full", place)
    assert done.returncode == 1
    assert (
        done.stderr.splitlines()[-1] == "facewright: the output cannot be written (No space left on device)"
    )


@pytest.mark.parametrize(
    ("line", "status"),
    [("list >&-", 0), ("show nothing 2>&-", 2), ("find - <&-", 2), ("show brief >&- 2>&- <&-", 0)],
)
def test_closed_streams(line: str, status: int, place: Path) -> None:
    done = shell(f"{COMMAND} {line}", place)
    assert done.returncode == status
    assert "Traceback" not in done.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full, the disk that is always full")
@pytest.mark.parametrize(
    ("line", "status"),
    [
        ("find brief.toml --replace 2> /dev/full", 0),
        ("show nothing 2> /dev/full", 2),
        ("list nowhere at all 2> /dev/full", 2),
        ("batch plan.toml --workers 1 --replace 2> /dev/full", 0),
        ("batch plan.toml --workers 1 --replace 2>&-", 0),
        ("batch plan.toml --workers 1 --replace >&- 2>&- <&-", 0),
    ],
)
def test_remarks_that_nobody_can_read_end_nothing(line: str, status: int, place: Path) -> None:
    (place / "plan.toml").write_text(
        'title = "Quays"\n[brief]\nread = "total"\n[lists]\nlike = ["2d6", "2d4"]\ndice = [[4, 9], [4, 4]]\n',
        "utf-8",
    )
    done = shell(f"{COMMAND} {line}", place)
    assert (done.returncode, done.stderr) == (status, "")
    if line.startswith("batch"):
        listed = json.loads(shell(f"{COMMAND} list --json", place).stdout)["batches"]
        assert [(one["batch"], one["answered"], one["failed"]) for one in listed] == [("quays", 4, 0)]


def test_a_brief_on_standard_input(place: Path) -> None:
    done = shell(f"{COMMAND} find - --json < brief.toml", place)
    assert (done.returncode, json.loads(done.stdout)["title"]) == (0, "Zölle – heute")
    done = shell(f"{COMMAND} find - --out from-input < brief.toml", place)
    assert done.returncode == 0
    assert (place / "from-input" / "brief.toml").read_text(encoding="utf-8") == HARBOUR
    done = shell(f"{COMMAND} find <({COMMAND} new) --out from-pipe --quiet", place)
    assert done.returncode == 0
    assert "Ferry landing" in (place / "from-pipe" / "brief.toml").read_text(encoding="utf-8")
    done = shell(f"{COMMAND} find brief.toml --json | {COMMAND} check -", place)
    assert (done.returncode, done.stdout) == (0, "10 designs recounted: all agree\n")


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("find - < /dev/null", "standard input: 1 fault\n  the brief: found an empty file"),
        ("find - < /dev/zero", "more than 1,000,000 bytes"),
        ("find /dev/zero", "more than 1,000,000 bytes"),
        (r"find - <<< $'title = \'\xff\''", "a byte that is no UTF-8 text (0xff)"),
        ("check - < /dev/null", "found no JSON"),
        (r"find - <<< 'a = [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[['", "more than 20 deep"),
    ],
)
def test_strange_things_on_standard_input(line: str, words: str, place: Path) -> None:
    done = shell(f"{COMMAND} {line}", place)
    assert (done.returncode, done.stdout) == (2, "")
    assert words in done.stderr


ENCODINGS = [
    {"LC_ALL": "C", "PYTHONIOENCODING": "ascii"},
    {"PYTHONIOENCODING": "latin-1"},
    {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
    {"PYTHONIOENCODING": "utf-8"},
]


@pytest.mark.parametrize("environment", ENCODINGS, ids=str)
def test_other_encodings(environment: dict[str, str], place: Path) -> None:
    def told(line: str) -> bytes:
        done = subprocess.run(
            [COMMAND, *line.split("|")],
            cwd=place,
            capture_output=True,
            env=os.environ | environment,
            check=False,
        )
        assert (done.returncode, done.stderr) == (0, b""), line
        return done.stdout

    answer: Any = json.loads(told("show|brief|--json"))
    assert answer["title"] == "Zölle – heute"
    for line in (
        "show|brief",
        "list",
        "new",
        "show|brief|--csv",
        "ways|1 2 3|--like|2d6 - 4",
        "show|brief|ced3",
    ):
        text = told(line)
        assert text.strip()
        if "latin-1" not in environment.values():
            assert text.decode("utf-8")


@pytest.mark.parametrize("columns", ["1", "20", "48", "80", "200"])
def test_lines_fit_the_terminal(columns: str, place: Path) -> None:
    for line in ("show brief", "show brief ced3", "ways '1..6' '1..8'"):
        done = shell(f"{COMMAND} {line}", place, COLUMNS=columns)
        assert done.returncode == 0
        longest = max(map(len, done.stdout.splitlines()))
        assert longest <= max(int(columns), 48) or line.startswith("ways")


def on_a_terminal(arguments: list[str], folder: Path, **environment: str) -> str:
    """What a command writes to a terminal, standard error included."""
    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        [COMMAND, *arguments],
        cwd=folder,
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env=os.environ | {"TERM": "xterm", "COLUMNS": "100"} | environment,
    )
    os.close(theirs)

    def parts() -> Iterator[bytes]:
        while True:
            try:
                part = os.read(ours, 65_536)
            except OSError:
                return
            if not part:
                return
            yield part

    text = b"".join(parts()).decode("utf-8", "replace")
    os.close(ours)
    assert process.wait() == 0
    return text


def test_bold_is_for_terminals_that_want_it(place: Path) -> None:
    assert "\x1b[1mTen numberings do it." in on_a_terminal(["show", "brief"], place)
    for environment in ({"NO_COLOR": "1"}, {"TERM": "dumb"}):
        assert "\x1b" not in on_a_terminal(["show", "brief"], place, **environment)
    assert "\x1b" not in shell(f"{COMMAND} show brief", place).stdout


def test_progress_is_for_terminals_and_leaves_no_trace(place: Path) -> None:
    slow = 'title = "Slow"\nread = "total"\nlike = "3d24"\ndice = "3 of 18 24 32"\nlabels = { lowest = 0 }\n'
    (place / "slow.toml").write_text(slow, encoding="utf-8")
    told = on_a_terminal(["find", "slow.toml", "--count"], place)
    if "\x1b[K" in told:
        # a line of progress is wiped before the result
        assert re.search(r"\r\x1b\[K[^\n]*\r\x1b\[K", told)
    assert "\r\x1b[K" not in on_a_terminal(["find", "slow.toml", "--count", "--quiet"], place)
    assert shell(f"{COMMAND} find slow.toml --count", place).stderr == ""


def test_quiet_leaves_errors(place: Path) -> None:
    done = shell(f"{COMMAND} find brief.toml --out runs/many --quiet", place)
    assert done.returncode == 2 and "another question" in done.stderr


def test_the_package_is_the_command_too(place: Path) -> None:
    done = shell(f"{sys.executable} -m facewright.search.cli show brief", place)
    assert done.returncode == 0 and done.stdout.startswith("Ten numberings do it.")
