/** What could change about a shot, in a bowler's words. */

import type { Effect, Hand } from "$shared/types";
import { sides } from "$shared/words";

/** What is said of a change up, and of one down. */
const MORE: Record<string, [string, string]> = {
  speed_mph: ["# mph faster", "# mph slower"],
  rev_rate_rpm: ["# rpm more", "# rpm less"],
  axis_rotation_deg: ["# degrees more axis rotation", "# degrees less axis rotation"],
  axis_tilt_deg: ["# degrees more axis tilt", "# degrees less axis tilt"],
  loft_in: ["# in more loft", "# in less loft"],
  film_percent: ["# % more oil", "# % less oil"],
  dry_friction_percent: ["# % more friction where it is dry", "# % less friction"],
  rg_in: ["RG # in higher", "RG # in lower"],
  differential_in: ["differential # in more", "differential # in less"],
  pin_to_pap_in: ["pin # in farther from the PAP", "pin # in closer to the PAP"],
};

/** What is said of a move, with its boards and its side. */
const TOWARD: Record<string, string> = {
  feet_boards: "feet # @, same target",
  target_boards: "target # @, feet stay",
  feet_and_target_boards: "feet and target # @",
};

/** What is changed, such as "1 mph slower" or "feet 1 left, same target". */
export function effectWords({ parameter, change }: Effect, hand: Hand): string {
  if (parameter === "surface_grit" || typeof change === "string") {
    return change === "polished" ? "cover polished" : `cover made fresh at ${change}`;
  }
  const size = String(Math.abs(change));
  const [inside, own] = sides(hand);
  const toward = TOWARD[parameter];
  if (toward) return toward.replace("#", size).replace("@", change > 0 ? inside : own);
  if (parameter === "tilt_in") return `lane ${size} in lower on the ${change > 0 ? own : inside}`;
  const words = MORE[parameter];
  return words ? words[change > 0 ? 0 : 1].replace("#", size) : `${parameter} ${change}`;
}

/** Where an effect moves the ball at the head pin's row: "1.2 boards left"; positive is the bowler's own side. */
export function movedWords(boards: number, hand: Hand): string {
  const size = Math.abs(boards).toFixed(1);
  const [inside, own] = sides(hand);
  return size === "0.0" ? "nowhere" : `${size} ${boards > 0 ? own : inside}`;
}
