"""checks.json: every finding, and how many of each severity."""

from __future__ import annotations

from typing import Any

from cutonce.errors import Finding
from cutonce.studio.draft_file import finding_file

SCHEMA = 1


def findings_file(findings: tuple[Finding, ...]) -> dict[str, Any]:
    """The findings as a plain document: `stops`, `warnings`, `notes` are counts."""
    count = {s: sum(f.severity == s for f in findings) for s in ("stop", "warning", "note")}
    return {
        "schema": SCHEMA,
        "stops": count["stop"],
        "warnings": count["warning"],
        "notes": count["note"],
        "findings": [finding_file(f).model_dump() for f in findings],
    }
