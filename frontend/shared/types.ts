/** Shapes of the API and of a pocket. Trade units, as the names say; boards from the right edge. */

export type Grit = number | "polished";
export type Hand = "right" | "left";

export interface Line {
  laydown_board: number;
  slide_board: number;
  target_board: number;
  launch_angle_deg: number;
  breakpoint_board: number;
  breakpoint_ft: number;
  exit_board: number;
  speed_mph: number;
  speed_change_mph: number;
  axis_rotation_change_deg: number;
}

export interface Entry {
  offset_board: number;
  entry_angle_deg: number;
  speed_mph: number;
}

export interface Room {
  boards: number;
  mph: number;
  laydown_boards: number;
  launch_angle_deg: number;
}

export interface Move {
  feet_boards: number;
  target_boards: number;
  ball_change: boolean;
  name: string | null;
  why: string;
}

export interface Fallback {
  ball: string;
  surface_grit: Grit;
  line: Line;
  right_line: Line;
  when: string;
}

export interface LaterLine {
  from_frame: number;
  line: Line;
  right_line: Line;
  move: Move;
  right_move: Move;
  gain_pins: number;
}

export interface SheetLane {
  lane: number;
  film_units_at: Record<string, number[]>;
  line: Line;
  entry: Entry;
  strike_probability: number;
  path_boards: number[];
  band_boards: [number, number][];
  film_units: number[][];
}

/** What a sheet and a pocket both say of one game. */
export interface GamePlan {
  game: number;
  pair: string;
  shots_before_on_my_side: number;
  shots_before_other_side: number;
  ball: string;
  surface_grit: Grit;
  room: Room;
  strike_probability: number;
  spare_probability: number;
  expected_score: number;
  score_interval_80: [number, number];
  field_score: number | null;
  usual_score: number | null;
  move_from_previous_game: Move | null;
  fallback: Fallback | null;
  later_line: LaterLine | null;
  why: string[];
}

export interface SheetGame extends GamePlan {
  lanes: SheetLane[];
  line: Line;
  entry: Entry;
  bad_case_score: number | null;
  shots_before_unknown_side: number;
  shots_before_by_earlier_squads: number;
  release_gain_pins_per_game: number;
}

export interface BagItem {
  ball: string;
  surface_grit: Grit;
  cost_if_left_pins_per_game: number;
  bad_case_cost_if_left_pins_per_game: number;
  purpose: string;
  fresh_surface: boolean;
  surface_by: string;
  games: number[];
  stands_in_for: string | null;
}

export interface PracticeShot {
  minute: number;
  lane: number;
  ball: string;
  surface_grit: Grit;
  shots: number;
  line: Line;
  why: string;
}

export interface PracticeOption {
  name: string;
  expected_gain_pins_per_game: number;
  told_pins_per_game: number;
  worn_pins_per_game: number;
  chosen: boolean;
  words: string;
}

export interface PatternNumbers {
  name: string;
  length_ft: number;
  volume_ml: number;
  ratio: number | null;
  sport_class: string;
}

export interface Sheet {
  event: string;
  date: string;
  house: string;
  bowler: string;
  hand: Hand;
  model_version: string;
  seed: number;
  rule_of_31_exit_board: number;
  second_opinion: string;
  condition: string;
  pattern: PatternNumbers;
  right_pattern: PatternNumbers | null;
  bag: BagItem[];
  bag_worth: { mean_pins_per_game: number; bad_case_pins_per_game: number; places_free: number | null } | null;
  left_at_home: BagItem[];
  practice: PracticeShot[];
  practice_options: PracticeOption[];
  games: SheetGame[];
  guessed: string[];
  cautions: string[];
}

export interface Effect {
  parameter: string;
  change: number | Grit;
  boards: number;
  degrees: number;
}

/** One shot: what `nextpair path --json` tells, with the path at every foot. */
export interface PathCard {
  lane: number;
  ball: string;
  surface_grit: Grit;
  surface_by: string;
  hand: Hand;
  pattern_length_ft: number;
  rule_of_31_exit_board: number;
  laydown_board: number;
  launch_angle_deg: number;
  speed_mph: number;
  axis_rotation_deg: number;
  status: string;
  target_board: number | null;
  breakpoint_board: number | null;
  breakpoint_ft: number | null;
  exit_board: number | null;
  gutter_ft: number | null;
  skid_end_ft: number | null;
  hook_end_ft: number | null;
  revolutions: number;
  flare_in: number;
  arrival_s: number | null;
  speed_lost_mph: number | null;
  entry: Entry | null;
  strike_probability: number;
  leaves: { pins: string; probability: number }[];
  what_moves_it: Effect[];
  carry_in_range: boolean | null;
  cautions: string[];
  path_boards: number[];
  film_units: number[][];
}

