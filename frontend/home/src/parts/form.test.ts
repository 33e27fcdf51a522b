import { describe, expect, it } from "vitest";
import { putAt, valueAt, type Table } from "./form";

describe("values by path", () => {
  it("finds and puts values in tables and in rows", () => {
    const document: Table = { name: "Kelp", pass: [{ end_ft: 20 }, { end_ft: 30 }] };
    expect(valueAt(document, "pass.1.end_ft")).toBe(30);
    putAt(document, "pass.1.end_ft", 31);
    putAt(document, "scatter.speed_mph", 0.4);
    expect(document).toEqual({
      name: "Kelp",
      pass: [{ end_ft: 20 }, { end_ft: 31 }],
      scatter: { speed_mph: 0.4 },
    });
    expect(valueAt(document, "range.laydown_boards")).toBeUndefined();
    expect(valueAt(document, "name.first")).toBeUndefined();
  });

  it("leaves no empty table behind, but keeps empty rows", () => {
    const document: Table = { scatter: { speed_mph: 0.4 }, pass: [{ loads: 1 }] };
    putAt(document, "scatter.speed_mph", undefined);
    putAt(document, "range.speed_mph", undefined);
    putAt(document, "pass.0.loads", undefined);
    expect(document).toEqual({ pass: [{}] });
  });
});
