"""Bad input in cloth files and in what is asked of a lay."""

from __future__ import annotations

from typing import Final

from cli.bad_input import DRESS, OUT, SKIRT_BODY, STASH, Case, command

LAY_SKIRT: Final = (
    "lay",
    "skirt.toml",
    "--body",
    "skirt-body.toml",
    "--cloth",
    "cloth.toml",
    "--time",
    "1s",
    *OUT,
)
_LAWN = (*LAY_SKIRT, "--name", "lawn")
_CHECK = (*LAY_SKIRT, "--name", "check")
_MAKE = ("make", "skirt.toml", "--body", "skirt-body.toml", *OUT, "--cloth", "cloth.toml")
_FLAWS = STASH[STASH.index("flaws =") : STASH.index("weight =")]
_OUTLINE = STASH[STASH.index("outline =") :]


def cloth(name: str, old: str, new: str, *says: str) -> Case:
    return Case(f"cloth-{name}", LAY_SKIRT, says, "cloth.toml", old, new)


_FILE = (
    cloth("bare-width", '"140 cm"', '"140"', "cloth 'lawn', width: '140' has no unit", "write '140 cm'"),
    cloth("negative-width", '"140 cm"', '"-140 cm"', "'-140 cm' must be more than 0"),
    cloth("width-of-a-field", '"140 cm"', '"140 m"', "'140 m' is wider than any cloth", "check the unit"),
    cloth("no-width", 'width = "150 cm"\n', "", "cloth 'check': no 'width'", 'write for example width = "'),
    cloth("usable-too-wide", '"138 cm"', '"148 cm"', "'148 cm' is more than the width, 140 cm"),
    cloth("no-length-left", 'length = "4 m"', 'length = "0 m"', "must be more than 0", "still to be bought"),
    cloth("unknown-nap", '"two-way"', '"both-ways"', "'nap' is 'both-ways'", "none, two-way, one-way"),
    cloth("unknown-kind", '"light cotton"', '"cottn"', "no kind of cloth 'cottn'; closest: cotton", "sheer,"),
    cloth("unknown-key", "sold_by", "soldby", "unknown key 'soldby'; closest: sold_by", "width, usable"),
    cloth("unknown-side", '"either"', '"any"', "'right_side' is 'any'", "one, either"),
    cloth("no-repeat", '{ every = "4 cm", offset', "{ offset", "repeat_across: no 'every'"),
    cloth("repeat-of-nothing", 'every = "4 cm"', 'every = "0 cm"', "every: '0 cm' must be more than 0"),
    cloth("shrinks-away", '"3 %"', '"100 %"', "shrinkage, along", "no cloth to sew with", "3 % is 0.03"),
    cloth("shrinks-by-30-times", '"3 %"', '"3"', "'3' is not between 0 and 1", "40 %"),
    cloth("grows", '"3 %"', '"-3 %"', "'-3 %' is not between 0 and 1"),
    cloth("flaw-beyond", '"3.9 m"', '"4.9 m"', "flaw 1, along: '4.9 m' is beyond the cloth", "400 cm long"),
    cloth("flaw-beside", '"10 cm", rad', '"150 cm", rad', "'150 cm' is beyond the cloth", "140 cm wide"),
    cloth("flaw-of-nothing", 'radius = "2 cm"', 'radius = "0 cm"', "radius: '0 cm' must be more than 0"),
    cloth("flaw-without-place", 'across = "10 cm", ', "", "flaw 1: no 'across'", "selvedge nearest"),
    cloth("flaws-a-word", _FLAWS, 'flaws = "one"\n', "'one' is not a list of flaws", "write [{ along"),
    cloth("price-bare", "18.50 EUR per m", "18.50", "'18.50' is not a price", "18.50 EUR per m"),
    cloth("price-by-weight", "per m", "per kg", "a price per 'kg'", "per m or per yd"),
    cloth("weight-bare", "90 g/m2", "90", "'90' is not a weight of cloth", "16 momme"),
    cloth("weight-of-what", "90 g/m2", "90 g", "'90 g' is not a weight of cloth", "180 g/m2"),
    cloth("sold-by-nothing", 'sold_by = "10 cm"', 'sold_by = "0 cm"', "sold_by: '0 cm' must be more than 0"),
    cloth(
        "remnant-crossing",
        '["60 cm", "20 cm"], ["0 cm", "20 cm"]',
        '["0 cm", "20 cm"], ["60 cm", "20 cm"]',
        "remnants, remnant 1: the outline crosses or touches itself at 30 cm along, 10 cm across",
    ),
    cloth("remnant-of-two", '["60 cm", "20 cm"], ["0 cm", "20 cm"]', "", "three or more corners"),
    cloth("remnant-too-wide", '["60 cm", "20 cm"]', '["60 cm", "200 cm"]', "200 cm across", "150 cm wide"),
    cloth("remnant-half-a-corner", '["60 cm", "20 cm"]', '["60 cm"]', "corner 3: '['60 cm']' is not a pair"),
    cloth("no-outline", _OUTLINE, "", "remnants, remnant 1: no 'outline'"),
    cloth("two-of-a-name", '"check"', '"Lawn"', "two cloths have the name 'Lawn'", "each needs its own"),
    cloth("no-name", 'name = "check"\n', "", "cloth 2: no name", "below [[cloth]]"),
    cloth("single-brackets", '[[cloth]]\nname = "lawn"', '[cloth]\nname = "lawn"', "not valid TOML"),
    cloth("above-the-heading", "schema = 1\n", 'schema = 1\nwidth = "1 m"\n', "width stands above [[cloth]]"),
    cloth("no-schema", "schema = 1\n", "", "no schema version", "write 'schema = 1' at the top"),
    cloth("newer", "schema = 1", "schema = 3", "schema 3 is newer than this program reads"),
    cloth("a-body", "", SKIRT_BODY, "this is a body, not a cloth", "a cloth file has [[cloth]]"),
    cloth("a-design", "", DRESS, "this is a design, not a cloth"),
    cloth("empty", "", "schema = 1\n", "no cloth", "below a line [[cloth]]"),
)

