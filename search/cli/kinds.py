"""How each kind of answer is shown by the commands: one entry a kind."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

import click
from facewright.constraints.contest import Contest
from facewright.search.cli.common import echo_json, look, show_answer, width

if TYPE_CHECKING:
    from facewright.search.report.scores import Settings


SHOWN = 30
"""Markings in a list, unless all are asked for."""


class Shown(Protocol):
    """How one kind of answer is shown; a ranked design has an `id`."""

    def ranked(self, answer: Any, settings: Settings) -> list[Any]:
        """The designs of an answer, best first."""

    def show(self, answer: Any, ranked: Sequence[Any], as_json: bool, everything: bool = False) -> None:
        """Prints an answer as JSON, or as a table of its best designs, or of all."""

    def details(self, answer: Any, one: Any) -> str:
        """One design as text."""

    def form(self, answer: Any, ranked: Sequence[Any]) -> dict[str, Any]:
        """The answer as the contract's JSON."""

    def rows(self, answer: Any, ranked: Sequence[Any]) -> list[dict[str, Any]]:
        """One flat row a design."""

    def report(self, answer: Any, ranked: Sequence[Any], folder: Path) -> Path:
        """Writes the report into a run folder."""


class _Numberings:
    def ranked(self, answer: Any, settings: Settings) -> list[Any]:
        from facewright.search.report.contents import ranked_designs

        return ranked_designs(answer, settings)

    def show(self, answer: Any, ranked: Sequence[Any], as_json: bool, everything: bool = False) -> None:
        show_answer(answer, list(ranked), as_json, everything)
        if not as_json:
            _show_layouts(answer)

    def details(self, answer: Any, one: Any) -> str:
        from facewright.search.report.contents import entries, summary
        from facewright.search.report.text import details

        text = details(summary(answer), entries(answer, [one])[0], width(), **look())
        if isinstance(answer.question, Contest):
            from facewright.search.report.contest_text import lines

            text = "\n".join([text, "", *lines(answer.question, one.scores.design)])
        return _with_layouts(text, answer, one)

    def form(self, answer: Any, ranked: Sequence[Any]) -> dict[str, Any]:
        from facewright.search.export import as_json

        return as_json(answer, ranked)

    def rows(self, answer: Any, ranked: Sequence[Any]) -> list[dict[str, Any]]:
        from facewright.search.export import rows

        return rows(answer, ranked)

    def report(self, answer: Any, ranked: Sequence[Any], folder: Path) -> Path:
        from facewright.search.report.writing import write_report

        return write_report(answer, ranked, folder)


class _Readouts:
    def ranked(self, answer: Any, settings: Settings) -> list[Any]:
        return list(answer.ranked)

    def show(self, answer: Any, ranked: Sequence[Any], as_json: bool, everything: bool = False) -> None:
        if as_json:
            echo_json(self.form(answer, ranked))
            return
        from facewright.search.report.readouts_text import summary

        click.echo(summary(answer, ranked, width(), None if everything else SHOWN))
        _show_layouts(answer)

    def details(self, answer: Any, one: Any) -> str:
        from facewright.search.report.readouts_text import details

        return _with_layouts(details(answer.question, one.design), answer, one)

    def form(self, answer: Any, ranked: Sequence[Any]) -> dict[str, Any]:
        from facewright.search.readouts_export import as_json

        return as_json(answer, ranked)

    def rows(self, answer: Any, ranked: Sequence[Any]) -> list[dict[str, Any]]:
        from facewright.search.readouts_export import rows

        return rows(answer, ranked)

    def report(self, answer: Any, ranked: Sequence[Any], folder: Path) -> Path:
        from facewright.search.report.frame import write_page
        from facewright.search.report.readouts_page import readouts_page

        return write_page(readouts_page, answer, ranked, folder)


