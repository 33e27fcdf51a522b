/** What is drawn of one lane: its film, and where they are known the path, its spread and its marks. */

import type { Hand, PathCard, PocketLane, SheetLane } from "../types";
import { boardWords, halves } from "../words";
import { type Levels, filmWords, levelsBetween, levelsOfSteps, levelsOfUnits } from "./film";
import lane from "./lane.json";

/** A place on the lane. */
export interface Place {
  board: number;
  ft: number;
}

export interface Trace {
  label: string;
  levels: Levels | null;
  /** Board of the ball's centre at every whole foot. */
  path: readonly number[];
  /** 10 % and 90 % of the bowler's own scatter at every whole foot. */
  band: readonly (readonly [number, number])[];
  slideBoard: number | null;
  breakpoint: Place | null;
  /** Where the ball would leave the oil by the rule of 31. */
  rule: Place | null;
  /** Another path, faintly, to compare. */
  ghost: readonly number[];
}

/** How far past 59 ft the ball's centre is when ball and head pin touch. */
export const CONTACT_FT = 1 - (lane.ball_radius_boards + lane.pin_radius_boards) * lane.board_ft;

/** The rule of 31 for a length of oil: exit board = length in feet - 31, from the bowler's edge; at least the first. */
export function ruleOf31(lengthFt: number, hand: Hand): Place {
  const said = Math.max(lengthFt - 31, 1);
  return { board: hand === "right" ? said : 2 * lane.centre_board - said, ft: lengthFt };
}

export function traceOfSheetLane(card: SheetLane, rule: Place | null): Trace {
  return {
    label: `Lane ${card.lane}`,
    levels: levelsOfUnits(card.film_units),
    path: card.path_boards,
    band: card.band_boards,
    slideBoard: card.line.slide_board,
    breakpoint: { board: card.line.breakpoint_board, ft: card.line.breakpoint_ft },
    rule,
    ghost: [],
  };
}

export function traceOfPocketLane(card: PocketLane, rule: Place | null): Trace {
  return {
    label: `Lane ${card.lane}`,
    levels: levelsOfSteps(card.film),
    path: card.path.map((tenths) => tenths / 10),
    band: card.band.map(([low, high]) => [low / 10, high / 10] as const),
    slideBoard: card.line.slide_board,
    breakpoint: { board: card.line.breakpoint_board, ft: card.line.breakpoint_ft },
    rule,
    ghost: [],
  };
}

/** A shot that was rolled; `slideBoard` is where its bowler's feet come to. */
export function traceOfShot(card: PathCard, slideBoard: number | null, ghost: readonly number[]): Trace {
  const { breakpoint_board: board, breakpoint_ft: ft } = card;
  return {
    label: `Lane ${card.lane}`,
    levels: levelsOfUnits(card.film_units),
    path: card.path_boards,
    band: [],
    slideBoard,
    breakpoint: board === null || ft === null ? null : { board, ft },
    rule: { board: card.rule_of_31_exit_board, ft: card.pattern_length_ft },
    ghost,
  };
}

/** A picture on the way from one to another, for a smooth change. */
export function traceBetween(before: Trace, after: Trace, share: number): Trace {
  const { levels, path, band, breakpoint } = after;
  const mix = (from: number, to: number) => from + share * (to - from);
  return {
    ...after,
    levels: before.levels && levels ? levelsBetween(before.levels, levels, share) : levels,
    path: before.path.length === path.length ? path.map((board, foot) => mix(before.path[foot]!, board)) : path,
    band:
      before.band.length === band.length
        ? band.map(([low, high], foot) => {
            const [lowBefore, highBefore] = before.band[foot]!;
            return [mix(lowBefore, low), mix(highBefore, high)] as const;
          })
        : band,
    slideBoard:
      before.slideBoard !== null && after.slideBoard !== null
        ? mix(before.slideBoard, after.slideBoard)
        : after.slideBoard,
    breakpoint:
      before.breakpoint && breakpoint
        ? { board: mix(before.breakpoint.board, breakpoint.board), ft: mix(before.breakpoint.ft, breakpoint.ft) }
        : breakpoint,
  };
}

/** The picture in words, for who cannot see it. */
export function traceWords(trace: Trace, hand: Hand): string {
  const { path, band, levels, rule, breakpoint } = trace;
  const said: string[] = [];
  if (path.length > 0) said.push(`laydown ${boardWords(path[0]!, hand)}`);
  if (trace.slideBoard !== null) said.push(`feet ${boardWords(trace.slideBoard, hand)}`);
  if (path.length > lane.target_ft) said.push(`target ${boardWords(path[lane.target_ft]!, hand)}`);
  if (breakpoint) said.push(`breakpoint ${boardWords(breakpoint.board, hand)} at ${Math.round(breakpoint.ft)} ft`);
  if (breakpoint && band.length > breakpoint.ft) {
    const edges = band[Math.round(breakpoint.ft)]!.map((board) => boardWords(board, hand));
    said.push(`8 of 10 shots pass there between ${hand === "right" ? edges.join(" and ") : edges.reverse().join(" and ")}`);
  }
  if (levels && path.length > 0) {
    const under = [10, 25, 40]
      .filter((ft) => ft < path.length)
      .map((ft) => `${filmWords(levels, path[ft]!, ft)} at ${ft} ft`);
    said.push(`oil under the ball ${under.join(", ")}`);
  }
  if (rule) said.push(`rule of 31: board ${boardWords(rule.board, hand)} at ${halves(rule.ft)} ft`);
  const edge = hand === "right" ? "" : " Boards count from the left edge.";
  return `${trace.label}: ${said.join("; ") || "no line"}.${edge}`;
}
