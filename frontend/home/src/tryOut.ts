/** What can be tried on an event's lanes, and what a try starts from. */

import type { Document, Grit, Hand, Kept, Sheet, SheetLane } from "$shared/types";

/** Who throws, with what, and within which limits; `laydown` as the bowler counts boards. */
export interface Thrower {
  hand: Hand;
  balls: string[];
  lanes: number[];
  speed_mph: number;
  axis_rotation_deg: number;
  slide_to_laydown_boards: number;
  laydown: [number, number];
  angle: [number, number];
  speed: [number, number];
}

/** One shot to try; boards from the right edge. */
export interface Attempt {
  ball: string;
  surface_grit: Grit | null;
  by_hand: boolean;
  laydown_board: number;
  launch_angle_deg: number;
  speed_mph: number;
  axis_rotation_deg: number;
  lane: number;
  /** Whose film at its start; null for the fresh one. */
  game: number | null;
}

export interface BowlerDocument extends Document {
  hand?: Hand;
  speed_mph?: number;
  axis_rotation_deg?: number;
  slide_to_laydown_boards?: number;
  range?: { speed_change_mph?: [number, number] };
}

const LIMITS = { laydown: [1, 39], angle: [-2, 8], speedChangeMph: 3 } as const;
const USUAL = { speed_mph: 17, axis_rotation_deg: 45, slide_to_laydown_boards: 6, laydown: 20, angle_deg: 2 } as const;

/** The event's bowler with the balls that are theirs and in use. */
export function throwerOf(bowler: Kept<BowlerDocument>, balls: readonly Kept[], lanes: readonly number[]): Thrower {
  const facts = bowler.document;
  const speed = facts.speed_mph ?? USUAL.speed_mph;
  return {
    hand: facts.hand ?? "right",
    balls: balls.filter(({ document }) => document.bowler === bowler.id && document.retired !== true).map(({ name }) => name),
    lanes: [...new Set(lanes)].sort((one, other) => one - other),
    speed_mph: speed,
    axis_rotation_deg: facts.axis_rotation_deg ?? USUAL.axis_rotation_deg,
    slide_to_laydown_boards: facts.slide_to_laydown_boards ?? USUAL.slide_to_laydown_boards,
    laydown: [...LIMITS.laydown],
    angle: [...LIMITS.angle],
    speed: [speed - LIMITS.speedChangeMph, speed + LIMITS.speedChangeMph],
  };
}

/** The sheet's line for a game and lane where there is one, else a usual shot with the first ball. */
export function attemptOf(thrower: Thrower, sheet: Sheet | null, game: number | null, lane: number | null = null): Attempt {
  const plan = sheet?.games.find((each) => each.game === game) ?? (game === null && lane !== null ? null : sheet?.games[0]);
  const card = plan?.lanes.find((each) => each.lane === lane) ?? plan?.lanes[0];
  if (plan && card) {
    return {
      ball: plan.ball,
      surface_grit: plan.surface_grit,
      by_hand: false,
      laydown_board: card.line.laydown_board,
      launch_angle_deg: card.line.launch_angle_deg,
      speed_mph: card.line.speed_mph,
      axis_rotation_deg: thrower.axis_rotation_deg + card.line.axis_rotation_change_deg,
      lane: card.lane,
      game: plan.game,
    };
  }
  return {
    ball: thrower.balls[0] ?? "",
    surface_grit: null,
    by_hand: false,
    laydown_board: USUAL.laydown,
    launch_angle_deg: USUAL.angle_deg,
    speed_mph: thrower.speed_mph,
    axis_rotation_deg: thrower.axis_rotation_deg,
    lane: lane ?? thrower.lanes[0] ?? 1,
    game: null,
  };
}

/** The lane of the sheet that an attempt is thrown on; null on fresh film. */
export function plannedLane(sheet: Sheet | null, { game, lane }: Attempt): SheetLane | null {
  const plan = sheet?.games.find((each) => each.game === game);
  return plan?.lanes.find((each) => each.lane === lane) ?? null;
}

/** Lanes that can be thrown on: a game's pair, or on fresh film every lane that is met. */
export function lanesOf(thrower: Thrower, sheet: Sheet | null, game: number | null): number[] {
  const plan = sheet?.games.find((each) => each.game === game);
  return plan ? plan.lanes.map(({ lane }) => lane) : thrower.lanes;
}

/** An attempt as the API takes it: what is as usual is left out. */
export function bodyOf({ surface_grit, by_hand, game, ...shot }: Attempt): Document {
  return {
    ...shot,
    ...(surface_grit === null ? {} : { surface_grit, by_hand }),
    ...(game === null ? {} : { game }),
  };
}
