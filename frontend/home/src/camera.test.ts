import { describe, expect, it } from "vitest";
import { base64, fitted, greyOf } from "./camera";

describe("pictures of a camera", () => {
  it("become shades of grey: black, white, and green brighter than blue", () => {
    const rgba = Uint8ClampedArray.from([0, 0, 0, 255, 255, 255, 255, 255, 0, 255, 0, 255, 0, 0, 255, 255]);
    expect([...greyOf(rgba)]).toEqual([0, 255, 150, 29]);
  });

  it("are sent in base 64, as Node writes it, however large", () => {
    const bytes = Uint8Array.from({ length: 100_001 }, (_, place) => (place * 7919) % 256);
    expect(base64(bytes)).toBe(Buffer.from(bytes).toString("base64"));
  });

  it("are made smaller, never larger", () => {
    expect(fitted(1920, 1080, 1280)).toEqual([1280, 720]);
    expect(fitted(640, 480, 1280)).toEqual([640, 480]);
  });
});
