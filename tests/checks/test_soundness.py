"""Sound drafts give nothing but what is true of every plain block: that no opening has been set yet."""

import pytest
from checks.planted import IDA, dress, skirt, whole

from cutonce.blocks import BLOCKS, draft_block
from cutonce.body import body_of
from cutonce.checks import CHECKS, Context, all_checks
from cutonce.finishing.finish import finished

EVERY = [(b.kind, s) for b in BLOCKS for s in b.systems if s != "measured back"]


@pytest.mark.parametrize("kind, system", EVERY)
@pytest.mark.parametrize("is_whole", [False, True])
def test_blocks_are_silent(kind: str, system: str, is_whole: bool) -> None:
    draft = draft_block(kind, system, IDA)
    said = all_checks(whole(draft) if is_whole else draft, Context(body=IDA))
    assert {f.code for f in said} == {"no-opening"}


def test_findings_name_severity_place_and_step() -> None:
    (finding,) = all_checks(skirt(), Context(body=IDA))
    assert (finding.severity, finding.where, finding.step) == ("warning", "the waist", "block")
    assert finding.expected_mm == 950.0
    assert finding.found_mm == pytest.approx(724.0)
    assert finding.hint


def test_without_a_body_only_the_paper_is_checked() -> None:
    for draft in (skirt(), whole(dress())):
        assert all_checks(draft, Context()) == ()


def test_finished_pieces_are_looked_at_too() -> None:
    draft = whole(dress())
    pieces = finished(draft, "dress")
    said = all_checks(draft, Context(body=IDA, finished=pieces))
    assert {f.code for f in said} == {"no-opening"}


def test_unlike_halves_are_joined_first() -> None:
    uneven = body_of("uneven", {**{m.key: m.mm for m in IDA.measures}, "shoulder_length": (124.0, 118.0)})
    draft = draft_block("dress", "", uneven)
    assert draft.twin is not None
    assert {f.code for f in all_checks(draft, Context(body=uneven))} == {"no-opening"}


def test_order_decides_who_came_last() -> None:
    context = Context(order=("a", "b"))
    assert context.latest(["b", "a", "block"]) == "b"
    assert context.latest(["block", "a"]) == "a"
    assert context.latest(["a", "unheard-of"]) == "unheard-of"
    assert context.latest([]) == ""


def test_every_check_is_listed_once() -> None:
    assert len(CHECKS) == len(set(CHECKS)) == 14
