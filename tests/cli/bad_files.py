"""Bad input in files and on the command line; what is wrong with steps stands in `bad_steps`."""

from __future__ import annotations

from typing import Final

from cli.bad_input import (
    BATCH_SKIRT,
    DRESS,
    MAKE_DRESS,
    MAKE_SKIRT,
    MAKE_TYPED,
    OUT,
    OUTLINE,
    SKIRT,
    SKIRT_BODY,
    Case,
    command,
    dress,
    dress_body,
    outline,
    people,
    skirt,
    skirt_body,
    typed,
)

_MEASURES = SKIRT_BODY[SKIRT_BODY.index("[measures]") :]
_BLOCK = SKIRT[SKIRT.index("[block]") : SKIRT.index("[[steps]]")]
_LATIN = 'schema = 1\nname = "Zürich"\n'.encode("latin-1")
_LENGTH = "waist_to_knee + 2 cm"

_BODY = (
    skirt_body("wrong-unit", '"76 cm"', '"76 cmm"', "waist_girth: unknown unit 'cmm'", "did you mean 'mm'?"),
    skirt_body("unit-of-weight", '"76 cm"', '"76 kg"', "unknown unit 'kg'", "mm, cm, m, in, ft, yd"),
    skirt_body("bare-number", '"76 cm"', "76", "waist_girth: '76' has no unit", "write '12 cm'"),
    skirt_body("bare-number-in-quotes", '"76 cm"', '"76"', "'76' has no unit", "write '76 cm'"),
    skirt_body("not-a-length", '"76 cm"', '"small"', "waist_girth: 'small' is not a length"),
    skirt_body("comma-for-thousands", '"76 cm"', '"1,020 mm"', "'1,020' may mean 1.020 or 1020"),
    skirt_body("units-out-of-order", '"76 cm"', '"2 in 2 ft"', "waist_girth", "from large to small"),
    skirt_body("fraction-over-zero", '"76 cm"', '"7 1/0 in"', "waist_girth", "divides by zero"),
    skirt_body("value-a-list", '"76 cm"', '["76 cm"]', "waist_girth: '['76 cm']' has no unit"),
    skirt_body("value-empty", '"76 cm"', "{}", "waist_girth: no value", 'write "92 cm" or'),
    skirt_body("value-a-kilometre", '"76 cm"', '"2000 m"', "'2000 m' is more than a kilometre"),
    skirt_body("value-not-finite", '"76 cm"', "nan", "waist_girth: 'nan' has no unit"),
    skirt_body("unknown-measure", "waist_girth", "waste_girth", "no measure 'waste_girth'; closest: waist"),
    skirt_body(
        "measure-twice", 'waist_to_hip = "20.5', 'waist_girth = "20.5', "'waist_girth' is given twice"
    ),
    skirt_body("measure-above-the-heading", "date = 2026-11-02", 'height = "1.7 m"', "above [measures]"),
    skirt_body("no-sides", '"76 cm"', '{ left = "38 cm", right = "38 cm" }', "Waist girth has no left and"),
    dress_body("one-side-only", '"12.4 cm"', '{ left = "12 cm" }', "shoulder_length: only 'left' is given"),
    dress_body("a-third-side", '"12.4 cm"', '{ left = "12 cm", top = "12 cm" }', "key 'top'", "left, right"),
    dress_body("estimate-key", '"12.4 cm"', '{ estimated = "12 cm" }', "'estimated'; closest: estimate"),
    skirt_body("impossible-value", '"76 cm"', '"76 mm"', "waist_girth 7.6 cm is impossible", "30 cm to 240"),
    skirt_body("impossible-pair", '"76 cm"', '"160 cm"', "waist_girth 160 cm against hip_girth 102 cm"),
    dress_body("impossible-drop", '"4.6 cm"', '"14 cm"', "shoulder_drop"),
    skirt_body(
        "missing-measure", 'waist_to_hip = "20.5 cm"\n', "", "waist_to_hip (", "missing", "--estimate"
    ),
    dress_body("missing-in-a-dress", 'across_back_width = "35 cm"\n', "", "across_back_width", "--estimate"),
    skirt_body("no-measures", _MEASURES, "", "waist_to_knee", "missing"),
    skirt_body("no-schema", "schema = 1\n", "", "no schema version", "write 'schema = 1' at the top"),
    skirt_body("newer-schema", "schema = 1", "schema = 9", "schema 9 is newer than this program reads"),
    skirt_body("schema-in-words", "schema = 1", 'schema = "one"', "schema 'one' is not a version"),
    skirt_body("unknown-key", "date =", "dates =", "key 'dates'; closest: date", "schema, name, date, notes"),
    skirt_body("no-name", 'name = "Client"\n', "", "no name", 'write name = "..." at the top'),
    skirt_body("name-a-number", '"Client"', "7", "name: '7' is not a text", "put it in quotes"),
    skirt_body("not-a-date", "2026-11-02", '"last May"', "date: 'last May' is not a date", "2026-11-02"),
    skirt_body("measures-a-number", _MEASURES, "measures = 3", "measures: '3' is not a table"),
    skirt_body("broken-toml", '"76 cm"', '"76 cm', "not valid TOML", "line 6", "quotation mark missing"),
    skirt_body("a-design-for-a-body", "", SKIRT, "this is a design, not a body", "[measures]"),
    skirt_body("empty", "", "\n", "no schema version"),
)

