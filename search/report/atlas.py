"""The atlas: what batches of committed plans found, as tables with checksums and pages to browse."""

from __future__ import annotations

import hashlib
import io
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from facewright.constraints.errors import RunError
from facewright.search.batch.export import TEXT, asked_values, axes_of
from facewright.search.batch.store import BatchStore
from facewright.search.flat import Table, write_csv
from facewright.search.folders import BATCH, write_text
from facewright.search.report.batch_page import batch_page

PLANS = ("totals-on-two", "two-dice-on-three", "three-dice-on-three", "readouts")
"""The parts of the atlas; each is a plan, a table and a page of this name."""

SUMS = "sha256sums.txt"
"""The checksums of plans and tables, as `sha256sum --check` reads them."""

TOLD = ("verdict", "count", "count_up_to_shift", "count_is", "distance", "bound", "design")


def write_atlas(batches: Path, atlas: Path) -> None:
    """Writes tables, pages and checksums into a folder that holds the plans.

    Params:
        batches: holds the batches of the plans, each in a folder of its plan's name, all questions answered.
        atlas: holds the plans.
    Raises: RunError where a question has no answer, or a batch is none of its plan.
    """
    for plan in PLANS:
        with BatchStore.open(batches / plan / BATCH) as store:
            tally = store.tally()
            answered = tally.get("answered", 0)
            if answered < tally["different"]:
                raise RunError(
                    f"{batches / plan}: {answered:,} of {tally['different']:,} questions have an answer; "
                    f"`facewright batch {plan}.toml --retry` goes on"
                )
            if (batches / plan / "plan.toml").read_bytes() != (atlas / f"{plan}.toml").read_bytes():
                raise RunError(f"{batches / plan}: found a batch of another plan than {plan}.toml")
            write_text(atlas / f"{plan}.csv", table(store))
            write_text(atlas / f"{plan}.html", batch_page(store, plan))
    names = [f"{plan}.{kind}" for plan in PLANS for kind in ("toml", "csv")]
    sums = (f"{hashlib.sha256((atlas / name).read_bytes()).hexdigest()}  {name}\n" for name in names)
    write_text(atlas / SUMS, "".join(sums))


def table(store: BatchStore) -> str:
    """A row a question as comma-separated values: what is asked, then `TOLD`; `design` is the best that was kept."""
    axes = axes_of(store)
    query = (
        "SELECT chosen, verdict, count, count_up_to_shift, count_is, distance, bound, form "
        "FROM questions JOIN answers USING (key) LEFT JOIN designs ON designs.key = questions.key AND place = 1 "
        "ORDER BY number"
    )

    def rows() -> Iterator[tuple[Any, ...]]:
        for chosen, *told, form in store.rows(query):
            dice = json.loads(form).get("dice", []) if form else []
            labels = " / ".join(" ".join(map(str, die["labels"])) for die in dice)
            yield (*asked_values(axes, chosen), *told, labels)

    text = io.StringIO()
    write_csv(Table(tuple((name, TEXT) for name in (*axes, *TOLD)), rows), text)
    return text.getvalue()


def main(batches: Path, atlas: Path) -> int:
    """Writes the atlas; gives the exit status."""
    try:
        write_atlas(batches, atlas)
    except RunError as wrong:
        print(f"atlas: {wrong}", file=sys.stderr)
        return wrong.exit_status
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), Path(sys.argv[2])))
