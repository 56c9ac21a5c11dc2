"""What is said of bad files of typed points: one clear line each, whatever is typed."""

import tomllib
from collections.abc import Callable
from typing import Any

import pytest
from blocks.outline_documents import EXAMPLE, SQUARE, changed, dart, drawn, set_edge, set_point
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.blocks.outline import outline_block, read_outline
from cutonce.errors import BadInput, Problem

# --- bad files ----------------------------------------------------------------------------------------


BAD: list[tuple[str, Callable[[dict[str, Any]], object], str]] = [
    ("no-unit", set_point("2", right=30), "'30' has no unit"),
    ("unknown-unit", set_point("2", right="30 cmm"), "unknown unit 'cmm'"),
    ("unknown-measure", set_point("2", right="hip / 4"), "no measure 'hip'"),
    ("point", set_point("1", x="0 cm"), "needs both x and y"),
    ("point", set_point("1", up="3 cm"), "the first point needs x and y"),
    ("point", set_point("2", x="0 cm", y="1 cm", right="3 cm"), "not both"),
    ("point", set_point("2", right="3 cm", left="1 cm"), "right or left"),
    ("point", set_point("2", **{"from": 1}), "one of right, left, up, down"),
    ("unknown-point", set_point("2", **{"from": 7, "up": "3 cm"}), "no point '7'"),
    ("unknown-point", set_edge(0, points=[1, 12]), "no point '12'"),
    ("outline-not-closed", set_edge(0, points=[1, 3]), "edge 'hem' ends at point 3"),
    ("outline-not-closed", lambda piece: piece["edges"].pop(), "edge 'waist' ends at point 4"),
    ("same-place", set_point("2", right="0 cm"), "points 1 and 2 are at the same place"),
    ("crosses-itself", lambda piece: (set_point("3", left="30 cm", up="40 cm")(piece),
                                      set_point("4", right="30 cm")(piece)), "touches itself at x"),
    ("crosses-itself", set_edge(1, inward="40 cm"), "crosses or touches itself at x"),
    ("not-a-choice", set_edge(0, role="bottom"), "'role' is 'bottom'"),
    ("unknown-key", set_edge(0, roll="hem"), "unknown key 'roll'; closest: role"),
    ("missing-key", lambda piece: piece["edges"][0].pop("role"), "no 'role'"),
    ("edge-shape", set_edge(0, straight=True, inward="1 cm"), "both straight and inward"),
    ("edge-shape", set_edge(0, straight=True, start="up"), "takes no start or end direction"),
    ("edge-shape", set_edge(0, fullness=1.2), "fullness needs a direction"),
    ("unknown-unit", set_edge(0, start="30 grad"), "unknown unit 'grad'"),
    ("not-an-angle", set_edge(0, start="northwards"), "'northwards' is not an angle"),
    ("edge-depth", set_edge(0, start="10 deg", inward="1 m"), "no curve with these directions"),
    (
        "direction-loop",
        lambda piece: (piece["edges"][0].update(end="smooth"), piece["edges"][1].update(start="smooth")),
        "edges 'hem' and 'side' each wait",
    ),
    ("given-twice", set_edge(0, name="side", role="side"), "the name 'side' is there twice"),
    ("no-fold", set_edge(3, name="front edge", role="style line"), "needs an edge of role centre front"),
    ("fold-not-straight", set_edge(3, inward="2 cm"), "leaves the straight by 20.0 mm"),
    ("dart-mouth", dart(mouth=[5, 3]), "is not on one edge"),
    ("dart-mouth", dart(mouth=[2, 5]), "some edge is needed on both sides"),
    ("unknown-point", dart(point=70), "no point '70'"),
    ("dart-flat", lambda piece: (dart()(piece), set_point("7", x="30 cm", y="11 cm")(piece)), "opens 180"),
    ("dart-flat", dart(point=5), "it is 0.0 mm long"),
    ("dart-short", dart(short="11 cm"), "'short' is 110.0 mm, and the dart 100.5 mm long"),
    ("dart-short", dart(short="-1 cm"), "'short' is -10.0 mm"),
    ("same-place", lambda piece: piece.update(lines=[{"name": "h", "points": [1, 3, 3]}]), "3 and 3 lie at"),
    (
        "fold-not-straight",
        lambda piece: piece.update(edges=[{"name": "cf", "role": "centre front", "points": [1, 2, 3, 4, 1]}]),
        "the cf ends where it begins",
    ),
    ("crosses-itself", lambda piece: (dart()(piece), set_point("7", x="-2 cm", y="11 cm")(piece)), "crosses"),
    (
        "edge-shape",
        lambda piece: (dart()(piece), piece["edges"][1].update(inward="1 cm")),
        "inward needs an edge of two points",
    ),
    ("not-on-edge", lambda piece: piece.update(marks=[{"name": "hip", "at": 5}], points={
        **piece["points"], "5": {"x": "20 cm", "y": "20 cm"}}), "lies 100.0 mm from the nearest edge"),
    ("unknown-point", lambda piece: piece.update(landmarks={"bust point": 8}), "no point '8'"),
    ("unknown-point", lambda piece: piece.update(grain={"from": 1, "to": 8}), "no point '8'"),
    ("same-place", lambda piece: piece.update(grain={"from": 1, "to": 1}), "from a point to itself"),
]  # fmt: skip


