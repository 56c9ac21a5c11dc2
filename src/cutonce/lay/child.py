"""A process that searches. It is started by `crew` and given tasks on its standard input.

Pickled both ways, between a program and itself: `Task`s come in one by one, `Message`s go out. It leaves at
once when its input ends, so it never outlives the program that started it; on Linux the system sees
to that even where compiled code does not let go of the interpreter.
"""

from __future__ import annotations

import os
import pickle
import queue
import signal
import sys
import threading
from collections.abc import Callable
from types import TracebackType
from typing import BinaryIO

from cutonce.errors import Problem as Trouble
from cutonce.lay.problem import Layout
from cutonce.lay.task import Message, Task


def main() -> None:
    parent = os.getppid()
    _die_with_parent()
    if os.getppid() != parent:
        return
    tasks: queue.Queue[Task] = queue.Queue()
    threading.Thread(target=_read, args=(sys.stdin.buffer, tasks), daemon=True).start()
    told = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what a library prints must not come between the messages
    while True:
        _work(tasks.get(), told)


def _work(task: Task, told: BinaryIO) -> None:
    """One task. A bug in a search ends the process, but its name is told first."""

    def last_words(kind: type[BaseException], value: BaseException, trace: TracebackType | None) -> None:
        _tell(told, Message(task.number, "failed", words=f"{kind.__name__}: {value}"))

    sys.excepthook = last_words
    try:
        _run(task, lambda layout: _tell(told, Message(task.number, "better", layout)))
    except Trouble as trouble:
        _tell(told, Message(task.number, "failed", words=str(trouble)))
    else:
        _tell(told, Message(task.number, "done"))


def _run(task: Task, on_better: Callable[[Layout], None]) -> None:
    match task.engine:
        case "strip":
            from cutonce.lay.strip_search import strip_search

            strip_search(task.problem, task.start, task.seconds, task.seed, on_better, task.workers)
        case "settle":
            from cutonce.lay.settle import settle

            settle(task.problem, task.start, task.seconds, task.seed, on_better)
        case "orders":
            from cutonce.lay.first import other_orders

            other_orders(task.problem, task.start, task.seconds, task.seed, on_better)


def _tell(told: BinaryIO, message: Message) -> None:
    pickle.dump(message, told, pickle.HIGHEST_PROTOCOL)
    told.flush()


def _read(given: BinaryIO, tasks: queue.Queue[Task]) -> None:
    """Tasks as they come; at the end of the input, however it came about, the process ends."""
    try:
        while given.peek(1):  # type: ignore[attr-defined]
            tasks.put(pickle.load(given))
    finally:
        os._exit(0)


def _die_with_parent() -> None:
    if sys.platform == "linux":
        import ctypes

        set_death_signal = 1  # PR_SET_PDEATHSIG of prctl(2)
        ctypes.CDLL(None).prctl(set_death_signal, signal.SIGKILL)
