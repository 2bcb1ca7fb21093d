/**
 * Lets many use a thing at once, and one exchange it alone: who comes while it is being exchanged waits, and the exchange
 * waits for those who are using it. Uses are never refused.
 */
export class UseGate {
  private users = 0;
  private exchange: Promise<void> | null = null;
  private whenUnused: (() => void) | null = null;

  /** How many are using it. */
  get inUse(): number {
    return this.users;
  }

  async use<T>(work: () => Promise<T>): Promise<T> {
    while (this.exchange !== null) await this.exchange;
    this.users += 1;
    try {
      return await work();
    } finally {
      this.leave();
    }
  }

  /** Counts one who is using it as going on until then, though its work has answered. To be called from inside `use`. */
  linger(until: Promise<void>): void {
    this.users += 1;
    void until.then(() => this.leave());
  }

  private leave(): void {
    this.users -= 1;
    if (this.users === 0) this.whenUnused?.();
  }

  /**
   * Runs work while nobody uses it. Must not be called from inside `use`, which would wait for itself.
   * @param signal gives up waiting for the users (work that has begun is not broken off); throws the signal's reason.
   */
  async alone<T>(work: () => Promise<T>, signal?: AbortSignal): Promise<T> {
    while (this.exchange !== null) await this.exchange;
    let open!: () => void;
    this.exchange = new Promise((resolve) => {
      open = resolve;
    });
    try {
      if (this.users > 0)
        await new Promise<void>((resolve, reject) => {
          const giveUp = () => reject(signal?.reason as Error);
          this.whenUnused = () => {
            signal?.removeEventListener('abort', giveUp);
            resolve();
          };
          if (signal?.aborted) giveUp();
          else signal?.addEventListener('abort', giveUp, { once: true });
        });
      return await work();
    } finally {
      this.whenUnused = null;
      this.exchange = null;
      open();
    }
  }
}
