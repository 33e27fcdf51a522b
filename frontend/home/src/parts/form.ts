/** What a form asks for: one field a key of the contract's files, with its unit and what is allowed. */

export type Table = Record<string, unknown>;
export type Allowed = readonly [low: number, high: number];

interface Asked {
  key: string;
  label: string;
  /** What stands for it when it is left out. */
  guess?: string;
  needed?: boolean;
  help?: string;
  /** Its share of the width in a table, where that is not as usual for its kind. */
  share?: number;
}

export interface NumberField extends Asked {
  kind: "number";
  unit: string;
  allowed: Allowed;
}

/** Lowest and highest. */
export interface SpanField extends Asked {
  kind: "span";
  unit: string;
  allowed: Allowed;
}

export interface ChoiceField extends Asked {
  kind: "choice";
  choices: readonly Choice[];
}

export interface Choice {
  value: string;
  label: string;
  /** Under which heading it is offered. */
  group?: string;
}

/** Yes or no. */
export interface FlagField extends Asked {
  kind: "flag";
}

/** One line of text, some sentences, one text a line, a day, the finish of a cover. */
export interface WordField extends Asked {
  kind: "text" | "prose" | "texts" | "day" | "grit";
}

/** Numbers in one line. */
export interface NumbersField extends Asked {
  kind: "numbers";
  unit: string;
}

/** Amounts by name, as { travel = 48.00 }. */
export interface AmountsField extends Asked {
  kind: "amounts";
  unit: string;
  /** What one of them is called, and a name as an example. */
  line: string;
  typical: string;
}

export interface RowsField {
  kind: "rows";
  key: string;
  label: string;
  /** What one row is called. */
  row: string;
  columns: readonly CellField[];
  help?: string;
}

export type CellField = NumberField | ChoiceField | FlagField | WordField | NumbersField;
export type FramedField = CellField | SpanField | AmountsField;
export type Field = FramedField | RowsField;

export interface Section {
  title: string;
  /** Table of the document that the fields lie in; left out for the document itself. */
  at?: string;
  help?: string;
  isPrivate?: boolean;
  /** A switch of the section, below its fields. */
  toggle?: Toggle;
  fields: readonly Field[];
}

export interface Toggle {
  label: string;
  isOn: (document: Table) => boolean;
  turn: (document: Table, isOn: boolean) => void;
}

export type FormPlan = readonly Section[];

/** The path of a field in a document, as "scatter.speed_mph". */
export function pathOf(at: string | undefined, key: string): string {
  return at ? `${at}.${key}` : key;
}

function isTable(value: unknown): value is Table {
  return typeof value === "object" && value !== null;
}

/** The value at a path. Items of lists count from 0, as in "pass.1.end_ft". */
export function valueAt(document: Table, path: string): unknown {
  let value: unknown = document;
  for (const step of path.split(".")) {
    if (!isTable(value)) return undefined;
    value = value[step];
  }
  return value;
}

/** Put a value at a path; undefined takes it away, and with it a table that is left empty. */
export function putAt(document: Table, path: string, value: unknown): void {
  const [step, ...rest] = path.split(".") as [string, ...string[]];
  if (rest.length === 0) {
    if (value === undefined) delete document[step];
    else document[step] = value;
    return;
  }
  const inner = document[step];
  if (!isTable(inner)) {
    if (value === undefined) return;
    document[step] = {};
  }
  putAt(document[step] as Table, rest.join("."), value);
  const left = document[step];
  const isBare = isTable(left) && !Array.isArray(left) && Object.keys(left).length === 0;
  if (isBare && !Array.isArray(document)) delete document[step];
}

/** "17.6 mph", "1 to 39 board": what a number may be, with its unit. */
export function allowedWords(field: NumberField | SpanField): string {
  const [low, high] = field.allowed;
  return `${low} to ${high} ${field.unit}`.trim();
}

/** Items under what they have in common, in the order in which that comes first. */
export function grouped<T>(items: readonly T[], of: (item: T) => string): [string, T[]][] {
  const found = new Map<string, T[]>();
  for (const item of items) {
    const group = of(item);
    const members = found.get(group);
    if (members) members.push(item);
    else found.set(group, [item]);
  }
  return [...found];
}
