"""Rigid motions of the plane: turns, shifts and reflections."""

from __future__ import annotations

import cmath
from dataclasses import dataclass

Point = complex
"""A point or vector in mm: x + yj, x to the right and y up when the piece lies face up."""


@dataclass(frozen=True, slots=True)
class Motion:
    """`z -> turn * z + shift`, or `turn * conj(z) + shift` where `mirror` is set. `abs(turn)` is 1."""

    turn: complex = 1 + 0j
    shift: complex = 0j
    mirror: bool = False

    def __call__(self, z: Point) -> Point:
        return self.turn * (z.conjugate() if self.mirror else z) + self.shift

    def of_vector(self, v: complex) -> complex:
        """A direction: turned (and reflected), not shifted."""
        return self.turn * (v.conjugate() if self.mirror else v)

    def after(self, first: Motion) -> Motion:
        """This motion done after `first`.

        >>> turning(90 * 3.141592653589793 / 180, about=1+0j).after(shifting(1+0j))(0j)
        (1+0j)
        """
        shift = self(first.shift)
        turn = self.turn * (first.turn.conjugate() if self.mirror else first.turn)
        return Motion(turn, shift, self.mirror != first.mirror)

    def inverse(self) -> Motion:
        """The motion that undoes this one."""
        if self.mirror:
            return Motion(self.turn, -self.turn * self.shift.conjugate(), True)
        back = self.turn.conjugate()
        return Motion(back, -back * self.shift)

    @property
    def angle(self) -> float:
        """Turn in radians, counter-clockwise, within (-pi, pi]."""
        return cmath.phase(self.turn)


STILL = Motion()


MIRROR = Motion(turn=-1 + 0j, mirror=True)
"""Left to right, in the upright through 0: where the centre of a half piece lies."""


def turning(angle: float, about: Point = 0j) -> Motion:
    """Turn by `angle` radians, counter-clockwise, about a point."""
    w = cmath.exp(1j * angle)
    return Motion(w, about - w * about)


def shifting(by: complex) -> Motion:
    return Motion(1 + 0j, by)


def reflecting(p: Point, q: Point) -> Motion:
    """Reflect in the line through two different points."""
    u = (q - p) / abs(q - p)
    w = u * u
    return Motion(w, p - w * p.conjugate(), True)


def laying(p: Point, q: Point, onto_p: Point, onto_q: Point) -> Motion:
    """Turn and shift so that p falls on `onto_p` and the ray p-q along the ray to `onto_q`. No reflection."""
    w = (onto_q - onto_p) / (q - p)
    w /= abs(w)
    return Motion(w, onto_p - w * p)
