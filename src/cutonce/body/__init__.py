"""Measures of a body: terms, values, files, size tables, estimates, plausibility, lists of people."""

from cutonce.body.measures import Body, BodyNames, Estimate, Measure, body_of, missing, shoulder_slope
from cutonce.body.terms import BY_KEY, SIDES, TERMS, Term, Wearer

__all__ = [
    "BY_KEY",
    "SIDES",
    "TERMS",
    "Body",
    "BodyNames",
    "Estimate",
    "Measure",
    "Term",
    "Wearer",
    "body_of",
    "missing",
    "shoulder_slope",
]
