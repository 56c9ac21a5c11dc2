"""The lay in figures: the table to lay the pieces by, how to lay them, and what there is to say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from cutonce.geometry.motion import Point, shifting
from cutonce.lay.plan import Plan
from cutonce.sheets.drawing import Fill, Item, Text, circle, double_arrow, line, moved
from cutonce.sheets.key import depth, paragraph
from cutonce.sheets.lay_measures import (
    Measured,
    TapeUnit,
    beside_the_middle,
    by_tape,
    fold_of,
    paper_words,
    remnant_of,
)
from cutonce.sheets.lay_strips import Strip, strip_words
from cutonce.sheets.pens import Pen
from cutonce.sheets.table import Column, Table, TableRow

TABLE_MM = 194.0
"""Width of the table: that of an upright page within its margins."""

LAY_CAUTIONS = (
    "Shears, rotary cutters and pins are sharp, irons burn, weights fall: cut away from yourself, count the "
    "pins, keep fingers, children and pets clear. Follow each maker's instructions and your local rules."
)

_WORDS_MM = 2.9
_KEY_ROW_MM = 5.0


def lay_table(plan: Plan, rows: Sequence[Measured], unit: TapeUnit) -> Table:
    """A row a piece in cutting order, with two lines: where either end of its grain arrow lies."""
    columns = (
        Column("No.", 9.0),
        Column("Piece", 43.0),
        Column("Cut", 30.0),
        Column("Paper", 20.0),
        Column("Arrow's end", 25.0),
        Column(f"From the cut end, {unit}", 23.0, "end"),
        Column("", 4.0),
        Column(f"From the edge named, {unit}", 40.0),
    )
    several = len(plan.sections) > 1
    return Table(columns, tuple(_row(plan, row, unit, several) for row in rows))


def _row(plan: Plan, row: Measured, unit: TapeUnit, several: bool) -> TableRow:
    section = plan.sections[row.laid.section]
    piece = f"{row.title}\n({section.name})" if several else row.title
    lead = "left end: " if remnant_of(plan, section) is not None else ""
    ends = row.ends
    return TableRow(
        (
            str(row.laid.number),
            piece,
            row.cut,
            row.paper,
            "\n".join(e.name for e in ends) or "no arrow",
            "\n".join(f"{lead}{by_tape(e.from_cut_end, unit)}" for e in ends),
            "",
            "\n".join(f"{by_tape(e.from_edge, unit)} from {e.edge.name}" for e in ends),
        )
    )


def lay_steps(plan: Plan, unit: TapeUnit) -> tuple[str, ...]:
    """How to lay the pieces, in order; only what this lay needs."""
    steps = [
        "Press the cloth. Make its cut end straight and square to the selvedge: lengths are measured from "
        "it.",
        *_ways(plan, unit),
        "Lay each piece so that both ends of its grain arrow lie where the table says: so far from the cut "
        "end, so far from the edge named. Measure square to them.",
    ]
    if any(remnant_of(plan, s) is not None for s in plan.sections):
        steps.append(
            "A remnant lies with its warp as the cloth's. Measure from a line square to the warp at its left "
            "end, and from a line along the warp at its near edge, where that reaches furthest."
        )
    papers = {paper_words(laid) for laid in plan.laid}
    if "face down" in papers:
        steps.append("Face down: turn the paper over, print to the cloth.")
    if "opened out" in papers:
        steps.append(
            "Opened out: the paper is one half. Draw round it, turn it over along its fold line, draw round "
            "the other half."
        )
    if any(laid.on_fold for laid in plan.laid):
        steps.append(
            "On the fold: the paper's fold line lies exactly on the fold of the cloth and is not cut."
        )
    if any(m.spots for m in plan.matched):
        steps.append("Filled diamonds mark the places where the pattern is to run on over a seam.")
    steps.append("Lay every piece before the first is cut. Then pin or weight them, and cut by the numbers.")
    return tuple(steps)


def _ways(plan: Plan, unit: TapeUnit) -> list[str]:
    """How the cloth lies, a sentence for each way that is used."""
    words = {
        "open": "Lay the cloth in a single layer, right side up, the cut end to your left. The near "
        "selvedge is the one towards you.",
        "folded lengthwise": "Fold the cloth lengthwise, right sides together, selvedge on selvedge, the "
        "fold towards you and the cut end to your left.",
        "folded crosswise": "Fold the cloth crosswise, right sides together, with the fold to your right. "
        "The near selvedges are those towards you.",
    }
    for section in plan.sections:
        if beside_the_middle(plan, section):
            by = by_tape(fold_of(plan, section), unit)
            words["folded lengthwise"] = (
                "Fold the cloth lengthwise, right sides together, along the middle of the stripe that lies "
                f"{by} {unit} from the near selvedge, stripe on stripe, the fold towards you and the cut "
                "end to your left."
            )
    ways = [way for way, _ in groupby(s.way for s in plan.sections)]
    if len(ways) == 1:
        return [words[ways[0]]]
    return [f"{s.name[:1].upper()}{s.name[1:]}: {words[s.way]}" for s in plan.sections]


def lay_findings(plan: Plan, notes: Sequence[str]) -> tuple[str, ...]:
    """What there is to say: the notes given, findings, each seam whose pattern does or does not run on."""
    said = [*notes]
    for finding in plan.findings:
        hint = f" ({finding.hint})" if finding.hint else ""
        where = f"{finding.where}: " if finding.where else ""
        said.append(f"{_SEVERITY[finding.severity]}{where}{finding.message}{hint}")
    told = {f.where for f in plan.findings if f.code == "not-matched"}
    for m in plan.matched:
        if m.matched:
            said.append(f"Pattern matched: {m.seam} at {m.notch}.")
        elif m.seam not in told:
            off = " and ".join(
                f"{abs(mm):.0f} mm {way}"
                for mm, way in ((m.off_along, "along"), (m.off_across, "across"))
                if mm
            )
            said.append(
                f"NOT matched: {m.seam} at {m.notch}, off by {off or '0 mm'}{f': {m.why}' if m.why else ''}."
            )
    return tuple(said)


_SEVERITY = {"stop": "STOP. ", "warning": "Warning. ", "note": ""}


@dataclass(frozen=True, slots=True)
class Block:
    """Items that stay together, from their upper left corner 0 downwards, and how deep they are."""

    items: tuple[Item, ...]
    depth: float

    def at(self, corner: Point) -> list[Item]:
        """The items with their upper left corner at a place."""
        return [moved(i, shifting(corner)) for i in self.items]


def lay_words(
    plan: Plan, notes: Sequence[str], room: float, strips: Sequence[Strip] = (), unit: TapeUnit = "cm"
) -> tuple[Block, ...]:
    """All that is said beside the table, in blocks `room` wide: what to heed, how to lay it, strips, the
    key."""
    steps = [f"{n}.  {words}" for n, words in enumerate(lay_steps(plan, unit), start=1)]
    said = _section("Before you cut", lay_findings(plan, notes), room)
    listed = _section("Strips from what is left over", strip_words(strips, unit), room)
    return (*said, *_section("How to lay it", steps, room), *listed, lay_key(plan, room))


def _section(title: str, said: Sequence[str], room: float) -> Iterator[Block]:
    """Paragraphs, the heading over the first one, more room below the last."""
    for n, words in enumerate(said):
        rows = paragraph(words, 0j if n else -5.4j, room, _WORDS_MM)
        head = () if n else (Text(-3.2j, title, 3.2, bold=True),)
        extra = (0.0 if n else 5.4) + (2.8 if n == len(said) - 1 else 0.8)
        yield Block((*head, *rows), depth(rows) + extra)


def lay_key(plan: Plan, room: float) -> Block:
    """Samples of the lines of this lay with their meaning, in columns."""
    samples = tuple(_samples(plan))
    columns = max(1, int(room / 62.0))
    items: list[Item] = []
    for i, (words, make) in enumerate(samples):
        row, column = divmod(i, columns)
        middle = 62.0 * column - 1j * (row + 0.5) * _KEY_ROW_MM
        items += [moved(item, shifting(middle)) for item in make]
        items.append(Text(middle + 16 - 1j, words, _WORDS_MM))
    return Block(tuple(items), ((len(samples) - 1) // columns + 1) * _KEY_ROW_MM)


def _samples(plan: Plan) -> Iterator[tuple[str, tuple[Item, ...]]]:
    cloth = plan.cloth
    yield "cut here", _straight(Pen.PIECE)
    if any(s.way != "open" for s in plan.sections):
        yield "fold of the cloth", _straight(Pen.FOLD)
    yield "grain arrow of a piece", double_arrow(0j, 13 + 0j, Pen.MEASURE, 2.2)
    if cloth.usable < cloth.width:
        yield "beyond it the selvedge, not used", _straight(Pen.SELVEDGE)
    yield "length needed", _straight(Pen.END)
    if cloth.length is not None:
        yield "end of the cloth at hand", _straight(Pen.CUT)
    if cloth.flaws:
        yield "flaw, keep clear", (circle(6.5 + 0j, 1.7, Pen.FLAW),)
    if plan.left:
        places = (0.0, 2.4, 4.8, 7.2, 9.6)
        yield "left over", tuple(line(complex(x, -1.4), complex(x + 2.8, 1.4), Pen.HATCH) for x in places)
    if any(m.spots for m in plan.matched):
        yield "pattern matched here", (Fill((5.5 + 0j, 6.5 - 1j, 7.5 + 0j, 6.5 + 1j)),)


def _straight(pen: Pen) -> tuple[Item, ...]:
    return (line(0j, 13 + 0j, pen),)


def flowed(blocks: Sequence[Block], corner: Point, foot: float) -> list[list[Item]]:
    """Blocks one below the other from a corner, on a new page where they would pass the foot."""
    pages: list[list[Item]] = [[]]
    y = corner.imag
    for block in blocks:
        if y - block.depth < foot and pages[-1]:
            pages.append([])
            y = corner.imag
        pages[-1] += block.at(complex(corner.real, y))
        y -= block.depth
    return pages
