"""Which way friction goes with everything it depends on, and that it stays between oil and dry.

Rougher covers, stronger covers, older synthetic lanes and wood grip more; oil lies between ball
and lane, so more of it never grips more. Friction on full oil is the drag of shearing it: heavier
and colder oil drags more, the more of the contact it carries, and on a dry lane not at all.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.ball import Cover, Surface, Tool
from nextpair.domain.house import LaneSurface
from nextpair.physics.friction import dry_friction, film_gain_per_um, friction_coefficient
from nextpair.physics.oil import oil_friction
from nextpair.physics.roughness import surface_roughness_um

ROUNDING = 1e-12


@dataclass(frozen=True, slots=True)
class Contact:
    """Everything that friction depends on, at one place of one lane."""

    film_um: float
    surface: Surface
    cover: Cover
    lane: LaneSurface
    age_years: float
    viscosity_pas: float
    temperature_c: float

    @property
    def on_oil(self) -> float:
        return oil_friction(self.viscosity_pas, self.temperature_c)

    @property
    def on_dry(self) -> float:
        return dry_friction(self.cover, self.lane, self.age_years)

    @property
    def friction(self) -> float:
        gain_per_um = film_gain_per_um(surface_roughness_um(self.surface))
        return friction_coefficient(
            self.film_um, gain_per_um, self.on_oil, self.on_dry - self.on_oil
        )


grits = st.one_of(st.none(), st.integers(360, 5000))
games = st.floats(0, 60)
spun = st.builds(Surface, grits, games)
surfaces = st.one_of(spun, st.builds(Surface, grits, games, st.sampled_from(Tool), spun))
films_um = st.floats(0, 20)
ages_years = st.floats(0, 80)
viscosities_pas = st.floats(0.005, 0.150)
temperatures_c = st.floats(5, 40)
contacts = st.builds(
    Contact,
    films_um,
    surfaces,
    st.sampled_from(Cover),
    st.sampled_from(LaneSurface),
    ages_years,
    viscosities_pas,
    temperatures_c,
)


def rises(low: Contact, high: Contact) -> bool:
    return high.friction >= low.friction - ROUNDING


@given(contacts)
def test_it_stays_between_oil_and_dry(contact):
    assert contact.on_oil < contact.on_dry
    assert contact.on_oil - ROUNDING <= contact.friction <= contact.on_dry + ROUNDING


@given(contacts, films_um)
def test_more_oil_never_grips_more(contact, film_um):
    thin, thick = sorted((contact.film_um, film_um))
    assert rises(replace(contact, film_um=thick), replace(contact, film_um=thin))


@given(contacts, surfaces)
def test_a_rougher_cover_never_grips_less(contact, surface):
    smooth, rough = sorted((contact.surface, surface), key=surface_roughness_um)
    assert rises(replace(contact, surface=smooth), replace(contact, surface=rough))


@given(contacts, viscosities_pas)
def test_heavier_oil_never_drags_less(contact, viscosity_pas):
    thin, thick = sorted((contact.viscosity_pas, viscosity_pas))
    assert rises(replace(contact, viscosity_pas=thin), replace(contact, viscosity_pas=thick))


@given(contacts, temperatures_c)
def test_a_warmer_lane_never_drags_more(contact, temperature_c):
    cool, warm = sorted((contact.temperature_c, temperature_c))
    assert rises(replace(contact, temperature_c=warm), replace(contact, temperature_c=cool))


@given(contacts, viscosities_pas, temperatures_c)
def test_a_dry_lane_does_not_know_the_oil(contact, viscosity_pas, temperature_c):
    dry = replace(contact, film_um=0.0)
    other = replace(dry, viscosity_pas=viscosity_pas, temperature_c=temperature_c)
    assert abs(dry.friction - other.friction) < ROUNDING


@given(contacts, films_um)
def test_the_oil_counts_the_more_the_thicker_it_lies(contact, film_um):
    def matters(film: float) -> float:
        here = replace(contact, film_um=film)
        return (
            replace(here, temperature_c=5.0).friction - replace(here, temperature_c=40.0).friction
        )

    thin, thick = sorted((contact.film_um, film_um))
    assert matters(thick) >= matters(thin) - ROUNDING


@given(contacts, st.sampled_from(Cover))
def test_a_stronger_cover_never_grips_less(contact, cover):
    weak, strong = sorted((contact.cover, cover), key=list(Cover).index)
    assert rises(replace(contact, cover=weak), replace(contact, cover=strong))


@given(contacts, ages_years)
def test_an_older_lane_never_grips_less(contact, age_years):
    new, old = sorted((contact.age_years, age_years))
    assert rises(replace(contact, age_years=new), replace(contact, age_years=old))


@given(contacts)
def test_no_lane_grips_more_than_wood(contact):
    assert rises(contact, replace(contact, lane=LaneSurface.WOOD))
