"""Histories of records from elsewhere: merged without loss, and once."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from contracts.things import account, draft
from nextpair.application.store import NotKeptError
from nextpair.domain.record import Kind


def season(store, me):
    """A bowler, a ball and an event that were saved, changed and deleted."""
    bowler = draft(Kind.BOWLER, "Ada Voss")
    ball = draft(Kind.BALL, "Ember", bowler.id)
    event = draft(Kind.EVENT, "Harbour Open", bowler.id)
    store.save_all(me, [event, ball, bowler])
    store.save(me, replace(ball, name="Ember 2"), 1)
    store.delete(me, event.id)
    return bowler, ball, event


def by_id(versions):
    return sorted(versions, key=lambda version: (version.id, version.revision))


def test_histories_taken_in_by_an_empty_account_are_the_same(store):
    me, other = account(store), account(store)
    season(store, me)
    versions = store.every_revision(me)
    assert len(versions) == 5
    assert store.merge_revisions(other, versions) == 5
    assert by_id(store.every_revision(other)) == by_id(versions)
    assert store.merge_revisions(other, versions) == 0
    assert by_id(store.every_revision(other)) == by_id(versions)


def test_versions_that_are_missing_go_on_top(store):
    me, other = account(store), account(store)
    _, ball, _ = season(store, me)
    store.merge_revisions(other, store.every_revision(me))
    store.save(me, replace(ball, name="Ember 3"), 2)
    assert store.merge_revisions(other, store.every_revision(me)) == 1
    assert store.record(other, ball.id) == store.record(me, ball.id)
    assert store.merge_revisions(me, store.every_revision(other)) == 0


def test_of_two_histories_both_are_kept_and_the_last_save_counts(store):
    me, other = account(store), account(store)
    _, ball, _ = season(store, me)
    store.merge_revisions(other, store.every_revision(me))
    store.save(other, replace(ball, name="theirs"), 2)
    store.save(me, replace(ball, name="mine"), 2)
    assert store.merge_revisions(other, store.every_revision(me)) == 1
    assert store.merge_revisions(me, store.every_revision(other)) == 1
    for one in (me, other):
        names = {version.name for version in store.revisions(one, ball.id)}
        assert names == {"Ember", "Ember 2", "theirs", "mine"}
        assert store.record(one, ball.id).name == "mine"
    before = [store.every_revision(one) for one in (me, other)]
    assert store.merge_revisions(other, store.every_revision(me)) == 0
    assert store.merge_revisions(me, store.every_revision(other)) == 0
    assert [store.every_revision(one) for one in (me, other)] == before


def test_what_one_history_deletes_and_the_other_needs_is_kept(store):
    me, other = account(store), account(store)
    bowler, ball, event = season(store, me)
    store.merge_revisions(other, store.every_revision(me))
    store.save_all(me, [event])
    for record in (ball, bowler):
        store.delete(other, record.id)
    store.merge_revisions(other, store.every_revision(me))
    assert not store.record(other, event.id).deleted
    assert not store.record(other, bowler.id).deleted
    assert store.merge_revisions(me, store.every_revision(other)) > 0
    assert not store.record(me, bowler.id).deleted
    with pytest.raises(NotKeptError):
        store.save(me, draft(Kind.EVENT, "Pier Cup", *(ball.id, draft().id)), None)


def test_a_version_that_needs_what_nobody_has_is_refused_with_all_others(store):
    me, other = account(store), account(store)
    season(store, me)
    whole = store.every_revision(me)
    without = [version for version in whole if version.kind is not Kind.BOWLER]
    with pytest.raises(NotKeptError):
        store.merge_revisions(other, without)
    assert store.every_revision(other) == ()


def test_an_older_version_of_elsewhere_does_not_count(store):
    me, other = account(store), account(store)
    _, ball, _ = season(store, me)
    whole = store.every_revision(me)
    store.merge_revisions(other, whole)
    older = next(version for version in whole if version.id == ball.id)
    older = replace(older, name="years ago", saved_at=older.saved_at - timedelta(days=900))
    assert store.merge_revisions(other, [older]) == 1
    assert store.record(other, ball.id).name == "Ember 2"
    assert "years ago" in {version.name for version in store.revisions(other, ball.id)}
