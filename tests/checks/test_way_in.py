from dataclasses import replace

import pytest
from checks.planted import IDA, bodice, dress, found, skirt, whole, with_opening

from cutonce.body import body_of
from cutonce.checks.context import Context
from cutonce.checks.levels import girth_between
from cutonce.checks.way_in import way_in
from cutonce.draft.draft import Draft


def test_a_block_without_opening() -> None:
    (finding,) = found(way_in, skirt())
    assert (finding.severity, finding.code, finding.where) == ("warning", "no-opening", "the waist")
    assert finding.expected_mm == 950.0
    assert finding.found_mm == pytest.approx(724.0)
    assert finding.hint == "set a zip that ends 70 % of the way from waist to hip, or lower"
    assert (
        (girth_between(skirt(), "waist", "hip", 0.6) or 0)
        < 970
        < (girth_between(skirt(), "waist", "hip", 0.7) or 0)
    )


def centre_back_zip(length: float, draft: Draft) -> Draft:
    """A zip from the top of the centre back. Side a of the seam runs up the back: the zip ends at its end."""
    size = draft.side_length(next(s for s in draft.seams if s.name == "centre back").a)
    return with_opening(draft, "centre back", size - length, length)


@pytest.mark.parametrize("is_whole", [False, True])
def test_a_zip_to_below_the_hip(is_whole: bool) -> None:
    draft = whole(skirt()) if is_whole else skirt()
    assert found(way_in, centre_back_zip(220.0, draft)) == ()


def test_a_zip_that_ends_too_high() -> None:
    """60 mm of 205: the girth at its lower end is less than the hip."""
    (finding,) = found(way_in, centre_back_zip(60.0, skirt()))
    girth = girth_between(skirt(), "waist", "hip", 60 / 205)
    assert (finding.severity, finding.code) == ("stop", "no-way-in")
    assert finding.where == "the lower end of the zip in the centre back seam"
    assert finding.found_mm == pytest.approx(girth)
    assert finding.expected_mm == 950.0


def test_a_zip_that_is_just_long_enough_is_a_warning() -> None:
    share = next(k / 200 for k in range(200) if (girth_between(skirt(), "waist", "hip", k / 200) or 0) > 952)
    (finding,) = found(way_in, centre_back_zip(205 * share, skirt()))
    assert (finding.severity, finding.code) == ("warning", "tight-way-in")


def test_a_side_zip() -> None:
    """Side a of the side seam is the front's, which runs up: the zip ends at its end."""
    size = skirt().side_length(skirt().seams[0].a)
    assert found(way_in, with_opening(skirt(), "side", size - 200, 200)) == ()


def test_a_cord_exit_lets_nobody_in() -> None:
    size = skirt().side_length(skirt().seams[0].a)
    (finding,) = found(way_in, with_opening(skirt(), "side", size - 220, 220, "cord exit"))
    assert finding.code == "no-opening"


def test_a_dress_wants_its_neck_opened_too() -> None:
    """A side zip through waist and bust: the head passes the neck or not."""
    draft = dress()
    side = next(s for s in draft.seams if s.name == "side")
    zipped = with_opening(draft, "side", draft.side_length(side.a) - 450, 450)
    (finding,) = found(way_in, zipped)
    assert (finding.severity, finding.where) == ("stop", "the neck")
    assert finding.hint == "open the neck by a slit or zip of 99 mm, or lower it"  # (560 - 382 + 20) / 2
    small_head = body_of("small", {**{m.key: m.mm for m in IDA.measures}, "head_girth": 355.0})
    assert found(way_in, zipped, context=Context(body=small_head)) == ()


def test_a_back_zip_from_the_neck_to_below_the_waist() -> None:
    assert found(way_in, centre_back_zip(620.0, dress())) == ()
    assert [f.code for f in found(way_in, centre_back_zip(300.0, dress()))] == ["no-way-in"]


def test_over_the_head_where_the_waist_is_wide() -> None:
    """A loose bodice with its neck left open at the centre back: a slit adds twice its length to the neck."""
    slim = body_of("slim", {"bust_girth": 640.0, "hip_girth": 1400.0, "head_girth": 500.0})
    draft = centre_back_zip(100.0, bodice())
    assert found(way_in, draft, context=Context(body=slim)) == ()
    (finding,) = found(way_in, centre_back_zip(30.0, bodice()), context=Context(body=slim))
    assert (finding.where, finding.found_mm) == ("the neck", pytest.approx(382 + 60, abs=0.5))


def test_measured_shoulder_girth_goes_before_the_estimate() -> None:
    broad = body_of("broad", {"bust_girth": 640.0, "shoulder_girth": 1100.0, "hip_girth": 1400.0})
    draft = centre_back_zip(100.0, bodice())
    (finding,) = found(way_in, draft, context=Context(body=broad))
    assert "over the head needs 1100 mm, the waist gives" in finding.message


def test_nothing_to_say_without_a_body_or_a_ring() -> None:
    assert found(way_in, skirt(), context=Context()) == ()
    assert found(way_in, replace(skirt(), seams=())) == ()
