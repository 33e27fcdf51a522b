"""What became of a batch, as text and as JSON."""

from __future__ import annotations

import json
from pathlib import Path

from nextpair.application.batch import Batch, State


def render_batch_text(batch: Batch, out: Path) -> str:
    """A few lines: how many sheets there are, made now or before, and how many there are not."""
    made = batch.count(State.DONE, made=True)
    kept = batch.count(State.DONE, made=False)
    lines = [f"{_sheets(made + kept)} in {out}: {made} planned now, {kept} there already."]
    without = {
        "with files that are wrong": batch.count(State.REFUSED),
        "by a fault of ours": batch.count(State.FAULT, State.LOST),
        "not come to": batch.waiting,
    }
    if any(without.values()):
        told = ", ".join(f"{count} {why}" for why, count in without.items() if count)
        lines.append(f"{_sheets(sum(without.values()))} not made: {told}.")
    if made:
        core_s = sum(one.record.seconds for one in batch.items if one.made)
        lines.append(f"{batch.crew}, {batch.seconds:.0f} s; {core_s / made:.1f} s a sheet.")
    return "".join(f"{line}\n" for line in lines)


def render_batch_json(batch: Batch, out: Path) -> str:
    """One document; docs/guide/batch.md lists its fields."""
    return (
        json.dumps(
            {
                "out": str(out),
                "crew": batch.crew,
                "seconds": round(batch.seconds, 3),
                "stopped": batch.gone,
                "waiting": batch.waiting,
                "made": batch.count(State.DONE, made=True),
                "kept": batch.count(State.DONE, made=False),
                "failed": batch.count(State.REFUSED, State.FAULT, State.LOST),
                "items": [
                    {
                        "item": one.record.item,
                        "event": one.record.event,
                        "folder": one.record.folder,
                        "state": one.record.state.value,
                        "made": one.made,
                        "seconds": one.record.seconds,
                        "seed": one.record.seed,
                        "model_version": one.record.model_version,
                        "why": list(one.record.why),
                    }
                    for one in batch.items
                ],
            },
            indent=2,
        )
        + "\n"
    )


def _sheets(count: int) -> str:
    return "1 sheet" if count == 1 else f"{count} sheets"
