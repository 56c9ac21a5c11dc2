"""Every tolerance of the geometry, each with its reason. Nothing else may hide one."""

from __future__ import annotations

SAME_POINT_MM = 1e-6
"""Two points closer than this are one: a thousand times finer than paper, coarse beside rounding error."""

ARC_LENGTH_MM = 1e-6
"""Two quadratures that differ by less stop refining; the finer one kept is then good to about 1e-11."""

FLATTEN_MM = 0.02
"""Chord to curve when a curve becomes a polygon (containment, overlap, crossings); a fifth of a pen line."""

STRAIGHT_MM = 1e-9
"""Control points this near their chord make a cubic a straight line."""
