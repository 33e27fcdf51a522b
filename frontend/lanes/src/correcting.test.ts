import { expect, test } from "vitest";
import { FULL_RACK } from "$shared/leaves";
import type { Standing } from "$shared/journal";
import type { ShotPayload } from "$shared/types";
import { corrections } from "./correcting";

function logged(frame: number, delivery: number, before: readonly number[], after: readonly number[]): Standing {
  const payload: ShotPayload = {
    game: 1, frame, delivery, lane: 13, ball: "Kestrel", standing_before: [...before], standing_after: [...after],
  };
  const id = `${frame}.${delivery}`;
  return {
    root: `root ${id}`,
    jotting: {
      id, event: "event", device: "phone", device_seq: 1, kind: "shot", payload: { ...payload }, supersedes: null,
      schema_version: 1, client_time: "",
    },
  };
}

const shotOf = (one: Standing) => one.jotting.payload as unknown as ShotPayload;
const first = logged(2, 1, FULL_RACK, [3, 10]);
const second = logged(2, 2, [3, 10], [10]);

test("a correction stands in for the newest version of its shot", () => {
  const corrected = { ...shotOf(first), ball: "Lark" };
  expect(corrections(first, corrected, [first, second])).toEqual([
    { kind: "shot", payload: corrected, supersedes: "2.1" },
  ]);
});

test("the second ball then faces what the first one left", () => {
  const [, also] = corrections(first, { ...shotOf(first), standing_after: [6, 10] }, [first, second]);
  expect(also).toMatchObject({ supersedes: "2.2", payload: { standing_before: [6, 10], standing_after: [10] } });
});

test("a strike takes the second ball back, but not in the tenth", () => {
  const strike = (frame: number) => ({ ...shotOf(logged(frame, 1, FULL_RACK, [])) });
  expect(corrections(first, strike(2), [first, second])[1]).toEqual({ kind: "void", payload: {}, supersedes: "2.2" });
  const tenth = [logged(10, 1, FULL_RACK, [10]), logged(10, 2, [10], [])] as const;
  expect(corrections(tenth[0], strike(10), tenth)[1]).toMatchObject({
    kind: "shot", payload: { standing_before: FULL_RACK, standing_after: [] },
  });
});

test("after a foul the pins are set again for the second ball", () => {
  const foul = { ...shotOf(first), foul: true };
  expect(corrections(first, foul, [first, second])[1]).toMatchObject({ payload: { standing_before: FULL_RACK, standing_after: [10] } });
});
