"""`batch`: rows in order, the same on one core and on two; bad rows beside good ones; how quick it is."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest

from cutonce import read_design
from cutonce.body import Body, Person, body_from_size
from cutonce.body.people import read_people
from cutonce.recipe.block import drafted_block
from cutonce.recipe.replay import replay
from cutonce.reshape.soundness import crossing, gap
from cutonce.studio.batch import COLUMNS, batch, rows_csv
from cutonce.studio.examples import example_files

PLAIN_DRESS = Path(__file__).resolve().parents[2] / "bench" / "plain_dress.toml"
SKIRT, _ = example_files("a_line")
DESIGNS = pytest.mark.parametrize("design", [PLAIN_DRESS, SKIRT], ids=["plain dress", "A-line skirt"])


def sizes(count: int) -> tuple[Person, ...]:
    """Women between sizes 8 and 18 of the trade table (sewingscholar.blogspot.com 2011/02)."""
    small, large = body_from_size("trade-misses", "8"), body_from_size("trade-misses", "18")
    keys = [m.key for m in small.measures]
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(["id", *(f"{key}_mm" for key in keys)])
    for i in range(count):
        share = i / max(1, count - 1)
        writer.writerow(
            [f"w{i}", *(f"{small.mm(k) + share * (large.mm(k) - small.mm(k)):.2f}" for k in keys)]
        )
    return read_people(out.getvalue()).rows


@DESIGNS
def test_two_cores_give_what_one_gives(design: Path) -> None:
    people = sizes(12)
    one, two = (list(batch(read_design(design), people, estimated=True, cores=n)) for n in (1, 2))
    assert [replace(r, seconds=0.0) for r in one] == [replace(r, seconds=0.0) for r in two]
    assert [r.id for r in one] == [p.id for p in people]
    assert all(r.ok for r in one)


def test_bad_rows_say_why_and_stop_no_other() -> None:
    text = (
        "id,height_cm,bust_girth_cm,waist_girth_cm,hip_girth_cm\n"
        "good,168,92,74,98\n"
        "words,168,tall,74,98\n"
        "missing,168,92,74,\n"
        "impossible,168,920,74,98\n"
        "also good,160,100,84,106\n"
    )
    rows = list(batch(read_design(SKIRT), read_people(text).rows, estimated=True, cores=2))
    said = {r.id: r.message for r in rows}
    assert [r.ok for r in rows] == [True, False, False, False, True]
    assert "not a number" in said["words"] and "hip_girth" in said["missing"]
    assert all("\n" not in message for message in said.values())
    table = list(csv.DictReader(io.StringIO(rows_csv(rows))))
    assert tuple(table[0]) == COLUMNS and [r["ok"] for r in table] == ["yes", "no", "no", "no", "yes"]
    assert table[1]["largest_girth_error_mm"] == ""


def test_what_is_missing_is_said_where_nothing_is_estimated() -> None:
    people = read_people("id,waist_girth_cm,hip_girth_cm\n1,74,98\n").rows
    row = next(batch(read_design(SKIRT), people, estimated=False, cores=1))
    assert not row.ok and "waist_to_knee" in row.message


@DESIGNS
def test_pieces_are_closed_and_do_not_cross(design: Path, ansur: tuple[Body, ...]) -> None:
    """Measured anew, not read from the checks: on every hundredth woman."""
    recipe = read_design(design)
    for body in ansur[::100]:
        replayed = replay(recipe, body, drafted_block).raise_first()
        for draft in (replayed.block, replayed.draft):
            for piece in draft.pieces:
                assert gap(piece) < 1e-9 and piece.area > 0 and crossing(piece) is None, body.name
            for seam in draft.seams:
                off = seam.relation.left_over(draft.side_length(seam.a), draft.side_length(seam.b))
                assert abs(off) < 0.1, (body.name, seam.name)
