"""Starter briefs: a text with comments for each kind of question that this version answers."""

from __future__ import annotations

from facewright.constraints.brief.kinds import ANSWERED, TABLE
from facewright.constraints.errors import UsageError
from facewright.constraints.grammar import series
from facewright.constraints.texts import quoted

KINDS = ANSWERED
"""The kinds for which there is a starter brief."""

_NUMBERING = """\
# A brief is one question. This one: can a four-face and a nine-face die replace two ordinary six-face dice?
# Change it, then: facewright find brief.toml

title = "Ferry landing"
note  = "Which boat comes in next: the old table is made for 2d6, the new dice should keep its chances."

# What is wanted, said with ordinary dice: "d8 + d12", "2d6 + 1", "highest of 2d20" …
# Or with every result and its ways, in place of `like`: ways = { 2 = 1, 3 = 2, 4 = 1 }
like = "2d6"

# How the new dice are read: their total. Or "highest", "lowest", "difference", "product", "total-modulo" …
read = "total"

# The new dice. An item is a face count, the name of a solid, or a table: here nine labels on a solid with
# eighteen faces, each label twice. Or a choice, of which every set is tried: dice = "2 of 3 4 6 9 12"
dice = [4, { faces = 9, solid = "enneagonal trapezohedron" }]

# What may stand on the faces. Without this line: whole numbers from 1 up, as high as the target allows.
# labels = { lowest = 0, highest = 10, repeats = 2, only = [0, 1, 2, 3], avoid = [6] }

# What the dice must keep besides: rules such as these.
# also = [{ rule = "symmetric" }, { rule = "equal-labels", chance = "1/9" }, { rule = "distinct", at_most = 6 }]

# When to stop early, and what counts most in the ranking.
# stop = { seconds = 600, designs = 1000 }
# rank = { readability = 2, cost = 1 }
"""

_READOUTS = """\
# A brief is one question. This one: can one roll of one solid say what wind, rain and harvest bring?
# Change it, then: facewright find brief.toml

title = "Wind, rain and harvest in one roll"
note  = "Invented data for a small harbour town: three answers for the morning board, from a single die."

# The solid: a name, a face count, a list of them, or every solid of the catalogue: "any up to 60".
solid = "tetrakis hexahedron"

# What is read from one roll. A number: so many labels, equally likely. Or labels with their weights, or dice: "2d3".
readouts = { wind = 4, rain = "yes:1 no:2", harvest = 2 }

# How independent the answers must be: "exact", or the "best" that is possible, which is proved.
independent = "best"

# Of three and more: all "together", or each of the "pairs".
# measure = "together"

# Where marks may stand, for each readout: "faces", "vertices" or "edges". And how many readouts may share a site.
# on = { wind = "faces" }
# share = 1

# More than one design; mirror images and renamed labels counted once.
# stop = { seconds = 600, designs = 10 }
# same_under = "reflection"
# rename = true
"""

_LAYOUT = """\
# A brief is one question. This one: which face of a twenty-face die carries which number?
# Change it, then: facewright find brief.toml

title = "Numbers on the pilot die"
note  = "Invented data for a small harbour town: the pilot die must favour no berth, whatever flaw the casting has."

# The solid: a name, or a face count.
solid = "icosahedron"

# Its labels: a range, or a list, with repeats if need be: [1, 1, 2, 3]. Fewer labels than faces stand several times.
# Or, in place of `place` and `solid`, a die of a run: from = { run = "harbour-dues", design = "3f2a", die = 2 }
place = "1..20"

# What matters, most first: opposite-sums (opposite faces add up to the same), even-vertices (the faces around each
# corner add up evenly), apart (equal labels), no-neighbours (no consecutive numbers side by side), and guards against
# flaws of a real die: off-centre, out-of-round, long-along-draw.
layout = ["opposite-sums", "even-vertices"]

# How large it is, and what that measures: across-flats, edge, height or tip-to-tip.
# size_mm = 20
# size_is = "across-flats"

# How the mould opens: through a face, an edge or a vertex, or in a direction such as [0, 0, 1].
# draw = "vertex"

# Free proportions of the solid; more than one layout; mirror images counted once; labels may change places.
# shape = "settles-best"
# stop = { seconds = 60, designs = 10 }
# same_under = "reflection"
# rename = true
"""

_SMOOTH = """\
# A brief is one question. This one: which body of constant width with four rests settles most decisively?
# Change it, then: facewright find brief.toml

title = "A four-way that rolls"
note  = "Invented for a small harbour town: the ferry's die rolls like a ball, and must come out of the tumbler unhurt."

# symmetry: tetrahedral (four rests), three-sided, five-sided or seven-sided (so many rests, around).
# least_radius: the least radius of curvature that mould and tumbler allow, as a share of the width.
# degree: how finely the shape may be tuned; 9 is simple, 25 very good, beyond 45 little is gained.
# goal: settling (how much lower it lies at rest than on its way to another rest) or flat (the side it rests on).
smooth = { symmetry = "tetrahedral", width_mm = 22, least_radius = 0.05, degree = 25, goal = "settling" }

# When to stop.
# stop = { seconds = 60 }
"""

_STARTERS = {"numbering": _NUMBERING, "readouts": _READOUTS, "layout": _LAYOUT, "smooth": _SMOOTH}


def starter(kind: str) -> str:
    """The starter brief of a kind; it is itself a brief that can be answered.

    Raises UsageError for a kind that does not exist or that this version does not answer.
    """
    if kind in KINDS:
        return _STARTERS[kind]
    offered = series(KINDS, "or")
    if any(kind == known.name for known in TABLE):
        raise UsageError(f"kind: found {kind}, which this version does not answer yet; accepted: {offered}")
    raise UsageError(f"kind: found {quoted(kind)}; accepted: {offered}")
