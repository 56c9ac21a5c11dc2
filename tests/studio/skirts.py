"""A skirt whose front is slashed and spread by AMOUNT, and someone to wear it. Invented."""

from __future__ import annotations

from cutonce.body import body_of

BODY = body_of(
    "someone", {"waist_girth": 720.0, "hip_girth": 980.0, "waist_to_hip": 205.0, "waist_to_knee": 580.0}
)

FLARED = """schema = 1
name = "A skirt"
[block]
draft = "skirt"
lengths = { length = "60 cm" }
[[steps]]
id = "flare"
do = "spread"
piece = "skirt front"
[[steps.sets]]
count = 2
starts = [
  { piece = "skirt front", edge = "hem", from = "centre front", by = "4 cm" },
  { piece = "skirt front", edge = "hem", from = "side", by = "4 cm" },
]
ends = [
  { piece = "skirt front", edge = "waist", from = "centre front", by = "2 cm" },
  { piece = "skirt front", edge = "waist", from = "side", by = "2 cm" },
]
opens = { total = AMOUNT }
"""
