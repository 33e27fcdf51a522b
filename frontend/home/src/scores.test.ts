import { describe, expect, it } from "vitest";
import type { KeptJotting } from "$shared/journal";
import type { FieldRow, Jotting } from "$shared/types";
import { ordered, placed, scoresOf, squadsIn, writtenScores } from "./scores";

let count = 0;
function jotting(kind: Jotting["kind"], payload: Record<string, unknown>, supersedes: string | null = null): KeptJotting {
  count += 1;
  const id = `00000000-0000-4000-8000-${String(count).padStart(12, "0")}`;
  return {
    seq: count,
    jotting: { id, event: "e", device: "home", device_seq: count, kind, payload, supersedes, schema_version: 1, client_time: "" },
  };
}

const ROWS: FieldRow[] = [
  { name: "Odo Brack", squad: "10", games: [200, 190], handicap: 0, total: 390 },
  { name: "Ada Quill", squad: "9", games: [210], handicap: 10, total: 220 },
  { name: "Bo Farr", games: [180, 210], handicap: 0, total: 390 },
];

describe("scores of a log", () => {
  it("are the last word on each bowler's game, corrections and what was taken back seen to", () => {
    const first = jotting("score", { name: "Ada", game: 2, score: 190 });
    const wrong = jotting("score", { name: "Ada", game: 1, score: 109 });
    const right = jotting("score", { name: "Ada", game: 1, score: 190 }, wrong.jotting.id);
    const again = jotting("score", { name: " Ada ", game: 2, score: 191 });
    const other = jotting("score", { name: "Bo", game: 1, score: 150 });
    const none = jotting("void", {}, other.jotting.id);
    const told = writtenScores([first, wrong, right, again, other, none]);
    expect(told.map(({ jotting: { payload } }) => [payload.game, payload.score])).toEqual([[1, 190], [2, 191]]);
    expect(scoresOf("Ada", told)).toHaveLength(2);
    expect(scoresOf("Bo", told)).toHaveLength(0);
  });
});

describe("the field's table", () => {
  const rows = placed(ROWS, []);

  it("places by pins a game, and shares places between equals", () => {
    expect(rows.map((row) => row.place)).toEqual([2, 1, 2]);
  });

  it("takes a squad from the log where the row has none", () => {
    const written = writtenScores([jotting("score", { name: "Bo Farr", game: 1, score: 180, squad: "9" })]);
    expect(placed(ROWS, written)[2]!.squad).toBe("9");
    expect(squadsIn(ROWS)).toEqual(["9", "10"]);
  });

  it("is ordered by whatever column is asked for, who has nothing there last", () => {
    const names = (by: Parameters<typeof ordered>[1], isTurned = false) => ordered(rows, by, isTurned).map((row) => row.name[0]);
    expect(names("place").join("")).toBe("ABO");
    expect(names("name").join("")).toBe("ABO");
    expect(names("name", true).join("")).toBe("OBA");
    expect(names(1).join("")).toBe("BOA");
    expect(names(1, true).join("")).toBe("OBA");
    expect(names("squad").join("")).toBe("BAO");
  });
});
