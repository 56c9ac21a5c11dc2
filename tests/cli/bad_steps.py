"""Steps that cannot be read, name what is not there, or ask for what cannot be done."""

from __future__ import annotations

from typing import Final

from cli.bad_input import Case, at, do, skirt, step

_PLACE = 'from = "centre front", share = 0.45'

_WRITTEN = (
    skirt(
        "unknown-kind", '"set_opening"', '"set_openin"', "step 2: no kind of step 'set_openin'; closest: set_"
    ),
    skirt(
        "no-kind", 'do = "set_opening"\n', "", "step 2: no 'do'", "kinds of step: lengthen_to_hem, move_dart"
    ),
    skirt("no-id", 'id = "zip"\n', "", "step 2: no 'id'", 'id = "bust-dart-to-side"'),
    skirt(
        "id-bad", 'id = "zip"', 'id = "The Zip"', "step 2: the id 'The Zip' is not a word of small letters"
    ),
    skirt("id-a-number", 'id = "zip"', "id = 2", "step 2, id: '2' is not a text"),
    skirt("id-twice", 'id = "zip"', 'id = "flare"', "two steps have the id 'flare'", "each needs its own"),
    skirt("off-a-word", 'kind = "zip"', 'kind = "zip"\noff = "no"', "step 2: 'off' is 'no'", "true or false"),
    skirt("note-a-number", 'kind = "zip"', 'kind = "zip"\nnote = 3', "step 2, note: '3' is not a text"),
    skirt("parameter-missing", 'length = "20 cm"\n', "", "step 2 'zip' (", "no 'length' (its length)"),
    skirt(
        "parameter-unknown",
        'kind = "zip"',
        'kind = "zip"\nwide = 1',
        "unknown key 'wide'",
        "edge, kind, from",
    ),
    skirt(
        "choice-unknown",
        'kind = "zip"',
        'kind = "hook"',
        "'kind' is 'hook'",
        "'zip', 'vent', 'slit', 'cord exit'",
    ),
    skirt(
        "edge-a-word",
        '{ piece = "skirt back", edge = "centre back" }',
        '"back"',
        "'edge' is 'back', where a table",
    ),
    skirt("edge-without-name", ', edge = "centre back"', "", "step 2 'zip' (", "edge: no 'edge'"),
    skirt("piece-a-number", 'piece = "skirt back"', "piece = 3", "'piece' is '3', where a text in quotes"),
    skirt("unit-in-a-step", '"20 cm"', '"20 centi"', "step 2 'zip' (", "length: unknown unit 'centi'"),
    skirt("bare-in-a-step", '"20 cm"', "20", "step 2 'zip' (", "length: '20' has no unit"),
    skirt("length-below-nothing", '"20 cm"', '"-20 cm"', "length: '-20 cm' must be more than 0"),
    skirt(
        "free-without-most",
        '"20 cm"',
        '{ least = "20 cm" }',
        "step 2 'zip' (",
        "length: a free amount has no 'most'",
    ),
    skirt(
        "free-wrong-way-round",
        '"20 cm"',
        '{ least = "20 cm", most = "2 cm" }',
        "length: the most, '2 cm', is less than the least, '20 cm'",
    ),
    skirt(
        "free-of-two-kinds",
        '"20 cm"',
        '{ least = "20 cm", most = 3 }',
        "length: '20 cm' is a length and '3' a plain number",
    ),
    skirt(
        "free-key-unknown",
        '"20 cm"',
        '{ least = "20 cm", most = "3 cm", group = "a" }',
        "length: unknown key 'group'",
        "least, most, with",
    ),
    skirt(
        "free-name",
        'piece = "skirt back"',
        'piece = { least = "1 cm", most = "2 cm" }',
        "step 2 'zip' (",
        "edge, piece: this cannot be free: only a length, a share",
    ),
    skirt("free-count", "count = 1", "count = { least = 1, most = 2 }", "step 1 'flare' (", "cannot be free"),
    skirt(
        "key-in-a-place", "share = 0.45", "part = 0.45", "set 1, start 1: unknown key 'part'", "piece, edge"
    ),
    skirt(
        "share-above-one", "share = 0.45", "share = 45", "set 1, start 1, share: '45' is not between 0 and 1"
    ),
    skirt("share-not-finite", "share = 0.45", "share = nan", "share: 'nan' is not between 0 and 1"),
    skirt("count-a-word", "count = 1", 'count = "two"', "set 1: 'count' is 'two', where a whole number"),
    skirt("count-too-many", "count = 1", "count = 99", "'count' is '99', where a number of at most 60"),
    skirt("slash-without-end", 'dart = "waist dart"\n', "", "set 1: slashes end at 'ends'", "or in a 'dart'"),
    skirt("no-slashes", "count = 1\n", "", "set 1: give the slashes one by one", "'count'"),
    skirt(
        "point-and-edge",
        _PLACE,
        'point = "bust point"',
        "start 1, skirt front: a place needs either an edge or a",
    ),
    skirt(
        "neither-at-nor-from", _PLACE, 'wearer = "left"', "skirt front, hem: say where: 'at', or 'from' with"
    ),
    skirt("at-with-by", _PLACE, 'at = "side", by = "3 cm"', "skirt front, hem: 'at' goes alone, or 'from'"),
    skirt("from-alone", _PLACE, 'from = "side"', "skirt front, hem: 'from' needs one of 'by' and 'share'"),
    skirt(
        "from-with-both",
        _PLACE,
        'from = "side", by = "1 cm", share = 0.1',
        "'from' needs one of 'by' and 'share'",
    ),
    skirt("by-alone", _PLACE, 'by = "3 cm"', "skirt front, hem: say where: 'at', or 'from' with"),
    skirt(
        "wearer-unknown", _PLACE, 'wearer = "middle", at = "side"', "'wearer' is 'middle'", "'left', 'right'"
    ),
)

