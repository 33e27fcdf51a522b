/** The parts of event.toml's form that are plain fields; what it takes from other records is picked. */

import type { CellField, Choice, Field, Section, Table } from "../parts/form";

export const TERMS: Section = {
  title: "The event",
  fields: [
    { kind: "text", key: "name", label: "Name", needed: true },
    { kind: "day", key: "date", label: "First day", needed: true },
    { kind: "day", key: "entry_deadline", label: "Last day to enter", help: "For the season\u2019s calendar." },
    { kind: "number", key: "games", label: "Games", unit: "games", allowed: [1, 24], needed: true },
    {
      kind: "number",
      key: "practice_minutes",
      label: "Practice",
      unit: "minutes",
      allowed: [0, 120],
      guess: "10",
    },
    {
      kind: "number",
      key: "move_pairs",
      label: "Move after every game",
      unit: "pairs",
      allowed: [-50, 50],
      needed: true,
      help: "Toward higher lanes is positive. 0: you stay.",
    },
    {
      kind: "number",
      key: "ball_limit",
      label: "Balls that may be brought",
      unit: "balls",
      allowed: [1, 50],
      guess: "no limit",
    },
    {
      kind: "number",
      key: "spare_balls",
      label: "Of them for spares alone",
      unit: "balls",
      allowed: [0, 5],
      guess: "1",
    },
    {
      kind: "choice",
      key: "surface_changes",
      label: "Surfaces may be changed",
      guess: "before",
      choices: [
        { value: "before", label: "only before the first game" },
        { value: "any", label: "before it, and by hand between games" },
        { value: "none", label: "not at all" },
      ],
    },
  ],
};

/** How the event is decided: what a game counts, what is added to it, and what comes after the cut. */
export const DECIDED: readonly Section[] = [
  {
    title: "How it is decided",
    fields: [
      {
        kind: "choice",
        key: "counting",
        label: "A game counts",
        guess: "traditional",
        choices: [
          { value: "traditional", label: "as usual, with the balls after a mark" },
          { value: "current-frame", label: "by the current frame: a strike is 30" },
        ],
      },
      {
        kind: "rows",
        key: "stage",
        label: "Stages after the games that everybody bowls",
        row: "stage",
        help: "The first one’s entrants are those who make the cut.",
        columns: [
          {
            kind: "choice",
            key: "kind",
            label: "Bowled as",
            needed: true,
            choices: [
              { value: "block", label: "a block of games" },
              { value: "round-robin", label: "a round robin" },
              { value: "single-elimination", label: "single elimination" },
              { value: "double-elimination", label: "double elimination" },
              { value: "step-ladder", label: "a step ladder" },
            ],
          },
          { kind: "number", key: "entrants", label: "Entrants", unit: "entrants", allowed: [2, 1024], needed: true },
          { kind: "number", key: "games", label: "Games, or games a match", unit: "games", allowed: [1, 24], guess: "1" },
          {
            kind: "choice",
            key: "pins",
            label: "Pins from before",
            guess: "reset",
            choices: [
              { value: "carried", label: "carried on" },
              { value: "reset", label: "reset to 0" },
            ],
          },
          { kind: "number", key: "win_bonus_pins", label: "Bonus for a match won", unit: "pins", allowed: [0, 300], guess: "30" },
          { kind: "number", key: "tie_bonus_pins", label: "Bonus for a tie", unit: "pins", allowed: [0, 300], guess: "15" },
        ],
      },
    ],
  },
  {
    title: "Handicap",
    at: "handicap",
    help: "Leave all of it empty where nothing is added.",
    fields: [
      { kind: "number", key: "base", label: "Base", unit: "pins", allowed: [0, 300], help: "An average that nothing is added to." },
      { kind: "number", key: "percent", label: "Share of what lacks to it", unit: "%", allowed: [0, 200] },
      {
        kind: "choice",
        key: "rounding",
        label: "A fraction of a pin",
        guess: "down",
        choices: [
          { value: "down", label: "is dropped" },
          { value: "half-up", label: "counts from a half on" },
        ],
      },
      { kind: "number", key: "most", label: "At most", unit: "pins", allowed: [0, 300], guess: "no limit" },
    ],
  },
];

export const EARLIER: readonly CellField[] = [
  { kind: "number", key: "games", label: "Games", unit: "games", allowed: [1, 24], guess: "as the event" },
  { kind: "number", key: "practice_minutes", label: "Practice", unit: "minutes", allowed: [0, 120], guess: "as the event" },
  { kind: "number", key: "move_pairs", label: "Move", unit: "pairs", allowed: [-50, 50], guess: "as the event" },
];


