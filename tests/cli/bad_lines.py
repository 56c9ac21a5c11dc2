"""Lines, cut-outs, hems, seams and finishes that ask for what cannot be done."""

from __future__ import annotations

from typing import Final

from cli.bad_input import Case, at, do, step

_TO_SIDE = do("move_dart", piece="front", dart="bust dart", to=at("front side", from_="armhole", by="7 cm"))


def _line(**more: object) -> str:
    course: dict[str, object] = {
        "start": at("front shoulder", from_="neck", by="3 cm"),
        "end": at("front centre front", from_="neck", by="8 cm"),
        "role": "neck",
        "keep": "below",
    }
    return do("draw_line", **{**course, **more})


def _split(**more: object) -> str:
    course: dict[str, object] = {
        "start": at("back centre back", from_="neck", by="10 cm"),
        "end": at("back armhole", from_="shoulder", by="9 cm"),
        "parts": {"above": "yoke", "below": "back"},
    }
    return do("split_piece", **{**course, **more})


_LINES = (
    step(
        "line-leaves-the-piece",
        _line(through=[at("front neck", at="shoulder", down="-30 cm")]),
        "the line leaves the piece at the neck",
    ),
    step(
        "line-to-a-mouth",
        _line(start=at("front shoulder", at="bust dart")),
        "the line ends at the mouth of the bust dart",
        "end it beside the dart",
    ),
    step(
        "line-across-pieces",
        _line(end=at("back centre back", from_="neck", by="8 cm")),
        "starts on the front and ends on the back",
    ),
    step(
        "line-through-another", _line(through=[at("back neck", at="shoulder")]), "the line cannot go through"
    ),
    step(
        "line-of-nothing",
        _line(end=at("front shoulder", from_="neck", by="3 cm")),
        "the line starts and ends at one place",
    ),
    step(
        "line-ends-inside",
        _line(end=at("front: bust point")),
        "bust point lies inside",
        "a line ends on edges",
    ),
    step(
        "line-leaves-somehow", _line(leave="upward"), "leave: 'upward' is no way to leave an edge", "'square'"
    ),
    step("line-keeps-nothing", _line(keep="none"), "'keep' is 'none'", "'below'"),
    step("line-role", _line(role="collar"), "'role' is 'collar'", "'neck'"),
    step("line-deepest", _line(depth="2 cm", deepest=1), "a line is deepest between 0.05 and 0.95"),
    step("line-through-and-deep", _line(depth="2 cm", through=[at("front: bust point")]), "takes no 'depth'"),
    step(
        "split-same-names", _split(parts={"above": "yoke", "below": "yoke"}), "both parts are called 'yoke'"
    ),
    step(
        "split-name-in-use",
        _split(parts={"above": "front", "below": "back"}),
        "there is a piece 'front' already",
    ),
    step("split-one-name", _split(parts={"above": "yoke"}), "name both parts: 'above' and 'below', or"),
    step(
        "split-no-end",
        do("split_piece", start=at("back hem", at="side"), parts={"above": "a", "below": "b"}),
        "say 'start' and 'end', or a 'guide' alone",
    ),
    step("split-dart-elsewhere", _split(darts=["waist dart"]), "waist dart"),
    step(
        "split-leaves-a-dart",
        _split(
            start=at("back shoulder", at="shoulder dart"),
            end=at("back hem", from_="side", share=0.5),
            darts=["waist dart"],
        ),
        "the seam runs to the mouth of the shoulder dart and does not take it in",
        "add it to 'darts'",
    ),
    step("split-no-dart", _split(darts=["rib dart"]), "no dart 'rib dart'; it has: "),
    step(
        "join-no-seam",
        do("join_pieces", still=at("front centre front"), laid=at("back side")),
        "the seam 'side' sews back, side and front, side",
    ),
    step(
        "join-edges-that-differ",
        (
            _TO_SIDE,
            do("take_out_dart", piece="back", dart="shoulder dart"),
            do("join_pieces", still=at("front shoulder"), laid=at("back shoulder")),
        ),
        "step 3 's3' (Join two pieces), front, shoulder: the edges are 124.0 and 124.0 mm and lie up to",
        "true them first",
    ),
    step(
        "join-shapes-that-differ",
        do("join_pieces", still=at("front side"), laid=at("back side")),
        "lie up to 3",
        "true them first",
    ),
    step(
        "join-to-itself",
        do("join_pieces", still=at("front shoulder"), laid=at("front side")),
        "a piece cannot be joined to itself",
    ),
    step(
        "cut-out-off-the-seam",
        do("cut_out", at=at("front side", at="armhole"), shape="circle", width="9 cm"),
        "would run off the end of the side at the armhole",
    ),
    step(
        "cut-out-too-large",
        do("cut_out", at=at("front side", at="waist"), shape="circle", width="90 cm"),
        "the cut-out would",
    ),
    step(
        "cut-out-of-two-sizes",
        do("cut_out", at=at("front side", at="waist"), shape="circle", width="9 cm", height="4 cm"),
        "height: a circle takes no 'height'",
    ),
    step(
        "cut-out-star",
        do("cut_out", at=at("front side", at="waist"), shape="star", width="9 cm"),
        "'shape' is 'star'",
        "'circle', 'ellipse', 'teardrop'",
    ),
    step(
        "shift-past-the-end",
        do("shift_place", edge=at("front armhole"), end="side", by="2 m"),
        "2000.0 mm goes past its end or a dart",
    ),
    step(
        "shift-no-such-end",
        do("shift_place", edge=at("front armhole"), end="hem", by="2 cm"),
        "no 'hem' on this edge; it has: side",
        "shoulder",
    ),
    step(
        "blend-too-long",
        do("blend_edge", edge=at("front neck"), length="2 m"),
        "no smooth edge of 2000.0 mm joins these ends",
    ),
    step(
        "blend-shorter-than-straight",
        do("blend_edge", edge=at("front neck"), length="5 cm"),
        "no smooth edge of 50.0 mm joins these ends",
    ),
    step(
        "blend-to-nobody",
        do("blend_edge", edge=at("front neck"), keep="partner"),
        "front, neck: this edge is not sewn to another",
    ),
    step("guide-of-nothing", do("add_guide", name="line"), "line"),
)


