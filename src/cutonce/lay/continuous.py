"""The continuous way: a block of cloth sewn to a slanting tube and cut round and round into one long strip.

A rectangle `long` by `height`, long not the shorter: a corner is cut off at 45 degrees and sewn to the other
end (first seam, allowance j on both sides), which leaves a parallelogram with two sides on the bias. Lines
one width w apart beside those sides make n whole strips, n = (long - 2 j) / (w sqrt 2) rounded down. The long
sides are sewn together, moved by one line (second seam), so each round is sqrt 2 (height - 2 j) long. A
parallelogram cut as such from the cloth spares the first seam. All of it is arithmetic.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from cutonce.lay.bands import Slot
from cutonce.lay.leftovers import Leftover, block_that_fits
from cutonce.lay.single_strips import least_part
from cutonce.lay.strip_needs import Block, Need

ROOT2 = math.sqrt(2)

_FEWEST_ROUNDS = 3
"""For one or two rounds nobody sews a tube."""


def formula(long: float, height: float, width: float, seam: float = 0.0) -> float:
    """Length by the formula of books, area over width, the seams' allowance `seam` taken off both sides once.

    It counts part of a strip as strip: more than whole strips give.

    >>> formula(20, 20, 2), formula(36, 36, 2), round(formula(22, 22, 3, 0.25), 1)
    (200.0, 648.0, 157.7)
    """
    return (long - seam) * (height - seam) / width


def real(long: float, height: float, width: float, join: float) -> float:
    """Length that a rectangle gives in whole strips, allowances of `join` at both seams taken off.

    >>> round(real(12, 12, 2, 0.25), 1)
    65.1
    """
    if long < height:
        long, height = height, long
    return whole_rounds(long - 2 * join, width) * ROOT2 * max(height - 2 * join, 0.0)


def whole_rounds(long: float, width: float) -> int:
    """How many whole strips lie across a parallelogram with straight sides of that length."""
    return max(int((long + 1e-9) / (width * ROOT2)), 0)


def sides(length: float, width: float, join: float, seams: int = 2) -> Iterator[tuple[int, float, float]]:
    """Blocks that give a strip of that length exactly: rounds, long side, height, from few rounds to many.

    `seams` 2 is a rectangle, whose height is at most its long side; 1 a parallelogram.
    """
    most = max(int(length / least_part(width)), _FEWEST_ROUNDS)
    for rounds in range(_FEWEST_ROUNDS, most + 1):
        long = rounds * width * ROOT2 + (2 * join if seams == 2 else 0.0)
        height = length / (rounds * ROOT2) + 2 * join
        if seams == 1 or height <= long:
            yield rounds, long, height


def square(length: float, width: float, join: float) -> float:
    """Side of the least square that gives the length in whole strips.

    >>> round(square(3000, 40, 6) / 10, 1)
    36.6
    """
    return min(
        max(n * width * ROOT2, length / (n * ROOT2)) + 2 * join
        for n in range(1, max(int(length / width), 1) + 1)
    )


def joins(rounds: int, long: float, height: float, width: float, join: float, seams: int) -> int:
    """Seams across the finished strip: one between rounds, and one in each round that the first seam cuts."""
    if seams == 1:
        return rounds - 1
    untouched = (long - height) / (width * ROOT2)
    return rounds - 1 + rounds - max(math.floor(untouched + 1e-9), 0)


def continuous(
    needs: Sequence[Need], left: Sequence[Leftover], join: float
) -> tuple[tuple[Block, ...], tuple[Need, ...], tuple[Leftover, ...]]:
    """One block for all needs, which are of one width on the bias; where none is large enough one for each.
    The blocks, the needs that found none, and what is left then."""
    block, rest = _block(needs, left, join)
    if block is not None or len(needs) == 1:
        return (block,) if block else (), () if block else tuple(needs), rest
    blocks: list[Block] = []
    unmet: list[Need] = []
    for need in sorted(needs, key=lambda n: (-n.length, n.row, n.copy)):
        block, rest = _block([need], rest, join)
        if block is None:
            unmet.append(need)
        else:
            blocks.append(block)
    return tuple(blocks), tuple(unmet), rest


def _block(
    needs: Sequence[Need], left: Sequence[Leftover], join: float
) -> tuple[Block | None, tuple[Leftover, ...]]:
    """The least block that lies in an area and gives strip for all the needs."""
    width = needs[0].width
    length = sum(n.slanted(join) for n in needs)
    choices = sorted(
        (long * height, seams, rounds, long, height)
        for seams in (1, 2)
        for rounds, long, height in sides(length, width, join, seams)
    )
    for _, seams, rounds, long, height in choices:
        for i, area in enumerate(left):
            slot = _place(area, long, height, seams)
            if slot is not None:
                gives = rounds * ROOT2 * (height - 2 * join)
                count = joins(rounds, long, height, width, join, seams)
                made = Block(
                    slot.ring,
                    area.number,
                    area.layer,
                    long,
                    height,
                    seams,
                    width,
                    rounds,
                    gives,
                    count,
                    tuple(needs),
                )
                return made, (*left[:i], area.without(slot.ring), *left[i + 1 :])
    return None, tuple(left)


def _place(area: Leftover, long: float, height: float, seams: int) -> Slot | None:
    """Where the block lies, a parallelogram leaning either way."""
    for lean in (0,) if seams == 2 else (1, -1):
        slot = block_that_fits(area, long, height, lean)
        if slot is not None:
            return slot
    return None
