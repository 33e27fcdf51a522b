/** The form of bowler.toml. */

import type { FormPlan } from "../parts/form";
import { HANDS, STYLES } from "./choices";

export const BOWLER: FormPlan = [
  {
    title: "The bowler",
    fields: [
      { kind: "text", key: "name", label: "Name", needed: true },
      { kind: "choice", key: "hand", label: "Hand", choices: HANDS, needed: true },
      { kind: "choice", key: "style", label: "Style", choices: STYLES, guess: "one-handed" },
      {
        kind: "number",
        key: "average",
        label: "Average",
        unit: "pins",
        allowed: [50, 280],
        needed: true,
        help: "In the house, on its usual condition.",
      },
    ],
  },
  {
    title: "Release",
    help: "Left empty, the value of a typical bowler of this style is used, and the sheet says so.",
    fields: [
      { kind: "number", key: "speed_mph", label: "Speed at release", unit: "mph", allowed: [8, 26] },
      { kind: "number", key: "rev_rate_rpm", label: "Rev rate", unit: "rpm", allowed: [0, 750] },
      {
        kind: "number",
        key: "axis_rotation_deg",
        label: "Axis rotation",
        unit: "\u00b0",
        allowed: [-10, 120],
        help: "0 is end over end, 90 full side roll.",
      },
      { kind: "number", key: "axis_tilt_deg", label: "Axis tilt", unit: "\u00b0", allowed: [-10, 90] },
      {
        kind: "number",
        key: "pap_over_in",
        label: "Positive axis point, over",
        unit: "in",
        allowed: [2, 7.5],
        guess: "5",
        help: "From the centre of the grip.",
      },
      {
        kind: "number",
        key: "pap_up_in",
        label: "Positive axis point, up",
        unit: "in",
        allowed: [-3, 3],
        guess: "0.5",
        help: "Negative is down.",
      },
      {
        kind: "number",
        key: "slide_to_laydown_boards",
        label: "Sliding foot to lay-down",
        unit: "boards",
        allowed: [0, 15],
        guess: "6.5",
        help: "How far the foot slides to your other side of the board where the ball touches down.",
      },
      {
        kind: "number",
        key: "loft_in",
        label: "Loft",
        unit: "in",
        allowed: [0, 40],
        help: "Height from which the ball falls to the lane.",
      },
    ],
  },
  {
    title: "Money",
    isPrivate: true,
    fields: [
      {
        kind: "flag",
        key: "side_pots",
        label: "Show side pots and brackets",
        guess: "yes",
        help: "With no they appear nowhere. What is allowed, laws on gambling and the event\u2019s rules decide.",
      },
      {
        kind: "text",
        key: "home_currency",
        label: "Home currency",
        guess: "none",
        help: "Three capital letters. A season is added up in it.",
      },
    ],
  },
  {
    title: "Scatter",
    at: "scatter",
    help: "How far your own shots stray from what you meant: one standard deviation.",
    fields: [
      { kind: "number", key: "laydown_boards", label: "Lay-down", unit: "boards", allowed: [0, 5] },
      { kind: "number", key: "launch_angle_deg", label: "Launch angle", unit: "\u00b0", allowed: [0, 3] },
      { kind: "number", key: "speed_mph", label: "Speed", unit: "mph", allowed: [0, 4] },
      { kind: "number", key: "rev_rate_rpm", label: "Rev rate", unit: "rpm", allowed: [0, 150] },
    ],
  },
  {
    title: "What you can repeat",
    at: "range",
    help: "Lowest and highest. Changes of speed and of hand are for those who have practised them.",
    fields: [
      {
        kind: "span",
        key: "laydown_boards",
        label: "Lay-down boards, from the right edge",
        unit: "board",
        allowed: [1, 39],
      },
      {
        kind: "span",
        key: "launch_angle_deg",
        label: "Launch angles",
        unit: "\u00b0",
        allowed: [-5, 10],
        help: "Positive is toward the gutter on your hand\u2019s side.",
      },
      {
        kind: "span",
        key: "speed_change_mph",
        label: "Changes of speed on purpose",
        unit: "mph",
        allowed: [-4, 4],
        help: "0 and 0: none.",
      },
      {
        kind: "span",
        key: "axis_rotation_change_deg",
        label: "Changes of axis rotation on purpose",
        unit: "\u00b0",
        allowed: [-30, 30],
        help: "Negative is farther behind the ball. 0 and 0: none.",
      },
    ],
  },
  {
    title: "What to take care of",
    at: "care",
    isPrivate: true,
    help: "Stays in your account: never on a phone\u2019s pack, in an export for others, a recap or a log. This program cannot judge an injury. With pain, stop, and ask a doctor or another qualified person.",
    fields: [
      { kind: "texts", key: "watch", label: "What to watch, one a line" },
      { kind: "texts", key: "straps", label: "Braces and tape that you wear, one a line" },
    ],
  },
];