/** What the event costs and pays, in its currency; side pots and brackets only for who wants to see them. */
export function moneySections(currency: string, withSidePots = true): Section[] {
  const also = withSidePots ? "side_pots, brackets, " : "";
  const money: Section = {
    title: "Money",
    at: "money",
    isPrivate: true,
    help: "Stays in your account: never on a phone, in an export for others or in a log.",
    fields: [
      { kind: "text", key: "currency", label: "Currency", guess: "EUR", help: "Three capital letters." },
      { kind: "number", key: "entry_fee", label: "Entry fee", unit: currency, allowed: [0, 1e9], guess: "0" },
      { kind: "number", key: "entries", label: "Entries of the whole event", unit: "entries", allowed: [1, 10000], guess: "rows of the squad" },
      { kind: "number", key: "cut_to", label: "Go on after the cut", unit: "entries", allowed: [1, 10000], guess: "no cut" },
      { kind: "number", key: "rate", label: "Worth in your home currency", unit: `for 1 ${currency}`, allowed: [1e-9, 1e6], guess: "not known", help: "Left empty where both are the same." },
      { kind: "amounts", key: "expenses", label: "Other costs, as planned", unit: currency, line: "a cost", typical: "travel" },
      { kind: "numbers", key: "prizes", label: "Prizes by place, largest first", unit: currency, help: "With spaces between: 1500 800 500." },
      { kind: "amounts", key: "spent", label: "Paid in the end, where not as planned", unit: currency, line: "a cost", typical: "travel", help: `entry_fee, ${also}or any other cost by its name.` },
      { kind: "amounts", key: "winnings", label: "Won in the end", unit: currency, line: "an amount", typical: "prize", help: `prize, ${also}or other. Once it is over and nothing was won: prize, 0.` },
    ],
  };
  if (!withSidePots) return [money];
  const pots: Section = {
    title: "Side pots",
    at: "money",
    isPrivate: true,
    fields: [{ kind: "rows", key: "side_pots", label: "Side pots", row: "side pot", columns: sidePot(currency) }],
  };
  const brackets: Section = {
    title: "Brackets",
    at: "money.brackets",
    isPrivate: true,
    help: "Leave all of it empty where you enter none.",
    fields: [
      { kind: "number", key: "fee", label: "Fee of one place", unit: currency, allowed: [0, 1e9] },
      { kind: "number", key: "size", label: "Bowlers in a bracket", unit: "bowlers", allowed: [2, 32], help: "2, 4, 8, 16 or 32." },
      { kind: "numbers", key: "pays", label: "Amounts by place", unit: currency, help: "As 25 10." },
      { kind: "number", key: "count", label: "Brackets that you enter", unit: "brackets", allowed: [0, 1000], guess: "1" },
      { kind: "flag", key: "handicap", label: "Handicap counts", guess: "as in the event" },
    ],
  };
  return [money, pots, brackets];
}

export function sidePot(currency: string): readonly CellField[] {
  return [
    { kind: "text", key: "kind", label: "What is won", needed: true, help: "high_game, high_series, mystery_game or eliminator; of anything else only the fee is told." },
    { kind: "number", key: "fee", label: "Fee", unit: currency, allowed: [0, 1e9], needed: true },
    { kind: "number", key: "entries", label: "Entries", unit: "", allowed: [1, 10000], needed: true },
    { kind: "numbers", key: "pays", label: "Shares by place, as 0.6 0.4", unit: "", needed: true },
    {
      kind: "choice",
      key: "per",
      label: "One for each",
      guess: "squad",
      choices: [
        { value: "game", label: "game" },
        { value: "squad", label: "squad" },
      ],
    },
    { kind: "flag", key: "handicap", label: "Handicap", guess: "as in the event" },
    { kind: "number", key: "count", label: "Yours", unit: "entries", allowed: [0, 1000], guess: "1" },
  ];
}

/** The records that an event is made of, as they are picked. */
export interface Picks {
  houses: readonly Choice[];
  patterns: readonly Choice[];
  bowlers: readonly Choice[];
  squads: readonly Choice[];
  /** Names in the squad that is picked. */
  names: readonly string[];
}

/** Where, on what and with whom; and the squads before. */
export function pickSections(document: Table, picks: Picks): Section[] {
  const patterns = (key: string, label: string): Field => ({ kind: "choice", key, label, choices: picks.patterns, needed: true });
  const name: Field = picks.names.length
    ? { kind: "choice", key: "bowler_name", label: "Your name in the squad", needed: true, choices: picks.names.map((value) => ({ value, label: value })) }
    : { kind: "text", key: "bowler_name", label: "Your name in the squad", needed: true };
  return [
    {
      title: "Where, on what and with whom",
      fields: [
        { kind: "choice", key: "house", label: "House", choices: picks.houses, needed: true },
        { kind: "choice", key: "bowler", label: "Bowler", choices: picks.bowlers, needed: true, help: "With all balls of the locker that are not retired." },
        { kind: "choice", key: "squad", label: "Squad", choices: picks.squads, needed: true },
        name,
        ...(hasTwoPatterns(document)
          ? [patterns("left_pattern", "Pattern of left (odd) lanes"), patterns("right_pattern", "Pattern of right (even) lanes")]
          : [patterns("pattern", "Pattern")]),
      ],
      toggle: { label: "Left and right lanes have patterns of their own", isOn: hasTwoPatterns, turn: turnPatterns },
    },
    {
      title: "Squads before yours",
      help: "They bowl on the same dressing, first one first, and wear the lanes before your practice.",
      fields: [
        {
          kind: "rows",
          key: "earlier_squad",
          label: "Squads before",
          row: "squad before",
          columns: [{ kind: "choice", key: "squad", label: "Squad", choices: picks.squads, needed: true }, ...EARLIER],
        },
      ],
    },
  ];
}

function hasTwoPatterns(document: Table): boolean {
  return "left_pattern" in document || "right_pattern" in document;
}

/** One pattern becomes the left lanes’, and theirs the one of all lanes again. */
function turnPatterns(document: Table, isOn: boolean): void {
  if (isOn) {
    document["left_pattern"] = document["pattern"] ?? "";
    delete document["pattern"];
  } else {
    if (document["left_pattern"]) document["pattern"] = document["left_pattern"];
    delete document["left_pattern"];
    delete document["right_pattern"];
  }
}
