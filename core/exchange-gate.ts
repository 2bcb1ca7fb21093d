/** Lets many look at a book at once, and one take its file away while nobody looks; who comes meanwhile waits. */
export interface ExchangeGate {
  look<T>(work: () => Promise<T>): Promise<T>;
  exchange<T>(work: () => Promise<T>): Promise<T>;
}

/** One exchange at a time is the caller's to see to. A look inside an exchange, or an exchange inside a look, waits for ever. */
export function exchangeGate(): ExchangeGate {
  const state: { looking: number; away: Promise<void> | null; tellQuiet: (() => void) | null } = {
    looking: 0,
    away: null,
    tellQuiet: null,
  };
  return {
    async look(work) {
      while (state.away !== null) await state.away;
      state.looking += 1;
      try {
        return await work();
      } finally {
        state.looking -= 1;
        if (state.looking === 0) state.tellQuiet?.();
      }
    },
    async exchange(work) {
      let tellBack: () => void = () => undefined;
      state.away = new Promise((resolve) => (tellBack = resolve));
      try {
        if (state.looking > 0) await new Promise<void>((resolve) => (state.tellQuiet = resolve));
        return await work();
      } finally {
        state.tellQuiet = null;
        state.away = null;
        tellBack();
      }
    },
  };
}
