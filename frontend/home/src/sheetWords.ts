/** What a sheet says of a game, in the printed sheet's words. */

import type { BagItem, Fallback, Hand, LaterLine, Line, PatternNumbers, Sheet, SheetGame, SheetLane } from "$shared/types";
import { ballWords, counted, feetAndTarget, halves, lineWords, moveWords, releaseWords, saidBoard, sentence, toward } from "$shared/words";

/** Lanes whose feet or target must be told: one for both, or each where they differ. */
export function lanesApart(game: SheetGame, hand: Hand): SheetLane[] {
  const said = new Set(game.lanes.map((lane) => feetAndTarget(lane.line, hand)));
  return said.size > 1 ? game.lanes : game.lanes.slice(0, 1);
}

/** Expected score with the interval that holds four of five games. */
export function scoreWords(game: SheetGame): string {
  const [low, high] = game.score_interval_80;
  return `${Math.round(game.expected_score)} (${low} to ${high} in 4 games of 5)`;
}

/** A game's score held against the bad case and the field; nothing where neither is known. */
export function othersWords(game: SheetGame): string {
  const said: string[] = [];
  if (game.bad_case_score !== null) said.push(`${Math.round(game.bad_case_score)} where the lanes are at their worst`);
  if (game.field_score !== null) {
    const over = Math.round(game.expected_score) - Math.round(game.field_score);
    const against = over === 0 ? "as you do" : `${Math.abs(over)} ${over > 0 ? "less" : "more"}`;
    said.push(`the field scores ${Math.round(game.field_score)} here, ${against}`);
  }
  return said.join("; ");
}

/** How far a shot may miss. */
export function roomWords(game: SheetGame): string {
  return `${game.room.boards.toFixed(1)} boards, ${game.room.mph.toFixed(1)} mph`;
}

/** The speed at release, and how it is let go of where not as usual. */
export function speedWords(line: Line): string {
  return [`${line.speed_mph.toFixed(1)} mph`, releaseWords(line)].filter(Boolean).join(", ");
}

/** Who wore the pair before this game. */
export function beforeWords(game: SheetGame): string {
  const mine = game.shots_before_on_my_side;
  const others = game.shots_before_other_side;
  const unknown = game.shots_before_unknown_side;
  if (mine + others + unknown === 0) return "nobody yet: the pair is fresh";
  const sides = `${counted(mine, "shot")} on your side, ${others} on the other`;
  const earlier = game.shots_before_by_earlier_squads;
  return `${sides}${unknown ? `, ${unknown} on a side not known` : ""}${earlier ? `; ${earlier} of them by earlier squads` : ""}`;
}

/** What to go to; of the same ball the move too; lane by lane where feet or target differ. */
export function fallbackWords(fallback: Fallback, game: SheetGame, hand: Hand): string {
  const isSame = fallback.ball === game.ball && fallback.surface_grit === game.surface_grit;
  let ball = ballWords(fallback.ball, fallback.surface_grit);
  if (isSame) ball = `the same ball, ${movedWords(fallback.line, game.line, hand)}`;
  else if (releaseWords(game.line) && !releaseWords(fallback.line)) ball += ", let go of as usual";
  const lines = [fallback.line, fallback.right_line];
  if (feetAndTarget(fallback.line, hand) === feetAndTarget(fallback.right_line, hand)) {
    return `Then ${ball}: ${lineWords(fallback.line, hand)}.`;
  }
  const lanes = game.lanes.map((lane, place) => `lane ${lane.lane}: ${lineWords(lines[place]!, hand)}`);
  return `Then ${ball}: ${lanes.join("; ")}.`;
}

/** Where to move when the game is half over; lane by lane where the moves differ. */
export function laterLineWords(later: LaterLine, game: SheetGame, hand: Hand): string {
  const moves = [later.move, later.right_move].map((move) => moveWords(move, hand));
  if (moves[0] === moves[1]) return `From frame ${later.from_frame} ${moves[0]}: ${lineWords(later.line, hand)}.`;
  const lanes = game.lanes.map((lane, place) => `lane ${lane.lane} ${moves[place]}`);
  return `From frame ${later.from_frame}: ${lanes.join("; ")}.`;
}

/** A pattern in numbers: "43 ft, 26.1 mL, ratio 3.1 : 1 (sport)". */
export function patternWords(pattern: PatternNumbers): string {
  const ratio = pattern.ratio === null ? "dry outside" : `${pattern.ratio.toFixed(1)} : 1`;
  const volume = pattern.volume_ml.toFixed(1);
  return `${pattern.length_ft.toFixed(0)} ft, ${volume} mL, ratio ${ratio} (${pattern.sport_class})`;
}

/** The rule of 31 beside the first game's exit board, and the exits of all games. */
export function ruleWords(sheet: Sheet): string {
  const exits = sheet.games
    .flatMap((game) => game.lanes.map((lane) => saidBoard(lane.line.exit_board, sheet.hand)))
    .sort((one, other) => one - other);
  if (exits.length === 0) return "";
  const [low, high] = [halves(exits[0]!), halves(exits[exits.length - 1]!)];
  return `${sentence(sheet.second_opinion)} All lines leave it ${low === high ? `at ${low}` : `between ${low} and ${high}`}.`;
}

/** What stays at home, by reason. */
export function homeWords(items: readonly BagItem[]): string[] {
  const balls = new Map<string, string[]>();
  for (const item of items) balls.set(item.purpose, [...(balls.get(item.purpose) ?? []), ballWords(item.ball, item.surface_grit)]);
  return [...balls].map(([purpose, named]) => `${sentence(purpose).slice(0, -1)}: ${named.join(", ")}.`);
}

/** What the bag is worth, in the mean and at worst, and what is made of its places. */
export function bagWorthWords(sheet: Sheet): string {
  const worth = sheet.bag_worth;
  if (worth === null) return "";
  const said =
    `With this bag ${worth.mean_pins_per_game.toFixed(1)} pins a game once a lane has shown itself, ` +
    `${worth.bad_case_pins_per_game.toFixed(1)} in the worst tenth of games and lanes. No bag under the limit is worth more on average: proven.`;
  if (!worth.places_free) return said;
  return (
    `${said} ${counted(worth.places_free, "place")} free: no other ball adds a tenth of a pin in the worst tenth, ` +
    "nor with one of these balls out."
  );
}

function movedWords(line: Line, planned: Line, hand: Hand): string {
  const inward = hand === "right" ? 1 : -1;
  const feet = toward(inward * (line.slide_board - planned.slide_board), hand);
  const target = toward(inward * (line.target_board - planned.target_board), hand);
  return `feet ${feet} and target ${target}`;
}
