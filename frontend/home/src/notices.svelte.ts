/** Short notices at the foot of the page; one may offer to take back what it tells. */

export interface Notice {
  id: number;
  words: string;
  kind: "done" | "wrong";
  undo: (() => Promise<void>) | null;
}

const SHOWN_MS = 8000;
const SHOWN_WITH_UNDO_MS = 20_000;

class Notices {
  items = $state.raw<Notice[]>([]);
  #next = 1;

  /** Tell that something was done; `undo` takes it back. */
  tell(words: string, undo: (() => Promise<void>) | null = null): void {
    this.#show({ id: this.#next++, words, kind: "done", undo }, undo ? SHOWN_WITH_UNDO_MS : SHOWN_MS);
  }

  /** Tell that something went wrong which has no place of its own on the screen. */
  warn(words: string): void {
    this.#show({ id: this.#next++, words, kind: "wrong", undo: null }, SHOWN_WITH_UNDO_MS);
  }

  close(id: number): void {
    this.items = this.items.filter((notice) => notice.id !== id);
  }

  /** Take back what a notice tells. */
  async takeBack(notice: Notice): Promise<void> {
    this.close(notice.id);
    try {
      await notice.undo?.();
    } catch (cause) {
      this.warn(cause instanceof Error ? cause.message : String(cause));
    }
  }

  /** Take back the last thing that can be. */
  async takeBackLast(): Promise<void> {
    const last = this.items.findLast((notice) => notice.undo !== null);
    if (last) await this.takeBack(last);
  }

  #show(notice: Notice, shownMs: number): void {
    this.items = [...this.items, notice];
    setTimeout(() => this.close(notice.id), shownMs);
  }
}

export const notices = new Notices();