_FILES = (
    command("no-design", ("make", "none.toml", *MAKE_SKIRT[2:]), "none.toml: there is no such file"),
    command("no-body", ("make", "skirt.toml", "--body", "none.toml", *OUT), "none.toml: there is no such"),
    command("no-people", ("batch", "skirt.toml", "none.csv", *OUT), "none.csv: there is no such file"),
    command("folder-as-design", ("make", ".", *MAKE_SKIRT[2:]), "this is a folder, not a file"),
    command("folder-as-body", ("check", "skirt.toml", "--body", "."), "this is a folder, not a file"),
    command("file-in-a-file", ("check", "skirt.toml/a", "--body", "b"), "skirt.toml/a", "cannot be read"),
    Case("design-not-utf8", MAKE_SKIRT, ("skirt.toml: the file is not UTF-8",), "skirt.toml", "", _LATIN),
    Case("body-not-utf8", MAKE_SKIRT, ("the file is not UTF-8 text",), "skirt-body.toml", "", _LATIN),
    Case("people-not-utf8", BATCH_SKIRT, ("the file is not UTF-8 text",), "people.csv", "", _LATIN),
    Case("outline-not-utf8", MAKE_TYPED, ("outline.toml: the file is not",), "outline.toml", "", _LATIN),
    command("out-a-file", (*MAKE_SKIRT[:5], "people.csv"), "people.csv: this is a file, and results need"),
    command("out-in-a-file", (*MAKE_SKIRT[:5], "people.csv/a"), "people.csv: this is a file", "--out"),
    command("batch-out-a-file", (*BATCH_SKIRT[:4], "skirt.toml"), "skirt.toml: this is a file"),
    command("demo-out-a-file", ("demo", "--out", "skirt.toml"), "skirt.toml: this is a file"),
    command("unknown-paper", (*MAKE_SKIRT, "--paper", "a44"), "no paper 'a44'; closest: a4", "letter, a3"),
    command("unknown-example", ("demo", "--example", "celist", *OUT), "closest: cellist", "stage_tunic"),
    command("unknown-step", ("steps", "move_drat"), "no step 'move_drat'; closest: move_dart", "unfold"),
    command("unknown-table", ("sizes", "trade-missus"), "closest: trade-misses", "there are: astm-"),
    command("unknown-size", ("sizes", "trade-misses", "13"), "no size '13'", "it has: 6, 8, 10"),
    command("unknown-command", ("chek", "skirt.toml"), "no such command 'chek'", "check", "--help"),
    command("unknown-option", (*MAKE_SKIRT, "--papers", "a4"), "no such option '--papers'", "--paper"),
    command("no-body-named", ("make", "skirt.toml", *OUT), "missing option '--body'", "cutonce make --help"),
    command("no-cores", (*BATCH_SKIRT[:-1], "0"), "'--cores': 0 is not in the range"),
)

