"""What every sheet says where something can hurt: short, and deferring to those who know."""

from __future__ import annotations

from nextpair.domain.house import Pinfall

ESTIMATES = (
    "Boards, odds and scores are estimates from a model of lane, ball and bowler. "
    "Believe what you see on the lane before what you read here."
)
PAIN = (
    "Pain, or a brace you are unsure about: stop and ask a doctor or physiotherapist. "
    "Then ask the event's rules what you may wear."
)
SANDING = (
    "Sand or polish a ball only when and where the event's rules allow. Wear a mask and glasses, "
    "catch the dust, and keep fingers, hair and sleeves clear of a spinner."
)
SLIPPING = (
    "Wet or sticky soles stop or slip without warning. Keep shoes off wet floors, dry or change "
    "the sole, and try a slide without a ball before the first shot."
)
HEAVY_BAGS = (
    "Three balls of 15 lb weigh 20 kg, six weigh 41 kg, before the bag itself. Roll the bag, lift "
    "with your legs, and ask for help on stairs."
)

STRINGS = (
    "Pins on strings: strikes are those of free pins less 7 in 100 of them, as published tests "
    "lost. Which pins stay, and how spares fall, is told as of free pins: on strings both differ."
)

RELEASE_CHANGES = (
    "Another speed or hand is for those who have practised it: take it in small steps, force "
    "neither wrist, elbow nor knee, and stop when something hurts. What it gains takes you to "
    "scatter a little more by it; you may scatter much more."
)

BELOW_AVERAGE_PINS = 10.0
"""From this far below the bowler's average on, the sheet says why."""

ALWAYS = (ESTIMATES, PAIN, SLIPPING)
HEAVY_BAG_BALLS = 3
"""From this many balls on, the sheet adds the word on heavy bags."""


def cautions_for(
    balls: int,
    surface_work: bool,
    pinfall: Pinfall = Pinfall.FREE,
    *,
    release_changes: bool = False,
) -> tuple[str, ...]:
    """The cautions of a sheet whose bag holds `balls`, with or without surfaces to change or
    changes of release."""
    return (
        *ALWAYS,
        *((RELEASE_CHANGES,) if release_changes else ()),
        *shot_cautions(surface_work, pinfall),
        *((HEAVY_BAGS,) if balls >= HEAVY_BAG_BALLS else ()),
    )


def shot_cautions(surface_work: bool, pinfall: Pinfall) -> tuple[str, ...]:
    """The cautions of a single shot, with or without a surface to put on first."""
    return (
        *((STRINGS,) if pinfall is Pinfall.STRING else ()),
        *((SANDING,) if surface_work else ()),
    )


def score_caution(average: float, expected: float) -> str | None:
    """What to make of expected scores well below one's average; None where they are not.

    Source: [facts] section 4: averages on sport patterns are typically 20 and more pins lower.
    """
    if expected > average - BELOW_AVERAGE_PINS:
        return None
    return (
        f"These games are expected at {expected:.0f}, your average is {average:.0f}. Flat "
        "patterns take 20 pins and more, and the odds are the model's, not yet fitted to your "
        "scores: read a low score against the field."
    )