def _cord(**more: object) -> str:
    return do("draw_up", name="cord", edges=[at("front hem")], **{"by": "cord", "to": "20 cm", **more})


_FINISHING = (
    step(
        "drawn-up-longer", _cord(to="3 m"), "cord: the edge is 272.9 mm and cannot be drawn up to 3000.0 mm"
    ),
    step("drawn-up-by-rope", _cord(by="rope"), "'by' is 'rope'", "'cord', 'elastic', 'gathering'"),
    step("drawn-up-twice", _cord(ratio=2), "cord: say the length: either 'to' or 'ratio'"),
    step(
        "drawn-up-by-a-ratio-below-one",
        do("draw_up", name="cord", edges=[at("front hem")], by="cord", ratio=0.5),
        "cord",
    ),
    step(
        "no-edges-drawn-up",
        do("draw_up", name="cord", edges=[], by="cord", to="1 cm"),
        "'edges' is '[]', where a list of at least 1",
    ),
    step(
        "hem-above-the-darts", do("shape_hem", raise_="55 cm"), "the new hem would cut through the waist dart"
    ),
    step("hem-raised-away", do("shape_hem", raise_="2 m"), "cannot lose 2000.0 mm"),
    step(
        "hem-two-shapes",
        do("shape_hem", raise_="2 cm", level={"by": "30 cm"}),
        "say one shape: 'level', 'raise', 'slant', 'dip'",
    ),
    step(
        "hem-no-dip",
        do("shape_hem", dip={"lowest": "centre back"}),
        "'down' and 'up' together must be more than 0",
    ),
    step(
        "hem-lowest-nowhere",
        do("shape_hem", dip={"lowest": "heel", "down": "5 cm"}),
        "no 'heel' on the hem; it has: centre front, side",
    ),
    step(
        "hem-lowest-misspelt",
        do("shape_hem", dip={"lowest": {"piece": "front", "egde": "hem"}, "down": "5 cm"}),
        "dip, lowest: unknown key 'egde'; closest: edge",
    ),
    step(
        "hem-slant-of-one-half",
        do("shape_hem", slant={"left": "3 cm", "right": "0 cm"}),
        "cannot slant to one side",
        "unfold first",
    ),
    step(
        "zip-too-long",
        do("set_opening", edge=at("front side"), kind="zip", from_="armhole", length="3 m"),
        "an opening of 3000.0 mm",
        "does not fit; the edge is 8",
    ),
    step(
        "zip-on-a-fold",
        do("set_opening", edge=at("front centre front"), kind="zip", from_="neck", length="3 cm"),
        "not one side of a seam",
        "the seams: ",
    ),
    step(
        "bound-but-sewn",
        do("set_finish", edges=[at("front shoulder")], finish="bound"),
        "the shoulder is sewn to another edge and cannot be bound",
    ),
    step("finish-of-nothing", do("set_finish", finish="bound"), "name the edges: either 'edges' or 'role'"),
    step("finish-role", do("set_finish", role="collar", finish="bound"), "'role' is 'collar'", "'armhole'"),
    step(
        "finish-below-nothing",
        do("set_finish", role="hem", finish="hem", allowance="-2 cm"),
        "step 1 's1' (Set a finish), allowance: -2 cm lies inside the piece",
    ),
    step(
        "finish-of-a-metre",
        do("set_finish", role="hem", finish="hem", allowance="1 m"),
        "allowance: 100 cm is more than 50 cm",
        "check the unit",
    ),
    step(
        "binding-of-a-metre",
        do("set_finish", role="neck", finish="bound", width="1 m"),
        "width: 100 cm is more than 50 cm",
    ),
    step(
        "relate-a-free-edge",
        do("relate_seam", fuller=at("front hem"), relation="gather"),
        "front, hem: this edge is not sewn to another",
    ),
    step(
        "relate-ease-by-ratio",
        do("relate_seam", fuller=at("front shoulder"), relation="ease", ratio=1.5),
        "'ratio' is for a gather only",
    ),
    step(
        "relate-below-one",
        do("relate_seam", fuller=at("front shoulder"), relation="gather", ratio=0.5),
        "ratio",
    ),
    step(
        "relate-somehow",
        do("relate_seam", fuller=at("front shoulder"), relation="glued"),
        "'relation' is 'glued'",
        "'gather'",
    ),
    step(
        "grain-somehow",
        do("set_grain", piece="front", kind="upward"),
        "'kind' is 'upward'",
        "'straight', 'cross', 'bias'",
    ),
    step(
        "grain-of-no-piece",
        do("set_grain", piece="sleeve", kind="bias"),
        "no piece 'sleeve'; the draft has: front, back",
    ),
    step("lengthen-what-is-long", do("lengthen_to_hem", to="20 cm"), "hem"),
)

LINE_CASES: Final[tuple[Case, ...]] = (*_LINES, *_FINISHING)
