"""Plans: a template brief, lists to run through, and what to leave out; read from TOML, with every fault at once."""

from __future__ import annotations

import hashlib
import itertools
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from facewright.constraints.brief.faults import Faults, nearest_keys
from facewright.constraints.brief.reader import text_of
from facewright.constraints.brief.toml import load
from facewright.constraints.errors import BriefRefused
from facewright.constraints.texts import quoted
from facewright.search.batch.sets_of import divisible, every_set, uneven
from facewright.search.batch.toml_text import toml_text

KEYS = (
    "schema", "title", "note", "brief", "lists", "cases", "leave_out", "most_faces", "only_divisible", "each",
)  # fmt: skip
EACH = {"seconds": 60.0, "designs": 20, "memory_mb": 2000}
"""Limits for each question: seconds, designs to keep, megabytes."""

SOME_VALUES = "a list with at least one value, or { sets_of = 2, from = [...] } for every set of two of them"
MOST_QUESTIONS = 1_000_000
MEMORY_MB = (200, 1_000_000)
SECONDS = (0.01, 1_000_000.0)
DESIGNS = (1, 10_000)


@dataclass(frozen=True)
class Limit:
    """What each question may use: seconds, designs to keep, megabytes of memory."""

    seconds: float = EACH["seconds"]
    designs: int = int(EACH["designs"])
    memory_mb: int = int(EACH["memory_mb"])


@dataclass(frozen=True)
class Asked:
    """One question of a plan: the values that it takes from lists and cases, by the path of the key, and its brief."""

    chosen: tuple[tuple[str, Any], ...]
    brief: str

    @property
    def words(self) -> str:
        """What tells it from the others."""
        return ", ".join(f"{name} = {short(value)}" for name, value in self.chosen)


@dataclass(frozen=True)
class Plan:
    """A template and what varies.

    `brief` holds the keys that all questions share; `lists` the values of a key, each in turn with each of every other
    list; `cases` sets of keys that go together, one set in turn. A question whose values agree with all of one table of
    `leave_out`, or that asks for more than `most_faces` faces in all, is left out; with `only_divisible` also one that
    a division alone rules out (see `divisible` and `uneven`).
    """

    title: str
    brief: Mapping[str, Any]
    lists: Mapping[str, tuple[Any, ...]] = field(default_factory=dict)
    cases: tuple[Mapping[str, Any], ...] = ()
    leave_out: tuple[Mapping[str, Any], ...] = ()
    most_faces: int | None = None
    only_divisible: bool = False
    each: Limit = Limit()
    note: str = ""

    @property
    def size(self) -> int:
        """How many questions there are before any is left out."""
        size = max(1, len(self.cases))
        for values in self.lists.values():
            size *= len(values)
        return size

    def questions(self) -> Iterator[Asked]:
        """The questions, those left out passed over, in the order of cases and lists, the last list fastest."""
        for case in self.cases or ({},):
            for values in itertools.product(*self.lists.values()):
                chosen = {**case, **dict(zip(self.lists, values, strict=True))}
                if any(_agrees(chosen, one) for one in self.leave_out):
                    continue
                whole = _merged(self.brief, chosen)
                if self.most_faces is not None and _faces(whole) > self.most_faces:
                    continue
                if self.only_divisible and uneven(whole):
                    continue
                words = ", ".join(short(value) for value in chosen.values())
                title = f"{self.title}: {words}" if words else self.title
                whole = {"title": title[:200], **{k: v for k, v in whole.items() if k != "title"}}
                yield Asked(tuple(chosen.items()), toml_text(whole))


def read_plan(path: str | Path) -> Plan:
    """The plan in a file; raises UsageError where there is none, BriefRefused with every fault."""
    return parse_plan(text_of(path), str(path))


def parse_plan(text: str, name: str = "plan") -> Plan:
    """The plan that a text states; raises BriefRefused with every fault, each with line, key, found and accepted."""
    faults = Faults()
    raw = load(text.removeprefix("\ufeff"), faults)
    faults.text = text
    if not raw and not faults:
        faults.add((), "an empty file", "a plan; `facewright new plan` writes one to start from")
    plan = _Reader(raw, faults).plan() if raw else None
    if faults or plan is None:
        faults.refuse(name)
    return plan


