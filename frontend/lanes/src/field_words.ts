/** What the standing says in words: to read a score against the field's, not against a wish. */

import type { Condition, Cut } from "$shared/standing";
import type { PocketStage } from "$shared/types";
import { counted } from "$shared/words";

/** Pins a game under which two scores are as good as level. */
const LEVEL_PINS = 1.5;
/** Pins under the own average that make a score a low one. */
const LOW_PINS = 8;
/** In standard deviations of the field: no worse than its middle. */
const NO_WORSE = -0.25;

const CHANCE_WORDS = [
  [0.95, "near sure"], [0.8, "likely"], [0.6, "more likely than not"], [0.4, "about even"],
  [0.2, "less likely than not"], [0.05, "unlikely"], [0, "next to none"],
] as const;

export function chanceWords(chance: number): string {
  return CHANCE_WORDS.find(([least]) => chance >= least)![1];
}

/** What a game must show for a chance: "205", or that no game does. */
export function neededWords({ pins_a_game, is_possible }: Cut["needed"][number]): string {
  if (pins_a_game === null) return is_possible ? "held" : "missed";
  if (!is_possible) return "out of reach";
  return pins_a_game === 0 ? "held" : String(Math.ceil(pins_a_game));
}

/** Where the bowler is against the cut's line as it stands. */
export function aheadWords({ ahead_now_pins, line_now_pins, to }: Cut): string {
  if (line_now_pins === null) return `Too few scores are entered to tell where place ${to} is now.`;
  if (ahead_now_pins === null) return `Place ${to} is at ${line_now_pins}.`;
  const pins = Math.abs(ahead_now_pins);
  if (pins === 0) return `Level with place ${to} as it stands.`;
  return `${counted(pins, "pin")} ${ahead_now_pins > 0 ? "over" : "under"} place ${to} as it stands.`;
}

/** The field's scoring, and the bowler's own in it. */
export function fieldWords({ mean_pins, own_mean_pins, own_sds_interval_80, by_game }: Condition, average: number | null): string[] {
  const field = Math.round(mean_pins);
  if (own_mean_pins === null) return [`The field is at ${field} a game here.`];
  const own = Math.round(own_mean_pins);
  const over = own_mean_pins - mean_pins;
  const said = [`The field is at ${field} a game here; your ${own} is ${comparison(over)}.`];
  if (average !== null && own_mean_pins < average - LOW_PINS && over > -LEVEL_PINS) {
    said.push(`It is ${Math.round(average - own_mean_pins)} under your average, and the others find pins no easier to come by.`);
  }
  const [low, high] = own_sds_interval_80 ?? [-1, 1];
  if (low > 0 || high < 0) said.push(`That is more than the luck of so few games: you are ${low > 0 ? "above" : "below"} the middle of the field.`);
  else said.push("Luck alone could make that difference in so few games.");
  const last = by_game.findLast(({ own_pins }) => own_pins !== null);
  if (last && last.own_pins !== null && last.own_sds !== null && last.own_pins < (average ?? own_mean_pins) - LOW_PINS && last.own_sds > NO_WORSE) {
    said.push(`Game ${last.game} looks low, but the field made ${Math.round(last.mean_pins)} in it: your ${last.own_pins} lost nothing.`);
  }
  return said;
}

function comparison(over: number): string {
  if (Math.abs(over) < LEVEL_PINS) return "level with it";
  return over > 0 ? "better than it" : `${Math.round(-over)} under it`;
}

/** A game in standard deviations of the field: "+0.8". */
export function deviationWords(sds: number | null): string {
  return sds === null ? "" : `${sds < 0 ? "−" : "+"}${Math.abs(sds).toFixed(1)}`;
}

const STAGE_WORDS: Record<PocketStage["kind"], string> = {
  block: "a block",
  "round-robin": "a round robin",
  "single-elimination": "single elimination",
  "double-elimination": "double elimination",
  "step-ladder": "a step ladder",
};

/** "20 go on to a block of 4 games, pins carried." */
export function stageWords({ kind, entrants, games, pins }: PocketStage): string {
  const length = kind === "block" ? ` of ${counted(games, "game")}` : games > 1 ? `, ${games} games a match` : "";
  return `${entrants} go on to ${STAGE_WORDS[kind]}${length}, ${pins === "carried" ? "pins carried" : "from nought"}.`;
}
