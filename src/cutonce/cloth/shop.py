"""From a length needed to a length bought: the shop's step, what it costs, what the wash takes.

Money is `Decimal` throughout: no float ever touches an amount.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Final, Literal

from cutonce.cloth.cloth import Cloth
from cutonce.units import MM_PER_UNIT

ShopUnit = Literal["m", "yd"]

_SLACK: Final = 1e-6
"""Part of a step that a length may be over: rounding of figures, not cloth."""

_CENT: Final = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Purchase:
    """What to ask for in the shop: `steps` of its smallest length, in all `length` mm.

    `cost` is None where the cloth has no price; `washed` is what is left of it after the first wash.
    """

    steps: int
    length: float
    unit: ShopUnit
    cost: Decimal | None
    currency: str
    washed: float

    @property
    def words(self) -> str:
        """ "2.7 m" or "2 5/8 yd"."""
        return shop_words(self.length, self.unit)

    @property
    def cost_words(self) -> str:
        """ "49.95 EUR"; "" where no price is known."""
        return "" if self.cost is None else f"{self.cost} {self.currency}"


def to_buy(cloth: Cloth, needed: float) -> Purchase:
    """What to buy for a lay `needed` mm long on the cloth as it is sold, unwashed: rounded up to whole steps.

    >>> lawn = Cloth("lawn", 1400.0, 1380.0)
    >>> to_buy(lawn, 2610.0).words, to_buy(lawn, 2600.0).words
    ('2.7 m', '2.6 m')
    """
    steps = max(0, math.ceil(needed / cloth.sold_by - _SLACK))
    long = steps * cloth.sold_by
    cost = None
    if cloth.price is not None:
        unit = Decimal(str(MM_PER_UNIT[cloth.price.per]))
        exact = cloth.price.amount * steps * Decimal(f"{cloth.sold_by:.6f}") / unit
        cost = exact.quantize(_CENT, ROUND_HALF_UP)
    currency = cloth.price.currency if cloth.price else ""
    return Purchase(steps, long, shop_unit(cloth), cost, currency, after_wash(long, cloth.shrink_along))


def whole_steps(cloth: Cloth, spare: float) -> str:
    """What is left over, in whole steps of the shop, rounded down; "" where it is less than one.

    >>> whole_steps(Cloth("lawn", 1400.0, 1380.0), 876.0)
    '0.8 m'
    """
    steps = math.floor(spare / cloth.sold_by + _SLACK)
    return shop_words(steps * cloth.sold_by, shop_unit(cloth)) if steps > 0 else ""


def shop_unit(cloth: Cloth) -> ShopUnit:
    """The unit the shop sells by: that of the price; else yards where its step divides a yard and no metre.

    >>> shop_unit(Cloth("lawn", 1400.0, 1380.0, sold_by=114.3))
    'yd'
    """
    if cloth.price is not None:
        return cloth.price.per
    return "yd" if _divides(cloth.sold_by, "yd") and not _divides(cloth.sold_by, "m") else "m"


def _divides(step: float, unit: ShopUnit) -> bool:
    parts = MM_PER_UNIT[unit] / step
    return abs(parts - round(parts)) < _SLACK * parts


def shop_words(mm: float, unit: ShopUnit) -> str:
    """A length as it is asked for: metres to the centimetre, yards in eighths where they are eighths.

    >>> shop_words(2700.0, "m"), shop_words(2400.3, "yd"), shop_words(342.9, "yd"), shop_words(1000.0, "yd")
    ('2.7 m', '2 5/8 yd', '3/8 yd', '1.09 yd')
    """
    parts = mm / MM_PER_UNIT[unit]
    eighths = round(8 * parts)
    if unit == "yd" and abs(8 * parts - eighths) < 1e-4:
        whole, part = divmod(eighths, 8)
        common = math.gcd(part, 8)
        fraction = f"{part // common}/{8 // common}" if part else ""
        return " ".join(word for word in (str(whole) if whole or not part else "", fraction, unit) if word)
    return f"{parts:.2f}".rstrip("0").rstrip(".") + f" {unit}"


def before_wash(finished: float, shrink: float) -> float:
    """What must be cut, or bought, to have `finished` after the wash: finished / (1 - s).

    >>> round(before_wash(100.0, 0.05), 2)
    105.26
    """
    return finished / (1 - shrink)


def after_wash(bought: float, shrink: float) -> float:
    """What the wash leaves.

    >>> round(after_wash(105.263158, 0.05), 3)
    100.0
    """
    return bought * (1 - shrink)