class _Reader:
    """Reads a plan part by part; what is wrong is told and left out."""

    def __init__(self, raw: Mapping[str, Any], faults: Faults) -> None:
        self._raw, self._faults = raw, faults

    def plan(self) -> Plan:
        for key in self._raw:
            if key not in KEYS:
                self._faults.add((key,), "an unknown key", nearest_keys(key, KEYS))
        if self._raw.get("schema", 1) != 1:
            self._faults.add(("schema",), repr(self._raw["schema"]), "1")
        if "brief" not in self._raw:
            self._faults.missing(
                "brief", 'a table with the keys that all questions share, such as read = "total"'
            )
        if not (self._raw.get("lists") or self._raw.get("cases")):
            self._faults.missing("lists", "a table with at least one list of values, or `cases`")
        brief = self._table("brief")
        if "title" in brief:
            self._faults.add(
                ("brief", "title"), "a title", "none: each question is called by the plan and its values"
            )
        lists = {}
        for key, values in self._table("lists").items():
            if isinstance(values, dict):
                lists[key] = every_set(values, ("lists", key), self._faults) or ()
            elif isinstance(values, list) and values:
                lists[key] = tuple(values)
            else:
                self._faults.add(("lists", key), _kind(values), SOME_VALUES)
        plan = Plan(
            self._text("title", required=True),
            brief,
            lists,
            self._tables("cases"),
            self._tables("leave_out"),
            self._number("most_faces", 1, 100_000) if "most_faces" in self._raw else None,
            self._yes("only_divisible"),
            self._each(),
            self._text("note"),
        )
        self._agree(plan)
        return plan

    def _agree(self, plan: Plan) -> None:
        """Tells of parts that do not go together."""
        lists = plan.lists
        for at, case in enumerate(plan.cases):
            for key in case.keys() & lists.keys():
                self._faults.add(
                    ("cases", at, key), "a key that is a list too", "either a list or part of the cases"
                )
        for at, table in enumerate(plan.leave_out):
            known = {*lists, *(key for case in plan.cases for key in case)}
            for key in table.keys() - known:
                self._faults.add(
                    ("leave_out", at, key), "a key that does not vary", f"one of {', '.join(sorted(known))}"
                )
        if plan.size > MOST_QUESTIONS:
            self._faults.add(
                ("lists",), f"{plan.size:,} questions", f"{MOST_QUESTIONS:,} at most; make several plans"
            )

    def _each(self) -> Limit:
        table = self._table("each")
        for key in table:
            if key not in EACH:
                self._faults.add(("each", key), "an unknown key", nearest_keys(key, EACH))
        bounds = {"seconds": SECONDS, "designs": DESIGNS, "memory_mb": MEMORY_MB}
        values: dict[str, Any] = {}
        for key, (least, most) in bounds.items():
            value = table.get(key, EACH[key])
            whole = key != "seconds"
            fits = isinstance(value, int if whole else int | float) and not isinstance(value, bool)
            if not fits or not least <= value <= most:
                what = "a whole number" if whole else "a number"
                self._faults.add(("each", key), short(value), f"{what} from {least:g} to {most:,g}")
                value = EACH[key]
            values[key] = value
        return Limit(**values)

    def _text(self, key: str, *, required: bool = False) -> str:
        value = self._raw.get(key, "")
        if required and key not in self._raw:
            self._faults.missing(key, "a text")
        if not isinstance(value, str) or (required and key in self._raw and not value.strip()):
            self._faults.add((key,), short(value), "a text")
            return ""
        return value

    def _number(self, key: str, least: int, most: int) -> int | None:
        value = self._raw.get(key)
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
            self._faults.add((key,), short(value), f"a whole number from {least:,} to {most:,}")
            return None
        return value

    def _yes(self, key: str) -> bool:
        value = self._raw.get(key, False)
        if not isinstance(value, bool):
            self._faults.add((key,), _kind(value), "true or false")
        return value is True

    def _table(self, key: str) -> dict[str, Any]:
        value = self._raw.get(key, {})
        if not isinstance(value, dict):
            self._faults.add((key,), _kind(value), "a table")
            return {}
        return value

    def _tables(self, key: str) -> tuple[dict[str, Any], ...]:
        value = self._raw.get(key, [])
        if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
            self._faults.add((key,), _kind(value), "a list of tables")
            return ()
        return tuple(value)


