"""`facewright make`: every file of the contract, sound, in a folder a die; sizes refused with the one that works."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from facewright.search.artwork.glyphs import usual_font
from facewright.search.cli.command import status_of
from facewright.search.cli.kinds import shown
from facewright.search.cli.showing import answer_of
from facewright.search.make.dice import dice_of
from facewright.search.make.maker import make_die
from facewright.search.make.mesh_check import look
from facewright.search.make.sizing import Wishes, materials, sized
from facewright.search.make.step import cad_available
from facewright.search.make.stl import read_stl
from facewright.search.make.threemf import read_3mf
from facewright.search.report.scores import load_scores
from facewright.search.stop import Stopped

FILES = {"artwork.svg", "net.pdf", "die.stl", "die.3mf", "drawing.pdf", "notes.txt"}

PAIR = 'title = "Quay <dues>"\nlike = "2d4"\nread = "total"\ndice = [4, 4]\n'
READOUTS = 'title = "Board"\nsolid = "cube"\nreadouts = { wind = 3, rain = "yes:1 no:1" }\n'
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">{}</svg>'
LAYOUT = (
    'title = "Pilot"\nsolid = "octahedron"\nplace = "1..8"\nlayout = ["opposite-sums"]\n'
    'size_mm = 18\ndraw = "face"\n'
)


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    """Answers a brief into a run and gives the id of its best design."""
    monkeypatch.chdir(tmp_path)

    def answering(text: str) -> str:
        Path("brief.toml").write_text(text, encoding="utf-8")
        assert status_of(["find", "brief.toml", "--json", "--quiet", "--out", "run", "--replace"]) == 0
        return str(json.loads(capsys.readouterr().out)["designs"][0]["id"])

    return answering


def made(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert status_of(["make", "run", *arguments, "--json", "--quiet"]) == 0
    answer: dict[str, Any] = json.loads(capsys.readouterr().out)
    return answer


@pytest.mark.parametrize("brief", [PAIR, READOUTS, LAYOUT])
def test_every_file_is_written_and_sound(run: Any, capsys: pytest.CaptureFixture[str], brief: str) -> None:
    design = run(brief)
    answer = made(capsys, design[:6], "--out", "files")
    assert answer["design"] == design
    assert answer["made"][0]["folder"] == "files/die-1"
    for entry in answer["made"]:
        folder = Path(entry["folder"])
        wanted = FILES | ({"die.step"} if cad_available() else set())
        assert set(entry["files"]) == wanted == {path.name for path in folder.iterdir()}
        for read, name in ((read_stl, "die.stl"), (read_3mf, "die.3mf")):
            finding = look(*read(folder / name))
            assert (finding.closed, finding.one_way, finding.pieces, finding.genus) == (True, True, 1, 0)
        for name in ("net.pdf", "drawing.pdf"):
            assert (folder / name).read_bytes().startswith(b"%PDF")
        assert "<text" not in (folder / "artwork.svg").read_text(encoding="utf-8")


def test_equal_dice_share_a_folder(run: Any, capsys: pytest.CaptureFixture[str]) -> None:
    run(PAIR)
    assert status_of(["show", "run", "--json"]) == 0
    designs = json.loads(capsys.readouterr().out)["designs"]
    for one in designs:
        alike = one["dice"][0]["labels"] == one["dice"][1]["labels"]
        answer = made(capsys, one["id"], "--out", f"files-{one['id']}")
        assert [entry["dice"] for entry in answer["made"]] == ([[1, 2]] if alike else [[1], [2]])


def test_the_notes_carry_labels_mould_and_cautions(run: Any, capsys: pytest.CaptureFixture[str]) -> None:
    [entry] = made(capsys, run(LAYOUT), "--by", "print", "--out", "files")["made"]
    assert entry["size"] == "18.0 mm (0.71 in) across flats"
    notes = Path("files/die-1/notes.txt").read_text(encoding="utf-8")
    assert "Small part" in notes
    assert "Not for children under three" in " ".join(notes.split())
    assert "not fully cured" in notes
    assert "Not for licensed gaming" in " ".join(notes.split())
    assert "The parting line" in notes
    assert all(f"{label}" in notes for label in range(1, 9))
    [entry] = made(capsys, run(LAYOUT), "--by", "mould", "--out", "files")["made"]
    assert "not fully cured" not in Path("files/die-1/notes.txt").read_text(encoding="utf-8")


def test_a_large_die_is_no_small_part(run: Any, capsys: pytest.CaptureFixture[str]) -> None:
    made(capsys, run(LAYOUT), "--size", "60", "--out", "files")
    words = " ".join(Path("files/die-1/notes.txt").read_text(encoding="utf-8").split())
    assert "does not fit entirely" in words


def test_the_same_design_gives_the_same_bytes(run: Any, capsys: pytest.CaptureFixture[str]) -> None:
    design = run(LAYOUT)
    made(capsys, design, "--out", "one")
    made(capsys, design, "--out", "two")
    for name in FILES:
        assert Path("one/die-1", name).read_bytes() == Path("two/die-1", name).read_bytes()


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--size", "2"], "accepted: "),
        (["--size", "0"], "0.0 is not in the range 1<=x<=500"),
        (["--size", "-1"], "-1.0 is not in the range 1<=x<=500"),
        (["--size", "1e9"], "is not in the range 1<=x<=500"),
        (["--size", "nan"], "nan is no length; accepted: 1 to 500"),
        (["--font", "nowhere.ttf"], "No such file"),
        (["--picture", "1"], "accepted: LABEL=FILE"),
        (["--picture", "1=nowhere.svg"], "accepted: a readable SVG file"),
        (["--picture", "1=brief.toml"], "accepted: SVG with paths or shapes"),
        (["--picture", "1=line.svg"], "found no area"),
        (["--picture", "9=sun.svg"], "found no label 9 on the dice; accepted: one of 1, 2, 3"),
        (["--picture", "1=sun.svg", "--picture", "1=sun.svg"], "a label once"),
        (["--font", "brief.toml"], "accepted: a TrueType or OpenType file"),
        (["--by", "forge"], "mould"),
        (["--paper", "a0"], "letter"),
    ],
)
def test_wrong_wishes(run: Any, capsys: pytest.CaptureFixture[str], arguments: list[str], told: str) -> None:
    design = run(LAYOUT)
    drawn_pictures()
    assert status_of(["make", "run", design, *arguments]) == 2
    said = capsys.readouterr()
    assert told in said.err
    assert said.out == ""
    assert not Path("run/make").exists()


def test_an_unknown_design_or_run(run: Any, capsys: pytest.CaptureFixture[str]) -> None:
    run(LAYOUT)
    assert status_of(["make", "run", "zzzz"]) == 2
    assert "ids begin" in capsys.readouterr().err
    assert status_of(["make", "nowhere", "zzzz"]) == 2
    assert "nowhere" in capsys.readouterr().err


def test_the_materials_cover_the_routes() -> None:
    assert set(materials()) == {"mould", "cast", "laser", "print"}
    for one in materials().values():
        assert 0.9 < one.density < 1.4
        assert 0 <= one.shrinkage[0] <= one.shrinkage[1] < 1


def test_files_appear_together_and_stale_ones_go(run: Any, capsys: pytest.CaptureFixture[str]) -> None:
    design = run(LAYOUT)
    folder = Path("files/die-1")
    folder.mkdir(parents=True)
    (folder / "mine.txt").write_text("kept", encoding="utf-8")
    (folder / ".making").mkdir()
    (folder / ".making" / "die.stl").write_text("cut short", encoding="utf-8")
    (folder / "net.pdf").write_text("of a smaller die", encoding="utf-8")
    [entry] = made(capsys, design, "--out", "files", "--size", "300")["made"]
    assert "net.pdf" not in entry["files"]
    assert any(line.startswith("net.pdf was left out") for line in entry["notes"])
    assert {path.name for path in folder.iterdir()} == {*entry["files"], "mine.txt"}
    assert (folder / "mine.txt").read_text(encoding="utf-8") == "kept"


def test_a_stopped_making_leaves_nothing(run: Any, tmp_path: Path) -> None:
    run(LAYOUT)
    answer = answer_of("run")
    [die] = dice_of(answer, shown(answer).ranked(answer, load_scores(None))[0])
    asked = iter([None, None, None, "interrupted"])
    with pytest.raises(Stopped):
        make_die(sized(die, Wishes()), tmp_path / "files" / "die-1", lambda: next(asked))
    assert not (tmp_path / "files" / "die-1").exists()


def test_a_folder_that_cannot_be_made_is_said(run: Any, capsys: pytest.CaptureFixture[str]) -> None:
    design = run(LAYOUT)
    Path("file").write_text("no folder", encoding="utf-8")
    assert status_of(["make", "run", design, "--out", "file"]) == 1
    assert "name another folder with --out" in capsys.readouterr().err


def test_a_font_draws_the_numerals_and_counts_for_their_strokes(
    run: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    design = run(LAYOUT)
    thin = usual_font().with_name("DejaVuSans.ttf")
    usual = made(capsys, design, "--out", "usual")["made"][0]
    other = made(capsys, design, "--out", "other", "--font", str(thin), "--size", "30")["made"][0]
    assert (
        Path(usual["folder"], "artwork.svg").read_text() != Path(other["folder"], "artwork.svg").read_text()
    )
    assert status_of(["make", "run", design, "--font", str(thin), "--size", "12"]) == 2
    refused = capsys.readouterr().err
    assert "stroke" in refused
    works = refused.partition("accepted: ")[2].partition(" mm")[0]
    assert float(works) > 12
    made(capsys, design, "--out", "third", "--font", str(thin), "--size", works)


def test_pips_in_place_of_figures(run: Any, capsys: pytest.CaptureFixture[str]) -> None:
    design = run(LAYOUT)
    [entry] = made(capsys, design, "--out", "files", "--pips")["made"]
    svg = Path(entry["folder"], "artwork.svg").read_text(encoding="utf-8")
    layer = svg.partition('<g id="numerals"')[2].partition("</g>")[0]
    rings = sorted(path.count("Z") for path in layer.splitlines() if path.startswith("<path"))
    assert rings == list(range(1, 9))


def drawn_pictures() -> None:
    Path("sun.svg").write_text(SVG.format('<path d="M5 0L7 4L10 5L5 10L0 5Z"/>'), encoding="utf-8")
    Path("line.svg").write_text(SVG.format('<path d="M0 0L9 9" stroke="black"/>'), encoding="utf-8")


def test_a_picture_in_place_of_a_label(run: Any, capsys: pytest.CaptureFixture[str]) -> None:
    design = run(LAYOUT)
    drawn_pictures()
    [entry] = made(capsys, design, "--out", "files", "--picture", "1=sun.svg")["made"]
    svg = Path(entry["folder"], "artwork.svg").read_text(encoding="utf-8")
    assert svg.count('id="numerals-') == 8
    [path] = [line for line in svg.splitlines() if 'id="numerals-f1"' in line]
    assert path.count("Z") == 1
    assert path.count("L") + path.count("M") in (5, 6)


def test_a_die_that_was_asked_for_large_gives_no_reason(run: Any, capsys: pytest.CaptureFixture[str]) -> None:
    [entry] = made(capsys, run(LAYOUT), "--out", "files", "--size", "100")["made"]
    [said] = [line for line in entry["notes"] if line.startswith("Large")]
    assert said == "Large: 173.2 mm (6.82 in) from tip to tip."


def test_labels_of_a_solid_read_at_its_corners_are_told_where_they_stand(
    run: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    design = run('title = "Four"\nsolid = "tetrahedron"\nplace = "1..4"\nlayout = ["even-vertices"]\n')
    [entry] = made(capsys, design, "--out", "files")["made"]
    assert entry["size"] == "16.0 mm (0.63 in) high"
    notes = " ".join(Path("files/die-1/notes.txt").read_text(encoding="utf-8").split())
    assert all(f"v{corner}: " in notes and f"head to v{corner}, on f" in notes for corner in range(1, 5))


def test_marks_moved_apart_are_those_that_are_made(run: Any, capsys: pytest.CaptureFixture[str]) -> None:
    design = run(
        'title = "Board"\nsolid = "dodecahedron"\nreadouts = { wind = 3, rain = 2 }\nlayout = ["apart"]\n'
    )
    answer = answer_of("run")
    [die] = dice_of(answer, shown(answer).ranked(answer, load_scores(None))[0])
    [laid] = answer.layouts
    stood = {(one.site, one.label) for one in die.standing}
    assert die.design == design == laid.of
    assert stood == {(site, f"{name} {label}") for name, held in laid.found[0].sites for site, label in held}
