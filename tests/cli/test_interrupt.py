"""Ctrl-C once asks, twice ends; afterwards all is as before."""

from __future__ import annotations

import os
import signal
import threading

import pytest

from cutonce.cli.interrupt import asked_to_stop


def test_the_first_asks_and_the_second_ends() -> None:
    before = signal.getsignal(signal.SIGINT)
    with pytest.raises(KeyboardInterrupt), asked_to_stop() as stop:
        assert not stop()
        os.kill(os.getpid(), signal.SIGINT)
        assert stop()
        os.kill(os.getpid(), signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is before


def test_in_another_thread_nobody_can_ask() -> None:
    said: list[bool] = []

    def work() -> None:
        with asked_to_stop() as stop:
            said.append(stop())

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert said == [False]
