"""Measures of a body: terms, values, files, size tables, estimates, plausibility, lists of people."""

from cutonce.body.estimate import FOLLOWING, estimate
from cutonce.body.file import body_schema, read_body, write_body
from cutonce.body.measures import Body, BodyNames, Estimate, Measure, body_of, missing, shoulder_slope
from cutonce.body.people import People, Person, read_people
from cutonce.body.plausible import plausible, refuse_impossible
from cutonce.body.tables import TABLE_KEYS, SizeTable, body_from_size, size_table
from cutonce.body.terms import BY_KEY, SIDES, TERMS, Term, Wearer
from cutonce.body.waists import narrowest_from_navel, navel_from_narrowest

__all__ = [
    "BY_KEY",
    "FOLLOWING",
    "SIDES",
    "TABLE_KEYS",
    "TERMS",
    "Body",
    "BodyNames",
    "Estimate",
    "Measure",
    "People",
    "Person",
    "SizeTable",
    "Term",
    "Wearer",
    "body_from_size",
    "body_of",
    "body_schema",
    "estimate",
    "missing",
    "narrowest_from_navel",
    "navel_from_narrowest",
    "plausible",
    "read_body",
    "read_people",
    "refuse_impossible",
    "shoulder_slope",
    "size_table",
    "write_body",
]
