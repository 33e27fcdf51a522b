"""Ctrl+C is put off, and never lost."""

from __future__ import annotations

import os
import signal
import sys
import time
from threading import Thread

import pytest

from nextpair.application.interruption import interrupt_again, unbroken

pytestmark = pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")


def test_ctrl_c_waits_until_what_is_within_is_done():
    steps = []

    def interrupted():
        with unbroken():
            with unbroken():
                os.kill(os.getpid(), signal.SIGINT)
                steps.append("inner")
            steps.append("outer")
        steps.append("never")

    with pytest.raises(KeyboardInterrupt):
        interrupted()
    assert steps == ["inner", "outer"]
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def test_another_thread_changes_nothing():
    heard = []

    def within():
        with unbroken():
            heard.append(signal.getsignal(signal.SIGINT))

    thread = Thread(target=within)
    thread.start()
    thread.join()
    assert heard == [signal.default_int_handler]


def test_ctrl_c_that_code_ignores_comes_again(monkeypatch):
    class Deaf:
        """No exception leaves `__del__`."""

        def __del__(self):
            deaf.append(True)
            signal.raise_signal(signal.SIGINT)
            deaf.append(False)

    def interrupted():
        Deaf()
        deaf.append(None)
        time.sleep(10)

    deaf = []
    monkeypatch.setattr(sys, "unraisablehook", interrupt_again)
    with pytest.raises(KeyboardInterrupt):
        interrupted()
    assert deaf == [True, None]


def test_what_else_is_ignored_is_told_as_ever(monkeypatch):
    class Broken:
        def __del__(self):
            raise OSError("lost")

    told = []
    monkeypatch.setattr(sys, "unraisablehook", interrupt_again)
    monkeypatch.setattr(sys, "__unraisablehook__", told.append)
    Broken()
    assert [one.exc_type for one in told] == [OSError]