_ASKED = (
    command("lay-no-cloth-file", (*LAY_SKIRT[:5], "none.toml", *OUT), "none.toml: there is no such file"),
    command("lay-no-cloth", (*LAY_SKIRT[:4], *OUT), "missing option '--cloth'", "cutonce lay --help"),
    command(
        "lay-unknown-name", (*LAY_SKIRT, "--name", "lwn"), "no cloth 'lwn'; closest: lawn", "lawn, check"
    ),
    command("lay-bare-time", (*LAY_SKIRT, "--time", "10"), "--time: '10' is not a time", "write '10s'"),
    command("lay-no-time", (*LAY_SKIRT, "--time", "0s"), "--time: '0s' is not within an hour"),
    command("lay-unknown-way", (*_LAWN, "--way", "foldd"), "no way to lay cloth 'foldd'", "open, lengthwise"),
    command("lay-spacing", (*_LAWN, "--spacing", "3"), "--spacing: '3' has no unit"),
    command("lay-margin", (*_LAWN, "--margin", "-1 cm"), "--margin: '-1 cm' must not be less than 0"),
    command("lay-tolerance", (*_LAWN, "--grain-tolerance", "2 cm"), "unknown unit 'cm'", "deg, rad"),
    command("lay-askew", (*_LAWN, "--grain-tolerance", "40 deg"), "grain tolerance of 40.0 degrees", "0 to"),
    command("lay-cross", (*_LAWN, "--cross", "skirt frnt"), "no piece 'skirt frnt'; closest: skirt front"),
    command("lay-cross-nap", (*_LAWN, "--cross", "skirt front"), "may not be turned a quarter", "two-way"),
    command("lay-match", (*_CHECK, "--match", "side"), "--match: 'side' says no place to match"),
    command("lay-match-seam", (*_CHECK, "--match", "sied at hem"), "no seam 'sied'; closest: side"),
    command("lay-keep-none", (*_LAWN, "--keep", "lay.json"), "lay.json: there is no such file"),
    command("lay-keep-other", (*_LAWN, "--keep", "cloth.toml"), "cloth.toml: not valid JSON"),
    command("lay-fullest-bought", (*_CHECK, "--fullest"), "no amount of the design is free"),
    command(
        "lay-fullest-which", (*LAY_SKIRT, "--fullest"), "--fullest: this is asked of one cloth", "lawn, "
    ),
    command("lay-table-which", (*LAY_SKIRT, "--table"), "--table: this is asked of one cloth", "--name says"),
    command("lay-table-width", (*_LAWN, "--table", "--width", "9 m"), "--width: no cloth is 900 cm wide"),
    command("lay-out-a-file", (*LAY_SKIRT[:8], "--out", "people.csv"), "people.csv: this is a file"),
    command("make-unknown-cloth", (*_MAKE, "--name", "silk"), "no cloth 'silk'", "there are: lawn, check"),
    command("make-bare-time", (*_MAKE, "--time", "5"), "--time: '5' is not a time"),
    command("make-way", (*_MAKE, "--way", "flat"), "no way to lay cloth 'flat'"),
    Case(
        "lay-too-wide",
        _LAWN,
        ("Skirt front", "of width", "usable"),
        "cloth.toml",
        'width = "140 cm"\nusable = "138 cm"',
        'width = "30 cm"',
    ),
    Case(
        "cloth-not-utf8",
        LAY_SKIRT,
        ("cloth.toml: the file is not UTF-8",),
        "cloth.toml",
        "",
        "é".encode("latin-1"),
    ),
)

CLOTH_CASES: Final = (*_FILE, *_ASKED)
