"""Throws simulated: a convex body dropped onto a table again and again, and how often it comes to lie each way.

A model of one throw onto one table, never a measurement: the answer moves with the throw, and the throw is stated
beside it. The simulator is MuJoCo, which comes with the extra `[physics]`. Three of its traps are avoided: contacts
are no stiffer than the time step can follow (else dice never stop); contacts resist rolling (else round bodies roll
for ever); and a throw is decided by energy: once kinetic and potential energy together are less than the body needs
to pass over to another rest, it cannot leave the one that it is on, and waiting for it to lie still would tell
nothing more.
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib.util import find_spec
from math import hypot, sqrt
from typing import TYPE_CHECKING, Any, Protocol

from facewright.constraints.errors import UsageError
from facewright.constraints.solids.smooth.mesh import surface
from facewright.constraints.solids.smooth.rests import settling
from facewright.search.stop import Stop, never

if TYPE_CHECKING:
    import numpy as np
    from facewright.constraints.solids.smooth.body import SmoothBody

ENGINE = "mujoco"
NO_PHYSICS = "the simulation of throws needs the extra [physics]: pip install 'facewright[physics]'"

STEP = 1e-3
"""Seconds of a time step, for bodies 1 m in size; a smaller body does the same, faster by the root of its size."""
STIFF = 10 * STEP
"""Seconds in which a contact gives way: five steps at least, or it gains energy."""
DAMPING = 0.4
"""The damping ratio of a contact: a coin that falls flat rebounds with some 0.38 of its speed (measured)."""
LIMIT = 12.0
"""Seconds after which a throw that is not decided is counted as it lies, and told apart."""
CHECK = 20
"""Steps between looks at the energy."""
GRAVITY = 9.81


@dataclass(frozen=True)
class Throw:
    """How bodies are thrown, for a size of 1 m: every attitude equally likely, all else normally distributed.

    `drop` is the height of the fall in sizes, `sideways` the standard deviation of either level speed in m/s, `spin` of
    each part of the turning speed in rad/s; `friction` of the table sliding, `rolling` its resistance to rolling,
    in sizes.
    """

    drop: float = 1.0
    sideways: float = 0.3
    spin: float = 5.0
    friction: float = 0.4
    rolling: float = 0.01


@dataclass(frozen=True)
class Tally:
    """How often each outcome came, by its name; `decided` counts the throws that energy decided."""

    counts: tuple[tuple[str, int], ...]
    decided: int

    @property
    def throws(self) -> int:
        """How many throws there were."""
        return sum(many for _, many in self.counts)

    def chance(self, name: str) -> tuple[float, float]:
        """The share of an outcome and its standard error; raises KeyError for one that there is not."""
        share = dict(self.counts)[name] / self.throws
        return share, sqrt(share * (1 - share) / self.throws)


class Thrown(Protocol):
    """A body to throw, 1 m in size."""

    @property
    def names(self) -> tuple[str, ...]:
        """The outcomes."""

    @property
    def over(self) -> float:
        """The least height of the centre of mass, in metres, over which it passes from one rest to another."""

    def geometry(self) -> tuple[str, str]:
        """What goes into the model: an asset, if there is any, and the body's shape."""

    def outcome(self, up: np.ndarray) -> int:
        """Which outcome it is, given the upward direction in the body's own coordinates, shape (3,)."""


@dataclass(frozen=True)
class Coin:
    """A coin of diameter 1 m with a straight rim."""

    thickness: float

    names = ("face", "rim")

    @property
    def over(self) -> float:
        """It passes over the edge between face and rim."""
        return hypot(self.thickness, 1.0) / 2

    def geometry(self) -> tuple[str, str]:
        """A cylinder."""
        return "", f'type="cylinder" size="0.5 {self.thickness / 2}"'

    def outcome(self, up: np.ndarray) -> int:
        """Face or rim: to which side of the edge it leans."""
        return int(abs(float(up[2])) < self.thickness / hypot(self.thickness, 1.0))


