"""Child processes that search, and what they tell. Leaving the `with` ends them all, at once.

A child that dies, for whatever reason, is told of as a failed task; nothing of it reaches the screen.
"""

from __future__ import annotations

import os
import pickle
import queue
import subprocess
import sys
import threading
from dataclasses import dataclass, field
from pathlib import Path
from types import TracebackType

from cutonce.lay.task import Message, Task

BEGIN = "import sys; sys.path.append(sys.argv[1]); from cutonce.lay.child import main; main()"
"""Begun so, and with -P, a child finds this package wherever it is, and nothing by chance in her folder."""


@dataclass(slots=True)
class _Child:
    """A process with the threads that write to and read from it; `at` is the task that it works on."""

    process: subprocess.Popen[bytes]
    outbox: queue.Queue[Task | None] = field(default_factory=queue.Queue)
    threads: list[threading.Thread] = field(default_factory=list)
    at: int | None = None


class Crew:
    """Children, each at one task at a time. To be used in a `with`."""

    def __init__(self) -> None:
        self._children: dict[int, _Child] = {}
        self._told: queue.Queue[tuple[int, Message | None]] = queue.Queue()

    def __enter__(self) -> Crew:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        for child in self._children.values():
            child.process.kill()
        for child in self._children.values():
            child.process.wait()
            child.outbox.put(None)
            for thread in child.threads:
                thread.join()
        self._children.clear()

    def hire(self) -> int:
        """Start one more child; its name."""
        name = len(self._children)
        child = _Child(
            subprocess.Popen(
                [sys.executable, "-P", "-c", BEGIN, str(Path(__file__).resolve().parents[2])],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                env=_environment(),
                start_new_session=True,  # the terminal's Ctrl-C is for the program that started them
            )
        )
        child.threads = [
            threading.Thread(target=_write, args=(child.process, child.outbox), daemon=True),
            threading.Thread(target=self._listen, args=(name, child.process), daemon=True),
        ]
        self._children[name] = child
        for thread in child.threads:
            thread.start()
        return name

    def here(self, name: int) -> bool:
        """Whether that child still runs."""
        return self._children[name].process.poll() is None

    def give(self, name: int, task: Task) -> None:
        """Give a child, which has none, its next task. Where it is gone, that is told as a failure."""
        child = self._children[name]
        child.at = task.number
        if child.process.poll() is None:
            child.outbox.put(task)
        else:
            self._told.put((name, None))

    def told(self, wait: float) -> list[tuple[int, Message]]:
        """What children have told, oldest first, by name; waits up to `wait` seconds for the first."""
        heard: list[tuple[int, Message]] = []
        try:
            name, message = self._told.get(timeout=max(0.0, wait))
            while True:
                heard += self._understood(name, message)
                name, message = self._told.get_nowait()
        except queue.Empty:
            return heard

    def _understood(self, name: int, message: Message | None) -> list[tuple[int, Message]]:
        """Nothing heard any more while a child was at a task: that task has failed."""
        child = self._children[name]
        at = child.at
        if message is None or message.kind != "better":
            child.at = None
        if message is not None:
            return [(name, message)]
        return [] if at is None else [(name, Message(at, "failed", words="a search ended before its time"))]

    def _listen(self, name: int, process: subprocess.Popen[bytes]) -> None:
        stream = process.stdout
        if stream is None:
            return
        with stream:
            while True:
                try:
                    message: Message = pickle.load(stream)
                except (EOFError, pickle.UnpicklingError):
                    break  # ended, perhaps in the middle of a word
                self._told.put((name, message))
        self._told.put((name, None))


def _write(process: subprocess.Popen[bytes], outbox: queue.Queue[Task | None]) -> None:
    """Tasks to a child, in a thread of its own: one that has just been started does not listen yet."""
    stream = process.stdin
    if stream is None:
        return
    try:
        with stream:
            while (task := outbox.get()) is not None:
                stream.write(pickle.dumps(task, pickle.HIGHEST_PROTOCOL))
                stream.flush()
    except BrokenPipeError:
        return  # the child is gone, which is heard on the other side


def _environment() -> dict[str, str]:
    """This program's, with one thread each for libraries of numbers: the cores are the children's."""
    names = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "NUMBA_NUM_THREADS")
    return {**os.environ, **dict.fromkeys(names, "1")}
