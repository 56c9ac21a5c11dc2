"""The page on strips has the figures that the program gives, and every finding."""

from __future__ import annotations

import re
from pathlib import Path

from cutonce.finishing.thread import RATIOS
from cutonce.lay import strips
from cutonce.lay.continuous import formula, real
from cutonce.lay.leftovers import Leftover
from cutonce.lay.single_strips import most_from

PAGE = (Path(__file__).parents[2] / "docs" / "strips.md").read_text(encoding="utf-8")
INCH, SEAM = 25.4, 0.25


def test_yields_on_the_page() -> None:
    rows = re.findall(
        r"^\| (\d+) x (\d+) \| ([\d.]+) \| (\d+) \| (\d+) \| (\d+) \| (\d+) \|", PAGE, re.MULTILINE
    )
    assert len(rows) == 6
    for row in rows:
        a, b, w, plain, less, rounds, single = map(float, row)
        ring = tuple(z * INCH for z in (0j, a + 0j, complex(a, b), complex(0, b)))
        cut = most_from(Leftover(1, (ring,)), w * INCH, SEAM * INCH)
        assert round(formula(a, b, w)) == plain
        assert round(formula(a, b, w, 2 * SEAM)) == less
        assert round(real(a, b, w, SEAM)) == rounds
        assert round(cut.need.length / INCH) == single


def test_every_ratio_is_on_the_page() -> None:
    for r in RATIOS.values():
        figure = f"{r.least:g}" if r.least == r.most else f"{r.least:g} to {r.most:g}"
        assert f"| {r.stitch} {r.words} | {figure} | {r.because} |" in PAGE


def test_every_finding_is_on_the_page_and_no_other() -> None:
    text = Path(strips.__file__).read_text(encoding="utf-8")
    found = re.findall(r'Finding\(\s*"\w+",\s*"([a-z-]+)"', text)
    assert sorted(found) == sorted(re.findall(r"^\| `([a-z-]+)` \|", PAGE, re.MULTILINE))