@dataclass(frozen=True)
class Roller:
    """A smooth body of constant width 1 m, as a polyhedron of its surface points."""

    body: SmoothBody
    halvings: int = 3

    @property
    def names(self) -> tuple[str, ...]:
        """The tips, by their labels."""
        return tuple(str(one) for one in range(1, self.body.group.ways + 1))

    @property
    def over(self) -> float:
        """Half the width, less what the polyhedron cuts off; see `way_is_half`."""
        return 0.5 - 0.05 * settling(self.body)

    def geometry(self) -> tuple[str, str]:
        """A mesh, whose hull is thrown."""
        points, _, _ = surface(self.body, self.halvings)
        told = " ".join(f"{x:.6f}" for x in points.ravel())
        return f'<mesh name="roller" vertex="{told}"/>', 'type="mesh" mesh="roller"'

    def outcome(self, up: np.ndarray) -> int:
        """The tip that is highest."""
        import numpy as np
        from facewright.constraints.solids.smooth.companion import tips

        return int(np.argmax(np.array(tips(self.body.symmetry)) @ up))


def physics_available() -> bool:
    """Whether the simulator is installed."""
    return find_spec(ENGINE) is not None


def throw_many(
    thrown: Thrown, many: int, throw: Throw | None = None, *, seed: int = 0, stop: Stop = never
) -> Tally:
    """Throws a body many times.

    Params:
        thrown: the body.
        many: how often, unless stopped.
        throw: how; without it a plain drop with little sideways speed.
        seed: of all choices: the same seed throws alike.
        stop: asked before each throw whether to stop early.
    Raises: UsageError where the extra is missing.
    """
    if not physics_available():
        raise UsageError(NO_PHYSICS)
    import mujoco
    import numpy as np

    how = throw or Throw()
    model = mujoco.MjModel.from_xml_string(_scene(thrown, how))
    random = np.random.default_rng(seed)
    counts, decided = [0] * len(thrown.names), 0
    # a mesh is moved and turned to its own axes by the simulator: what was up in our coordinates is up in these
    back = _turn(mujoco, model)
    for _ in range(many):
        if stop():
            break
        data = mujoco.MjData(model)
        attitude = random.normal(size=4)
        data.qpos[:] = [0, 0, how.drop + 1.0, *(attitude / np.linalg.norm(attitude))]
        data.qvel[:] = [*random.normal(0, how.sideways, 2), 0, *random.normal(0, how.spin, 3)]
        settled = _fall(mujoco, model, data, thrown.over)
        turned = np.array(data.geom_xmat[1]).reshape(3, 3)
        counts[thrown.outcome(back @ turned[2])] += 1
        decided += settled
    return Tally(tuple(zip(thrown.names, counts, strict=True)), decided)


def _turn(mujoco: Any, model: Any) -> np.ndarray:
    """From the simulator's axes of the shape to ours, shape (3, 3)."""
    import numpy as np

    found = np.eye(3).ravel()
    mesh = int(model.geom_dataid[1])
    if mesh >= 0:
        mujoco.mju_quat2Mat(found, model.mesh_quat[mesh])
    return found.reshape(3, 3)


def _fall(mujoco: Any, model: Any, data: Any, over: float) -> bool:
    """Lets a body fall until energy has decided or time is up; whether it has."""
    needs = float(model.body_mass[1]) * GRAVITY * over
    while data.time < LIMIT:
        for _ in range(CHECK):
            mujoco.mj_step(model, data)
        if data.energy[0] + data.energy[1] < needs:
            return True
    return False


def _scene(thrown: Thrown, how: Throw) -> str:
    asset, shape = thrown.geometry()
    contact = (
        f'solref="{STIFF} {DAMPING}" condim="6" friction="{how.friction} {how.rolling / 2} {how.rolling}"'
    )
    return (
        f'<mujoco><option timestep="{STEP}" gravity="0 0 -{GRAVITY}"><flag energy="enable"/></option>'
        f"<asset>{asset}</asset><worldbody>"
        f'<geom type="plane" size="50 50 1" {contact}/>'
        f'<body><freejoint/><geom {shape} density="1000" {contact}/></body></worldbody></mujoco>'
    )
