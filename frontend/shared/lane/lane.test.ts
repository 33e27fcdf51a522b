import { describe, expect, it } from "vitest";
import { FILM_COLOURS, FILM_STEPS_UNITS, STRIKE_COLOURS, filmColour, strikeColour } from "../palette";
import { filmWords, levelsBetween, levelsOfSteps, levelsOfUnits, paint } from "./film";
import lane from "./lane.json";
import { planOf } from "./plan";
import { type Trace, CONTACT_FT, ruleOf31, traceBetween, traceWords } from "./trace";

const flat = (units: number) => Array.from({ length: 60 }, () => Array.from({ length: 39 }, () => units));

/** Relative luminance as WCAG 2.2 defines it. */
function luminance(colour: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

describe("colours", () => {
  it("grow darker with every step, so that they survive grey print", () => {
    for (const ramp of [FILM_COLOURS, STRIKE_COLOURS]) {
      const lights = ramp.map(luminance);
      expect(lights).toEqual([...lights].sort((one, other) => other - one));
      expect(new Set(lights).size).toBe(ramp.length);
    }
  });

  it("change where a step begins", () => {
    expect(filmColour(0.99)).toBe(FILM_COLOURS[0]);
    expect(filmColour(1)).toBe(FILM_COLOURS[1]);
    expect(filmColour(500)).toBe(FILM_COLOURS[FILM_COLOURS.length - 1]);
    expect(strikeColour(0.5)).toBe(STRIKE_COLOURS[5]);
  });
});

describe("a film", () => {
  it("is painted in the colour of its units, step by step", () => {
    for (const units of [0.5, ...FILM_STEPS_UNITS.map((begins) => begins + 0.01)]) {
      const pixels = new Uint32Array(39 * 6 * 60 * 8);
      paint(levelsOfUnits(flat(units)), pixels);
      const [red, green, blue, alpha] = new Uint8Array(pixels.buffer, 0, 4);
      const hex = [red, green, blue].map((part) => part!.toString(16).padStart(2, "0")).join("");
      expect(`#${hex}`).toBe(filmColour(units));
      expect(alpha).toBe(255);
      expect(new Set(pixels).size).toBe(1);
    }
  });

  it("lies with board 1 at the right and the foul line below", () => {
    const units = flat(0);
    units[0]![0] = 100;
    const pixels = new Uint32Array(39 * 6 * 60 * 8);
    paint(levelsOfUnits(units), pixels);
    expect(pixels[pixels.length - 1]).not.toBe(pixels[0]);
    expect(pixels[pixels.length - 39 * 6]).toBe(pixels[0]);
  });

  it("is the same from steps as from units in the middle of the steps", () => {
    const steps = Array.from({ length: 60 }, () => "4".repeat(39));
    expect([...levelsOfSteps(steps)]).toEqual([...levelsOfUnits(flat(6.5))]);
  });

  it("says its units in words", () => {
    expect(filmWords(levelsOfUnits(flat(0.2)), 20, 10)).toBe("dry");
    expect(filmWords(levelsOfUnits(flat(6)), 20, 10)).toBe("5 to 8 units");
    expect(filmWords(levelsOfUnits(flat(90)), 20, 10)).toBe("over 60 units");
  });

  it("changes smoothly", () => {
    const halfway = levelsBetween(levelsOfUnits(flat(0)), levelsOfUnits(flat(3)), 0.5);
    expect(halfway[7]).toBeCloseTo(1.5);
  });
});

describe("a plan", () => {
  const plan = planOf(300, 600, { left: 24, right: 2, top: 22, foot: 40 });

  it("has board 1 at the right, the pins above, and all of it inside the picture", () => {
    expect(plan.x(1)).toBeGreaterThan(plan.x(39));
    expect(plan.y(60)).toBeLessThan(plan.y(0));
    expect(plan.leftPx - plan.gutterPx).toBeGreaterThan(23.999);
    expect(plan.x(0) + plan.gutterPx).toBeLessThanOrEqual(298.001);
    expect(plan.y(0)).toBeCloseTo(560);
  });

  it("tells its stretch: feet are 12 inches, 39 boards 41.5", () => {
    const inchesAcross = 41.5 / plan.widthPx;
    const inchesAlong = (63 * 12) / plan.lengthPx;
    expect(plan.stretch).toBeCloseTo(inchesAlong / inchesAcross, 3);
  });
});

describe("a trace", () => {
  const trace: Trace = {
    label: "Lane 13",
    levels: levelsOfUnits(flat(6)),
    path: Array.from({ length: 60 }, (_, foot) => 24 - foot / 5),
    band: Array.from({ length: 60 }, (_, foot) => [22 - foot / 4, 26 - foot / 4] as const),
    slideBoard: 30.5,
    breakpoint: { board: 14, ft: 40 },
    rule: ruleOf31(43, "right"),
    ghost: [],
  };

  it("is told from the right edge to a right-hander and from the left to a left-hander", () => {
    const right = traceWords(trace, "right");
    expect(right).toContain("laydown 24; feet 30.5; target 21; breakpoint 14 at 40 ft");
    expect(right).toContain("between 12 and 16");
    expect(right).toContain("rule of 31: board 12 at 43 ft");
    const left = traceWords(trace, "left");
    expect(left).toContain("laydown 16; feet 9.5; target 19; breakpoint 26 at 40 ft");
    expect(left).toContain("between 24 and 28");
    expect(left).toContain("Boards count from the left edge.");
  });

  it("has the rule of 31 on the bowler's own side, never outside the lane", () => {
    expect(ruleOf31(43, "right").board).toBe(12);
    expect(ruleOf31(43, "left").board).toBe(28);
    expect(ruleOf31(30, "left").board).toBe(39);
  });

  it("ends where ball and head pin touch: radii of 4.25 and 2.383 inches", () => {
    expect(CONTACT_FT).toBeCloseTo(1 - (4.25 + 2.383) / 12, 1);
  });

  it("changes smoothly to another", () => {
    const moved: Trace = { ...trace, path: trace.path.map((board) => board + 2), slideBoard: 32.5 };
    const halfway = traceBetween(trace, moved, 0.5);
    expect(halfway.path[10]).toBeCloseTo(trace.path[10]! + 1);
    expect(halfway.slideBoard).toBeCloseTo(31.5);
  });
});

it("has pins 12 inches apart", () => {
  const [head, left, right] = lane.pin_places;
  const inches = (boards: number) => (boards * 41.5) / 39;
  expect(Math.hypot(inches(left!.board - head!.board), left!.beyond_ft * 12)).toBeCloseTo(12, 2);
  expect(inches(left!.board - right!.board)).toBeCloseTo(12, 2);
});
