/** A log as a few QR codes: shown by the phone, read by the laptop's camera. files/log_codes.py reads
 * the same texts; tests/log_codes_snapshot.json holds both to one example.
 *
 * A text is `NP1:SET:PART:PARTS:DATA:`; SET is the CRC-32 of all bytes, DATA a part of them in base 45
 * (RFC 9285), which a QR code holds in few modules. The bytes are the number of jottings, 16 bits; of
 * each id the 76 bits that are not its clock or version, in 10 bytes; and the rest as JSON, deflated. */

import { deflateSync, Inflate, strFromU8, strToU8 } from "fflate";
import { clockOf } from "./ids";
import type { Jotting, JottingKind } from "./types";

/** Bytes in one code: 60 shots take three, and a code of 97 modules shows well on a phone. */
const BYTES_A_CODE = 700;
const ID_BYTES = 10;
/** As far as any log goes: a code may hold little that unpacks to much. */
export const LARGEST_LOG_BYTES = 4_000_000;
/** Of packed bytes, unpacked at a time: DEFLATE makes at most 1,032 of one. */
const STEP_BYTES = 1024;
const ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
const TEXT = /^NP1:([0-9A-F]{8}):(\d{1,3}):(\d{1,3}):([^]*):$/;
const KINDS: readonly JottingKind[] = ["shot", "void", "score", "tick", "note", "visit", "lesson"];

/** Fields of a jotting that are not as this program writes them, and those that a newer one added: a log
 * that came by file is handed on whole. */
type Odd = Partial<Pick<Jotting, "id" | "event" | "kind" | "schema_version" | "client_time">> & Record<string, unknown>;
const FIELDS = ["id", "event", "device", "device_seq", "kind", "payload", "supersedes", "schema_version", "client_time"];

/** device, device_seq since the row before, kind, ms since the row before, supersedes (rows back, 0 for
 * none, or an id), keys of the payload, its values. */
type PackedRow = [number, number, number, number, number | string, number, ...unknown[]];

interface Packed {
  event: string;
  devices: string[];
  keys: string[][];
  rows: PackedRow[];
  odd: Record<string, Odd>;
}

/** The texts of the codes of a log. */
export function codesOf(event: string, jottings: readonly Jotting[]): string[] {
  const bytes = packed(event, jottings);
  const set = hex8(crc32(bytes));
  const parts = Math.ceil(bytes.length / BYTES_A_CODE);
  return Array.from({ length: parts }, (_, part) => {
    const data = base45(bytes.subarray(part * BYTES_A_CODE, (part + 1) * BYTES_A_CODE));
    return `NP1:${set}:${part + 1}:${parts}:${data}:`;
  });
}

/** Codes as they are read, in any order and however often. */
export class CodeReader {
  private readonly sets = new Map<string, Map<number, string>>();

  /** Take a text in. The jottings once every code of its set is there, else how many are. */
  read(text: string): { jottings: Jotting[] } | { have: number; parts: number } | null {
    const told = TEXT.exec(text);
    if (!told) return null;
    const [, set, part, parts, data] = told as unknown as [string, string, string, string, string];
    const held = this.sets.get(set) ?? new Map<number, string>();
    this.sets.set(set, held.set(Number(part), data));
    if (held.size < Number(parts)) return { have: held.size, parts: Number(parts) };
    const pieces = [...held].sort(([one], [other]) => one - other).map(([, piece]) => bytesOf45(piece));
    const bytes = Uint8Array.from(pieces.flatMap((piece) => [...piece]));
    if (hex8(crc32(bytes)) !== set) throw new Error("These codes do not belong together.");
    return { jottings: unpacked(bytes) };
  }
}

function packed(event: string, jottings: readonly Jotting[]): Uint8Array {
  const rest: Packed = { event, devices: [], keys: [], rows: [], odd: {} };
  const ids = new Uint8Array(ID_BYTES * jottings.length);
  const places = new Map(jottings.map(({ id }, index) => [id, index]));
  let clock_ms = 0;
  let seq = 0;
  jottings.forEach((jotting, index) => {
    const odd = oddOf(jotting, event);
    if (Object.keys(odd).length) rest.odd[index] = odd;
    const now_ms = odd.id ? clock_ms : clockOf(jotting.id);
    if (!odd.id) ids.set(idBytes(jotting.id), ID_BYTES * index);
    const keys = Object.keys(jotting.payload);
    rest.rows.push([
      placeIn(rest.devices, jotting.device),
      jotting.device_seq - seq,
      Math.max(0, KINDS.indexOf(jotting.kind)),
      now_ms - clock_ms,
      backTo(jotting.supersedes, index, places),
      placeIn(rest.keys, keys),
      ...keys.map((key) => jotting.payload[key]),
    ]);
    [clock_ms, seq] = [now_ms, jotting.device_seq];
  });
  const deflated = deflateSync(strToU8(JSON.stringify(rest)), { level: 9 });
  const count = [jottings.length >> 8, jottings.length & 255];
  return Uint8Array.from([...count, ...ids, ...deflated]);
}

