/** A recap as the server tells it; docs/guide/json.md lists every field. */

export interface Recap {
  event: string;
  learned: string[];
  in_short: string;
  picture_words: string;
  markdown: string;
}

export const FORMS = [
  { form: "png", name: "picture" },
  { form: "html", name: "page" },
  { form: "md", name: "text" },
] as const;

/** Where a recap is asked for: as JSON, or as a file of one of its forms. */
export function recapPath(event: string, withMoney: boolean, form?: string): string {
  return `/events/${event}/recap${form ? `.${form}` : ""}${withMoney ? "?money=true" : ""}`;
}

/** A file name that says what it is of: "harbour-lights-open.png". */
export function fileName(event: string, form: string): string {
  const plain = event.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  const name = plain.replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 60);
  return `${name || "recap"}.${form}`;
}
