import { describe, expect, it } from "vitest";
import { addRow, moveRow, rowKey, takeRow } from "./rows";

const key = (name: string, held: Partial<Record<"altKey" | "shiftKey" | "ctrlKey", boolean>> = {}) =>
  rowKey({ key: name, altKey: false, shiftKey: false, ctrlKey: false, metaKey: false, ...held });

describe("rows", () => {
  it("adds a copy, so that rows never share what they hold", () => {
    const fresh = { pair: "1-2" };
    const rows = [{ pair: "3-4" }];
    addRow(rows, 0, fresh);
    addRow(rows, 0, fresh);
    rows[1]!.pair = "5-6";
    expect(rows).toEqual([{ pair: "3-4" }, { pair: "5-6" }, { pair: "1-2" }]);
    expect(fresh.pair).toBe("1-2");
  });

  it("moves rows, and not beyond an end", () => {
    const rows = [{ n: 1 }, { n: 2 }, { n: 3 }];
    expect(moveRow(rows, 0, 1)).toBe(true);
    expect(rows.map((row) => row.n)).toEqual([2, 1, 3]);
    expect(moveRow(rows, 0, -1)).toBe(false);
    expect(moveRow(rows, 2, 1)).toBe(false);
    expect(rows.map((row) => row.n)).toEqual([2, 1, 3]);
  });

  it("gives back what it takes away", () => {
    const rows = [{ n: 1 }, { n: 2 }];
    expect(takeRow(rows, 1)).toEqual({ n: 2 });
    expect(takeRow(rows, 7)).toBeUndefined();
    expect(rows).toEqual([{ n: 1 }]);
  });
});

describe("keys in a cell", () => {
  it("goes from row to row, and moves rows with Alt", () => {
    expect(key("ArrowDown")).toBe("down");
    expect(key("ArrowUp", { altKey: true })).toBe("moveUp");
    expect(key("Enter")).toBe("next");
    expect(key("Enter", { shiftKey: true })).toBe("up");
    expect(key("Enter", { ctrlKey: true })).toBeNull();
    expect(key("a")).toBeNull();
  });
});
