/** How numbers and moves are said to a bowler, as on the printed sheet. */

import type { Entry, Grit, Hand, Line, Move } from "./types";
import lane from "./lane/lane.json";

/** A board as the bowler counts it: from the left edge for a left-hander. */
export function saidBoard(board: number, hand: Hand): number {
  return hand === "right" ? board : 2 * lane.centre_board - board;
}

/** A number to the nearest half, without a needless ".0". */
export function halves(number: number): string {
  return String(Math.floor(2 * number + 0.5) / 2);
}

/** A board to the half, as the bowler counts it: "17" or "17.5". */
export function boardWords(board: number, hand: Hand): string {
  return halves(saidBoard(board, hand));
}

/** A probability as whole percent: "52 %". */
export function percent(probability: number): string {
  if (probability > 0 && probability < 0.005) return "under 1 %";
  return `${Math.round(100 * probability)} %`;
}

/** A chance of what nobody can know beyond doubt, such as games still to come: never none, never sure. */
export function openPercent(chance: number): string {
  if (chance < 0.01) return "under 1 %";
  return chance > 0.99 ? "over 99 %" : percent(chance);
}

/** A ball with its surface: "Kestrel @ 2000". */
export function ballWords(ball: string, grit: Grit): string {
  return `${ball} @ ${grit}`;
}

/** From which edge the boards on a page count. */
export function countingWords(hand: Hand): string {
  if (hand === "right") return "boards count from the right edge";
  return "boards count from the LEFT edge, as a left-hander counts";
}

/** "9 at 42 ft". */
export function breakpointWords(line: Line, hand: Hand): string {
  return `${boardWords(line.breakpoint_board, hand)} at ${Math.round(line.breakpoint_ft)} ft`;
}

/** How a line is let go of otherwise than usual: "0.5 mph harder"; nothing for as usual. */
export function releaseWords(line: Line): string {
  const speed = line.speed_change_mph;
  const turn = line.axis_rotation_change_deg;
  const said: string[] = [];
  if (speed) said.push(`${Math.abs(speed).toFixed(1)} mph ${speed > 0 ? "harder" : "softer"}`);
  if (turn) said.push(`${Math.abs(turn).toFixed(0)} degrees ${turn > 0 ? "more" : "less"} axis rotation`);
  return said.join(" and ");
}

/** Feet, target and breakpoint in one phrase, and how it is let go of where not as usual. */
export function lineWords(line: Line, hand: Hand): string {
  const where = `${feetAndTarget(line, hand)}, breakpoint ${breakpointWords(line, hand)}`;
  const release = releaseWords(line);
  return release ? `${where}, ${release}` : where;
}

/** "feet 31, target 17.5": what tells two lines apart. */
export function feetAndTarget(line: Line, hand: Hand): string {
  return `feet ${boardWords(line.slide_board, hand)}, target ${boardWords(line.target_board, hand)}`;
}

/** A move as the trade says it: "feet 3 left, target 2 left, a 3-for-2". */
export function moveWords(move: Move | null, hand: Hand): string {
  if (move === null) return "first game";
  const feet = toward(move.feet_boards, hand);
  const target = toward(move.target_boards, hand);
  if (feet === "stay" && target === "stay") return "no move";
  return `feet ${feet}, target ${target}${move.name === null ? "" : `, a ${move.name}`}`;
}

/** Boards moved and where to: "3 left" inside for a right-hander, or "stay". */
export function toward(boards: number, hand: Hand): string {
  const moved = halves(Math.abs(boards));
  if (moved === "0") return "stay";
  const [inside, own] = sides(hand);
  return `${moved} ${boards > 0 ? inside : own}`;
}

/** The bowler's inside and own side: left and right for a right-hander. */
export function sides(hand: Hand): [inside: string, own: string] {
  return hand === "right" ? ["left", "right"] : ["right", "left"];
}

/** How the ball meets the pins. */
export function entryWords(entry: Entry): string {
  const side = entry.offset_board >= 0 ? "to the pocket side" : "to the far side";
  const boards = Math.abs(entry.offset_board).toFixed(1);
  return (
    `${entry.entry_angle_deg.toFixed(1)} degrees, ${boards} boards ${side} of the head pin, ` +
    `${entry.speed_mph.toFixed(1)} mph`
  );
}

/** Time since the start: 1.5 minutes as "1:30". */
export function clockWords(minute: number): string {
  const seconds = Math.round(minute * 60);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

/** "2026-06-13" as "13 June 2026". */
export function dateWords(isoDate: string): string {
  const day = new Date(`${isoDate}T00:00:00Z`);
  if (Number.isNaN(day.getTime())) return isoDate;
  return day.toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric", timeZone: "UTC" });
}

/** "1 shot", "44 shots". */
export function counted(number: number, noun: string): string {
  return number === 1 ? `1 ${noun}` : `${number} ${noun}s`;
}

/** Text that begins with a capital and ends with a stop. */
export function sentence(text: string): string {
  const begun = text.slice(0, 1).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(begun) ? begun : `${begun}.`;
}
