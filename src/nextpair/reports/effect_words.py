"""What could change about a shot, in a bowler's words."""

from __future__ import annotations

from nextpair.domain.shot import Effect
from nextpair.reports.wording import sides

_MORE = {
    "speed_mph": ("{} mph faster", "{} mph slower"),
    "rev_rate_rpm": ("{} rpm more", "{} rpm less"),
    "axis_rotation_deg": ("{} degrees more axis rotation", "{} degrees less axis rotation"),
    "axis_tilt_deg": ("{} degrees more axis tilt", "{} degrees less axis tilt"),
    "loft_in": ("{} in more loft", "{} in less loft"),
    "film_percent": ("{} % more oil", "{} % less oil"),
    "dry_friction_percent": ("{} % more friction where it is dry", "{} % less friction"),
    "rg_in": ("RG {} in higher", "RG {} in lower"),
    "differential_in": ("differential {} in more", "differential {} in less"),
    "pin_to_pap_in": ("pin {} in farther from the PAP", "pin {} in closer to the PAP"),
}
"""What is said of a change up, and of one down."""
_TOWARD = {
    "feet_boards": "feet {} {}, same target",
    "target_boards": "target {} {}, feet stay",
    "feet_and_target_boards": "feet and target {} {}",
}
"""What is said of a move, with its boards and its side."""


def effect_words(effect: Effect, hand: str) -> str:
    """What is changed, such as '1 mph slower' or 'feet 1 left, same target'."""
    inside, own = sides(hand)
    change = effect.change
    if effect.parameter == "surface_grit" or isinstance(change, str):
        return f"cover made fresh at {change}" if change != "polished" else "cover polished"
    size = f"{abs(change):g}"
    if effect.parameter == "tilt_in":
        return f"lane {size} in lower on the {own if change > 0 else inside}"
    if effect.parameter in _TOWARD:
        return _TOWARD[effect.parameter].format(size, inside if change > 0 else own)
    up, down = _MORE[effect.parameter]
    return (up if change > 0 else down).format(size)
