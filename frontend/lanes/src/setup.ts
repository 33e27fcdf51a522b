/** What the next ball is thrown with: ball and line, from what was thrown last here or from the plan. */

import { FULL_RACK, leaveText } from "$shared/leaves";
import { PRACTICE, type Bowled, type Place } from "$shared/game";
import type { Grit, Line, Pocket, PocketGame, PocketSpare, PracticeShot, ShotPayload, SpareLine } from "$shared/types";

/** Ball and line of one shot. `from` says whose idea it is. */
export interface Setup {
  from: "plan" | "lastShot" | "spare";
  ball: string;
  surface_grit: Grit | null;
  laydown_board: number;
  slide_board: number;
  target_board: number;
  breakpoint_board: number | null;
}

/** The plan of a game; practice is bowled on the first game's. */
export function planOf(pocket: Pocket, game: number): PocketGame | undefined {
  return pocket.games.find((one) => one.game === Math.max(game, 1));
}

/** The pair's lanes. */
export function lanesOf(pocket: Pocket, game: number): [number, number] {
  return pocket.pairs.find((one) => one.game === Math.max(game, 1))?.lanes ?? [1, 2];
}

/** The step of practice that a frame belongs to: each has its number of shots. */
export function practiceStep(pocket: Pocket, frame: number): PracticeShot | undefined {
  let until = 0;
  return pocket.practice.find(({ shots }) => frame <= (until += shots)) ?? pocket.practice.at(-1);
}

/** The line that is planned for a lane at a frame: the later one once its frame has come. */
export function plannedLine(plan: PocketGame, lane: number, frame: number): Line | undefined {
  const isRight = plan.lanes.length > 1 && plan.lanes[1]!.lane === lane;
  const later = plan.later_line;
  if (later && frame >= later.from_frame) return isRight ? later.right_line : later.line;
  return (plan.lanes.find((one) => one.lane === lane) ?? plan.lanes[0])?.line;
}

/** How to shoot a leave: as it was rolled, or as one that it is like. */
export interface SpareHelp extends PocketSpare {
  /** The leave that it is shot like; null where it was rolled itself. */
  like: string | null;
}

/** How to shoot a leave, where the pocket knows it or one like it. */
export function spareHelp(pocket: Pocket, leave: readonly number[]): SpareHelp | undefined {
  const rolled = pocket.spares[leaveText(leave)];
  if (rolled) return { ...rolled, like: null };
  const like = pocket.spares_alike?.[leaveText(leave)];
  const help = like === undefined ? undefined : pocket.spares[like];
  return help && like !== undefined ? { ...help, like } : undefined;
}

/** What a logged shot was thrown with. */
export function setupOf(pocket: Pocket, shot: ShotPayload): Setup {
  const line = planOf(pocket, shot.game)?.lanes[0]?.line;
  const laydown_board = shot.meant_laydown_board ?? shot.laydown_board ?? line?.laydown_board ?? 20;
  return {
    from: "lastShot",
    ball: shot.ball,
    surface_grit: shot.surface_grit ?? null,
    laydown_board,
    slide_board: laydown_board + (line ? line.slide_board - line.laydown_board : 0),
    target_board: shot.meant_target_board ?? shot.target_board ?? line?.target_board ?? 20,
    breakpoint_board: null,
  };
}

/** What to throw now. */
export function setupFor(
  pocket: Pocket,
  game: number,
  bowled: readonly Bowled[],
  place: Place,
  lane: number,
): Setup | undefined {
  if (place.standing.length < FULL_RACK.length) {
    const help = spareHelp(pocket, place.standing);
    if (help) return setup("spare", help.ball, help.surface_grit, help.line, null);
  }
  const planned = (frame: number) => plannedSetup(pocket, game, frame, lane);
  return lastThrown(bowled, lane, planned) ?? planned(place.frame);
}

function plannedSetup(pocket: Pocket, game: number, frame: number, lane: number): Setup | undefined {
  const step = game === PRACTICE ? practiceStep(pocket, frame) : undefined;
  if (step?.lane === lane) return setup("plan", step.ball, step.surface_grit, step.line, step.line.breakpoint_board);
  const plan = planOf(pocket, game);
  const line = plan && plannedLine(plan, lane, frame);
  return plan && line && setup("plan", plan.ball, plan.surface_grit, line, line.breakpoint_board);
}

/** The last ball at a full rack on this lane, unless the bowler just followed the plan. */
function lastThrown(
  bowled: readonly Bowled[],
  lane: number,
  planned: (frame: number) => Setup | undefined,
): Setup | undefined {
  const last = bowled.findLast(
    ({ shot }) => shot.lane === lane && shot.standing_before?.length === FULL_RACK.length,
  )?.shot;
  const { meant_laydown_board: laydown_board, meant_target_board: target_board } = last ?? {};
  if (!last || laydown_board === undefined || target_board === undefined) return undefined;
  const then = planned(last.frame);
  const isPlans =
    then?.ball === last.ball &&
    isNear(then.laydown_board, laydown_board) &&
    isNear(then.target_board, target_board);
  if (isPlans) return undefined;
  return {
    from: "lastShot",
    ball: last.ball,
    surface_grit: last.surface_grit ?? null,
    laydown_board,
    slide_board: laydown_board + (then ? then.slide_board - then.laydown_board : 0),
    target_board,
    breakpoint_board: null,
  };
}

function isNear(one: number, other: number): boolean {
  return Math.abs(one - other) < 0.05;
}

function setup(
  from: Setup["from"],
  ball: string,
  surface_grit: Grit,
  line: Line | SpareLine,
  breakpoint_board: number | null,
): Setup {
  const { laydown_board, slide_board, target_board } = line;
  return { from, ball, surface_grit, laydown_board, slide_board, target_board, breakpoint_board };
}
