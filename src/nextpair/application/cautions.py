"""What every sheet says where something can hurt: short, and deferring to those who know."""

from __future__ import annotations

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
    "Six balls of 15 lb weigh 41 kg before the bag itself. Roll the bag, lift with your legs, "
    "and ask for help on stairs."
)

ALWAYS = (ESTIMATES, PAIN, SLIPPING)
HEAVY_BAG_BALLS = 3
"""From this many balls on, the sheet adds the word on heavy bags."""


def cautions_for(balls: int, surface_work: bool) -> tuple[str, ...]:
    """The cautions of a sheet whose bag holds `balls`, with or without surfaces to change."""
    return (
        *ALWAYS,
        *((SANDING,) if surface_work else ()),
        *((HEAVY_BAGS,) if balls >= HEAVY_BAG_BALLS else ()),
    )
