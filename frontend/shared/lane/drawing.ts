/** One lane seen from above, on a canvas: film, paint, pins, path and marks, and the scales beside it. */

import { ACCENT, FILM_COLOURS, HALO, INK } from "../palette";
import type { Hand } from "../types";
import { boardWords, saidBoard } from "../words";
import lane from "./lane.json";
import type { Margins, Plan } from "./plan";
import { CONTACT_FT, type Place, type Trace } from "./trace";

type Pen = CanvasRenderingContext2D;

/** Nearer the gutter than this a label does not fit between its mark and the next lane. */
const ROOM_FOR_A_LABEL_BOARDS = 4.5;
const FONT = "system-ui, sans-serif";
const SCALE_PX = 24;

/** Room beside the lane for its name, the scales and the feet. */
export function margins(feetBeside: boolean): Margins {
  return { left: feetBeside ? SCALE_PX : 2, right: 2, top: 22, foot: 40 };
}

/** Draw everything of one lane. `film` is its picture; `ink` the page's own text colour. */
export function drawLane(
  pen: Pen,
  plan: Plan,
  trace: Trace,
  film: CanvasImageSource | null,
  { hand, ink, feetBeside }: { hand: Hand; ink: string; feetBeside: boolean },
): void {
  drawBed(pen, plan, film, ink);
  drawPaint(pen, plan);
  drawPins(pen, plan);
  if (trace.rule) drawRule(pen, plan, trace.rule, hand);
  if (trace.ghost.length > 1) drawGhost(pen, plan, trace.ghost);
  if (trace.band.length > 1) drawBand(pen, plan, trace.band);
  if (trace.path.length > 1) drawPath(pen, plan, trace.path);
  if (trace.path.length > lane.target_ft) drawTarget(pen, plan, trace.path[lane.target_ft]!, hand);
  if (trace.breakpoint) drawBreakpoint(pen, plan, trace.breakpoint, hand);
  drawScales(pen, plan, trace, { hand, ink, feetBeside });
}

function drawBed(pen: Pen, plan: Plan, film: CanvasImageSource | null, ink: string): void {
  const { leftPx, topPx, widthPx, lengthPx, gutterPx } = plan;
  pen.globalAlpha = 0.13;
  pen.fillStyle = ink;
  pen.fillRect(leftPx - gutterPx, topPx, gutterPx, lengthPx);
  pen.fillRect(leftPx + widthPx, topPx, gutterPx, lengthPx);
  pen.globalAlpha = 1;
  pen.fillStyle = FILM_COLOURS[0]!;
  pen.fillRect(leftPx, topPx, widthPx, lengthPx);
  if (film) {
    const end = plan.y(lane.head_pin_ft);
    pen.imageSmoothingEnabled = true;
    pen.drawImage(film, leftPx, end, widthPx, plan.y(0) - end);
  }
}

/** Dots and arrows: the middle arrow farthest, each farther out a little nearer. */
function drawPaint(pen: Pen, plan: Plan): void {
  pen.fillStyle = INK;
  pen.strokeStyle = HALO;
  pen.lineWidth = 0.7;
  pen.globalAlpha = 0.6;
  pen.beginPath();
  for (const board of lane.dot_boards) {
    pen.moveTo(plan.x(board) + 1.2, plan.y(lane.dots_ft));
    pen.arc(plan.x(board), plan.y(lane.dots_ft), 1.2, 0, 2 * Math.PI);
  }
  for (const board of lane.arrow_boards) {
    const tip = plan.y(15.75 - (3.5 * Math.abs(board - lane.centre_board)) / 15);
    const [x, half, deep] = [plan.x(board), 0.72 * plan.boardPx, 1.3 * plan.footPx];
    pen.moveTo(x - half, tip + deep);
    pen.lineTo(x, tip);
    pen.lineTo(x + half, tip + deep);
    pen.closePath();
  }
  pen.stroke();
  pen.fill();
  pen.globalAlpha = 1;
}