// The store

export type Kind = "house" | "pattern" | "bowler" | "ball" | "squad" | "event" | "kit" | "goal";
export type Document = Record<string, unknown>;

export interface Kept<D = Document> {
  id: string;
  kind: Kind;
  name: string;
  revision: number;
  saved_at: string;
  deleted: boolean;
  document: D;
  links: string[];
  guessed?: string[];
}

export interface Problem {
  file: string;
  place: string;
  found: string;
  allowed: string;
  words: string;
}

export type JobKind = "sheet" | "spares" | "read" | "pocket" | "debrief";
export type JobState = "waiting" | "running" | "done" | "failed" | "cancelled" | "interrupted";

export interface Job {
  id: string;
  kind: JobKind;
  event: string;
  state: JobState;
  label: string;
  done: number;
  total: number;
  why: string;
  result: string | null;
  made_at: string | null;
}

export interface Status {
  app: "nextpair";
  version: string;
  model_version: string;
  needs_sign_in: boolean;
  account: { id: string; name: string } | null;
  warm: boolean;
  secure: boolean;
  home: boolean;
}

/** What is known of one event, before anything is computed. */
export interface EventSummary {
  event: Kept;
  pairs: { game: number; pair: string; lanes: [number, number] }[];
  squad_size: number;
  bowler: string;
  hand: Hand;
  house: string;
  patterns: string[];
  problems: Problem[];
  guessed: string[];
  sheet: Standing | null;
  read: Standing | null;
  pocket: Standing | null;
  debrief: Standing | null;
  log: { seq: number; shots: number };
}

/** A computed thing that is kept: when it was made, and whether what it was made of has changed. */
export interface Standing {
  id: string;
  made_at: string;
  stale: boolean;
}

export interface KeptSheet extends Standing {
  model_version: string;
  seed: number;
  log_seq: number;
  sheet: Sheet;
}

// The log

export type JottingKind = "shot" | "void" | "score" | "tick" | "note" | "visit" | "lesson";

export interface ShotPayload {
  game: number;
  frame: number;
  delivery: number;
  lane: number;
  ball: string;
  surface_grit?: Grit;
  laydown_board?: number;
  target_board?: number;
  meant_laydown_board?: number;
  meant_target_board?: number;
  speed_mph?: number;
  breakpoint_board?: number;
  entry_board?: number;
  standing_before: number[] | null;
  standing_after: number[] | null;
  foul?: boolean;
  note?: string;
}

export interface Jotting<P = Record<string, unknown>> {
  id: string;
  event: string;
  device: string;
  device_seq: number;
  kind: JottingKind;
  payload: P;
  supersedes: string | null;
  schema_version: number;
  client_time: string;
}

export type Answer = "stored" | "duplicate" | "conflict" | "refused";

export interface Receipt {
  id: string;
  answer: Answer;
  seq: number | null;
  why: string;
}

// The pocket

export interface PocketLane {
  lane: number;
  line: Line;
  entry: Entry;
  strike_probability: number;
  /** Tenths of a board at every whole foot, 0 to 59. */
  path: number[];
  band: [number, number][];
  /** 60 rows of 39 hex digits: step of the film's colours, 0 dry to a. */
  film: string[];
}

export interface PocketGame extends GamePlan {
  lanes: PocketLane[];
}

export interface SpareLine {
  laydown_board: number;
  slide_board: number;
  target_board: number;
  launch_angle_deg: number;
  speed_mph: number;
  axis_rotation_deg: number;
}

export interface PocketSpare {
  ball: string;
  surface_grit: Grit;
  flat: boolean;
  line: SpareLine;
  probability: number;
  pass_boards: number[];
  kind: string;
  runner_up: { ball: string; probability: number } | null;
  system: {
    system: string;
    start_move_boards: number;
    line: SpareLine;
    probability: number;
    why: string;
  } | null;
}

export interface PocketEntrant {
  name: string;
  pair: string;
  hand: Hand | null;
}

export type Counting = "traditional" | "current-frame";

export interface HandicapRule {
  base: number;
  percent: number;
  rounding: "down" | "half-up";
  most: number | null;
}

export interface PocketStage {
  kind: "block" | "round-robin" | "single-elimination" | "double-elimination" | "step-ladder";
  entrants: number;
  games: number;
  pins: "carried" | "reset";
}

export interface PackingItem {
  item: string;
  many: number;
  why: string;
  group: string;
}

/** A case with balls, against what the journey allows. */
export interface CaseWeight {
  balls: string[];
  weight_lb: number;
  limit_lb: number;
  over_lb: number;
}

