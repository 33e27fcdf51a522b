/** A lane on a screen: foul line below, pins above, drawn wider than true, or no path could be read. */

import lane from "./lane.json";

const GUTTER_SHARE = 3.4;
const WIDEST_STRETCH = 9;

/** Where boards and feet are, in pixels of the picture. */
export interface Plan {
  boardPx: number;
  footPx: number;
  gutterPx: number;
  /** The lane's left edge and the end of its deck. */
  leftPx: number;
  topPx: number;
  widthPx: number;
  lengthPx: number;
  /** How many times wider than true. */
  stretch: number;
  x: (board: number) => number;
  y: (ft: number) => number;
}

export interface Margins {
  left: number;
  right: number;
  top: number;
  foot: number;
}

/** The lane that fills a picture of this size, in the middle of it. */
export function planOf(widthPx: number, heightPx: number, margins: Margins): Plan {
  const footPx = Math.max(heightPx - margins.top - margins.foot, 1) / lane.deck_ft;
  const inner = Math.max(widthPx - margins.left - margins.right, 1);
  const fits = inner / (lane.boards + 2 * GUTTER_SHARE);
  const boardPx = Math.min(fits, WIDEST_STRETCH * footPx * lane.board_ft);
  const gutterPx = GUTTER_SHARE * boardPx;
  const laneWidthPx = lane.boards * boardPx;
  const leftPx = margins.left + (inner - laneWidthPx) / 2;
  const lastEdge = lane.boards + 0.5;
  return {
    boardPx,
    footPx,
    gutterPx,
    leftPx,
    topPx: margins.top,
    widthPx: laneWidthPx,
    lengthPx: lane.deck_ft * footPx,
    stretch: boardPx / lane.board_ft / footPx,
    x: (board) => leftPx + (lastEdge - Math.min(Math.max(board, 0.5), lastEdge)) * boardPx,
    y: (ft) => margins.top + (lane.deck_ft - ft) * footPx,
  };
}
