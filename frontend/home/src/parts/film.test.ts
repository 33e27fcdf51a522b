import { describe, expect, it } from "vitest";
import { filmNumbers, ownCopy, ratioWords, traceOfFilm, type FilmCard, type LibraryPattern } from "./film";

const PATTERN: LibraryPattern = {
  name: "library: Kelp 40", document: { name: "Kelp 40", pass: [{ loads: 1 }] },
  length_ft: 40, volume_ml: 25.04, ratio: 3.14, description: "",
};

describe("films", () => {
  it("are told with their units", () => {
    expect(filmNumbers(PATTERN)).toBe("40 ft, 25 mL, 3.1:1");
    expect(ratioWords(null)).toBe("dry outside");
  });

  it("are copied under a free name, without sharing what they hold", () => {
    const copy = ownCopy(PATTERN, ["Kelp 40", "Kelp 40, 2"]);
    expect(copy["name"]).toBe("Kelp 40, 3");
    (copy["pass"] as { loads: number }[])[0]!.loads = 9;
    expect(PATTERN.document["pass"]).toEqual([{ loads: 1 }]);
  });

  it("are drawn with the rule of 31: a 40 ft pattern is left on board 9", () => {
    const film_units = Array.from({ length: 60 }, () => Array.from({ length: 39 }, () => 4));
    const trace = traceOfFilm({ ...PATTERN, film_units } as unknown as FilmCard);
    expect(trace.rule).toEqual({ board: 9, ft: 40 });
    expect(trace.path).toEqual([]);
  });
});
