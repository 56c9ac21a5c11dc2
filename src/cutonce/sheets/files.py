"""Writing a file whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path


def write_beside(path: str | os.PathLike[str], data: bytes) -> None:
    """Write a file beside its place, then rename: a reader sees the old file or the whole new one."""
    target = Path(path)
    beside = target.with_name(f".{target.name}.part")
    try:
        beside.write_bytes(data)
        os.replace(beside, target)
    finally:
        beside.unlink(missing_ok=True)
