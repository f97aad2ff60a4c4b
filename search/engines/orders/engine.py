"""The engine `orders`: dice that come in fairly; every order, every place or the first place equally likely."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from facewright.constraints.contest import Contest
from facewright.constraints.grammar import capital, counted, number
from facewright.constraints.labels import Die
from facewright.constraints.orders import EVERY, PLACES, impossible, labels_of
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.engines.orders.insertion import inserted, insertions
from facewright.search.engines.orders.mirror import Word, fair_words
from facewright.search.engines.orders.paths import additive, layers_of
from facewright.search.engines.orders.sums import Sums, TooMany
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, Stopped
from facewright.search.words import dice_words, first_found, stopped

MOST_BASES = 20_000
"""So many fair sets of all dice but one are tried as a base for the last."""

ADDITIVE_PROOF = (
    "A word tells which die carries each label, from the least up; a letter adds to the ways of each order, or place, "
    "what the letters so far decide. All words were followed from both ends to the middle, those with equally many "
    "letters of each die and equal sums together.",
)
INSERTED_PROOF = (
    "In a fair set every subset of the dice is fair too, so every fair set comes from one of all dice but the last.",
    "One label of the last die adds a fixed vector to the ways of the orders, whatever its other labels: all ways to "
    "place them were followed, for each of the {bases} fair sets of the other dice.",
)


class Orders:
    """Complete for up to three dice, for places and first places, and where the sets of all dice but one are few.

    Where there are too many words to follow, those that read the same from both ends are searched, then a sample.
    """

    name = "orders"

    def answer(self, question: Contest, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams up to `limit` designs, each once; those beyond are counted where all can be followed."""
        return Answering(self.name, _stream(question, limit, stop, seed, report))


def _stream(question: Contest, limit: int, stop: Stop, seed: int, report: Progress) -> Stream:
    dice = question.dice
    barred = impossible([die.faces for die in dice], question.fair)
    if barred is not None:
        reason = f"No labels whatever can do it. {capital(dice_words(dice))}: {barred}."
        return Closing("none", 0, 0, "all", reason, ("By a division of whole numbers alone.",))
    listed = 0
    try:
        if additive(len(dice), question.fair):
            try:
                sums = _sums(dice, question.fair, stop, report)
            except TooMany:
                return (yield from _some(question, limit, stop, seed, report))
            for word in islice(sums.paths(), limit):
                listed += 1
                yield question.design(dice, labels_of(word, len(dice)))
            return _closing(question, sums.count(), listed, True, ADDITIVE_PROOF)
        bases = _fair_sets(dice[:-1], stop)
        if bases is None:
            return (yield from _some(question, limit, stop, seed, report))
        count = 0
        for word in _with_last(dice, bases, stop, report):
            count += 1
            if count <= limit:
                listed += 1
                yield question.design(dice, labels_of(word, len(dice)))
    except Stopped as asked:
        return Closing("partial", listed, listed, "at least", stopped(listed, str(asked)))
    proof = tuple(line.format(bases=f"{len(bases):,}") for line in INSERTED_PROOF)
    return _closing(question, count, listed, True, proof)


def _some(question: Contest, limit: int, stop: Stop, seed: int, report: Progress) -> Stream:
    """Designs where there are too many words to follow them all."""
    dice = question.dice
    known: set[str] = set()
    try:
        for word in _some_words(question, seed, stop, report):
            design = question.design(dice, labels_of(word, len(dice)))
            if design.id not in known:
                known.add(design.id)
                if limit:
                    yield design
            if len(known) >= limit:
                break
    except Stopped as asked:
        return Closing("partial", len(known), len(known), "at least", stopped(len(known), str(asked)))
    return _closing(question, len(known), len(known), False, ())


def _some_words(question: Contest, seed: int, stop: Stop, report: Progress) -> Iterator[Word]:
    """Words that read the same from both ends, fair in every order and so in every sense; then a sample of all."""
    dice = question.dice
    faces = [die.faces for die in dice]
    if impossible(faces, EVERY) is None:
        yield from fair_words(dice, faces, seed, stop, report)
    if additive(len(dice), question.fair):
        yield from _sums(dice, question.fair, stop, report, seed).paths()


def _sums(
    dice: tuple[Die, ...], fair: str, stop: Stop, report: Progress = silent, seed: int | None = None
) -> Sums:
    faces = [die.faces for die in dice]
    layers, wanted = layers_of(dice, faces, fair)
    return Sums(layers, (0,) * len(dice), tuple(faces), wanted, stop, report, seed)


def _fair_sets(dice: tuple[Die, ...], stop: Stop) -> list[Word] | None:
    """All words of these dice in which every order is equally likely; None where they are too many to follow.

    Equal dice appear for the first time in their order.
    """
    if additive(len(dice), EVERY):
        try:
            sums = _sums(dice, EVERY, stop)
        except TooMany:
            return None
        return list(sums.paths()) if sums.count() <= MOST_BASES else None
    bases = _fair_sets(dice[:-1], stop)
    if bases is None:
        return None
    found = list(islice(_with_last(dice, bases, stop, silent), MOST_BASES + 1))
    return found if len(found) <= MOST_BASES else None


def _with_last(dice: tuple[Die, ...], bases: list[Word], stop: Stop, report: Progress) -> Iterator[Word]:
    """Every fair word of the dice, from those of all but the last; equal dice appear in their order."""
    faces, last = [die.faces for die in dice], len(dice) - 1
    for tried, base in enumerate(bases):
        report("sets of all dice but one", tried, len(bases))
        layers, wanted = insertions(base, faces)
        for choices in Sums(layers, 0, faces[-1], wanted, stop).paths():
            word = inserted(base, choices, last)
            if all(word.index(die) < word.index(last) for die in range(last) if dice[die] == dice[last]):
                yield word


def _closing(question: Contest, count: int, listed: int, whole: bool, proof: tuple[str, ...]) -> Closing:
    faces = [die.faces for die in question.dice]
    carrying = f"With the labels 1 to {sum(faces)}, once each, on {dice_words(question.dice)}"
    fair = fair_words_of(question.fair, len(faces))
    if not whole:
        told = "There are too many numberings to look at all."
        if not listed:
            told += " Among those looked at none does it; there may be some."
        else:
            told = f"{capital(counted(listed, 'numbering'))} found. {capital(fair)}. {told} Others may exist."
        return Closing("partial", listed, listed, "at least", told, proof)
    if not count:
        return Closing(
            "none", 0, 0, "all", f"{carrying} no numbering does it: every one was ruled out.", proof
        )
    does = "does" if count == 1 else "do"
    shown = "" if listed == count else f"; {first_found(listed)}" if listed else ", counted but not listed"
    others = "is no other" if count == 1 else "are no others"
    reason = f"{capital(counted(count, 'numbering'))} {does} it{shown}. {carrying} there {others}. {capital(fair)}."
    return Closing("complete", count, count, "all", reason, proof)


def fair_words_of(fair: str, dice: int) -> str:
    """What fair means, in words."""
    if fair == EVERY:
        return f"every order in which {number(dice)} dice can come in is equally likely"
    if fair == PLACES:
        return "each die is equally likely to come in at each place"
    return "each die is equally likely to come in first"
