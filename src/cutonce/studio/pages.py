"""Pages of the documentation that are made from the program: `make docs`. A test fails where one is stale."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from cutonce.body import body_schema
from cutonce.body.terms import reference as measures_page
from cutonce.cloth.schema import cloth_schema
from cutonce.recipe.schema import design_schema
from cutonce.studio.draft_file import DraftFile
from cutonce.studio.lay_file import LayFile
from cutonce.studio.reference import steps_page


def pages() -> dict[str, str]:
    """File name in docs/ to its text."""
    return {
        "steps.md": steps_page(),
        "measures.md": measures_page(),
        "body.schema.json": _json(body_schema()),
        "cloth.schema.json": _json(cloth_schema()),
        "design.schema.json": _json(design_schema()),
        "lay.schema.json": _json(LayFile.model_json_schema(by_alias=True)),
        "draft.schema.json": _json(DraftFile.model_json_schema(by_alias=True)),
    }


def _json(schema: object) -> str:
    return json.dumps(schema, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    for name, text in pages().items():
        (Path(sys.argv[1]) / name).write_text(text, encoding="utf-8")