class _Layouts:
    def ranked(self, answer: Any, settings: Settings) -> list[Any]:
        return list(answer.ranked)

    def show(self, answer: Any, ranked: Sequence[Any], as_json: bool, everything: bool = False) -> None:
        if as_json:
            echo_json(self.form(answer, ranked))
            return
        from facewright.search.report.layouts_text import summary

        click.echo(summary(answer, ranked, width(), None if everything else SHOWN))

    def details(self, answer: Any, one: Any) -> str:
        from facewright.search.report.layouts_text import details

        return details(answer.question, one.design, width())

    def form(self, answer: Any, ranked: Sequence[Any]) -> dict[str, Any]:
        from facewright.search.layouts_export import as_json

        return as_json(answer, ranked)

    def rows(self, answer: Any, ranked: Sequence[Any]) -> list[dict[str, Any]]:
        from facewright.search.layouts_export import rows

        return rows(answer, ranked)

    def report(self, answer: Any, ranked: Sequence[Any], folder: Path) -> Path:
        from facewright.search.report.frame import write_page
        from facewright.search.report.layouts_page import layouts_page

        return write_page(layouts_page, answer, ranked, folder)


class _Smooth:
    def ranked(self, answer: Any, settings: Settings) -> list[Any]:
        return list(answer.ranked)

    def show(self, answer: Any, ranked: Sequence[Any], as_json: bool, everything: bool = False) -> None:
        if as_json:
            echo_json(self.form(answer, ranked))
            return
        from facewright.search.report.smooth_text import summary

        click.echo(summary(answer, ranked, width()))

    def details(self, answer: Any, one: Any) -> str:
        from facewright.search.report.smooth_text import details

        return details(answer.question, one.design, width(), answer.layouts)

    def form(self, answer: Any, ranked: Sequence[Any]) -> dict[str, Any]:
        from facewright.search.smooth_export import as_json

        return as_json(answer, ranked)

    def rows(self, answer: Any, ranked: Sequence[Any]) -> list[dict[str, Any]]:
        from facewright.search.smooth_export import rows

        return rows(answer, ranked)

    def report(self, answer: Any, ranked: Sequence[Any], folder: Path) -> Path:
        from facewright.search.report.frame import write_page
        from facewright.search.report.smooth_page import smooth_page

        return write_page(smooth_page, answer, ranked, folder)


class _Products:
    def ranked(self, answer: Any, settings: Settings) -> list[Any]:
        from facewright.search.products.ranking import ranked_products

        return ranked_products(answer.question, [one.design for one in answer.found], settings)

    def show(self, answer: Any, ranked: Sequence[Any], as_json: bool, everything: bool = False) -> None:
        if as_json:
            echo_json(self.form(answer, ranked))
            return
        from facewright.search.report.products_text import summary

        click.echo(summary(answer, ranked, width(), None if everything else SHOWN))

    def details(self, answer: Any, one: Any) -> str:
        from facewright.search.report.products_text import details

        return details(answer, one, width())

    def form(self, answer: Any, ranked: Sequence[Any]) -> dict[str, Any]:
        from facewright.search.products.export import as_json

        return as_json(answer, ranked)

    def rows(self, answer: Any, ranked: Sequence[Any]) -> list[dict[str, Any]]:
        from facewright.search.products.export import rows

        return rows(answer, ranked)

    def report(self, answer: Any, ranked: Sequence[Any], folder: Path) -> Path:
        from facewright.search.report.products_page import write_products_report

        return write_products_report(answer, ranked, folder)


_KINDS: dict[str, Shown] = {
    "numbering": _Numberings(),
    "readouts": _Readouts(),
    "layout": _Layouts(),
    "smooth": _Smooth(),
    "product": _Products(),
}


def _show_layouts(answer: Any) -> None:
    """Prints the dice of the best design laid out, where the brief wants that."""
    if answer.layouts:
        from facewright.search.report.laid_out import text

        click.echo(f"\n{text(answer.layouts, width())}")


def _with_layouts(words: str, answer: Any, one: Any) -> str:
    """A design's own text, and its layouts where it has any."""
    own = [laid for laid in answer.layouts if laid.of == one.id]
    if not own:
        return words
    from facewright.search.report.laid_out import text

    return f"{words}\n\n{text(own, width())}"


def shown(answer: Any) -> Shown:
    """How the kind of an answer is shown."""
    return _KINDS[answer.question.kind]
