"""The book of patterns: notes and results of each, and its nearest relatives with theirs, so that
a pattern never seen before starts from what worked on those."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from uuid import UUID

from nextpair.application.bundle import Papers
from nextpair.application.film import pattern_card
from nextpair.application.names import plain_name
from nextpair.application.outings import NO_OUTINGS, Outings, kept_outings, library_key
from nextpair.application.pattern_notes import attack_notes, pattern_log
from nextpair.application.relative_words import relative_words, start_words
from nextpair.application.store import Store
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.domain.pattern import Pattern
from nextpair.domain.pattern_book import AttackNote, PatternPage, Relative
from nextpair.domain.record import Kind
from nextpair.domain.sheet import PatternCard
from nextpair.physics.dressing import film_of
from nextpair.physics.film import Film
from nextpair.planning.film_distance import film_distance

MOST_RELATIVES = 5
MOST_BOWLED = 2
"""Relatives that were bowled on are told even where others are nearer, so many at least."""
NEAR_FT = 5.0
"""Up to here a relative is one to start from. On the library, best lines carried over within it
lose 6 pins a game in the middle and 19 at most, beyond it 19 to 87 and up to 133."""


@dataclass(frozen=True, slots=True)
class KnownPattern:
    """A pattern of the library or of a record, with its film [um]."""

    key: str
    pattern: Pattern
    film: Film


@dataclass(frozen=True, slots=True)
class PatternBook:
    """Everything that relatives are looked for in: the library, and all patterns that are kept,
    those of events that were taken in among them. `notes` are by a pattern's key."""

    known: tuple[KnownPattern, ...]
    outings: Outings = NO_OUTINGS
    notes: Mapping[str, tuple[AttackNote, ...]] = field(default_factory=dict)

    def page(self, key: str) -> PatternPage:
        """The page of a pattern by its key. Raises InvalidValueError for a key of none."""
        for one in self.known:
            if _plainly(one.key) == _plainly(key):
                return self._page(one.pattern, one.film, one.key)
        raise InvalidValueError("pattern", key, "the id of a pattern, or library: NAME")

    def page_of(self, pattern: Pattern) -> PatternPage:
        """The page of a pattern that need not be in the book; of one that is, the book's."""
        same = (one for one in self.known if one.pattern == pattern)
        key = next((one.key for one in same), None)
        return self._page(pattern, film_of(pattern), key)

    def _page(self, pattern: Pattern, film: Film, key: str | None) -> PatternPage:
        card = pattern_card(pattern, film)
        here = () if key is None else self.outings.on(key)
        relatives = self._shown(card, film, key)
        return PatternPage(
            key=key,
            log=None if key is None else pattern_log(key),
            pattern=card,
            start=start_words(here, relatives),
            notes=self.notes.get(key or "", ()),
            outings=here,
            relatives=relatives,
            left_out=self.outings.left_out,
        )

    def _shown(self, card: PatternCard, film: Film, key: str | None) -> tuple[Relative, ...]:
        """The nearest relatives, and of those that were bowled on the nearest too."""
        others = (one for one in self.known if one.key != key)
        near = sorted(
            (self._relative(card, film, one) for one in others),
            key=lambda one: (one.feet, one.pattern.name),
        )
        bowled = [one for one in near if one.outings][:MOST_BOWLED]
        return (*near[:MOST_RELATIVES], *(one for one in bowled if one in near[MOST_RELATIVES:]))

    def _relative(self, card: PatternCard, film: Film, other: KnownPattern) -> Relative:
        apart = film_distance(film, other.film)
        theirs = pattern_card(other.pattern, other.film)
        return Relative(
            key=other.key,
            pattern=theirs,
            feet=apart.feet,
            grip_ft=apart.grip_ft,
            across_boards=apart.across_boards,
            oil_ml=apart.oil_ml,
            is_near=apart.feet <= NEAR_FT,
            words=relative_words(theirs, card, apart),
            description=other.pattern.description,
            outings=self.outings.on(other.key),
            notes=self.notes.get(other.key, ()),
        )


def library_book(papers: Papers) -> PatternBook:
    """The book where nothing was ever kept: the library alone."""
    return PatternBook(tuple(_of_library(papers)))


def kept_book(store: Store, papers: Papers, account: UUID) -> PatternBook:
    """The book of an account. A pattern that is not in order is passed over."""
    known = (*_of_library(papers), *_of_records(store, papers, account))
    notes = {one.key: attack_notes(store, account, pattern_log(one.key)) for one in known}
    return PatternBook(known, kept_outings(store, papers, account), notes)


def kept_key(store: Store, account: UUID, called: str) -> str | None:
    """The key of the pattern that is kept under a name or an id; None where there is none. Raises
    InvalidValueError where several have that name."""
    records = store.records(account, Kind.PATTERN)
    name = plain_name(called)
    found = [str(one.id) for one in records if name in (str(one.id), plain_name(one.name))]
    if len(found) > 1:
        raise InvalidValueError("pattern", called, f"the id of one of them: {', '.join(found)}")
    return found[0] if found else None


def _plainly(key: str) -> str:
    """A key without what may be written otherwise, as in 'library:lee-shore-39'."""
    return "".join(key.casefold().replace("-", " ").split())


def _of_library(papers: Papers) -> Iterator[KnownPattern]:
    patterns: Iterable[Pattern] = map(papers.pattern, papers.library())
    for pattern in patterns:
        yield KnownPattern(library_key(pattern.name), pattern, film_of(pattern))


def _of_records(store: Store, papers: Papers, account: UUID) -> Iterator[KnownPattern]:
    for record in store.records(account, Kind.PATTERN):
        try:
            pattern = papers.pattern(record.document)
        except (InputRefusedError, InvalidValueError):
            continue
        yield KnownPattern(str(record.id), pattern, film_of(pattern))
