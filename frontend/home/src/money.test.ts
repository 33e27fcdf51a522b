import { describe, expect, it } from "vitest";
import { barWidth, kindWords, ledgerFacts, signed, stakeFacts, stakeName, sumFacts, type EventLedger, type Stake } from "./money";

const STAKE: Stake = {
  kind: "high_game",
  per: "game",
  fee: "8.00",
  entries: 46,
  places_paid: 3,
  own_entries: 1,
  left: 3,
  advice: "worth it",
  one: { entries: 1, cost: "8.00", returned: "9.69", gain: "1.69", sd: "34.80", cash_chance: 0.084 },
  all: null,
  further_gain: "-2.75",
  further_advice: "not worth it",
  fair_form_pins: 202.9,
  gain_chance: 0.575,
  words: [],
};

const MONEY: EventLedger = {
  event: "Gorse Singles",
  date: "2026-10-17",
  currency: "SEK",
  home_currency: "EUR",
  rate: "0.0897",
  games: 6,
  is_over: false,
  costs: [],
  winnings: [],
  planned_cost: "998.00",
  cost: "1001.30",
  cost_per_game: "166.88",
  won: null,
  result: null,
  home_cost: "89.82",
  home_result: null,
  break_even: { prize: "1001.30", place: 3, events_paid_by_winning: 2, chance: 0.125 },
  expected: null,
};

describe("stakes", () => {
  it("are called by what is won and for what there is one", () => {
    expect(stakeName(STAKE)).toBe("High game, one a game");
    expect(stakeName({ ...STAKE, kind: "brackets", per: "bracket", entries: 8 })).toBe("Brackets of 8");
    expect(kindWords("prize")).toBe("Prizes");
  });

  it("tell one entry in figures, and one more where there is one", () => {
    expect(stakeFacts(STAKE).map(({ name, value }) => [name, value])).toEqual([
      ["Fee", "8.00"],
      ["Comes back on average", "9.69"],
      ["Give or take", "34.80"],
      ["Anything at all", "8 %"],
      ["Fair for a form of", "203 pins"],
      ["One more", "−2.75"],
    ]);
    expect(stakeFacts({ ...STAKE, own_entries: 0 }).some(({ name }) => name === "One more")).toBe(false);
    expect(stakeFacts({ ...STAKE, one: null })).toEqual([{ name: "Fee", value: "8.00" }]);
  });
});

describe("a ledger", () => {
  it("says what pays the event until it is over", () => {
    const told = Object.fromEntries(ledgerFacts(MONEY).map(({ name, value, note }) => [name, [value, note]]));
    expect(told["Paid by"]).toEqual(["place 3 or better", "13 % likely"]);
    expect(told["To win pays"]?.[0]).toBe("2 such events");
    expect(told["At home"]?.[0]).toBe("89.82 EUR");
    const over = ledgerFacts({ ...MONEY, is_over: true, home_currency: "SEK" });
    expect(over.map(({ name }) => name)).toEqual(["A game costs"]);
  });

  it("keeps amounts as they were told, with a sign where they are gains", () => {
    expect([signed("-74.80"), signed("0.00"), signed("1398.70")]).toEqual(["−74.80", "0.00", "+1398.70"]);
    const sums = { events: 1, games: 6, cost: "332.80", cost_per_game: "55.47", won: "258.00", result: "-74.80" };
    expect(sumFacts(sums, true).map(({ value }) => value)).toEqual(["1 event", "332.80", "258.00", "−74.80"]);
    expect(sumFacts(sums, false).map(({ name }) => name)).toEqual(["To come", "Cost, as planned"]);
  });

  it("draws bars beside the largest", () => {
    expect([barWidth("50.00", ["50.00", "200.00"]), barWidth("0.00", ["0.00"])]).toEqual([25, 0]);
  });
});