def asked_of(plan: Plan, text: str = "", name: str = "plan") -> Iterator[tuple[Asked, str]]:
    """Each question of a plan with its fingerprint; every brief is read.

    Raises BriefRefused at the end where briefs are refused: every fault once, with the first question that has it.
    """
    from facewright.constraints.brief import parse
    from facewright.search.earlier import die_of

    seen: dict[tuple[str, str, str], list[Any]] = {}
    for asked in plan.questions():
        try:
            question = parse(asked.brief, "plan", die_of)
        except BriefRefused as refused:
            for fault in refused.faults:
                entry = seen.setdefault((fault.key, fault.found, fault.accepted), [asked, 0])
                entry[1] += 1
            continue
        if not plan.only_divisible or divisible(question):
            yield asked, question.fingerprint()
    if not seen:
        return
    faults = Faults()
    faults.text = text
    for (key, found, accepted), (asked, times) in seen.items():
        many = f"{times:,} questions, the first with" if times > 1 else "the question with"
        faults.add(_place(plan, key, dict(asked.chosen)), f"{found} ({key}; {many} {asked.words})", accepted)
    faults.refuse(name)


def _place(plan: Plan, key: str, chosen: Mapping[str, Any]) -> tuple[str | int, ...]:
    """Where in the plan a key of a question comes from."""
    first = key.partition("[")[0].partition(".")[0]
    for name, values in plan.lists.items():
        if name.partition(".")[0] == first:
            return ("lists", name, values.index(chosen[name]))
    for at, case in enumerate(plan.cases):
        if first in case and all(chosen.get(name) == value for name, value in case.items()):
            return ("cases", at, first)
    return ("brief", first)


def key_of(fingerprint: str, each: Limit, engines: str) -> str:
    """What makes two questions one: what is asked, how much is kept, and by which engines it was answered."""
    text = json.dumps([fingerprint, each.designs, engines])
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def short(value: Any) -> str:
    """A value of a list in a few characters.

    Example:
        >>> short([6, 16]), short("2d6"), short({"wind": 4, "rain": 2})
        ('6 + 16', '2d6', 'wind 4, rain 2')
    """
    if isinstance(value, list) and value and all(isinstance(one, int | str) for one in value):
        return " + ".join(map(str, value))
    if isinstance(value, dict):
        return ", ".join(f"{key} {short(one)}" for key, one in value.items())
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 60 else text[:57] + "…"


def _kind(value: Any) -> str:
    return quoted(value) if isinstance(value, str) else short(value)


def _agrees(chosen: Mapping[str, Any], table: Mapping[str, Any]) -> bool:
    return bool(table) and all(key in chosen and chosen[key] == value for key, value in table.items())


def _merged(brief: Mapping[str, Any], chosen: Mapping[str, Any]) -> dict[str, Any]:
    """The template with the chosen values in place; a dot in a key leads into a table."""
    whole = json.loads(json.dumps(brief))
    for key, value in chosen.items():
        table, *rest = key.split(".")
        inside = whole
        for part in rest:
            if not isinstance(inside.get(table), dict):
                inside[table] = {}
            inside, table = inside[table], part
        inside[table] = value
    return dict(whole)


def _faces(brief: Mapping[str, Any]) -> int:
    """The faces of all dice that a brief lists by number, or of its solid; 0 where that is not told by number."""
    dice = brief.get("dice", [brief.get("solid", 0)])
    dice = dice if isinstance(dice, list) else []
    counts = [one.get("faces", 0) if isinstance(one, dict) else one for one in dice]
    return sum(one for one in counts if isinstance(one, int))
