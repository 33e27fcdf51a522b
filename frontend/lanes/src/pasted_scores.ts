/** A table of scores pasted from a spreadsheet or a message: a row a game, or a row a bowler with all games. */

import { HIGHEST } from "$shared/game";

const SEPARATORS = ["\t", ";", ","];
const COLUMNS: Record<string, readonly string[]> = {
  name: ["name", "bowler", "player"],
  game: ["game", "no", "game no"],
  score: ["score", "pins", "scratch"],
  handicap: ["handicap", "hcp", "hdcp"],
  squad: ["squad"],
  average: ["average", "avg", "ave"],
};
const A_GAME = /^(?:game|g)?\s*(\d{1,2})$/;
const WHOLE = /^\d{1,3}$/;

/** A score as it is jotted down; what nobody wrote is left out. */
export interface PastedScore {
  name: string;
  game: number;
  score: number;
  handicap?: number;
  squad?: string;
  average?: number;
}

export interface PastedTable {
  scores: PastedScore[];
  problems: string[];
}

/** The scores of a table that are in order, and what is wrong with the others. */
export function pastedScores(text: string, games: number): PastedTable {
  const separator = SEPARATORS.find((one) => text.includes(one)) ?? ",";
  const rows = text.normalize("NFC").split(/\r?\n/).map((line) => line.split(separator).map((cell) => cell.trim().replace(/^"(.*)"$/, "$1"))).filter((cells) => cells.some(Boolean));
  const header = headerOf(rows[0] ?? []);
  const columns = header ?? usualColumns(rows, games);
  const table: PastedTable = { scores: [], problems: [] };
  rows.slice(header ? 1 : 0).forEach((cells, index) => takeRow(cells, columns, games, `Row ${index + 1}`, table));
  return table;
}

/** What each column is; null for a row that is no header. A game's column is its number. */
function headerOf(cells: readonly string[]): string[] | null {
  const said = cells.map((cell) => {
    const word = cell.toLowerCase().replaceAll("_", " ");
    const known = Object.entries(COLUMNS).find(([, words]) => words.includes(word))?.[0];
    return known ?? A_GAME.exec(word)?.[1] ?? "";
  });
  // "No" is a game's number only beside a score.
  const columns = said.includes("score") ? said : said.map((column) => (column === "game" ? "" : column));
  return columns.includes("name") ? columns : null;
}

/** Without a header: name, game, score where all rows look so, else a name and its games. */
function usualColumns(rows: readonly (readonly string[])[], games: number): string[] {
  const isLong = rows.every(([, game, score, handicap]) => Number(game) >= 1 && Number(game) <= games && WHOLE.test(score ?? "") && (!handicap || WHOLE.test(handicap)));
  if (isLong && rows.every(({ length }) => length <= 4)) return ["name", "game", "score", "handicap"];
  return ["name", ...Array.from({ length: Math.max(0, ...rows.map(({ length }) => length)) }, (_, index) => String(index + 1))];
}

function takeRow(cells: readonly string[], columns: readonly string[], games: number, at: string, table: PastedTable): void {
  const told = new Map(columns.map((column, place) => [column, cells[place] ?? ""]));
  const name = told.get("name");
  if (!name) return void table.problems.push(`${at} has no name.`);
  const whole = (column: string) => {
    const cell = told.get(column) ?? "";
    if (WHOLE.test(cell) && Number(cell) <= HIGHEST) return Number(cell);
    if (cell) table.problems.push(`${at}, ${name}: ${cell} is no ${column}; one is a whole number from 0 to ${HIGHEST}.`);
    return undefined;
  };
  const [handicap, average] = [whole("handicap"), whole("average")];
  const more = {
    ...(handicap !== undefined && { handicap }),
    ...(average !== undefined && { average }),
    ...(told.get("squad") && { squad: told.get("squad")! }),
  };
  const bowled = told.has("game") ? [[told.get("game")!, told.get("score") ?? ""] as const] : [...told].filter(([column]) => WHOLE.test(column));
  for (const [game, score] of bowled) {
    if (score === "" || score === "-") continue;
    if (!(Number(game) >= 1 && Number(game) <= games)) table.problems.push(`${at}, ${name}: game ${game || "?"} is not one of 1 to ${games}.`);
    else if (!WHOLE.test(score) || Number(score) > HIGHEST) table.problems.push(`${at}, ${name}: ${score} is no score; one is a whole number from 0 to ${HIGHEST}.`);
    else table.scores.push({ name, game: Number(game), score: Number(score), ...more });
  }
}
