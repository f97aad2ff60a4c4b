"""What is installed is what stands in the checkout, and the lock answers to pyproject.toml."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest
from packaging.markers import default_environment
from packaging.requirements import Requirement

ROOT = Path(__file__).resolve().parent.parent
FOLDERS = ("constraints", "search")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
DATA = ("*.py", *PROJECT["tool"]["setuptools"]["package-data"]["*"])
PYTHONS = ("3.11.0", "3.12.0", "3.13.0", "3.14.0")
INSTALLED = ("README.md", "LICENSE", "pyproject.toml", *FOLDERS)


def dependencies() -> list[Requirement]:
    """Everything that pyproject.toml asks for: to run, to develop, to build; large extras are not in the lock."""
    project = PROJECT["project"]
    texts = [*project["dependencies"], *PROJECT["build-system"]["requires"]]
    texts += project["optional-dependencies"]["dev"]
    return [Requirement(text) for text in texts]


def locked() -> list[Requirement]:
    """The lines of the lock, without their hashes."""
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    return [Requirement(line.rstrip("\\ ")) for line in text.splitlines() if re.match(r"[a-z0-9]", line)]


def package_folders() -> set[str]:
    """Every folder of the two that is a package."""
    return {
        "facewright." + ".".join(init.parent.relative_to(ROOT).parts)
        for folder in FOLDERS
        for init in (ROOT / folder).rglob("__init__.py")
    }


def test_every_package_is_listed() -> None:
    assert set(PROJECT["tool"]["setuptools"]["packages"]) == package_folders()


def test_no_module_stands_outside_a_package() -> None:
    orphans = [
        path.relative_to(ROOT).as_posix()
        for folder in FOLDERS
        for path in (ROOT / folder).rglob("*.py")
        if not (path.parent / "__init__.py").exists()
    ]
    assert orphans == []


def test_the_wheel_holds_every_module_and_data_file(tmp_path: Path) -> None:
    source, made = tmp_path / "source", tmp_path / "made"
    source.mkdir()
    made.mkdir()
    for item in INSTALLED:
        origin = ROOT / item
        if origin.is_dir():
            shutil.copytree(origin, source / item, ignore=shutil.ignore_patterns("__pycache__"))
        elif origin.exists():
            shutil.copy(origin, source / item)
    build = "import sys; from setuptools.build_meta import build_wheel; build_wheel(sys.argv[1])"
    done = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", build, str(made)],
        capture_output=True,
        text=True,
        check=False,
        cwd=source,
    )
    assert done.returncode == 0, done.stderr
    (wheel,) = made.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        inside = set(archive.namelist())
    expected = {
        f"facewright/{path.relative_to(source).as_posix()}"
        for folder in FOLDERS
        for pattern in DATA
        for path in (source / folder).rglob(pattern)
        if path.is_file()
    }
    assert expected - inside == set()
    unknown = {
        path.relative_to(source).as_posix()
        for folder in FOLDERS
        for path in (source / folder).rglob("*")
        if path.is_file() and f"facewright/{path.relative_to(source).as_posix()}" not in inside
    }
    assert unknown == set(), "files of the packages that no wheel would hold: widen package-data"


def test_the_lock_names_no_host() -> None:
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    assert "://" not in text
    assert "--index" not in text


def test_the_lock_has_a_hash_for_every_line() -> None:
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    blocks = re.split(r"\n(?=[a-z0-9])", text.strip())
    assert len(blocks) == len(locked())
    assert [block.splitlines()[0] for block in blocks if "--hash=sha256:" not in block] == []


@pytest.mark.parametrize("python", PYTHONS)
def test_the_lock_answers_every_dependency(python: str) -> None:
    environment = {key: str(value) for key, value in default_environment().items()}
    environment |= {"python_version": python.rpartition(".")[0], "python_full_version": python}
    pins: dict[str, list[str]] = {}
    for pin in locked():
        if pin.marker is None or pin.marker.evaluate(environment):
            (specifier,) = pin.specifier
            pins.setdefault(pin.name, []).append(specifier.version)
    for wanted in dependencies():
        assert len(pins.get(wanted.name, [])) == 1, f"{wanted} has {pins.get(wanted.name)}: run `make lock`"
        assert wanted.specifier.contains(pins[wanted.name][0]), f"{wanted}: run `make lock`"


def test_sympy_checks_flint_without_using_it() -> None:
    """The tests hold engines that use FLINT against sympy, which must keep to Python's integers meanwhile."""
    from sympy.external.gmpy import GROUND_TYPES

    assert GROUND_TYPES == "python"
    told = {**os.environ, "SYMPY_GROUND_TYPES": "flint"}
    code = "from sympy.external.gmpy import GROUND_TYPES; print(GROUND_TYPES)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=told)
    assert done.stdout.strip() == "flint"