function oddOf(jotting: Jotting, event: string): Odd {
  const odd: Odd = {};
  const isOurs = jotting.id[14] === "7";
  if (!isOurs) odd.id = jotting.id;
  if (jotting.event !== event) odd.event = jotting.event;
  if (!KINDS.includes(jotting.kind)) odd.kind = jotting.kind;
  if (jotting.schema_version !== 1) odd.schema_version = jotting.schema_version;
  if (!isOurs || jotting.client_time !== timeOf(clockOf(jotting.id))) odd.client_time = jotting.client_time;
  for (const [key, value] of Object.entries(jotting)) if (!FIELDS.includes(key)) odd[key] = value;
  return odd;
}

function backTo(supersedes: string | null, index: number, places: ReadonlyMap<string, number>): number | string {
  if (supersedes === null) return 0;
  const place = places.get(supersedes);
  return place === undefined ? supersedes : index - place;
}

function unpacked(bytes: Uint8Array): Jotting[] {
  const count = bytes[0]! * 256 + bytes[1]!;
  const start = 2 + ID_BYTES * count;
  const rest = JSON.parse(strFromU8(inflated(bytes.subarray(start)))) as Packed;
  let clock_ms = 0;
  let seq = 0;
  const ids: string[] = [];
  const rows = rest.rows.map(([device, seqSince, kind, since_ms, back, keys, ...values], index) => {
    [clock_ms, seq] = [clock_ms + since_ms, seq + seqSince];
    const id = idOf(clock_ms, bytes.subarray(2 + ID_BYTES * index, 2 + ID_BYTES * (index + 1)));
    const jotting: Jotting = {
      id, event: rest.event, device: rest.devices[device]!, device_seq: seq, kind: KINDS[kind]!,
      payload: Object.fromEntries(rest.keys[keys]!.map((key, place) => [key, values[place]])),
      supersedes: null, schema_version: 1, client_time: timeOf(clock_ms), ...rest.odd[index],
    };
    ids.push(jotting.id);
    return { jotting, back };
  });
  return rows.map(({ jotting, back }, index) => ({
    ...jotting,
    supersedes: typeof back === "string" ? back : back === 0 ? null : ids[index - back]!,
  }));
}

/** What was deflated, and nothing of it where it is longer than any log. */
function inflated(deflated: Uint8Array): Uint8Array {
  const pieces: Uint8Array[] = [];
  let size = 0;
  const inflater = new Inflate((piece) => {
    pieces.push(piece);
    size += piece.length;
    if (size > LARGEST_LOG_BYTES) throw new Error("These codes hold more than any log.");
  });
  for (let start = 0; start < deflated.length || start === 0; start += STEP_BYTES) {
    inflater.push(deflated.subarray(start, start + STEP_BYTES), start + STEP_BYTES >= deflated.length);
  }
  const whole = new Uint8Array(size);
  pieces.reduce((place, piece) => (whole.set(piece, place), place + piece.length), 0);
  return whole;
}

function placeIn<T>(list: T[], item: T): number {
  const written = JSON.stringify(item);
  const place = list.findIndex((one) => JSON.stringify(one) === written);
  return place >= 0 ? place : list.push(item) - 1;
}

function timeOf(clock_ms: number): string {
  return new Date(clock_ms).toISOString();
}

/** The 19 hexadecimal digits of an id that are neither its clock nor its version. */
function idBytes(id: string): Uint8Array {
  const digits = id.slice(15, 18) + id.slice(19, 23) + id.slice(24) + "0";
  return Uint8Array.from({ length: ID_BYTES }, (_, place) => parseInt(digits.slice(2 * place, 2 * place + 2), 16));
}

function idOf(clock_ms: number, bytes: Uint8Array): string {
  const clock = clock_ms.toString(16).padStart(12, "0");
  const digits = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [clock.slice(0, 8), clock.slice(8), `7${digits.slice(0, 3)}`, digits.slice(3, 7), digits.slice(7, 19)].join("-");
}

/** Base 45 of RFC 9285: two bytes to three characters. */
export function base45(bytes: Uint8Array): string {
  let text = "";
  for (let place = 0; place < bytes.length; place += 2) {
    const paired = place + 1 < bytes.length;
    let value = paired ? bytes[place]! * 256 + bytes[place + 1]! : bytes[place]!;
    for (let digit = 0; digit < (paired ? 3 : 2); digit += 1) {
      text += ALPHABET[value % 45];
      value = Math.floor(value / 45);
    }
  }
  return text;
}

function bytesOf45(text: string): Uint8Array {
  const bytes: number[] = [];
  for (let place = 0; place < text.length; place += 3) {
    const digits = [...text.slice(place, place + 3)].map((letter) => ALPHABET.indexOf(letter));
    const value = digits.reduceRight((sum, digit) => sum * 45 + digit, 0);
    bytes.push(...(digits.length === 3 ? [value >> 8, value & 255] : [value]));
  }
  return Uint8Array.from(bytes);
}

function hex8(value: number): string {
  return value.toString(16).toUpperCase().padStart(8, "0");
}

/** CRC-32 as in gzip and PNG. */
export function crc32(bytes: Uint8Array): number {
  let rest = 0xffffffff;
  for (const byte of bytes) {
    rest ^= byte;
    for (let bit = 0; bit < 8; bit += 1) rest = (rest >>> 1) ^ (rest & 1 ? 0xedb88320 : 0);
  }
  return (rest ^ 0xffffffff) >>> 0;
}
