"""The engine `given`: dice that are all fixed already, compared with a target that they need not reach."""

from __future__ import annotations

from facewright.constraints.design import NumberingDesign
from facewright.constraints.further import keeps
from facewright.constraints.question import Numbering
from facewright.constraints.readings import READINGS
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.progress import Progress
from facewright.search.stop import Stop
from facewright.search.words import further_rule_words


class Given:
    """Nearest with every die fixed: there is one candidate, so it is the best."""

    name = "given"

    def accepts(self, question: Numbering) -> bool:
        """Nearest, every die fixed, a known reading."""
        fixed = all(die.exactly is not None for die in question.dice)
        return fixed and question.accept == "nearest" and question.read in READINGS

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams the one design; see `Engine`."""
        return Answering(self.name, _stream(question))


def _stream(question: Numbering) -> Stream:
    labels = [die.exactly or () for die in question.dice]
    broken = next((rule for rule in question.also if not keeps(rule, labels, question.again)), None)
    if broken is not None:
        reason = f"These dice are fixed, and they do not keep {further_rule_words(broken)}."
        return Closing(
            "none", 0, 0, "all", reason, ("Every die is fixed, so there is one candidate.",), cause="clash"
        )
    distance = question.reading.distribution(labels).distance(question.target)
    yield NumberingDesign.of(question.dice, labels)
    reason = (
        "These dice give the target's chances exactly."
        if distance == 0
        else f"These dice miss the target's chances by {distance} (total variation distance): so much chance would "
        "have to move from some results to others."
    )
    return Closing(
        "best", 1, 1, "all", reason, ("Every die is fixed, so there is one candidate.",), str(distance)
    )
