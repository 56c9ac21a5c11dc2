"""Release a dart: fans of gathers, unsewn darts, flare; what is sewn to them is told."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from steps.drafts import BUST_POINT, bodice, dress, skirt, whole_bodice

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Drawn, Opening, Relation, Seam, Side
from cutonce.draft.span import Label
from cutonce.errors import BadInput, CannotApply
from cutonce.reshape.blend import corners
from cutonce.reshape.darts import left_unsewn
from cutonce.reshape.fullness import turned_seam, with_fullness
from cutonce.reshape.places import Chain
from cutonce.reshape.soundness import crossing, gap
from cutonce.reshape.spread import Slash, spread
from cutonce.steps.release_dart import STEP, ReleaseDart
from cutonce.validation import validated

SHOULDER, NECK, HEM, WAIST = (Label(n, n) for n in ("shoulder", "neck", "hem", "waist"))  # type: ignore[arg-type]


def at(edge: str, start: str, by: str, **more: str) -> dict[str, str]:
    return {"piece": "front", "edge": edge, "from": start, "by": by, **more}


def run(draft: Draft, **values: object) -> Draft:
    params = validated(ReleaseDart, {"piece": "front", **values}, {}, "step 1")
    return STEP.apply(draft, params, "free").draft


def sound(draft: Draft) -> None:
    for piece in draft.pieces:
        assert gap(piece) < 1e-9 and crossing(piece) is None, piece.key


@settings(max_examples=25, deadline=None)
@given(
    angle=st.floats(0.05, 0.3),
    edge=st.sampled_from(["neck", "shoulder"]),
    count=st.integers(2, 6),
    width=st.floats(230, 290),
)
def test_a_fan_closes_the_dart_and_opens_only_its_edge(
    angle: float, edge: str, count: int, width: float
) -> None:
    half = bodice(width, angle, 20)
    assume(crossing(half.piece("front")) is None)
    ends = ("shoulder", "centre front") if edge == "neck" else ("neck", "armhole")
    between = [at(edge, ends[0], "2 cm"), at(edge, ends[1], "2 cm")]
    done = run(half, dart="bust dart", **{"as": "gathers"}, between=between, count=count)
    before, after = half.piece("front"), done.piece("front")
    # Legs that meet to a billionth: the angles opened sum to the dart's.
    sound(done)
    assert [d.name for d in after.darts] == ["waist dart"]
    for label in before.labels:
        if label.name != edge:
            assert after.edge_length(label) == pytest.approx(before.edge_length(label), abs=0.01), label.key
    assert corners([s.curve for s in after.edge(Label(edge, edge))]) < 0.01  # type: ignore[arg-type]
    for seam in done.seams:
        a, b = done.side_length(seam.a), done.side_length(seam.b)
        assert seam.relation.left_over(a, b) == pytest.approx(0, abs=0.01), seam.name


def test_a_shoulder_fan_is_gathered_to_the_back_by_its_ratio() -> None:
    half = bodice()
    done = run(half, dart="bust dart", **{"as": "gathers"}, into=[at("shoulder", "neck", "3 cm")])
    seam = next(s for s in done.seams if s.name == "shoulder")
    longer = done.piece("front").edge_length(SHOULDER)
    assert seam.relation.kind == "gather" and seam.relation.ratio == pytest.approx(longer / 125, abs=1e-9)
    assert seam.a.piece == "front"


@settings(max_examples=25, deadline=None)
@given(
    angle=st.floats(0.05, 0.3), promille=st.lists(st.integers(50, 900), min_size=1, max_size=4, unique=True)
)
def test_each_slash_opens_the_chord_of_its_share(angle: float, promille: list[int]) -> None:
    """The kernel below the step, unsmoothed: the edge grows by the sum of 2 r sin(t / 2), the piece by the
    triangles r^2 sin(t) / 2."""
    front = bodice(240, angle, 20).piece("front")
    assume(crossing(front) is None)
    shares = [p / 1000 for p in promille]
    run_of = Chain(front, front.edge(NECK))
    spots = [run_of.spot(run_of.length * s) for s in shares]
    parts = [s / sum(shares) for s in shares]
    slashes = [
        Slash(f"slash {k}", spot, front.dart("bust dart"), share=part)
        for k, (spot, part) in enumerate(zip(spots, parts, strict=True))
    ]
    done = spread(front, slashes, "free")
    reach = [abs(spot.point - BUST_POINT) for spot in spots]
    chords = sum(2 * r * math.sin(angle * t / 2) for r, t in zip(reach, parts, strict=True))
    assert done.piece.edge_length(NECK) - front.edge_length(NECK) == pytest.approx(chords, abs=1e-6)
    triangles = sum(r * r * math.sin(angle * t) / 2 for r, t in zip(reach, parts, strict=True))
    assert done.piece.area == pytest.approx(front.area + triangles, rel=1e-9)


def test_weights_share_the_angle_out() -> None:
    """Two slashes at about one distance from the pivot, the angle shared 3 to 1: so are the openings."""
    done = run(
        bodice(),
        dart="bust dart",
        **{"as": "gathers"},
        into=[at("shoulder", "neck", "20 mm"), at("shoulder", "armhole", "20 mm")],
        weights=[3, 1],
        reach="1 mm",
    )
    wide: dict[str, float] = {}
    for span in done.piece("front").edge(SHOULDER):
        if span.origin.step == "free":
            wide[span.origin.name] = wide.get(span.origin.name, 0.0) + span.length
    first, second = sorted(wide.values(), reverse=True)
    assert first / second == pytest.approx(3, rel=0.1)
    sound(done)


def test_an_unsewn_dart_without_a_partner_is_drawn_up_to_its_old_length() -> None:
    half = bodice()
    done = run(half, dart="waist dart", **{"as": "gathers"})
    before, after = half.piece("front"), done.piece("front")
    assert after.edge_length(WAIST) == pytest.approx(before.edge_length(WAIST) + 30, abs=0.5)
    assert done.drawn == (
        Drawn("waist gathers", (("front", WAIST),), before.edge_length(WAIST), "gathering"),
    )
    sound(done)


@pytest.mark.parametrize(("kind", "said"), [("ease", "ease"), ("tucks", "pleat"), ("gathers", "gather")])
def test_what_is_left_unsewn_goes_into_the_seam(kind: str, said: str) -> None:
    done = run(bodice(), dart="bust dart", **{"as": kind})
    seam = next(s for s in done.seams if s.name == "shoulder")
    assert seam.relation.kind == said
    a, b = done.side_length(seam.a), done.side_length(seam.b)
    assert a - b > 40 and seam.relation.left_over(a, b) == pytest.approx(0, abs=1e-9)
    sound(done)


def test_flare_opens_at_the_hem_and_sews_to_nothing() -> None:
    """The dart is 25 mm wide on legs of 104.7, and 500 mm lie between its pivot and the hem: 119.3 mm."""
    half = skirt()
    done = run(
        half,
        piece="skirt front",
        dart="waist dart",
        **{"as": "flare"},
        into=[{"piece": "skirt front", "edge": "hem", "from": "centre front", "by": "97.5 mm"}],
    )
    before, after = half.piece("skirt front"), done.piece("skirt front")
    grown = after.edge_length(HEM) - before.edge_length(HEM)
    assert grown == pytest.approx(500 * 25 / abs(12.5 + 104j), abs=1.5)
    for label in before.labels:
        if label != HEM:
            assert after.edge_length(label) == pytest.approx(before.edge_length(label), abs=0.01)
    assert done.seams == half.seams and done.drawn == ()
    sound(done)


def test_a_double_dart_left_unsewn_is_ease_at_the_waist() -> None:
    done = run(dress(), dart="waist dart", **{"as": "ease"})
    assert done.piece("front").double_darts == ()
    with pytest.raises(CannotApply, match="the waist dart is no more: step free left the waist dart unsewn"):
        run(done, dart="waist dart", **{"as": "ease"})


def test_on_a_whole_front_one_side_is_released() -> None:
    done = run(whole_bodice(), dart="bust dart", wearer="left", **{"as": "gathers"})
    assert [d.wearer for d in done.piece("front").darts if d.name == "bust dart"] == ["right"]
    seams = {s.name: s.relation.kind for s in done.seams}
    assert seams["left shoulder"] == "gather" and seams["right shoulder"] == "equal"
    sound(done)


def test_bridging_a_mouth_adds_the_dart_triangle_to_the_area() -> None:
    front = bodice().piece("front")
    dart = front.dart("waist dart")
    new, gone = left_unsewn(front, dart, "free")
    assert new.area - front.area == pytest.approx(30 * 170 / 2, abs=1e-6)
    assert {g.reason for g in gone} == {"left the waist dart unsewn"} and len(gone) == 2


# What a seam says of fullness


EQUAL = Relation()


def seam(relation: Relation = EQUAL) -> tuple[Draft, Seam]:
    """The shoulder of front (a, 125 mm) and back (b, 125 mm) with a relation."""
    half = bodice()
    old = next(s for s in half.seams if s.name == "shoulder")
    new = replace(old, relation=relation)
    return replace(half, seams=(new,)), new


def test_fullness_on_the_other_side_turns_the_seam_for_a_gather_only() -> None:
    draft, old = seam()
    eased = with_fullness(draft, "back", SHOULDER, "ease", 10, "").seams[0]
    assert eased.a == old.a and eased.relation == Relation("ease", -10)
    gathered = with_fullness(draft, "back", SHOULDER, "gather", 25, "").seams[0]
    assert gathered.a == old.b and gathered.b == old.a
    # both are 125 mm as drawn: 100 mm before it grew was 25 mm too short for the front, and is so still
    assert gathered.relation.ratio == pytest.approx((125 + 25) / 125)


def test_what_a_seam_left_over_it_leaves_over_still() -> None:
    for relation in (Relation(), Relation("ease", 4), Relation("gather", ratio=0.9)):
        draft, old = seam(relation)
        a, b = draft.side_length(old.a), draft.side_length(old.b)
        for kind in ("ease", "pleat", "gather"):
            new = with_fullness(draft, "front", SHOULDER, kind, 12, "").seams[0]  # type: ignore[arg-type]
            assert new.relation.left_over(a, b) == pytest.approx(relation.left_over(a - 12, b), abs=1e-9)


def test_turning_a_seam_measures_from_the_other_end() -> None:
    draft, old = seam(Relation("ease", 5))
    draft = replace(draft, openings=(Opening("shoulder", "zip", 10, 20),))
    draft, new = turned_seam(draft, old)
    size = draft.side_length(new.a)
    assert new.relation == Relation("ease", -5)
    assert draft.openings[0] == Opening("shoulder", "zip", pytest.approx(size - 30), pytest.approx(20))
    draft, again = turned_seam(draft, new)
    assert again.a == old.a
    assert draft.openings[0] == Opening("shoulder", "zip", pytest.approx(10), pytest.approx(20))


def test_an_edge_drawn_up_by_a_cord_stays_drawn_to_its_length() -> None:
    drawn = (Drawn("cord", (("front", WAIST),), 180, "cord"),)
    done = run(replace(bodice(), drawn=drawn), dart="waist dart", **{"as": "gathers"})
    assert done.drawn == drawn


@pytest.mark.parametrize(
    ("make", "values", "line"),
    [
        (
            bodice,
            {"dart": "waist dart", "as": "tucks"},
            "front: the waist is sewn to nothing that could take pleats up "
            "(gather it, which draws it to its old length)",
        ),
        (
            bodice,
            {"dart": "bust dart", "as": "flare", "into": [at("shoulder", "neck", "3 cm")]},
            "front: the shoulder is sewn to another edge: flare needs an edge that hangs free "
            "(release it as gathers, ease or tucks)",
        ),
        (
            dress,
            {"dart": "waist dart", "as": "gathers"},
            "front: the waist dart is pointed at both ends and opens on no edge: unsewn it can only be ease "
            '(say as = "ease" without places, or take it out at the side)',
        ),
        (
            bodice,
            {
                "dart": "bust dart",
                "as": "gathers",
                "into": [{"piece": "back", "edge": "neck", "from": "shoulder", "by": "1 cm"}],
            },
            "front: the dart cannot open at the back's neck, 10 mm from the shoulder",
        ),
        (
            bodice,
            {"dart": "bust dart", "as": "gathers", "into": [at("neck", "shoulder", "30 cm")]},
            "300.0 mm is past the end",
        ),
        (
            bodice,
            {"dart": "hip dart", "as": "ease"},
            "front: no dart 'hip dart'; it has: bust dart, waist dart",
        ),
        (
            bodice,
            {"dart": "bust dart", "as": "gathers", "into": [at("waist", "side", "5 cm")]},
            "double",
        ),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(make, values: dict[str, object], line: str) -> None:  # type: ignore[no-untyped-def]
    if line == "double":
        sound(run(make(), **values))  # a dart may open beside another that shares its pivot
        return
    with pytest.raises(CannotApply) as caught:
        run(make(), **values)
    assert line in str(caught.value)


def test_a_centre_seam_takes_no_fullness_up() -> None:
    back = Side("back", (Label("centre back", "centre back"),))
    with pytest.raises(CannotApply, match="sewn to its own mirror image"):
        with_fullness(
            replace(bodice(), seams=(Seam("centre back", back, back),)),
            "back",
            back.labels[0],
            "gather",
            9,
            "",
        )


@pytest.mark.parametrize(
    ("values", "line"),
    [
        ({"as": "flare"}, "front, bust dart: flare opens at a hem: say where, by 'into' or 'between'"),
        ({"as": "pleats"}, "'as' is 'pleats'"),
        ({}, "no 'as'"),
        ({"as": "ease", "count": 3}, "'count' goes with 'between'"),
        (
            {"as": "ease", "between": [at("neck", "shoulder", "1 cm")], "count": 3},
            "'between' holds two places, and 'count' is at least 2",
        ),
        (
            {"as": "ease", "into": [at("neck", "shoulder", "1 cm")], "weights": [1, 2]},
            "give one weight a place",
        ),
        (
            {"as": "ease", "into": [at("neck", "shoulder", "1 cm")], "count": 3},
            "give the places one by one ('into') or evenly ('between', 'count')",
        ),
    ],
)
def test_what_cannot_be_read(values: dict[str, object], line: str) -> None:
    with pytest.raises(BadInput) as caught:
        run(bodice(), dart="bust dart", **values)
    assert line in str(caught.value)


def test_sentences() -> None:
    ends = [at("shoulder", "neck", "3 cm"), at("shoulder", "armhole", "3 cm")]
    params = validated(
        ReleaseDart,
        {"piece": "front", "dart": "bust dart", "as": "gathers", "between": ends, "count": 4},
        {},
        "",
    )
    assert STEP.sentence(params) == (
        "Release the front's bust dart as gathers, in 4 slashes from the front's shoulder, 30 mm from the "
        "neck to the front's shoulder, 30 mm from the armhole."
    )


def test_a_place_at_the_darts_own_mouth_leaves_its_share_unsewn_there() -> None:
    """Three places on the shoulder, the middle one where the dart opens: as with slashes all along."""
    half = bodice()
    places = [at("shoulder", "neck", "20 mm"), {"piece": "front", "edge": "shoulder", "at": "bust dart"}]
    places.append(at("shoulder", "armhole", "20 mm"))
    done = run(half, dart="bust dart", **{"as": "gathers"}, into=places)
    near = run(
        half,
        dart="bust dart",
        **{"as": "gathers"},
        into=[places[0], at("shoulder", "neck", "51 mm"), places[2]],
    )
    assert "bust dart" not in [d.name for d in done.piece("front").darts]
    sound(done)
    grown = [d.piece("front").edge_length(SHOULDER) for d in (done, near)]
    assert grown[0] == pytest.approx(grown[1], abs=0.5)
    names = {s.origin for s in done.piece("front").edge(SHOULDER) if s.origin.step == "free"}
    assert len(names) == 3  # each opening has material of its own


def test_no_two_stretches_of_cloth_are_one() -> None:
    """Places are found by origin and material: no two spans may cover the same."""
    ends = [at("shoulder", "neck", "20 mm"), at("shoulder", "armhole", "20 mm")]
    done = run(bodice(), dart="bust dart", **{"as": "gathers"}, between=ends, count=6)
    spans = done.piece("front").outline
    for i, one in enumerate(spans):
        for two in spans[i + 1 :]:
            if one.origin == two.origin:
                low, high = (
                    max(min(one.lo, one.hi), min(two.lo, two.hi)),
                    min(max(one.lo, one.hi), max(two.lo, two.hi)),
                )
                assert high - low < 1e-6, (one.origin, low, high)