@pytest.mark.parametrize("code, change, said", BAD)
def test_bad_pieces(code: str, change: Callable[[dict[str, Any]], object], said: str) -> None:
    with pytest.raises(Problem) as caught:
        drawn(changed(change))
    assert (caught.value.code, said in str(caught.value), "\n" in str(caught.value)) == (code, True, False), (
        str(caught.value)
    )
    assert caught.value.where.startswith("block.toml")


SEAM = {"name": "side", "a": {"piece": "front", "edges": ["side"]}, "b": {"piece": "front", "edges": ["hem"]}}

BAD_SEAMS: list[tuple[str, list[dict[str, Any]], str]] = [
    ("unknown-piece", [{**SEAM, "a": {"piece": "back", "edges": ["side"]}}], "no piece 'back'; there"),
    ("unknown-edge", [{**SEAM, "a": {"piece": "front", "edges": ["sid"]}}], "no edge 'sid' on front"),
    ("given-twice", [SEAM, {**SEAM, "name": "other"}], "edge 'side' of front is in seam 'side' already"),
    ("seam-relation", [{**SEAM, "relation": "ease"}], "ease needs 'more'"),
    ("seam-relation", [{**SEAM, "relation": "stretch", "more": "1 cm"}], "a 'more' below 0"),
    ("seam-relation", [{**SEAM, "more": "1 cm"}], "equal takes no 'more'"),
    ("seam-relation", [{**SEAM, "ratio": 2}], "only gather takes a 'ratio'"),
    ("not-a-choice", [{**SEAM, "relation": "sewn"}], "'relation' is 'sewn'"),
]  # fmt: skip


@pytest.mark.parametrize("code, seams, said", BAD_SEAMS)
def test_bad_seams(code: str, seams: list[dict[str, Any]], said: str) -> None:
    with pytest.raises(BadInput) as caught:
        drawn({**SQUARE, "seams": seams})
    assert caught.value.code == code
    assert said in str(caught.value)


def test_bad_documents() -> None:
    for document, code in (
        ({}, "missing-key"),
        ({"pieces": []}, "bad-value"),
        ({**SQUARE, "schema": 2}, "not-a-choice"),
        ({**SQUARE, "extra": 1}, "unknown-key"),
        ({"pieces": [1]}, "bad-value"),
        ([], "bad-value"),
        ({"pieces": [SQUARE["pieces"][0], SQUARE["pieces"][0]]}, "given-twice"),
    ):
        with pytest.raises(BadInput) as caught:
            outline_block(read_outline(document, {}, "block.toml"), "block.toml")
        assert caught.value.code == code, str(caught.value)


def test_where_names_the_place_in_the_file() -> None:
    with pytest.raises(BadInput) as caught:
        drawn(changed(set_edge(2, role="bottom")))
    assert caught.value.where == "block.toml, piece 1, edge 3"


# --- fuzz ---------------------------------------------------------------------------------------------

VALUES = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-3, 12),
    st.floats(allow_nan=True, allow_infinity=True),
    st.sampled_from(
        [
            "",
            "0 cm",
            "-4 cm",
            "7.5 cm",
            "1 km",
            "12",
            "up",
            "square",
            "smooth",
            "side",
            "front",
            "1e9 cm",
            "\n",
        ]
    ),
    st.lists(st.integers(1, 12), max_size=4),
    st.dictionaries(st.sampled_from(["x", "y", "up", "from", "piece", "edges"]), st.just("3 cm"), max_size=2),
)


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_whatever_is_typed_gives_a_draft_or_one_clear_line(data: st.DataObject) -> None:
    document: Any = tomllib.loads(EXAMPLE)
    for _ in range(data.draw(st.integers(1, 3))):
        inside: Any = document
        while True:
            keys = list(inside) if isinstance(inside, dict) else list(range(len(inside)))
            if not keys:
                break
            key = data.draw(st.sampled_from(keys))
            if isinstance(inside[key], dict | list) and data.draw(st.integers(0, 4)):
                inside = inside[key]
                continue
            if data.draw(st.booleans()):
                inside[key] = data.draw(VALUES)
            else:
                del inside[key]
            break
    try:
        drawn(document)
    except Problem as problem:
        assert "\n" not in str(problem)
        assert problem.code
