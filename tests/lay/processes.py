"""Processes as the system lists them: none may be left."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

PROC = Path("/proc")

needs_proc = pytest.mark.skipif(not (PROC / "self" / "stat").exists(), reason="no /proc to look at")


def children(of: int | None = None) -> set[int]:
    """The processes that this one, or the one given, has started and that are still there."""
    parent = of or os.getpid()
    found = set()
    for folder in PROC.iterdir():
        if folder.name.isdigit():
            try:
                fields = (folder / "stat").read_text().rpartition(")")[2].split()
            except (FileNotFoundError, ProcessLookupError):
                continue
            if int(fields[1]) == parent and fields[0] != "Z":
                found.add(int(folder.name))
    return found


def alive(pid: int) -> bool:
    try:
        return (PROC / str(pid) / "stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except (FileNotFoundError, ProcessLookupError):
        return False


def gone(pids: set[int], within: float = 20.0) -> bool:
    """Whether all of them have ended, looked at until `within` seconds are over."""
    until = time.monotonic() + within
    while any(alive(pid) for pid in pids):
        if time.monotonic() > until:
            return False
        time.sleep(0.02)
    return True
