"""A starter plan: a text with comments."""

STARTER = """\
# A plan asks many questions: everything that is shared, and lists to run through. See first how many they are:
#   facewright batch plan.toml --dry-run

title = "What could replace our dice"
note  = "Every target on every set of solids that the workshop of Saltmere (invented) can make."

# What all questions share: keys of a brief, as `facewright new numbering` shows them.
[brief]
read = "total"

# What varies: each value of a list with each of every other list. A dot leads into a table of the brief.
[lists]
like = ["2d6", "2d8", "d8 + d12"]
dice = [[6, 6], [4, 9], [6, 16], [8, 12], [12, 18]]
"labels.highest" = [12, 24]

# A rule in place of a list: every set of two or three of these values.
# dice = { sets_of = [2, 3], from = [4, 6, 8, 12] }

# Keys that go together stand in cases, one a line, in place of lists (or beside them):
# [[cases]]
# like = "2d6"
# dice = [6, 6]

# What is left out: questions that agree with all of a table, those with more faces in all, and those that a
# division rules out.
# most_faces = 60
# only_divisible = true
# [[leave_out]]
# like = "2d6"
# dice = [12, 18]

# What each question may use, and how many of its designs are kept.
[each]
seconds   = 30
designs   = 20
memory_mb = 2000
"""
