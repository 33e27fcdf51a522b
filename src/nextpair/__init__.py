"""nextpair plans a ten-pin tournament: every pair of lanes as it will be when you get there.

The public names load when they are first used; importing the package costs next to nothing.
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from nextpair.api import (
        CarryOdds,
        Releases,
        carry,
        load_event,
        load_pattern,
        load_shots,
        plan,
        read,
        roll,
    )

__version__ = "0.1.0"

__all__ = [
    "CarryOdds",
    "Releases",
    "carry",
    "load_event",
    "load_pattern",
    "load_shots",
    "plan",
    "read",
    "roll",
]


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from nextpair import api

    return getattr(api, name)
