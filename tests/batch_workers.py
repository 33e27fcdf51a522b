"""What workers of a batch do in tests; found in their processes by its name."""

from __future__ import annotations

import os

from nextpair.application.batch import Finished, Job, State


def steady(job: Job) -> Finished:
    """The event's name."""
    return Finished(State.DONE, {"name": job.event.name.encode()}, 0.0, "m")


def dying(job: Job) -> Finished:
    """The end of the process where the event asks for it."""
    if job.event.name == "dies":
        os._exit(9)
    return steady(job)
