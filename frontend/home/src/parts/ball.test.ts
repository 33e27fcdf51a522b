import { describe, expect, it } from "vitest";
import { ballWords, drillAnew, putOnSurface, shelfOf } from "./ball";
import type { Table } from "./form";

describe("a new finish", () => {
  const surface = { date: "2026-11-28", surface_grit: 1000, surface_by: "hand", note: " for the long pattern " };

  it("stands on the ball and in its history; a pad leaves the finish before", () => {
    const ball: Table = { name: "Kelp", surface_grit: 2000, games_on_surface: 8, surface_by: "spinner" };
    putOnSurface(ball, surface);
    expect(ball).toEqual({
      name: "Kelp", surface_grit: 1000, games_on_surface: 0, surface_by: "hand", grit_before: 2000,
      surface_history: [{ date: "2026-11-28", surface_grit: 1000, surface_by: "hand", note: "for the long pattern" }],
    });
    putOnSurface(ball, { ...surface, surface_grit: "polished", surface_by: "spinner", note: "" });
    expect(ball["grit_before"]).toBeUndefined();
    expect(ball["surface_history"]).toHaveLength(2);
    expect(ballWords({ ...ball, cover: "solid" })).toBe("solid, polished, 0 games on it");
  });
});

it("a new layout stands on the ball and in its history", () => {
  const ball: Table = { pin_to_pap_in: 4.5, layout_history: [{ date: "2025-01-01" }] };
  drillAnew(ball, { date: "2026-11-28", pin_to_pap_in: 5, drilling_angle_deg: 70, val_angle_deg: 45, note: "" });
  expect(ball).toEqual({
    pin_to_pap_in: 5, drilling_angle_deg: 70, val_angle_deg: 45,
    layout_history: [{ date: "2025-01-01" }, { date: "2026-11-28", pin_to_pap_in: 5, drilling_angle_deg: 70, val_angle_deg: 45 }],
  });
});

it("balls lie on the shelf of their role; plastic is for spares unless it says otherwise", () => {
  expect(shelfOf({ cover: "solid" })).toBe("For strikes");
  expect(shelfOf({ cover: "plastic" })).toBe("For spares");
  expect(shelfOf({ cover: "plastic", role: "strike" })).toBe("For strikes");
  expect(shelfOf({ cover: "solid", retired: true })).toBe("Retired");
});
