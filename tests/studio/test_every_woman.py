"""`batch` over every woman of two open data sets: nothing raised, and blocks with nothing that stops."""

from __future__ import annotations

import csv
import io
import os
from pathlib import Path

import pytest

from cutonce import read_design
from cutonce.body import Body, Person
from cutonce.body.people import read_people
from cutonce.studio.batch import Row, batch
from cutonce.studio.examples import example_files

PLAIN_DRESS = Path(__file__).resolve().parents[2] / "bench" / "plain_dress.toml"
SKIRT, _ = example_files("a_line")
CONCERT_DRESS, _ = example_files("cellist")
SLICES = 4
FEW = 1 if os.environ.get("CUTONCE_FULL", "") not in ("", "0") else 40


def table(women: tuple[Body, ...]) -> str:
    """What was measured of them as a file for `cutonce batch`, which estimates the rest anew."""
    keys = sorted({m.key for body in women for m in body.measures if m.estimate is None})
    stream = io.StringIO()
    writer = csv.writer(stream)
    writer.writerow(["id", *(f"{key}_mm" for key in keys)])
    writer.writerows([body.name, *(body.mm(key) for key in keys)] for body in women)
    return stream.getvalue()


def people(women: tuple[Body, ...]) -> tuple[Person, ...]:
    read = read_people(table(women))
    assert read.findings == ()
    return read.rows


def assert_sound(rows: list[Row]) -> None:
    assert [(r.id, r.message) for r in rows if not r.ok] == []
    for row in rows:
        assert row.largest_seam_difference_mm is not None and row.largest_seam_difference_mm < 0.1, row.id
        assert row.largest_girth_error_mm is not None and row.largest_girth_error_mm < 0.5, row.id


@pytest.mark.parametrize("start", range(SLICES))
@pytest.mark.parametrize("design", [PLAIN_DRESS, SKIRT], ids=["plain dress", "A-line skirt"])
def test_every_woman_of_ansur(design: Path, start: int, ansur: tuple[Body, ...]) -> None:
    assert len(ansur) == 1588
    assert_sound(list(batch(read_design(design), people(ansur[start::SLICES]), estimated=True, cores=1)))


@pytest.mark.parametrize("design", [PLAIN_DRESS, SKIRT], ids=["plain dress", "A-line skirt"])
def test_every_woman_of_bdims(design: Path, bdims: tuple[Body, ...]) -> None:
    assert len(bdims) == 260
    assert_sound(list(batch(read_design(design), people(bdims), estimated=True, cores=1)))


def test_the_demo_dress_is_made_or_says_why_not(ansur: tuple[Body, ...]) -> None:
    """A design made for one body does not suit all; but each is told what stands in the way, and every seam
    walks. Every fortieth woman, or, in a thorough run, all."""
    rows = list(batch(read_design(CONCERT_DRESS), people(ansur[::FEW]), estimated=True, cores=1))
    assert sum(r.ok for r in rows) > len(rows) / 2
    for row in rows:
        assert row.ok or row.message, row.id
        assert (row.largest_seam_difference_mm or 0.0) < 0.1, row.id
        assert (row.largest_girth_error_mm or 0.0) < 0.5, row.id
