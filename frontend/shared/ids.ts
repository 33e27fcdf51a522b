/** Names that no two devices ever make twice. */

/** A UUID of version 7: 48 bits of the clock, 74 random ones. `crypto.randomUUID` is not there on
 * plain http, and makes version 4. Source: RFC 9562, section 5.7. */
export function uuid7(now_ms = Date.now()): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  for (let place = 5, rest = now_ms; place >= 0; place--, rest = Math.floor(rest / 256)) {
    bytes[place] = rest % 256;
  }
  bytes[6] = 0x70 | (bytes[6]! & 0x0f);
  bytes[8] = 0x80 | (bytes[8]! & 0x3f);
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

/** Milliseconds of the clock that a UUID of version 7 was made at. */
export function clockOf(id: string): number {
  return parseInt(id.slice(0, 8) + id.slice(9, 13), 16);
}
