/** Answers that keep up with a moving slider: one question at a time, the newest value next. */

export interface Newest<Q> {
  /** Ask this as soon as the question before is answered; what waited till now is dropped. */
  put: (question: Q) => void;
  /** Ask nothing more, and tell nothing more. */
  end: () => void;
}

/** Answer questions with `answer`; `told` gets each answer that is still wanted, `failed` each error. */
export function newest<Q, A>(
  answer: (question: Q) => Promise<A>,
  told: (answer: A, question: Q) => void,
  failed: (cause: unknown) => void,
): Newest<Q> {
  let next: { question: Q } | null = null;
  let isAsking = false;
  let isOver = false;

  async function goOn(): Promise<void> {
    isAsking = true;
    while (next !== null && !isOver) {
      const { question } = next;
      next = null;
      try {
        const found = await answer(question);
        if (!isOver) told(found, question);
      } catch (cause) {
        if (!isOver) failed(cause);
      }
    }
    isAsking = false;
  }

  return {
    put: (question) => {
      next = { question };
      if (!isAsking) void goOn();
    },
    end: () => {
      isOver = true;
    },
  };
}
