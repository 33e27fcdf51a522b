/** A game while it is typed by counts: its frames, kept in this tab, and what the server says of them. */

import type { CheckedGame, Counting } from "$shared/types";
import { ask, asRefusal } from "./asking.svelte";
import { ballsIn, FRAMES, frameText, gameText, isOver, possibleMarks, spread, withSplit } from "./counts";
import { newest } from "./newest";
import { DRAFTS } from "./parts/drafts";
import type { Memory } from "./parts/draft.svelte";

const EMPTY = Array.from({ length: FRAMES }, () => "");

export class Entry {
  readonly event: string;
  readonly counting: Counting;
  readonly #memory: Memory;
  game = $state(1);
  frames: string[] = $state([...EMPTY]);
  /** The frame that is typed, from 1. */
  at = $state(1);
  checked = $state.raw<CheckedGame | null>(null);
  failure = $state("");
  readonly text = $derived(gameText(this.frames));
  /** The text that was checked: an answer to another one keeps nothing. */
  #judged = $state("");
  readonly isWhole = $derived(this.checked !== null && this.#judged === this.text && this.checked.total !== null && this.checked.problems.length === 0);
  readonly #asking;

  constructor(event: string, game: number, counting: Counting, memory: Memory = sessionStorage) {
    [this.event, this.game, this.counting, this.#memory] = [event, game, counting, memory];
    this.#asking = newest(
      ({ game: number, balls }: { game: number; balls: string }) =>
        ask<CheckedGame>(`/events/${event}/games/check`, { method: "POST", body: { game: number, balls, counting } }),
      (checked, { balls }) => {
        if (balls === this.text) [this.checked, this.#judged, this.failure] = [checked, balls, ""];
      },
      (cause) => (this.failure = asRefusal(cause).message),
    );
    const found = memory.getItem(this.#key);
    if (found) this.#take(JSON.parse(found) as { game: number; frames: string[] });
  }

  /** The marks that the next ball of the frame can have. */
  get possible(): string[] {
    return possibleMarks(this.at, this.#balls, this.counting);
  }

  /** The frame with its last ball marked as a split, or no longer so; null where it cannot be. */
  get split(): string[] | null {
    return withSplit(this.#balls);
  }

  get #balls(): string[] {
    return ballsIn(this.frames[this.at - 1] ?? "");
  }

  get #key(): string {
    return `${DRAFTS}game.${this.event}`;
  }

  /** Begin with a game that is written already, or with an empty one. */
  begin(game: number, balls = ""): void {
    this.#take({ game, frames: spread(balls, 1, this.counting) });
    this.#remember();
  }

  /** What a frame says now; what is more than it holds goes on in empty frames after it. */
  type(number: number, text: string): void {
    const parts = this.#parts(number, text);
    parts.forEach((part, index) => (this.frames[number - 1 + index] = part));
    const last = number + parts.length - 1;
    const isDone = last < FRAMES && isOver(last, ballsIn(this.frames[last - 1] ?? ""), this.counting);
    this.at = isDone ? last + 1 : last;
    this.#changed();
  }

  #parts(number: number, text: string): string[] {
    const parts = spread(text, number, this.counting);
    const isFree = this.frames.slice(number).every((frame) => frame === "");
    if (text.includes(",") || (parts.length > 1 && isFree)) return parts;
    return [ballsIn(text).length > 1 ? frameText(text) : text.toUpperCase()];
  }

  /** One mark more in the frame that is typed. */
  add(mark: string): void {
    this.type(this.at, [...this.#balls, mark].join(" "));
  }

  /** Mark the last ball as one that left a split, or no longer so. */
  markSplit(): void {
    const split = this.split;
    if (!split) return;
    this.frames[this.at - 1] = split.join(" ");
    this.#changed();
  }

  /** Take the last ball away, of the frame before where this one is empty. */
  takeBack(): void {
    if ((this.frames[this.at - 1] ?? "") === "" && this.at > 1) this.at -= 1;
    this.frames[this.at - 1] = this.#balls.slice(0, -1).join(" ");
    this.#changed();
  }

  #take({ game, frames }: { game: number; frames: string[] }): void {
    this.game = game;
    this.frames = EMPTY.map((empty, index) => frames[index] ?? empty);
    const open = this.frames.findIndex((frame, index) => !isOver(index + 1, ballsIn(frame), this.counting));
    this.at = open < 0 ? FRAMES : open + 1;
    this.check();
  }

  #changed(): void {
    this.#remember();
    this.check();
  }

  /** Ask what the game is worth, and what is wrong with it. */
  check(): void {
    this.checked = this.text === "" ? null : this.checked;
    if (this.text !== "") this.#asking.put({ game: this.game, balls: this.text });
  }

  #remember(): void {
    if (this.text === "") this.#memory.removeItem(this.#key);
    else this.#memory.setItem(this.#key, JSON.stringify({ game: this.game, frames: $state.snapshot(this.frames) }));
  }
}
