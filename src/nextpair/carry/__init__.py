"""From impact to strike and leaves, and the chance of making a spare.

The package answers to its own name as well: `nextpair.carry(impact, seed=7)`.
"""

from __future__ import annotations

import sys
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from nextpair.carry.impacts import CarryOdds
    from nextpair.kernel.outcome import Impact


class _CallablePackage(ModuleType):
    """Importing any module of a package binds the package's name in its parent, so a function
    of that name there would vanish. The package itself takes the call instead."""

    def __call__(self, impact: Impact, **options: Any) -> CarryOdds:
        """Strike chance and leaves of each impact: see nextpair.carry.impacts.carry_of."""
        from nextpair.carry.impacts import carry_of

        return carry_of(impact, **options)


sys.modules[__name__].__class__ = _CallablePackage
