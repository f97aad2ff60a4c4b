"""The rule that some die's least label is its lowest, where labels could otherwise be shifted for ever."""

from __future__ import annotations

from facewright.constraints.model.counts import CountModel


def post_anchor(model: CountModel) -> None:
    """Adds that at least one die carries the least label that it may carry; a fixed die always does."""
    if any(die.exactly is not None for die in model.dice):
        return
    least = []
    for die in range(len(model.dice)):
        allowed = model.dice[die].rules.allowed()
        if allowed:
            least.append((1, model.count(die, allowed[0])))
    model.linear(least, 1, sum(die.faces for die in model.dice))
