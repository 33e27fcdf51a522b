import { expect, test } from "vitest";
import { pastedScores } from "./pasted_scores";

const BO = [{ name: "Bo Farr", game: 1, score: 187 }, { name: "Bo Farr", game: 2, score: 203 }];

test.each([
  ["a row a bowler with a header", "Name\tGame 1\tG2\nBo Farr\t187\t203"],
  ["numbers for a header", "bowler;1;2;3\nBo Farr;187;203;"],
  ["no header", "Bo Farr,187,203"],
  ["a row a game", "name,game,score\nBo Farr,1,187\nBo Farr,2,203"],
  ["a row a game without a header", "Bo Farr,1,187\r\nBo Farr,2,203\r\n"],
  ["quotes and gaps", '"Bo Farr" , 187 , 203, -\n\n'],
])("%s is read", (_, text) => {
  expect(pastedScores(text, 6)).toEqual({ scores: BO, problems: [] });
});

test("what else is told of a bowler goes along", () => {
  expect(pastedScores("name,avg,hcp,squad,g1\nBo Farr,176,20,A,187", 6).scores).toEqual([
    { name: "Bo Farr", game: 1, score: 187, handicap: 20, average: 176, squad: "A" },
  ]);
});

test("what is no score is told of, and the rest is taken", () => {
  const { scores, problems } = pastedScores("name,1,2\nBo Farr,187,345\n,200,200\nCy Lund,x,150\nDi Moor,1.5,", 2);
  expect(scores.map(({ name, score }) => [name, score])).toEqual([["Bo Farr", 187], ["Cy Lund", 150]]);
  expect(problems).toEqual([
    "Row 1, Bo Farr: 345 is no score; one is a whole number from 0 to 300.",
    "Row 2 has no name.",
    "Row 3, Cy Lund: x is no score; one is a whole number from 0 to 300.",
    "Row 4, Di Moor: 1.5 is no score; one is a whole number from 0 to 300.",
  ]);
  expect(pastedScores("name,game,score\nBo Farr,7,187", 6).problems).toEqual(["Row 1, Bo Farr: game 7 is not one of 1 to 6."]);
});

test("nothing is nothing", () => {
  expect(pastedScores("  \n", 6)).toEqual({ scores: [], problems: [] });
});

test("a name in another form of Unicode is the same bowler", () => {
  const { scores } = pastedScores("name,game,score\nA\u030aseby,1,201\n\u00c5seby,2,190", 6);
  expect(new Set(scores.map(({ name }) => name))).toEqual(new Set(["\u00c5seby"]));
});
