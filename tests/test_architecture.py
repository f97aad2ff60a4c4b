"""The house rules that a program can check: who imports whom, what engines keep away from, size, words."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = ("constraints", "search")
MODULES = sorted(path for package in PACKAGES for path in (ROOT / package).rglob("*.py"))

LONGEST = 400
"""Lines of a module. The habit is under 300; past this one a module does more than one thing."""

HEAVY = {"jinja2", "matplotlib", "ortools", "pandas", "scipy", "sympy"}
"""Packages that take a noticeable part of a second to import: functions import them when they are needed."""

NOT_FOR_HELP = {"flint", "jinja2", "matplotlib", "numpy", "ortools", "pandas", "pydantic", "scipy", "sympy"}
"""Packages that the command must not have loaded by the time it shows its help."""

MAY_IMPORT_HEAVY = {"constraints/model/", "search/engines/solver"}
"""Modules inside an engine, which nothing imports before that engine is at work."""


def name(path: Path) -> str:
    """A module's path in the checkout."""
    return path.relative_to(ROOT).as_posix()


def dotted(path: Path) -> str:
    """A module's import name."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(("facewright", *parts)).removesuffix(".__init__")


def parsed(path: Path) -> ast.Module:
    """A module's syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def imported(path: Path, tree: ast.AST) -> Iterator[str]:
    """Every module named by the import statements of a tree; relative ones in full."""
    package = dotted(path) if path.name == "__init__.py" else dotted(path).rpartition(".")[0]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package.rsplit(".", node.level - 1)[0] if node.level else ""
            source = ".".join(filter(None, (base, node.module)))
            yield source
            yield from (f"{source}.{alias.name}" for alias in node.names)


def typing_only(node: ast.stmt) -> bool:
    """Whether a statement is an `if TYPE_CHECKING:` block, which never runs."""
    return isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test)


def at_import(tree: ast.Module) -> ast.Module:
    """The part of a module that runs when it is imported: no function bodies, no typing-only blocks."""

    class Strip(ast.NodeTransformer):
        def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
            return None

        def visit_AsyncFunctionDef(self, node: ast.AsyncFunctionDef) -> None:
            return None

        def visit_If(self, node: ast.If) -> ast.AST | None:
            return None if typing_only(node) else self.generic_visit(node)

    return ast.fix_missing_locations(Strip().visit(tree))


def breaks(paths: list[Path], *barred: str) -> list[str]:
    """The imports, anywhere in these modules, of a barred module or of one inside it."""
    return [
        f"{name(path)} imports {source}"
        for path in paths
        for source in imported(path, parsed(path))
        if any(source == one or source.startswith(one + ".") for one in barred)
    ]


def under(prefix: str) -> list[Path]:
    """The modules at or under a path; one is enough, so that no rule holds for want of a module."""
    found = [path for path in MODULES if name(path).startswith(prefix)]
    assert found, f"no module under {prefix}"
    return found


def test_constraints_never_import_search() -> None:
    assert breaks(under("constraints/"), "facewright.search") == []


def test_the_two_folders_are_imported_by_their_full_name() -> None:
    tests = sorted((ROOT / "tests").rglob("*.py"))
    assert breaks(MODULES + tests, "search", "constraints") == []


def test_engines_import_no_page_no_store_no_command() -> None:
    inside = ("answer", "engines", "progress", "stop", "words")
    barred = [dotted(path) for path in under("search/") if not name(path).startswith("search/engines/")]
    barred = [one for one in barred if one.count(".") > 1 and one.split(".")[2] not in inside]
    assert breaks(under("search/engines/"), *barred) == []


def test_engines_know_no_clock() -> None:
    assert breaks(under("search/engines/"), "time", "datetime") == []


def test_engines_print_nothing() -> None:
    printing = [
        f"{name(path)}:{node.lineno}"
        for path in under("search/engines/") + under("constraints/")
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print"
    ]
    assert printing == []
    assert breaks(under("search/engines/") + under("constraints/"), "click", "rich", "logging") == []


def test_the_recount_shares_no_code_with_what_it_checks() -> None:
    barred = ("facewright.search.engines", "facewright.constraints.model", "facewright.constraints.readings")
    assert breaks(under("search/recount"), *barred) == []


def test_heavy_packages_are_imported_where_they_are_used() -> None:
    early = [
        f"{name(path)} imports {source}"
        for path in MODULES
        if not any(name(path).startswith(inside) for inside in MAY_IMPORT_HEAVY)
        for source in imported(path, at_import(parsed(path)))
        if source.partition(".")[0] in HEAVY
    ]
    assert early == []


def test_help_loads_nothing_heavy() -> None:
    code = (
        "import sys\n"
        "from facewright.search.cli import main\n"
        "try:\n    main(['--help'])\n"
        "except SystemExit as end:\n    assert not end.code, end.code\n"
        f"print(sorted({NOT_FOR_HELP!r} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=ROOT)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == "[]"


@pytest.mark.parametrize("path", MODULES, ids=name)
def test_a_module_is_short_and_opens_with_a_sentence(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    lines = text.count("\n")
    assert lines <= LONGEST, f"{lines} lines: split it by what it does"
    if text.strip():
        assert ast.get_docstring(parsed(path)), "no sentence at the top"


@pytest.mark.parametrize("path", MODULES, ids=name)
def test_everything_public_is_explained(path: Path) -> None:
    silent = []

    def look(node: ast.AST, inside: str) -> None:
        for child in ast.iter_child_nodes(node):
            if not isinstance(child, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
                continue
            if child.name.startswith("_"):
                continue
            if not ast.get_docstring(child):
                silent.append(f"{inside}{child.name} (line {child.lineno})")
            if isinstance(child, ast.ClassDef):
                look(child, f"{inside}{child.name}.")

    look(parsed(path), "")
    assert silent == []
