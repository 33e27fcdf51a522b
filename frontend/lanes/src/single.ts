/** The script of the single-file page. The page reads well without it; where scripts run it adds the
 * log, in a shadow tree, so that neither's styles reach the other.
 *
 * The page holds its pocket in `<script type="application/json" id="pocket">` and a place,
 * `<div id="log" hidden>`; what is true only without scripts bears `data-without-script`. */

import { mount } from "svelte";
import theme from "$shared/theme.css?inline";
import type { Pocket } from "$shared/types";
import look from "./lanes.css?inline";
import { phone } from "./phone.svelte";
import Single from "./Single.svelte";

async function begin(place: HTMLElement, pocket: Pocket): Promise<void> {
  await phone.start(false);
  await phone.open(pocket);
  const root = place.attachShadow({ mode: "open" });
  const style = document.createElement("style");
  style.textContent = within(theme + look);
  root.append(style);
  mount(Single, { target: root });
  for (const untrue of document.querySelectorAll("[data-without-script]")) untrue.remove();
  place.hidden = false;
}

/** Styles of a page as those of a shadow tree. */
function within(styles: string): string {
  return styles
    .replace(/:root:not\(\[[^\]]*\]\)/g, ":host")
    .replace(/:root(\[[^\]]*\])/g, ":host($1)")
    .replaceAll(":root", ":host")
    .replaceAll("body {", ".single {");
}

const place = document.getElementById("log");
const pocket = document.getElementById("pocket")?.textContent;
if (place && pocket) void begin(place, JSON.parse(pocket) as Pocket);
