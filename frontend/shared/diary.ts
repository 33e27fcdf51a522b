/** What the diary asks; src/nextpair/application/diary.py asks the same at home. */

export const DIARY_ABOUT = "diary";
export const LONGEST_ENTRY = 900;

export const PROMPTS = [
  { key: "went_well", words: "What went well? A shot, a decision, something that you kept doing." },
  { key: "kept_faith", words: "Where did you trust your line or your ball when that was hard?" },
  { key: "lane", words: "What did the lanes do that you want to know next time?" },
  { key: "change_next", words: "What one thing would you do otherwise next time?" },
  { key: "free", words: "Anything else." },
] as const;
