/** An event folder as the browser hands it over: chosen files, or a folder dropped on the page. */

export interface EventFolder {
  /** Text by name, as the event file names its neighbours. */
  files: Record<string, string>;
  event_file: string;
}

interface Named {
  path: string;
  text: string;
}

const KINDS = /\.(toml|csv)$/i;
const MOST_BYTES = 4 * 1024 * 1024;

/** Read chosen files. Throws an Error that says what is missing. */
export async function folderOfFiles(files: Iterable<File>): Promise<EventFolder> {
  const readable = [...files].filter((file) => KINDS.test(file.name));
  return folderOf(await Promise.all(readable.map((file) => read(file, file.webkitRelativePath || file.name))));
}

/** Read what was dropped, folders with all they hold. Throws an Error that says what is missing. */
export async function folderOfDrop(drop: DataTransfer): Promise<EventFolder> {
  const entries = [...drop.items].flatMap((item) => item.webkitGetAsEntry() ?? []);
  return folderOf((await Promise.all(entries.map(readEntry))).flat());
}

/** The event file among files, and the others by their path from it. */
export function folderOf(files: readonly Named[]): EventFolder {
  const isEvent = ({ path, text }: Named) => path.endsWith(".toml") && /^\s*bowler_name\s*=/m.test(text);
  const events = files.filter(isEvent);
  const event = events.find(({ path }) => path.split("/").at(-1) === "event.toml") ?? events[0];
  if (!event) {
    throw new Error("No event file among these: choose event.toml together with the files that it names.");
  }
  if (events.length > 1 && !events.every(({ path }) => path === event.path)) {
    const others = events.map(({ path }) => path).join(", ");
    throw new Error(`More than one event among these (${others}): bring in one at a time.`);
  }
  const home = event.path.split("/").slice(0, -1);
  return {
    event_file: event.path.split("/").at(-1)!,
    files: Object.fromEntries(files.map(({ path, text }) => [pathFrom(home, path.split("/")), text])),
  };
}

function pathFrom(home: readonly string[], parts: readonly string[]): string {
  let shared = 0;
  while (shared < home.length && home[shared] === parts[shared]) shared += 1;
  return [...home.slice(shared).map(() => ".."), ...parts.slice(shared)].join("/");
}

async function read(file: File, path: string): Promise<Named> {
  if (file.size > MOST_BYTES) throw new Error(`${path} is larger than 4 MB, which no file of an event is.`);
  return { path, text: await file.text() };
}

async function readEntry(entry: FileSystemEntry): Promise<Named[]> {
  if (isFile(entry)) {
    if (!KINDS.test(entry.name)) return [];
    const file = await new Promise<File>((found, failed) => entry.file(found, failed));
    return [await read(file, entry.fullPath.replace(/^\//, ""))];
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  const inside: FileSystemEntry[] = [];
  for (;;) {
    const some = await new Promise<FileSystemEntry[]>((found, failed) => reader.readEntries(found, failed));
    if (some.length === 0) break;
    inside.push(...some);
  }
  return (await Promise.all(inside.map(readEntry))).flat();
}

function isFile(entry: FileSystemEntry): entry is FileSystemFileEntry {
  return entry.isFile;
}
