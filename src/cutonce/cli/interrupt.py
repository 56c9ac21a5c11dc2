"""Ctrl-C during a search: the first asks it to stop and keep its best, the second ends the program."""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType


@contextmanager
def asked_to_stop() -> Iterator[Callable[[], bool]]:
    """A question to ask again and again: has she asked to stop? Outside the main thread nobody can ask."""
    asked = threading.Event()

    def ask(number: int, frame: FrameType | None) -> None:
        if asked.is_set():
            raise KeyboardInterrupt
        asked.set()

    if threading.current_thread() is not threading.main_thread():
        yield asked.is_set
        return
    before = signal.signal(signal.SIGINT, ask)
    try:
        yield asked.is_set
    finally:
        signal.signal(signal.SIGINT, before)