export interface Pocket {
  app: "nextpair";
  pocket: 1;
  event_id: string;
  made_at: string;
  model_version: string;
  seed: number;
  event: {
    name: string;
    date: string;
    house: string;
    bowler: string;
    hand: Hand;
    games: number;
    practice_minutes: number;
    surface_changes: string;
    ball_limit: number | null;
    pinfall: "free" | "string";
    pattern_names: string[];
    rule_of_31_exit_board: number;
    // How the event is decided: not in pockets of an earlier version.
    average?: number;
    counting?: Counting;
    cut_to?: number | null;
    entries?: number;
    handicap?: HandicapRule | null;
    places_paid?: number;
    stages?: PocketStage[];
  };
  squad?: PocketEntrant[];
  pairs: { game: number; pair: string; lanes: [number, number] }[];
  balls: { ball: string; surface_grit: Grit; role: "strike" | "spare"; in_bag: boolean }[];
  games: PocketGame[];
  practice: PracticeShot[];
  condition: string;
  second_opinion: string;
  guessed: string[];
  cautions: string[];
  /** By leave, as "3-10". */
  spares: Record<string, PocketSpare>;
  /** For other leaves the one of `spares` that they are shot like. */
  spares_alike?: Record<string, string>;
  reading: unknown;
  packing: PackingItem[];
  /** Left out of pockets that were made before there were any. */
  packing_missing?: string[];
  packing_cases?: CaseWeight[];
  packing_cautions?: string[];
}

// Scores and the field

export type Interval = [number, number];

/** A frame as it is written: its balls, and the game's score after it once that is known. */
export interface FrameMarks {
  marks: string[];
  total: number | null;
}

/** A game as far as it is bowled, and what it can still become. */
export interface GameScore {
  game: number;
  frames: FrameMarks[];
  total: number | null;
  so_far: number;
  max_possible: number;
  pace?: number | null;
  expected_finish?: number | null;
  /** Whether it was counted from logged shots, or written down as it stood on a sheet. */
  source?: "shots" | "sheet";
}

/** A game that is being written down, with everything wrong with it by frame. */
export interface CheckedGame extends GameScore {
  min_possible: number;
  problems: (Problem & { frame: number | null })[];
}

/** What a `score` jotting says. */
export interface ScorePayload {
  name: string;
  game: number;
  score: number;
  handicap?: number;
  squad?: string;
  hand?: Hand;
  pair?: string;
  average?: number;
  /** The game as it stands on a score sheet. */
  balls?: string;
}

/** Somebody's games in order, null for one that nobody wrote down. */
export interface FieldRow {
  name: string;
  squad?: string;
  games: (number | null)[];
  handicap: number;
  total: number;
}

export interface FieldPlace extends FieldRow {
  place: number;
  squad: string;
  games_left: number;
  form_pins: number;
  cut_chance: number | null;
}

export interface GameOfField {
  game: number;
  bowlers: number;
  mean_pins: number;
  sd_pins: number;
  own_pins: number | null;
  own_sds: number | null;
}

export interface GroupOfField {
  kind: string;
  name: string;
  bowlers: number;
  games: number;
  effect_pins: number;
  effect_interval_80: Interval;
}

export interface Condition {
  bowlers: number;
  games: number;
  mean_pins: number;
  bowler_sd_pins: number;
  game_sd_pins: number;
  against_averages_pins: number | null;
  own_mean_pins: number | null;
  own_sds: number | null;
  own_sds_interval_80: Interval | null;
  by_game: GameOfField[];
  groups: GroupOfField[];
  words: string[];
}

export interface Needed {
  chance: number;
  total: number;
  pins_per_game: number | null;
  is_possible: boolean;
}

export interface Cut {
  to: number;
  line_now_pins: number | null;
  ahead_now_pins: number | null;
  projected_line_pins: number;
  projected_line_interval_80: Interval;
  chance: number;
  needed: Needed[];
}

export interface Prospects {
  stages: { kind: string; entrants: number; reach_chance: number; win_chance: number }[];
  cash_chance: number;
  win_chance: number;
  place_interval_80: Interval;
  /** Decimal numbers as text: "123.40". */
  expected_prize: string;
  prize_sd: string;
  currency: string;
}

/** Where a bowler stands at an event, as `nextpair standing --json` tells it. */
export interface FieldStanding {
  event: string;
  bowler: string;
  entries: number;
  games: number;
  games_bowled: number;
  seed: number;
  draws: number;
  field: FieldPlace[];
  condition: Condition;
  cut: Cut | null;
  prospects: Prospects | null;
  cautions: string[];
}
