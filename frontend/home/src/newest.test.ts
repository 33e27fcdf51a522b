import { expect, it } from "vitest";
import { newest } from "./newest";

const turn = () => new Promise((wake) => setTimeout(wake));

it("asks one at a time and skips what was overtaken", async () => {
  const asked: number[] = [];
  const told: number[] = [];
  let letGo: () => void = () => undefined;
  const questions = newest(
    async (question: number) => {
      asked.push(question);
      await new Promise<void>((wake) => (letGo = wake));
      return question * 10;
    },
    (answer) => told.push(answer),
    (cause) => {
      throw cause;
    },
  );
  for (const question of [1, 2, 3, 4]) questions.put(question);
  await turn();
  expect(asked).toEqual([1]);
  letGo();
  await turn();
  expect(asked).toEqual([1, 4]);
  letGo();
  await turn();
  expect(told).toEqual([10, 40]);
});

it("goes on after a refusal, and tells nothing once it is over", async () => {
  const told: string[] = [];
  const questions = newest(
    (question: string) => (question === "bad" ? Promise.reject(new Error(question)) : Promise.resolve(question)),
    (answer) => told.push(answer),
    (cause) => told.push(`refused ${(cause as Error).message}`),
  );
  questions.put("bad");
  await turn();
  questions.put("good");
  await turn();
  expect(told).toEqual(["refused bad", "good"]);
  questions.put("late");
  questions.end();
  await turn();
  expect(told).toHaveLength(2);
});
