/** A shot half entered: kept as it is tapped together, so that nothing lives in a form alone. */

import { saidBoard } from "$shared/words";
import { FULL_RACK } from "$shared/leaves";
import type { Grit, Hand, ShotPayload } from "$shared/types";
import type { Setup } from "./setup";

/** What was touched so far; what was not is left to the setup. Boards from the right edge. */
export interface HalfShot {
  stands?: number[];
  lane?: number;
  ball?: string;
  surface_grit?: Grit | null;
  meant_laydown_board?: number;
  meant_target_board?: number;
  laydown_board?: number;
  target_board?: number;
  breakpoint_board?: number;
  entry_board?: number;
  speed_mph?: number;
  note?: string;
}

/** Where a shot belongs, and the pins it faced. */
export interface ShotPlace {
  game: number;
  frame: number;
  delivery: number;
  standing: readonly number[];
}

/** The name that a shot to come is kept under while it is half entered. */
export function halfName({ game, frame, delivery }: ShotPlace): string {
  return `${game}.${frame}.${delivery}`;
}

/** The head pin stands on board 20; a flush hit has the ball's centre 2.5 boards beside it (common
 * practice: the "17.5 board"). */
const HEAD_PIN_BOARD = 20;
const FLUSH_BOARDS = 2.5;

/** How high a hit is: boards from flush toward the head pin. */
export function highBy(entry_board: number, hand: Hand): number {
  return saidBoard(entry_board, hand) - (HEAD_PIN_BOARD - FLUSH_BOARDS);
}

/** The board of a hit so many boards high. */
export function entryBoard(high_boards: number, hand: Hand): number {
  return saidBoard(HEAD_PIN_BOARD - FLUSH_BOARDS + high_boards, hand);
}

export function hitWords(high_boards: number): string {
  if (high_boards === 0) return "flush";
  return `${Math.abs(high_boards)} ${high_boards > 0 ? "high" : "light"}`;
}

/** The shot as it is written down. `stands` is what the ball left of the pins that it faced. */
export function shotOf(
  place: ShotPlace,
  lane: number,
  setup: Setup | undefined,
  half: HalfShot,
  stands: readonly number[],
  foul: boolean,
): ShotPayload {
  const { stands: _marked, surface_grit = setup?.surface_grit, ...touched } = half;
  const shot: ShotPayload = {
    game: place.game,
    frame: place.frame,
    delivery: place.delivery,
    lane,
    ball: setup?.ball ?? "",
    ...rounded({ meant_laydown_board: setup?.laydown_board, meant_target_board: setup?.target_board }),
    ...rounded(touched),
    standing_before: [...(place.standing.length ? place.standing : FULL_RACK)],
    standing_after: [...stands],
  };
  if (surface_grit != null) shot.surface_grit = surface_grit;
  if (foul) shot.foul = true;
  if (!shot.note) delete shot.note;
  return shot;
}

/** Numbers to hundredths, as the plan gives them; what is not there is left out. */
function rounded<T extends object>(values: T): T {
  return Object.fromEntries(
    Object.entries(values)
      .filter(([, value]) => value !== undefined && value !== null)
      .map(([key, value]: [string, unknown]) => [key, typeof value === "number" ? Math.round(value * 100) / 100 : value]),
  ) as T;
}

/** A logged shot, taken apart again to be corrected. */
export function halfOf(shot: ShotPayload): HalfShot {
  const { game: _game, frame: _frame, delivery: _delivery, standing_before: _before, standing_after, foul: _foul, ...rest } = shot;
  return { ...rest, stands: [...(standing_after ?? [])] };
}
