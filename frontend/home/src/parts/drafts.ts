/** Changes that were not saved, kept in this tab. */

/** How their keys in the tab's storage begin. */
export const DRAFTS = "nextpair.draft.";

/** Forget them all, as when somebody signs out: what is private must not stay behind. */
export function forgetDrafts(storage: Storage = sessionStorage): void {
  for (const key of Object.keys(storage)) {
    if (key.startsWith(DRAFTS)) storage.removeItem(key);
  }
}
