"""The `like` line of a brief: a few words about ordinary dice become an exact distribution.

The grammar: terms joined by + or -, a term being `[k]dN` (k dice labelled 1 to N) or a whole number; or one
of `highest [k] of [n]dN`, `lowest [k] of [n]dN` (k is 1 unless given) and `difference of 2dN` (absolute).
"""

from __future__ import annotations

import re
from itertools import accumulate
from math import comb, isqrt
from operator import sub

from facewright.constraints.distribution import Distribution
from facewright.constraints.texts import TextError, quoted

MOST_DICE = 100
"""How many dice one target may roll: with MOST_FACES this keeps every target within 100,000 results."""
MOST_FACES = 1000
"""How many faces an ordinary die of a target may have."""
MOST_CONSTANT = 1_000_000
"""How large, apart from its sign, a whole number in a target may be."""
MOST_TEXT = 500
"""How long the text may be."""
MOST_KEPT_WORK = 40_000_000
"""Bound on (kept dice × faces)², so that `highest k of` takes about a second at most."""

FORMS = (
    'terms joined by + or -, such as "2d6 + d8 - 1"; or "highest of 2d20", "lowest of 2d6", '
    '"highest 3 of 4d6", "lowest 2 of 4d6", "difference of 2d6"'
)

_DICE = r"(?P<count>[0-9]*)d(?P<faces>[0-9]+)"
_TERM = re.compile(rf"\s*(?P<sign>[+-])?\s*(?:{_DICE}|(?P<number>[0-9]+))(?![0-9a-z])")
_PICK = re.compile(rf"(?P<which>highest|lowest|difference)\b\s*(?P<keep>[0-9]+)?\s*of\s+{_DICE}")
_PICK_WORD = re.compile(r"highest|lowest|difference")


def parse_like(text: str) -> Distribution:
    """The distribution that a `like` text describes.

    Raises TextError (a ValueError), which says what was found and what would be accepted.

    Example:
        >>> parse_like("2d2 + 1").ways
        {3: 1, 4: 2, 5: 1}
        >>> parse_like("highest of 2d3").ways
        {1: 1, 2: 3, 3: 5}
    """
    if len(text) > MOST_TEXT:
        raise TextError(f"{len(text):,} characters", f"at most {MOST_TEXT}: {FORMS}")
    plain = text.strip().lower().replace("−", "-")
    if not plain:
        raise TextError("an empty text", FORMS)
    if _PICK_WORD.match(plain):
        return _pick(plain)
    return _sum(plain)


def _sum(text: str) -> Distribution:
    """The distribution of terms joined by + and -."""
    least, ways, dice, position = 0, [1], 0, 0
    while position < len(text):
        term = _TERM.match(text, position)
        if term is None or (position and not term["sign"]):
            raise TextError(_where(text, position), FORMS)
        sign = -1 if term["sign"] == "-" else 1
        if term["number"]:
            least += sign * _number(term["number"])
        else:
            count, faces = _dice(term["count"], term["faces"], dice)
            dice += count
            least += count * (1 if sign > 0 else -faces)
            for _ in range(count):
                ways = _with_a_die(ways, faces)
        position = term.end()
    return _distribution(least, ways)


def _pick(text: str) -> Distribution:
    """The distribution of highest, lowest and difference."""
    form = _PICK.fullmatch(text)
    if form is None:
        stands_alone = _PICK.match(text)
        if stands_alone is None:
            raise TextError(quoted(text), FORMS)
        rest = quoted(text[stands_alone.end() :].strip())
        raise TextError(f"{rest} after {quoted(stands_alone[0])}", f"{quoted(stands_alone[0])} alone")
    count, faces = _dice(form["count"], form["faces"], 0)
    if form["which"] == "difference":
        return _difference(count, faces, form["keep"])
    keep = 1 if form["keep"] is None else _small(form["keep"])
    if not 1 <= keep <= count:
        raise TextError(quoted(text), f"{_from_to(1, count)} of {count} dice")
    if (keep * faces) ** 2 > MOST_KEPT_WORK and 1 < keep < count:
        most = isqrt(MOST_KEPT_WORK)
        raise TextError(
            f"{keep} of {count} dice with {faces:,} faces kept",
            f"dice kept × faces up to {most:,}: more takes too long to count",
        )
    ways = _highest(keep, count, faces)
    return _distribution(keep, ways if form["which"] == "highest" else ways[::-1])