function drawPins(pen: Pen, plan: Plan): void {
  pen.fillStyle = "#ffffff";
  pen.strokeStyle = INK;
  pen.lineWidth = 0.9;
  for (const pin of lane.pin_places) {
    pen.beginPath();
    pen.arc(plan.x(pin.board), plan.y(lane.head_pin_ft + pin.beyond_ft), 0.75 * plan.boardPx, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
  }
}

/** A flag on the end of the oil, at the board of the rule of 31. */
function drawRule(pen: Pen, plan: Plan, rule: Place, hand: Hand): void {
  const [x, y] = [plan.x(rule.board), plan.y(rule.ft)];
  pen.strokeStyle = INK;
  pen.lineWidth = 0.8;
  pen.setLineDash([1.5, 3]);
  strokeLine(pen, [plan.leftPx, y], [plan.leftPx + plan.widthPx, y]);
  pen.setLineDash([]);
  pen.fillStyle = HALO;
  pen.lineWidth = 1.1;
  pen.beginPath();
  pen.moveTo(x - 4, y - 10);
  pen.lineTo(x + 4, y - 10);
  pen.lineTo(x, y - 2);
  pen.closePath();
  pen.fill();
  pen.stroke();
  label(pen, plan, "31", { board: rule.board, y: y - 4, inside: true, hand, small: true });
}

function drawGhost(pen: Pen, plan: Plan, ghost: readonly number[]): void {
  pen.setLineDash([5, 4]);
  tracePath(pen, plan, ghost);
  pen.strokeStyle = HALO;
  pen.globalAlpha = 0.75;
  pen.lineWidth = 3.4;
  pen.stroke();
  pen.strokeStyle = INK;
  pen.lineWidth = 1.5;
  pen.stroke();
  pen.globalAlpha = 1;
  pen.setLineDash([]);
}

function drawBand(pen: Pen, plan: Plan, band: Trace["band"]): void {
  pen.beginPath();
  band.forEach(([low], foot) => pen.lineTo(plan.x(low), plan.y(foot)));
  for (let foot = band.length - 1; foot >= 0; foot -= 1) pen.lineTo(plan.x(band[foot]![1]), plan.y(foot));
  pen.closePath();
  pen.fillStyle = HALO;
  pen.globalAlpha = 0.5;
  pen.fill();
  pen.globalAlpha = 0.85;
  pen.strokeStyle = ACCENT;
  pen.lineWidth = 0.8;
  pen.setLineDash([2, 1.6]);
  pen.stroke();
  pen.setLineDash([]);
  pen.globalAlpha = 1;
}

function drawPath(pen: Pen, plan: Plan, path: readonly number[]): void {
  tracePath(pen, plan, path);
  pen.lineJoin = "round";
  pen.strokeStyle = HALO;
  pen.lineWidth = 4.4;
  pen.stroke();
  pen.strokeStyle = ACCENT;
  pen.lineWidth = 2.2;
  pen.stroke();
  pen.beginPath();
  pen.arc(plan.x(path[0]!), plan.y(0), 3.2, 0, 2 * Math.PI);
  pen.fillStyle = ACCENT;
  pen.fill();
  pen.strokeStyle = HALO;
  pen.lineWidth = 1;
  pen.stroke();
}

/** A path from foot to foot, on to where ball and head pin touch if it gets there. */
function tracePath(pen: Pen, plan: Plan, path: readonly number[]): void {
  pen.beginPath();
  path.forEach((board, foot) => pen.lineTo(plan.x(board), plan.y(foot)));
  if (path.length === lane.head_pin_ft) {
    const [before, last] = [path[path.length - 2]!, path[path.length - 1]!];
    pen.lineTo(plan.x(last + CONTACT_FT * (last - before)), plan.y(path.length - 1 + CONTACT_FT));
  }
}

function drawTarget(pen: Pen, plan: Plan, board: number, hand: Hand): void {
  const [x, y] = [plan.x(board), plan.y(lane.target_ft)];
  pen.strokeStyle = HALO;
  pen.lineWidth = 4;
  strokeLine(pen, [x - 6, y], [x + 6, y]);
  pen.strokeStyle = ACCENT;
  pen.lineWidth = 2;
  strokeLine(pen, [x - 5, y], [x + 5, y]);
  label(pen, plan, boardWords(board, hand), { board, y: y + 4, inside: true, hand });
}

function drawBreakpoint(pen: Pen, plan: Plan, { board, ft }: Place, hand: Hand): void {
  const [x, y] = [plan.x(board), plan.y(ft)];
  const inside = saidBoard(board, hand) < ROOM_FOR_A_LABEL_BOARDS;
  pen.beginPath();
  pen.arc(x, y, 4.2, 0, 2 * Math.PI);
  pen.fillStyle = HALO;
  pen.fill();
  pen.strokeStyle = ACCENT;
  pen.lineWidth = 2;
  pen.stroke();
  label(pen, plan, boardWords(board, hand), { board, y: y + 1, inside, hand });
  label(pen, plan, `${Math.round(ft)} ft`, { board, y: y + 12, inside, hand, small: true });
}

/** Words beside a mark, toward the bowler's inside or outside, on a halo of their own. */
function label(
  pen: Pen,
  plan: Plan,
  words: string,
  { board, y, inside, hand, small = false }: { board: number; y: number; inside: boolean; hand: Hand; small?: boolean },
): void {
  const leftward = inside === (hand === "right");
  const x = plan.x(board) + (leftward ? -8 : 8);
  pen.font = small ? `10px ${FONT}` : `700 13px ${FONT}`;
  pen.textAlign = leftward ? "right" : "left";
  pen.lineJoin = "round";
  pen.strokeStyle = HALO;
  pen.lineWidth = 3;
  pen.strokeText(words, x, y);
  pen.fillStyle = INK;
  pen.fillText(words, x, y);
}

/** The lane's name, the boards at the foul line, the feet below it and the distance beside it. */
function drawScales(
  pen: Pen,
  plan: Plan,
  trace: Trace,
  { hand, ink, feetBeside }: { hand: Hand; ink: string; feetBeside: boolean },
): void {
  const foul = plan.y(0);
  const middle = plan.leftPx + plan.widthPx / 2;
  pen.fillStyle = ink;
  pen.strokeStyle = ink;
  pen.lineWidth = 1.6;
  strokeLine(pen, [plan.leftPx - plan.gutterPx, foul], [plan.leftPx + plan.widthPx + plan.gutterPx, foul]);
  pen.textAlign = "center";
  pen.font = `600 13px ${FONT}`;
  pen.fillText(trace.label, middle, plan.topPx - 8);
  pen.font = `9px ${FONT}`;
  pen.globalAlpha = 0.8;
  for (const board of lane.arrow_boards) {
    pen.fillText(String(Math.round(saidBoard(board, hand))), plan.x(board), foul + 12);
  }
  if (feetBeside) drawDistance(pen, plan);
  pen.globalAlpha = 1;
  if (trace.slideBoard !== null) drawFeet(pen, plan, trace.slideBoard, hand);
}

function drawDistance(pen: Pen, plan: Plan): void {
  const edge = plan.leftPx - plan.gutterPx;
  pen.font = `10px ${FONT}`;
  pen.textAlign = "right";
  pen.lineWidth = 1;
  for (let ft = 0; ft <= lane.head_pin_ft; ft += 10) {
    strokeLine(pen, [edge - 4, plan.y(ft)], [edge, plan.y(ft)]);
    pen.fillText(String(ft), edge - 6, plan.y(ft) + 3.5);
  }
  pen.fillText("ft", edge - 6, plan.topPx - 8);
}

function drawFeet(pen: Pen, plan: Plan, slideBoard: number, hand: Hand): void {
  const x = plan.x(slideBoard);
  const y = plan.y(0);
  const words = `feet ${boardWords(slideBoard, hand)}`;
  pen.font = `700 12px ${FONT}`;
  pen.textAlign = "center";
  const half = pen.measureText(words).width / 2;
  const reach = [plan.leftPx - plan.gutterPx + half, plan.leftPx + plan.widthPx + plan.gutterPx - half] as const;
  pen.fillText(words, Math.min(Math.max(x, reach[0]), reach[1]), y + 35);
  pen.fillStyle = ACCENT;
  pen.beginPath();
  pen.moveTo(x, y + 15);
  pen.lineTo(x + 4.5, y + 22);
  pen.lineTo(x - 4.5, y + 22);
  pen.closePath();
  pen.fill();
}

function strokeLine(pen: Pen, from: readonly [number, number], to: readonly [number, number]): void {
  pen.beginPath();
  pen.moveTo(...from);
  pen.lineTo(...to);
  pen.stroke();
}
