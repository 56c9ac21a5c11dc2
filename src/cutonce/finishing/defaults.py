"""Allowances that stand where a design sets no finish: one table, common practice, each row with its source.

Sources are the seam and hem lists that schools, guilds and factories publish, in inches: standard 1/2,
enclosed or shaped edges 1/4, centre back and zip 3/4, general factory seam 3/8, dress hem 1 1/2 to 2.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from cutonce.draft.span import EdgeRole, Role
from cutonce.errors import BadInput


@dataclass(frozen=True, slots=True)
class RoleAllowance:
    """For edges of one role: mm where the edge is sewn to another piece, and where it is free."""

    role: EdgeRole
    sewn: float
    free: float
    because: str


BY_ROLE: tuple[RoleAllowance, ...] = (
    RoleAllowance("side", 10, 10, "general seam 3/8 in, as factories cut lockstitched seams"),
    RoleAllowance("shoulder", 10, 10, "general seam 3/8 in"),
    RoleAllowance("strap", 6, 6, "outside edges 1/4 in"),
    RoleAllowance("style line", 10, 10, "general seam 3/8 in"),
    RoleAllowance("waist", 10, 10, "general seam 3/8 in"),
    RoleAllowance("neck", 6, 6, "enclosed or shaped edges and necklines 1/4 in"),
    RoleAllowance("armhole", 10, 6, "general seam 3/8 in to a sleeve; tight curves 1/4 in to a facing"),
    RoleAllowance("cut-out", 6, 6, "tight curves 1/4 in"),
    RoleAllowance("centre front", 20, 20, "centre and zip seams 3/4 in"),
    RoleAllowance("centre back", 20, 20, "centre back and zip seams 3/4 in"),
    RoleAllowance("hem", 10, 40, "dress hem 1 1/2 to 2 in; sewn to a band, a general seam"),
)


@dataclass(frozen=True, slots=True)
class Defaults:
    """What finishing takes where nothing else is said. Lengths in mm.

    `zip`, `vent` and `slit` are the least allowances over such an opening; they run `beyond` mm past its end.
    `turning` is the allowance along both sides of a strip. `bias_run` is the longest strip cut in one: the
    diagonal of a cloth 90 cm square. `join` is the allowance at a join of two strips, `ends` what a strip
    is longer than its edge at each free end.
    """

    by_role: tuple[RoleAllowance, ...] = BY_ROLE
    zip: float = 20.0
    vent: float = 40.0
    slit: float = 20.0
    beyond: float = 15.0
    facing: float = 50.0
    binding: float = 8.0
    turning: float = 8.0
    join: float = 6.0
    ends: float = 10.0
    bias_run: float = 1272.8
    _by_role: dict[str, RoleAllowance] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        for row in self.by_role:
            for value in (row.sewn, row.free):
                _check(f"allowance, {row.role}", value)
        for name in ("zip", "vent", "slit", "beyond", "facing", "binding", "turning", "join", "ends"):
            _check(name, getattr(self, name))
        if not self.bias_run > 0:
            raise BadInput("out-of-range", "bias_run", f"{self.bias_run:g} mm must be more than 0")
        object.__setattr__(self, "_by_role", {row.role: row for row in self.by_role})

    def allowance(self, role: Role, sewn: bool) -> float:
        """Allowance in mm of an edge of this role.

        >>> Defaults().allowance("hem", sewn=False), Defaults().allowance("armhole", sewn=True)
        (40, 10)
        """
        row = self._by_role.get(role)
        if row is None:
            raise BadInput("no-allowance", "defaults", f"no allowance for the role '{role}'")
        return row.sewn if sewn else row.free

    def with_allowance(self, role: EdgeRole, sewn: float, free: float) -> Defaults:
        """The same defaults with one row of the table changed."""
        rows = tuple(
            replace(r, sewn=sewn, free=free, because="set by hand") if r.role == role else r
            for r in self.by_role
        )
        return replace(self, by_role=rows)


LARGEST_MM = 300.0
"""No allowance is wider than this: a deep skirt hem has 76 mm (3 in), so more is a slip."""


def _check(name: str, value: float) -> None:
    if not 0 <= value <= (LARGEST_MM):
        raise BadInput("out-of-range", name, f"{value:g} mm is not an allowance", f"0 to {LARGEST_MM:g} mm")
