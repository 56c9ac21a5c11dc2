"""Price and weight of cloth as she types them: "18.50 EUR per m", "180 g/m2", "16 momme", "5 oz/yd2"."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Final, Literal

from cutonce.cloth.cloth import Price
from cutonce.errors import BadInput, quoted
from cutonce.units import scan

GRAMS_PER_MOMME: Final = 4.340
"""g/m2 of one momme, the silk trade's weight (several silk sellers' notes)."""

GRAMS_PER_OUNCE: Final = 33.906
"""g/m2 of one ounce a square yard (28.3495 g / 0.836127 m2)."""

HEAVIEST: Final = 5000.0
"""g/m2, far above any cloth: leather for soles weighs as much (common practice)."""

SOLD_BY: Final[dict[Literal["m", "yd"], float]] = {"m": 100.0, "yd": 914.4 / 8}
"""mm: a shop's usual smallest step, 10 cm or an eighth of a yard (common practice)."""

_PER: dict[str, Literal["m", "yd"]] = {
    **dict.fromkeys(("m", "metre", "meter"), "m"),
    **dict.fromkeys(("yd", "yard"), "yd"),
}
_CURRENCY = r"(?:[^\W\d_]{2,12}|[€£$¥₹])"
_PRICE = re.compile(
    rf"\s*(?P<before>{_CURRENCY})?\s*(?P<amount>[0-9]{{1,9}}(?:[.,][0-9]{{1,4}})?)\s*(?P<after>{_CURRENCY})?"
    r"\s*(?:\bper\b|\ba\b|/)\s*(?P<per>[^\W\d_]+)\s*"
)
_PRICE_HINT = 'write "18.50 EUR per m" or "12 GBP per yd"'

_WEIGHTS: dict[str, float] = {
    **dict.fromkeys(("g/m2", "g/m²", "gsm"), 1.0),
    **dict.fromkeys(("momme",), GRAMS_PER_MOMME),
    **dict.fromkeys(("oz/yd2", "oz/yd²"), GRAMS_PER_OUNCE),
}
_WEIGHT_HINT = 'write "180 g/m2", "16 momme" or "5 oz/yd2"'


def read_price(text: object, where: str = "") -> Price:
    """What a metre or a yard costs. Raises BadInput: not-a-price, ambiguous-comma.

    >>> read_price("18.50 EUR per m")
    Price(amount=Decimal('18.50'), per='m', currency='EUR')
    >>> read_price("£12 / yard").per
    'yd'
    """
    found = _PRICE.fullmatch(text) if isinstance(text, str) else None
    if found is None or bool(found["before"]) == bool(found["after"]):
        raise BadInput("not-a-price", where, f"{quoted(text)} is not a price", _PRICE_HINT)
    per = _PER.get(found["per"].lower())
    if per is None:
        message = f"{quoted(text)} is a price per {quoted(found['per'])}"
        raise BadInput("not-a-price", where, message, "cloth is sold per m or per yd")
    if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", found["amount"]):
        message = f"{quoted(found['amount'])} may mean a thousand or a part"
        raise BadInput("ambiguous-comma", where, message, "use a decimal point, and no comma for thousands")
    currency = found["before"] or found["after"]
    return Price(Decimal(found["amount"].replace(",", ".")), per, currency)


def price_text(price: Price) -> str:
    """The price as `read_price` reads it.

    >>> price_text(Price(Decimal("18.50"), "m", "EUR"))
    '18.50 EUR per m'
    """
    return f"{price.amount:f} {price.currency} per {price.per}"


def read_weight(text: object, where: str = "") -> float:
    """Weight of cloth in g/m2. Raises BadInput: not-a-weight, out-of-range.

    >>> read_weight("180 g/m2"), round(read_weight("16 momme"), 1), round(read_weight("8 oz/yd2"))
    (180.0, 69.4, 271)
    """
    found = re.fullmatch(r"([0-9 .,/]+?)\s*([^\W\d].*?)\s*", text) if isinstance(text, str) else None
    factor = _WEIGHTS.get(found[2].lower()) if found else None
    number = scan(found[1], 0, where) if found and factor else None
    if found is None or factor is None or number is None or found[1][number.end :].strip():
        raise BadInput("not-a-weight", where, f"{quoted(text)} is not a weight of cloth", _WEIGHT_HINT)
    weight = number.value * factor
    if not 0 < weight <= HEAVIEST:
        raise BadInput("out-of-range", where, f"{quoted(text)} is no weight that a cloth has", _WEIGHT_HINT)
    return weight


def weight_text(weight: float) -> str:
    """A weight in g/m2 as `read_weight` reads it.

    >>> weight_text(69.44)
    '69.44 g/m2'
    """
    return f"{weight:.3f}".rstrip("0").rstrip(".") + " g/m2"
