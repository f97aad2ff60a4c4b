"""The documents say what is so: links, targets, commands and options, briefs, the version."""

from __future__ import annotations

import importlib
import re
import tomllib
from pathlib import Path

import click
import pytest

ROOT = Path(__file__).resolve().parent.parent
DOCS = ROOT / "docs"
PAGES = sorted([*ROOT.glob("*.md"), *DOCS.rglob("*.md"), *(ROOT / "runs").glob("*.md")])
COMMANDS = DOCS / "reference" / "commands.md"
VERSION = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)
LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")


def name(page: Path) -> str:
    """A page's path in the checkout."""
    return page.relative_to(ROOT).as_posix()


def prose(page: Path) -> str:
    """A page without its blocks of code and its comments."""
    return COMMENT.sub("", FENCE.sub("", page.read_text(encoding="utf-8")))


def anchors(page: Path) -> set[str]:
    """The anchors of a page's headings, as code hosts make them."""
    headings = re.findall(r"^#+ +(.+?) *$", prose(page), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


def links(page: Path) -> list[str]:
    """The links of a page that lead to files of the checkout."""
    return [link for link in LINK.findall(prose(page)) if not re.match(r"[a-z]+:", link)]


def blocks(language: str) -> list[tuple[str, str]]:
    """Every block of code in a language: where it stands, its text."""
    return [
        (f"{name(page)} block {number}", text)
        for page in PAGES
        for number, (found, text) in enumerate(FENCE.findall(page.read_text(encoding="utf-8")), 1)
        if found == language
    ]


@pytest.mark.parametrize("page", PAGES, ids=name)
def test_links_lead_somewhere(page: Path) -> None:
    broken = []
    for link in links(page):
        path, _, anchor = link.partition("#")
        target = (page.parent / path).resolve() if path else page
        if not target.exists() or (anchor and target.suffix == ".md" and anchor not in anchors(target)):
            broken.append(link)
    assert broken == []


def test_sections_are_numbered_in_turn() -> None:
    numbers = re.findall(r"^## (\d+) ", prose(DOCS / "method.md"), re.MULTILINE)
    assert [int(number) for number in numbers] == list(range(1, len(numbers) + 1))
    assert len(numbers) > 15


def test_every_page_is_reached_from_the_index() -> None:
    index = DOCS / "README.md"
    linked = {(DOCS / link.partition("#")[0]).resolve() for link in links(index)}
    assert [name(page) for page in DOCS.rglob("*.md") if page != index and page.resolve() not in linked] == []


def test_every_target_named_is_in_the_makefile() -> None:
    targets = set(re.findall(r"^([a-z-]+):", (ROOT / "Makefile").read_text(encoding="utf-8"), re.MULTILINE))
    named = {
        target
        for page in PAGES
        for code in re.findall(
            r"`([^`\n]+)`|^(?:\$ )?(make .+)$", page.read_text(encoding="utf-8"), re.MULTILINE
        )
        for target in re.findall(r"^make ([a-z-]+)", code[0] or code[1])
    }
    assert named - targets == set()
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert {"make demo", "make test"} <= set(re.findall(r"make [a-z-]+", readme))


def test_the_changelog_has_this_version() -> None:
    changelog = (DOCS / "changelog.md").read_text(encoding="utf-8")
    assert re.search(rf"^## {re.escape(VERSION)}\b", changelog, re.MULTILINE)


@pytest.mark.parametrize(
    ("where", "text"), blocks("toml"), ids=lambda value: value if "block" in value else ""
)
def test_briefs_in_the_documents_are_accepted(where: str, text: str, tmp_path: Path) -> None:
    table = tomllib.loads(text)
    if "title" not in table:
        return
    if "brief" in table:
        plan = importlib.import_module("facewright.search.batch.plan")
        assert list(plan.asked_of(plan.parse_plan(text)))
        return
    if "product" in table:
        return  # names designs of runs; their own tests have some
    brief = tmp_path / "brief.toml"
    brief.write_text(text, encoding="utf-8")
    importlib.import_module("facewright.constraints.brief").read(brief)


def test_every_key_of_a_plan_is_documented() -> None:
    page = (DOCS / "reference" / "plans.md").read_text(encoding="utf-8")
    plan = importlib.import_module("facewright.search.batch.plan")
    keys = [*plan.KEYS, *(f"each.{key}" for key in plan.EACH)]
    assert [key for key in keys if f"| `{key}` |" not in page] == []


def test_the_starter_plan_asks_something() -> None:
    plan = importlib.import_module("facewright.search.batch.plan")
    starter = importlib.import_module("facewright.search.batch.starter").STARTER
    assert len(list(plan.asked_of(plan.parse_plan(starter)))) == 30


def command_line() -> click.Group:
    """The command, as click knows it."""
    module = importlib.import_module("facewright.search.cli.command")
    return next(value for value in vars(module).values() if isinstance(value, click.Group))


def sections(text: str) -> dict[str, str]:
    """The page of commands by its headings: the name after `facewright`, or "" for what holds for all."""
    parts = re.split(r"^#+ +(.+)$", text, flags=re.MULTILINE)
    found = {"": parts[0]}
    for heading, body in zip(parts[1::2], parts[2::2], strict=True):
        command = re.search(r"facewright ([a-z-]+)", heading)
        key = command.group(1) if command else ""
        found[key] = found.get(key, "") + body
    return found


def options(command: click.Command) -> set[str]:
    """The long names of a command's options."""
    return {
        name
        for option in command.params
        if isinstance(option, click.Option) and not option.hidden
        for name in (*option.opts, *option.secondary_opts)
        if name.startswith("--")
    }


def test_every_command_and_option_is_in_the_reference() -> None:
    group = command_line()
    by_command = sections(COMMANDS.read_text(encoding="utf-8"))
    shared = options(group)
    missing, unknown = [], []
    for key, command in group.commands.items():
        if command.hidden:
            continue
        section = by_command.get(key)
        if section is None:
            missing.append(key)
            continue
        offered = options(command)
        written = set(re.findall(r"(?<![\w-])--[a-z][a-z-]*", section))
        common = set(re.findall(r"(?<![\w-])--[a-z][a-z-]*", by_command[""]))
        missing += [f"{key} {option}" for option in sorted(offered - written - common)]
        unknown += [f"{key} {option}" for option in sorted(written - offered - shared - {"--help"})]
    assert missing == [], "in the command, not in docs/reference/commands.md"
    assert unknown == [], "in docs/reference/commands.md, not in the command"
    strangers = {key for key in by_command if key} - set(group.commands)
    assert strangers == set(), "sections of commands that do not exist"
