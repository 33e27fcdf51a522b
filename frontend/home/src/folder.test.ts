import { expect, it } from "vitest";
import { folderOf } from "./folder";

const event = 'name = "Harbour"\nbowler_name = "Ada Quill"\n';

it("names files by their path from the event file", () => {
  const folder = folderOf([
    { path: "season/open/event.toml", text: event },
    { path: "season/open/squad.csv", text: "pair" },
    { path: "season/house.toml", text: "lanes" },
  ]);
  expect(folder.event_file).toBe("event.toml");
  expect(Object.keys(folder.files)).toEqual(["event.toml", "squad.csv", "../house.toml"]);
});

it("finds an event file of another name", () => {
  expect(folderOf([{ path: "spring.toml", text: event }]).event_file).toBe("spring.toml");
});

it("says what is missing, and refuses two events at once", () => {
  expect(() => folderOf([{ path: "squad.csv", text: "" }])).toThrow(/No event file/);
  const two = [
    { path: "a.toml", text: event },
    { path: "b.toml", text: event },
  ];
  expect(() => folderOf(two)).toThrow(/one at a time/);
});
