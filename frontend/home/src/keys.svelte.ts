/** Single keys that go somewhere or do something; they can be switched off. */

import { untrack } from "svelte";

export interface Shortcut {
  key: string;
  words: string;
  act: () => void;
}

const KEY = "nextpair-keys";

class Keys {
  on = $state(localStorage.getItem(KEY) !== "off");
  listed = $state(false);
  #groups = $state.raw<(() => Shortcut[])[]>([]);
  all = $derived(this.#groups.flatMap((group) => group()));

  /** Have these keys as long as the component lives that is being set up. */
  add(shortcuts: () => Shortcut[]): void {
    $effect(() => {
      this.#groups = [...untrack(() => this.#groups), shortcuts];
      return () => {
        this.#groups = this.#groups.filter((group) => group !== shortcuts);
      };
    });
  }

  choose(on: boolean): void {
    this.on = on;
    localStorage.setItem(KEY, on ? "on" : "off");
  }

  pressed(event: KeyboardEvent): void {
    if (!this.on || event.ctrlKey || event.metaKey || event.altKey || isTyped(event.target)) return;
    const shortcut = this.all.find(({ key }) => key === event.key);
    if (!shortcut) return;
    event.preventDefault();
    shortcut.act();
  }
}

/** Whether a key goes into what has the focus, rather than to the page. */
function isTyped(target: EventTarget | null): boolean {
  return target instanceof Element && target.closest("input, select, textarea, [contenteditable], dialog") !== null;
}

export const keys = new Keys();
