"""A thousand kills of parent and workers: a batch that is gone on with ends like one that nobody disturbed."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.batches import PLAN, done, kept, killed_and_gone_on

KILLS = 1000


@pytest.mark.quality
def test_a_thousand_kills_lose_nothing(tmp_path: Path) -> None:
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    done(PLAN, tmp_path / "whole" / "batch")
    undisturbed = kept(tmp_path / "whole" / "batch")
    struck = 0
    with (tmp_path / "seeds.log").open("w", encoding="utf-8") as log:
        for seed in range(KILLS):
            folder = tmp_path / f"round-{seed}" / "batch"
            more = killed_and_gone_on(folder, tmp_path / "plan.toml", min(20, KILLS - struck), Random(seed))
            struck += more
            log.write(f"{seed} {more}\n")
            log.flush()
            assert kept(folder) == undisturbed, f"seed {seed}; the log of seeds is {log.name}"
            if struck >= KILLS:
                break
    assert struck >= KILLS