def _difference(count: int, faces: int, keep: str | None) -> Distribution:
    """The absolute difference of two equal dice: N ways for 0, 2(N - d) ways for d."""
    if count != 2 or keep is not None:
        wording = f'"difference {keep} of"' if keep is not None else f"a difference of {count} dice"
        raise TextError(wording, f'two dice: "difference of 2d{faces}"')
    return _distribution(0, [faces, *(2 * (faces - d) for d in range(1, faces))])


def _highest(keep: int, count: int, faces: int) -> list[int]:
    """Ways of each sum of the `keep` highest of `count` dice labelled 1 to `faces`, from sum `keep` upwards.

    Split by the value v of the lowest die kept and the number a < keep of dice above it. What those a dice
    add up to is a sum of ordinary dice with faces - v faces, moved by v; the other keep - a dice kept show v;
    and of the count - a dice that are at most v at least keep - a show v, a sum of binomial terms. (Own
    derivation.)
    """
    if keep == count:
        ways = [1]
        for _ in range(count):
            ways = _with_a_die(ways, faces)
        return ways
    ways = [0] * (keep * (faces - 1) + 1)
    for value in range(1, faces + 1):
        above = [1]
        for a in range(keep):
            if a and value == faces:
                break
            if a:
                above = _with_a_die(above, faces - value)
            rest = count - a
            factor = comb(count, a) * sum(
                comb(rest, at) * (value - 1) ** (rest - at) for at in range(keep - a, rest + 1)
            )
            start = a * (value + 1) + (keep - a) * value - keep
            for step, times in enumerate(above):
                ways[start + step] += factor * times
    return ways


def _with_a_die(ways: list[int], faces: int) -> list[int]:
    """The ways after one more die: sums of `faces` neighbours, each a difference of two running sums."""
    running = list(accumulate(ways + [0] * (faces - 1)))
    return list(map(sub, running, [0] * faces + running[:-faces]))


def _distribution(least: int, ways: list[int]) -> Distribution:
    return Distribution.of({least + step: count for step, count in enumerate(ways)})


def _dice(count: str, faces: str, before: int) -> tuple[int, int]:
    """Number of dice and of faces, within bounds; `before` dice stand in the text already."""
    dice, sides = _small(count or "1"), _small(faces)
    if not 2 <= sides <= MOST_FACES:
        raise TextError(
            f"a die with {_amount(faces)} face{'s' * (sides != 1)}", f"dice with 2 to {MOST_FACES:,} faces"
        )
    if dice < 1:
        raise TextError(f'"{count}d{faces}"', "at least one die, or no such term")
    if before + dice > MOST_DICE:
        found = f"{_amount(count)} dice" if not before else f"more than {before} dice"
        raise TextError(found, f"up to {MOST_DICE} dice together")
    return dice, sides


def _number(digits: str) -> int:
    if _small(digits) > MOST_CONSTANT:
        raise TextError(_amount(digits), f"whole numbers up to {MOST_CONSTANT:,}")
    return int(digits)


def _small(digits: str) -> int:
    """The number, or one beyond every bound where it has more than nine digits."""
    plain = digits.lstrip("0")
    return int(plain or "0") if len(plain) <= 9 else 10**9


def _amount(digits: str) -> str:
    """The number as a reader takes it in."""
    return f"{_small(digits):,}" if _small(digits) < 10**9 else f"a number of {len(digits)} digits"


def _from_to(least: int, greatest: int) -> str:
    return str(least) if least == greatest else f"{least} to {greatest}"


def _where(text: str, position: int) -> str:
    """The place where reading stopped, as words."""
    rest = text[position:].strip()
    if not position:
        return quoted(rest)
    return f"{quoted(rest)} after {quoted(text[:position].strip())}"
