"""Cutonce: from a wanted design and one body's measures to a proven sewing pattern on full-size paper.

The package in five lines: see the README. Names below are loaded when they are first used, so that importing
the package costs nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from cutonce.studio.inputs import read_cloth, read_design
    from cutonce.studio.inputs import read_one_body as read_body
    from cutonce.studio.lay import lay_design
    from cutonce.studio.lay_results import write_lay_files as write_lay
    from cutonce.studio.make import write_results
    from cutonce.studio.prove import prove

_HOMES = {
    "lay_design": ("cutonce.studio.lay", "lay_design"),
    "prove": ("cutonce.studio.prove", "prove"),
    "read_body": ("cutonce.studio.inputs", "read_one_body"),
    "read_cloth": ("cutonce.studio.inputs", "read_cloth"),
    "read_design": ("cutonce.studio.inputs", "read_design"),
    "write_lay": ("cutonce.studio.lay_results", "write_lay_files"),
    "write_results": ("cutonce.studio.make", "write_results"),
}

__all__ = ["lay_design", "prove", "read_body", "read_cloth", "read_design", "write_lay", "write_results"]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'cutonce' has no attribute '{name}'")
    module, attribute = _HOMES[name]
    return getattr(import_module(module), attribute)
