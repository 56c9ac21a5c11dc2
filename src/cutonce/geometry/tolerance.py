"""The tolerances that the geometry and what is built on it share, each with its reason.

A module that needs one of its own names it at its top, with its reason."""

from __future__ import annotations

SAME_POINT_MM = 1e-6
"""Two points closer than this are one: a thousand times finer than paper, coarse beside rounding error."""

FLATTEN_MM = 0.02
"""Chord to curve when a curve becomes a polygon (containment, overlap, crossings); a fifth of a pen line."""

OFFSET_MM = 2e-3
"""A parallel curve lies this near to its true distance: a fiftieth of the finest pen line."""

STANDSTILL_MM = 1e-9
"""A derivative (mm for the whole of t) this small is none: the curve stands still there."""

TOLD_MM = 0.05
"""A length that changes by less is said to be the same: figures are rounded to a tenth of a millimetre."""