_DESIGN = (
    skirt("broken", 'draft = "skirt"', "draft = “skirt”", "not valid TOML", "line 5", "straight quotes"),
    skirt("two-names", 'name = "Skirt"', 'name = "Skirt"\nname = "A"', "'name' is given twice (line 3)"),
    skirt("two-blocks", _BLOCK, f"{_BLOCK}[block]\n", "not valid TOML", "is it given before?"),
    skirt("single-brackets", '[[steps]]\nid = "zip"', '[steps]\nid = "zip"', "[[steps]], in double brackets"),
    skirt("no-design-schema", "schema = 1\n", "", "no schema version", "write 'schema = 1' at the top"),
    skirt("newer-design", "schema = 1", "schema = 2", "schema 2 is newer", "up to 1"),
    skirt("a-body-for-a-design", "", SKIRT_BODY, "this is a body, not a design", "[block]"),
    skirt("no-block", _BLOCK, "", "no 'block'", "a name and a [block]"),
    skirt("no-design-name", 'name = "Skirt"\n', "", "no 'name'"),
    skirt("name-yes", '"Skirt"', "true", "name: 'True' is not a text"),
    skirt(
        "key-at-the-top", 'name = "Skirt"', 'name = "S"\nby = "me"', "key 'by'", "name, notes, block, steps"
    ),
    skirt("key-in-the-block", "system =", "sistem =", "block: unknown key 'sistem'; closest: system"),
    skirt("no-draft", 'draft = "skirt"\n', "", "block: no 'draft'"),
    skirt("block-a-word", _BLOCK, 'block = "skirt"\n', "block: 'skirt' is not a table"),
    dress(
        "steps-a-word", 'name = "Dress"', 'name = "Dress"\nsteps = "none"', "'steps' is not a list of steps"
    ),
    dress("step-a-word", 'name = "Dress"', 'name = "Dress"\nsteps = ["unfold"]', "step 1: 'unfold' is not a"),
    skirt(
        "ease-a-word", '{ waist = "1.5 cm", hip = "4 cm" }', '"2 cm"', "block, ease: '2 cm' is not a table"
    ),
    skirt(
        "unknown-block",
        '"skirt"',
        '"skrit"',
        "no block 'skrit'; closest: skirt",
        "bodice, dress, skirt, typed",
    ),
    skirt(
        "unknown-system", '"one dart a quarter"', '"magic"', "no skirt system 'magic'", "'two darts in back'"
    ),
    dress("unknown-dress-system", '"direct"', '"magic"', "'magic'", "proportional", "direct"),
    skirt("unknown-ease", "hip = ", "hips = ", "a skirt has no ease at 'hips'; it has: waist, hip"),
    dress(
        "unknown-dress-ease", "lengths =", 'ease = { knee = "1 cm" }\nlengths =', "no ease at 'knee'; it has"
    ),
    skirt("bare-ease", '"4 cm"', "4", "block, ease, hip: '4' has no unit"),
    skirt("ease-yes", '"4 cm"', "true", "block, ease, hip: 'True' has no unit"),
    skirt("unknown-length", "{ length =", "{ width =", "a skirt has no 'width'; it has: length"),
    dress("unknown-dress-length", "{ length =", "{ width =", "'width'", "length"),
    skirt("skirt-too-short", _LENGTH, "5 cm", "a skirt 5.0 cm long ends less than 3 cm below the hip"),
    dress("dress-too-short", "waist_to_floor - 40 cm", "2 cm", "a dress 2.0 cm long", "at least 24.0 cm"),
    dress("dress-of-nothing", "waist_to_floor - 40 cm", "-4 cm", "a dress -4.0 cm long"),
    typed("no-outline", 'outline = "outline.toml"', "", "a typed block needs an outline", "outline ="),
    typed("outline-elsewhere", '"outline', '"../outline', "'../outline.toml' must lie beside the design"),
    typed("no-outline-file", '"outline.toml"', '"none.toml"', "none.toml: there is no such file"),
    typed("outline-a-folder", '"outline.toml"', '"."', "'.' must lie beside the design"),
    typed("outline-in-a-dress", '"typed"', '"dress"', "'outline' does not go with draft = 'dress'"),
    typed("ease-in-an-outline", "[block]", '[block]\nease = { hip = "2 cm" }', "'ease' does not go with"),
    skirt("length-times-length", _LENGTH, "waist_to_knee * 2 cm", "a length times a length is not a length"),
    skirt("number-over-length", _LENGTH, "2 / waist_to_knee", "a number over a length is not a length"),
    skirt("division-by-zero", _LENGTH, "waist_to_knee / 0", "block, lengths, length", "divides by zero"),
    skirt("length-plus-number", _LENGTH, "waist_to_knee + 2", "cannot be added", "give the number a unit"),
    skirt(
        "unknown-name", _LENGTH, "waist_to_kne + 2 cm", "no measure 'waist_to_kne'; closest: waist_to_knee"
    ),
    skirt("nesting", _LENGTH, f"{'(' * 40}2 cm{')' * 40}", "more than 30 brackets within one another"),
    skirt("bracket-not-closed", _LENGTH, "(waist_to_knee + 2 cm", "a bracket is not closed"),
    skirt("expression-too-long", _LENGTH, f"2 cm{' + 1 mm' * 200}", "is too long"),
    skirt("expression-unfinished", _LENGTH, "waist_to_knee +", "'waist_to_knee +' ends too early"),
    skirt("code-for-a-length", _LENGTH, "__import__('os')", "no measure '__import__'"),
    skirt("only-a-number", _LENGTH, "60", "gives a plain number, not a length", "'60 cm'"),
    skirt("length-too-large", _LENGTH, "waist_to_knee * 9999", "is more than a kilometre"),
)

