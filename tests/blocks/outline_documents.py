"""Documents of typed points for the tests: the worked example, a square, and changes to it."""

import copy
from collections.abc import Callable
from importlib import resources
from typing import Any

from cutonce.blocks.outline import outline_block, read_outline
from cutonce.draft.draft import Draft
from cutonce.errors import Finding

EXAMPLE = resources.files("cutonce.blocks").joinpath("outline-example.toml").read_text("utf-8")

SQUARE: dict[str, Any] = {
    "schema": 1,
    "pieces": [
        {
            "name": "front",
            "cut": "fold",
            "points": {
                "1": {"x": "0 cm", "y": "0 cm"},
                "2": {"right": "30 cm"},
                "3": {"up": "40 cm"},
                "4": {"left": "30 cm"},
            },
            "edges": [
                {"name": "hem", "role": "hem", "points": [1, 2]},
                {"name": "side", "role": "side", "points": [2, 3]},
                {"name": "waist", "role": "waist", "points": [3, 4]},
                {"name": "centre front", "role": "centre front", "points": [4, 1]},
            ],
        }
    ],
}


def drawn(document: dict[str, Any]) -> tuple[Draft, tuple[Finding, ...]]:
    return outline_block(read_outline(document, {"hip_girth": 960.0}, "block.toml"), "block.toml")


def changed(change: Callable[[dict[str, Any]], object]) -> dict[str, Any]:
    """The square with its piece changed."""
    document = copy.deepcopy(SQUARE)
    change(document["pieces"][0])
    return document


def set_edge(i: int, **values: object) -> Callable[[dict[str, Any]], object]:
    return lambda piece: piece["edges"][i].update(values)


def set_point(name: str, **values: object) -> Callable[[dict[str, Any]], object]:
    return lambda piece: piece["points"].update({name: values})


def dart(**values: object) -> Callable[[dict[str, Any]], object]:
    def add(piece: dict[str, Any]) -> None:
        piece["points"].update(
            {
                "5": {"x": "30 cm", "y": "10 cm"},
                "6": {"up": "2 cm"},
                "7": {"x": "20 cm", "y": "11 cm"},
            }
        )
        piece["edges"][1]["points"] = [2, 5, 6, 3]
        piece["darts"] = [{"name": "side dart", "mouth": [5, 6], "point": 7, **values}]

    return add