_TO_SIDE = do("move_dart", piece="front", dart="bust dart", to=at("front side", from_="armhole", by="7 cm"))
_SCOOP = do(
    "draw_line",
    start=at("front shoulder", from_="neck", by="3 cm"),
    end=at("front centre front", from_="neck", by="8 cm"),
    role="neck",
    name="scoop",
    keep="below",
)
_YOKE = do(
    "split_piece",
    start=at("back centre back", from_="neck", by="10 cm"),
    end=at("back armhole", from_="shoulder", by="9 cm"),
    parts={"above": "yoke", "below": "lower"},
)
_SIDE_SLIT = do("set_opening", edge=at("front side"), kind="slit", from_="hem", length="10 cm")

_MISSING = (
    skirt(
        "no-piece",
        'piece = "skirt back"',
        'piece = "back"',
        "no piece 'back'; the draft has: skirt front, skirt",
    ),
    skirt(
        "no-edge",
        'edge = "hem"',
        'edge = "hemline"',
        "step 1 'flare' (",
        "no edge 'hemline'; it has: hem, side, waist",
        "hem",
    ),
    skirt("no-landmark", 'from = "waist"', 'from = "rib"', "no 'rib' on this edge; it has: ", "hip", "hem"),
    skirt("no-dart", 'dart = "waist dart"', 'dart = "hip dart"', "no dart 'hip dart'; it has: waist dart"),
    skirt("past-the-end", _PLACE, 'from = "side", by = "2 m"', "2000.0 mm is past the end; the edge is 2"),
    step(
        "no-point",
        do(
            "close_gape",
            at=at("front neck", from_="shoulder", share=0.5),
            amount="6 mm",
            pivot=at("front: knee point"),
            into="bust dart",
        ),
        "step 1 's1' (Close a gape)",
        "no point 'knee point'; it has: bust point",
    ),
    step(
        "no-seam",
        do("set_opening", edge=at("front hem"), kind="slit", from_="side", length="1 cm"),
        "not one side of a seam",
        "the seams: ",
    ),
    step(
        "no-role",
        do("set_finish", role="strap", finish="bound"),
        "no edge has the role 'strap'; there are: ",
        "neck",
    ),
    step(
        "no-line",
        do("split_piece", guide={"piece": "back", "line": "rib"}, parts={"above": "a", "below": "b"}),
        "no line 'rib'; it has: bust, hip, waist",
    ),
    step(
        "edge-cut-away",
        (_SCOOP, do("blend_edge", edge=at("front neck"))),
        "step 2 's2'",
        "edge 'neck' is no more: step s1 drew the scoop",
    ),
    step(
        "dart-closed",
        (_TO_SIDE, _TO_SIDE),
        "step 2 's2'",
        "the bust dart is no more: step s1 closed the bust dart",
    ),
    step(
        "edge-on-the-other-part", (_YOKE, do("blend_edge", edge=at("lower neck"))), "no edge 'neck'", "yoke"
    ),
    step(
        "piece-divided",
        (_YOKE, do("set_grain", piece="back", kind="bias")),
        "no piece 'back'",
        "yoke, lower",
    ),
    step(
        "ambiguous-wearer",
        (do("unfold"), _SIDE_SLIT),
        "'side' fits 2 places: front, left side; front, right side",
        "wearer",
    ),
    step("unfold-twice", (do("unfold"), do("unfold")), "step 2 's2' (Unfold", "unfolded already"),
)

STEP_CASES: Final[tuple[Case, ...]] = (*_WRITTEN, *_MISSING)