_OUTLINES = (
    outline(
        "outline-line-of-nothing",
        'cut = "fold"',
        'cut = "fold"\nlines = [{ name = "hip", points = [1, 3, 3] }]',
        "line 'hip': points 3 and 3 lie at one place",
    ),
    outline(
        "outline-broken", "points = [1, 2]", "points = [1, 2", "outline.toml: not valid TOML", "']' missing"
    ),
    outline("outline-no-schema", "schema = 1\n", "", "outline.toml: no schema version"),
    outline("outline-newer", "schema = 1", "schema = 3", "outline.toml: schema 3 is newer"),
    outline("outline-empty", "", "\n", "outline.toml: no schema version"),
    outline("outline-a-design", "", DRESS, "outline.toml: this is a design, not an outline"),
    outline("outline-key", 'cut = "fold"', 'cutt = "fold"', "piece 1: unknown key 'cutt'; closest: cut"),
    outline(
        "outline-edge-key", 'role = "hem"', 'role = "hem"\nbend = 1', "edge 1: unknown key 'bend'", "inward"
    ),
    outline("outline-role", 'role = "side"', 'role = "flank"', "edge 2: 'role' is 'flank'", "'side'"),
    outline(
        "outline-no-point", "points = [2, 3]", "points = [2, 9]", "edge 'side': no point '9'", "1, 2, 3, 4"
    ),
    outline(
        "outline-open",
        "points = [3, 4]",
        "points = [2, 4]",
        "edge 'side' ends at point 3",
        "begins at point 2",
    ),
    outline(
        "outline-crossing", "left = ", "right = ", "piece 'front': the outline crosses or touches itself at x"
    ),
    outline(
        "outline-edge-twice",
        'name = "waist"',
        'name = "side"',
        "piece 'front': the name 'side' is there twice",
    ),
    outline(
        "outline-bare", '24 cm" }\n3', '24" }\n3', "piece 1, points, 2, right: '24'", "add a unit: '24 cm'"
    ),
    outline("outline-one-way", '{ up = "30 cm" }', "{}", "piece 1, points, 3: a point needs x and y"),
    outline(
        "outline-one-point", "points = [2, 3]", "points = [2]", "edge 2: 'points' is '[2]'", "at least 2"
    ),
    outline("outline-no-edges", OUTLINE[OUTLINE.index("[[pieces.edges]]") :], "", "piece 1: no 'edges'"),
)

_PEOPLE = (
    people("people-empty", "", "\n", "people.csv: the table is empty", "id, bust_girth_mm"),
    people("people-no-id", "id,", "name,", "the first line has 0 columns named id"),
    people("people-two-ids", "hip_girth_cm", "id", "the first line has 2 columns named id"),
    people("people-header-twice", "hip_girth_cm", "waist_girth_in", "waist_girth has more than one column"),
    people("people-quotes", "ana,", '"ana"x,', "people.csv, line 2: cannot be read"),
    people(
        "people-nobody", "ana,72,98,20,58\nbea,76,102,20.5,58\n", "", "nobody stands below the first line"
    ),
)

FILE_CASES: Final = (*_BODY, *_FILES, *_DESIGN, *_OUTLINES, *_PEOPLE)
MAKES: Final = (MAKE_SKIRT, MAKE_DRESS, MAKE_TYPED, BATCH_SKIRT)
"""The commands whose files are changed: all go well where nothing is."""
