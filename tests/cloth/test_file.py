"""`cloth.toml`: what is read, what is refused, and that a rewrite loses nothing."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from cutonce.cloth.cloth import Cloth, Flaw, Price, Remnant, Repeat
from cutonce.cloth.file import read_cloth, write_cloth
from cutonce.cloth.kinds import BY_KIND
from cutonce.cloth.schema import cloth_schema
from cutonce.errors import BadInput

STASH = """\
# what lies in the cupboard
schema = 1
notes = "counted in November"

[[cloth]]
name = "wool crepe"      # from the market
kind = "wool"
width = "150 cm"
usable = "147 cm"
length = "3.2 m"
nap = "two-way"
shrinkage = { along = "4 %", across = "2.5 %" }
flaws = [{ along = "1.2 m", across = "30 cm", radius = "2 cm", note = "moth" }]
price = "18.50 EUR per m"
weight = "5 oz/yd2"

[[cloth]]
name = "checked lawn"
width = "45 in"
right_side = "either"
repeat_across = { every = "4 cm", offset = "1 cm" }
repeat_along = { every = "6 cm" }
bias_drop = "2 %"
price = "£9 / yd"
# the rest of the apron
remnants = [{ name = "apron", outline = [["0 cm", "0 cm"], ["0 cm", "30 cm"], ["50 cm", "0 cm"]] }]
"""

WOOL = Cloth(
    "wool crepe",
    1500.0,
    1470.0,
    3200.0,
    nap="two-way",
    shrink_along=0.04,
    shrink_across=0.025,
    flaws=(Flaw(1200 + 300j, 20.0, "moth"),),
    price=Price(Decimal("18.50"), "m", "EUR"),
    weight=5 * 33.906,
    kind="wool",
)
LAWN = Cloth(
    "checked lawn",
    1143.0,
    1123.0,
    remnants=(Remnant("apron", (500 + 0j, 300j, 0j)),),
    right_side="either",
    stripe_across=Repeat(40.0, 10.0),
    stripe_along=Repeat(60.0),
    bias_drop=0.02,
    price=Price(Decimal(9), "yd", "£"),
    sold_by=914.4 / 8,
)


def one(lines: str) -> Cloth:
    return read_cloth(f'schema = 1\n[[cloth]]\nname = "lawn"\n{lines}\n', "c.toml")[0]


def test_read() -> None:
    assert read_cloth(STASH) == (WOOL, LAWN)


def test_rewriting_the_same_stash_changes_no_byte() -> None:
    assert write_cloth(read_cloth(STASH), STASH) == STASH


def test_comments_survive_a_change() -> None:
    text = write_cloth((replace(WOOL, length=2650.0), LAWN), STASH)
    assert text == STASH.replace('"3.2 m"', '"2650 mm"')
    used_up = write_cloth((replace(WOOL, length=None, flaws=()), LAWN), STASH)
    assert "# from the market" in used_up and "moth" not in used_up
    assert read_cloth(used_up)[0] == replace(WOOL, length=None, flaws=())


def test_a_cloth_that_is_gone_leaves_the_file_and_a_new_one_comes_in() -> None:
    silk = Cloth("silk", 1140.0, 1120.0, 900.0)
    text = write_cloth((LAWN, silk), STASH)
    assert "wool" not in text and "# the rest of the apron" in text and "# what lies" in text
    assert read_cloth(text) == (LAWN, silk)
    assert read_cloth(write_cloth((silk, LAWN), text)) == (silk, LAWN)


def test_one_figure_is_both_shrinkages_and_the_usual_is_left_out() -> None:
    cloth = one('width = "1 m"\nshrinkage = "3 %"')
    assert (cloth.shrink_along, cloth.shrink_across) == (0.03, 0.03)
    assert (cloth.usable, cloth.length, cloth.nap, cloth.right_side) == (980.0, None, "none", "one")
    assert cloth.sold_by == 100.0


def test_a_remnant_may_be_all_that_is_left() -> None:
    outline = '[["0 cm", "0 cm"], ["40 cm", "0 cm"], ["40 cm", "30 cm"], ["0 cm", "0 cm"]]'
    cloth = one(f'width = "1 m"\nlength = "0 m"\nremnants = [{{ outline = {outline} }}]')
    assert cloth.length == 0
    assert cloth.remnants == (Remnant("remnant 1", (0j, 400 + 0j, 400 + 300j)),)


def test_a_remnant_is_measured_from_its_own_corner() -> None:
    outline = '[["50 cm", "10 cm"], ["30 cm", "20 cm"], ["80 cm", "40 cm"]]'
    cloth = one(f'width = "1 m"\nremnants = [{{ outline = {outline} }}]')
    assert set(cloth.remnants[0].outline) == {200 + 0j, 100j, 500 + 300j}


@pytest.mark.parametrize(
    ("lines", "code", "says"),
    [
        ("", "missing-key", "no 'width'"),
        ('width = "150"', "no-unit", "'150' has no unit"),
        ("width = 150", "no-unit", "width: '150' has no unit"),
        ('width = "-150 cm"', "out-of-range", "must be more than 0"),
        ('width = "150 m"', "out-of-range", "wider than any cloth"),
        ('width = "3 cm"', "too-narrow", "usable = ..."),
        ('width = "1 m"\nusable = "1.1 m"', "out-of-range", "more than the width, 100 cm"),
        ('width = "1 m"\nusable = "0 m"', "out-of-range", "must be more than 0"),
        ('width = "1 m"\nwidht = "1 m"', "unknown-key", "closest: width"),
        ('width = "1 m"\nlength = "0 m"', "out-of-range", "still to be bought"),
        ('width = "1 m"\nlength = "-2 m"', "out-of-range", "must be more than 0"),
        ('width = "1 m"\nnap = "upward"', "not-a-choice", "none, two-way, one-way"),
        ('width = "1 m"\nnap = "oneway"', "not-a-choice", "closest: one-way"),
        ('width = "1 m"\nnap = 1', "not-a-choice", "'nap' is '1'"),
        ('width = "1 m"\nright_side = "both"', "not-a-choice", "one, either"),
        ('width = "1 m"\nkind = "wol"', "unknown-kind", "closest: wool"),
        ('width = "1 m"\nkind = 3', "not-text", "not a text"),
        ('width = "1 m"\nrepeat_along = "4 cm"', "not-a-table", "not a table"),
        ('width = "1 m"\nrepeat_along = { offset = "4 cm" }', "missing-key", "no 'every'"),
        ('width = "1 m"\nrepeat_along = { every = "0 cm" }', "out-of-range", "must be more than 0"),
        ('width = "1 m"\nrepeat_across = { every = "-4 cm" }', "out-of-range", "must be more than 0"),
        ('width = "1 m"\nshrinkage = "100 %"', "out-of-range", "by '100 %' is no cloth to sew with"),
        ('width = "1 m"\nshrinkage = { along = "130 %" }', "out-of-range", "not between 0 and 1"),
        ('width = "1 m"\nshrinkage = { along = "-3 %" }', "out-of-range", "not between 0 and 1"),
        ('width = "1 m"\nshrinkage = { long = "3 %" }', "unknown-key", "closest: along"),
        ('width = "1 m"\nbias_drop = "much"', "not-a-share", "is not a share"),
        ('width = "1 m"\nflaws = "one"', "not-flaws", "not a list of flaws"),
        ('width = "1 m"\nflaws = ["one"]', "not-a-table", "flaw 1: 'one' is not a table"),
        ('width = "1 m"\nflaws = [{ along = "1 m", across = "1 cm" }]', "missing-key", "no 'radius'"),
        (
            'width = "1 m"\nlength = "2 m"\nflaws = [{ along = "3 m", across = "1 cm", radius = "1 cm" }]',
            "beyond-the-cloth",
            "'3 m' is beyond the cloth: the cloth is 200 cm long",
        ),
        (
            'width = "1 m"\nflaws = [{ along = "3 m", across = "110 cm", radius = "1 cm" }]',
            "beyond-the-cloth",
            "the cloth is 100 cm wide",
        ),
        (
            'width = "1 m"\nflaws = [{ along = "-1 cm", across = "1 cm", radius = "1 cm" }]',
            "beyond-the-cloth",
            "'-1 cm' is beyond the cloth",
        ),
        (
            'width = "1 m"\nflaws = [{ along = "1 m", across = "1 cm", radius = "0 cm" }]',
            "out-of-range",
            "flaw 1, radius: '0 cm' must be more than 0",
        ),
        ('width = "1 m"\nremnants = "one"', "not-remnants", "not a list of remnants"),
        ('width = "1 m"\nremnants = [{ name = "a" }]', "not-an-outline", "no 'outline'"),
        ('width = "1 m"\nremnants = [{ outline = [["1 m", "1 m"]] }]', "not-an-outline", "three or more"),
        (
            'width = "1 m"\nremnants = [{ outline = [["1 m"], ["1 m", "1 m"], ["1 m", "1 m"]] }]',
            "not-a-corner",
            "remnant 1, corner 1",
        ),
        (
            'width = "1 m"\nremnants = [{ outline = [["0 m", "0 m"], ["1 m", "1 m"], ["1 m", "0 m"], '
            '["0 m", "1 m"]] }]',
            "crossing-outline",
            "crosses or touches itself at 50 cm along, 50 cm across",
        ),
        (
            'width = "1 m"\nremnants = [{ outline = [["0 m", "0 m"], ["1 m", "0 m"], ["2 m", "0 m"]] }]',
            "no-area",
            "holds no cloth",
        ),
        (
            'width = "1 m"\nremnants = [{ outline = [["0 m", "0 m"], ["1 m", "0 m"], ["1 m", "2 m"]] }]',
            "wider-than-the-cloth",
            "200 cm across, the cloth 100 cm wide",
        ),
        (
            'width = "1 m"\nremnants = [{ name = "a", outline = [["0 m", "0 m"], ["1 m", "0 m"], '
            '["1 m", "1 m"]] }, { name = "a", outline = [["0 m", "0 m"], ["1 m", "0 m"], ["1 m", "1 m"]] }]',
            "name-twice",
            "two remnants have the name 'a'",
        ),
        ('width = "1 m"\nprice = "18.50"', "not-a-price", "18.50 EUR per m"),
        ('width = "1 m"\nprice = 18.5', "not-a-price", "'18.5' is not a price"),
        ('width = "1 m"\nprice = "18.50 per m"', "not-a-price", "is not a price"),
        ('width = "1 m"\nprice = "-18 EUR per m"', "not-a-price", "is not a price"),
        ('width = "1 m"\nprice = "18 EUR per piece"', "not-a-price", "per m or per yd"),
        ('width = "1 m"\nprice = "1,850 EUR per m"', "ambiguous-comma", "decimal point"),
        ('width = "1 m"\nweight = "180"', "not-a-weight", "180 g/m2"),
        ('width = "1 m"\nweight = "180 g"', "not-a-weight", "is not a weight of cloth"),
        ('width = "1 m"\nweight = "16 mm"', "not-a-weight", "16 momme"),
        ('width = "1 m"\nweight = "1/2 momme"', "not-a-weight", "is not a weight"),
        ('width = "1 m"\nweight = "0 g/m2"', "out-of-range", "no weight that a cloth has"),
        ('width = "1 m"\nweight = "9000 g/m2"', "out-of-range", "no weight that a cloth has"),
        ('width = "1 m"\nsold_by = "0 cm"', "out-of-range", "must be more than 0"),
        ('width = "1 m"\nsold_by = "some"', "not-a-length", "is not a length"),
        ('width = "1 m"\nnote = 1', "not-text", "not a text"),
    ],
)
def test_refused_cloths(lines: str, code: str, says: str) -> None:
    with pytest.raises(BadInput) as caught:
        one(lines)
    assert caught.value.code == code
    assert says in str(caught.value)
    assert str(caught.value).startswith("c.toml, cloth 'lawn'")
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "no-schema"),
        ("schema = 1\n", "no-cloth"),
        ("schema = 1\ncloth = []\n", "no-cloth"),
        ("schema = 2\n", "newer-schema"),
        ('schema = 1\ncloth = "lawn"\n', "not-cloths"),
        ('schema = 1\n[cloth]\nname = "lawn"\nwidth = "1 m"\n', "not-cloths"),
        ("schema = 1\ncloth = [3]\n", "not-a-table"),
        ('schema = 1\n[[cloth]]\nwidth = "1 m"\n', "no-name"),
        ('schema = 1\n[[cloth]]\nname = " "\nwidth = "1 m"\n', "no-name"),
        ('schema = 1\nwidth = "1 m"\n', "unknown-key"),
        ('schema = 1\nfabric = "1 m"\n[[cloth]]\nname = "a"\nwidth = "1 m"\n', "unknown-key"),
        ('schema = 1\nname = "Ida"\n[measures]\n', "not-a-cloth"),
        ('schema = 1\nname = "Dress"\n[block]\ndraft = "dress"\n', "not-a-cloth"),
        ("schema = 1\nnotes = 1\n", "not-text"),
        ("schema = 1\n[[cloth]\n", "broken-toml"),
        (
            'schema = 1\n[[cloth]]\nname = "Lawn"\nwidth = "1 m"\n[[cloth]]\nname = "lawn"\nwidth = "1 m"\n',
            "name-twice",
        ),
    ],
)
def test_refused_files(text: str, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_cloth(text)
    assert caught.value.code == code
    assert "\n" not in str(caught.value)


def test_an_old_text_that_cannot_be_read_is_refused_and_a_wrong_value_put_right() -> None:
    with pytest.raises(BadInput, match="old file is not valid TOML"):
        write_cloth((LAWN,), "name = ")
    wrong = STASH.replace('"150 cm"', '"150"')
    assert read_cloth(write_cloth((WOOL, LAWN), wrong))[1] == LAWN


def lengths(low: int, high: int) -> st.SearchStrategy[float]:
    return st.integers(low, high).map(float)


@st.composite
def cloths(draw: st.DrawFn, name: str) -> Cloth:
    """Any cloth that a file can say, in whole mm and per mille."""
    width = draw(lengths(100, 3000))
    long = draw(st.none() | lengths(500, 9000))
    shares = st.integers(0, 300).map(lambda n: n / 1000)
    spots = st.builds(complex, lengths(0, 500), lengths(0, 100))
    flaws = st.builds(Flaw, spots, lengths(1, 90), st.sampled_from(["", "stain", 'a "note"\n']))
    side = draw(lengths(50, 90))
    remnant = Remnant("left of it", (0j, complex(2 * side, 0), complex(side, side)))
    price = draw(
        st.none()
        | st.builds(Price, st.decimals(0, 999, places=2), st.sampled_from(("m", "yd")), st.just("EUR"))
    )
    return Cloth(
        name,
        width,
        draw(lengths(50, int(width))),
        long,
        draw(st.sampled_from(((), (remnant,)))),
        nap=draw(st.sampled_from(("none", "two-way", "one-way"))),
        right_side=draw(st.sampled_from(("one", "either"))),
        stripe_across=draw(st.none() | st.builds(Repeat, lengths(1, 900), lengths(-90, 90))),
        stripe_along=draw(st.none() | st.builds(Repeat, lengths(1, 900), lengths(-90, 90))),
        shrink_along=draw(shares),
        shrink_across=draw(shares),
        bias_drop=draw(shares),
        flaws=tuple(draw(st.lists(flaws, max_size=2))),
        price=price,
        weight=draw(st.none() | lengths(1, 900)),
        kind=draw(st.sampled_from(("", *BY_KIND))),
        sold_by=draw(st.sampled_from((100.0, 114.3, 250.0))),
        note=draw(st.sampled_from(["", "half linen", "#"])),
    )


@settings(max_examples=60)
@given(cloths("one"), cloths("two"), cloths("two"))
def test_file_round_trip(first: Cloth, second: Cloth, other: Cloth) -> None:
    text = write_cloth((first, second))
    assert read_cloth(text) == (first, second)
    assert write_cloth((first, second), text) == text
    changed = write_cloth((first, other), text)
    assert read_cloth(changed) == (first, other)
    assert read_cloth(write_cloth((other,), STASH)) == (other,)


_PIECES = st.sampled_from(
    [
        "schema = 1\n",
        "[[cloth]]\nname = 'a'\nwidth = '1 m'\n",
        "[[cloth]]\nname = 'b'\nwidth = '1 m'\n",
        "length = '2 m'\n",
        "shrinkage = { along = '3 %' }\n",
        "shrinkage.along = '3 %'\n",
        "[[cloth.flaws]]\nalong = '1 cm'\nacross = '1 cm'\nradius = '1 cm'\n",
        "flaws = [{along = '1 cm', across = '1 cm', radius = '1 cm'}]\n",
        "[[cloth.remnants]]\noutline = [['0 m', '0 m'], ['1 m', '0 m'], ['1 m', '1 m']]\n",
        "[cloth.repeat_along]\nevery = '1 cm'\n",
        "notes = ''\n",
        "# words\n",
        "cloth = []\n",
        "= 3\n",
        "]",
        "\n",
    ]
)


@settings(max_examples=200)
@given(st.one_of(st.text(max_size=40), st.lists(_PIECES, max_size=8).map("".join)))
@example("schema = 1\n[[cloth]]\nname = 'a'\nwidth = '1 m'\n[cloth.repeat_along]\nevery = '1 cm'\n# end\n")
@example("schema = 1\n[[cloth]]\nname = ' a '\nwidth = '1 m'\n")
def test_no_file_makes_the_reader_crash(text: str) -> None:
    try:
        found = read_cloth(text)
    except BadInput as problem:
        assert "\n" not in str(problem)
        return
    assert read_cloth(write_cloth(found, text)) == found
    changed = (replace(found[0], length=1500.0), *found[1:])
    assert read_cloth(write_cloth(changed, text)) == changed


def test_the_schema_has_every_key_and_is_json() -> None:
    from cutonce.cloth.read_table import KEYS

    schema = json.loads(json.dumps(cloth_schema()))
    entry = schema["properties"]["cloth"]["items"]
    assert tuple(entry["properties"]) == KEYS
    assert entry["required"] == ["name", "width"]
