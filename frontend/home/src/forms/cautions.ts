/** Cautions where work can hurt somebody, in the words of every sheet. */

export const SANDING =
  "Sand or polish a ball only when and where the event's rules allow. Wear a mask and glasses, " +
  "catch the dust, and keep fingers, hair and sleeves clear of a spinner.";

export const PAIN =
  "Pain, or a brace you are unsure about: stop and ask a doctor or physiotherapist. " +
  "Then ask the event's rules what you may wear.";

export const RELEASE_CHANGES =
  "Another speed or hand is for those who have practised it: take it in small steps, force " +
  "neither wrist, elbow nor knee, and stop when something hurts. What it gains takes you to " +
  "scatter a little more by it; you may scatter much more.";
