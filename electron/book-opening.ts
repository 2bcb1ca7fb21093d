import { statSync } from 'node:fs';
import path from 'node:path';
import type { Reply } from '../core/contract/index.ts';
import type { CallOptions } from '../core/desk/desk.ts';
import { BookError, toFailure } from '../core/errors.ts';
import type { AskedBook } from './asked-book.ts';
import type { BookSession } from './book-session.ts';
import { fact } from '../core/text/say.ts';

/** What opening another book needs of the window. */
export interface OpeningView {
  /** Brings the window to the front, and makes it where there is none. */
  show(): void;
  /** Loads the page anew from its first screen; resolves once the old page is gone. */
  startAfresh(): Promise<void>;
  /** Does the page hold changes that are not saved and would be lost? */
  holdsUnsaved(): boolean;
  /** May they be lost for that book? */
  askToLeave(bookName: string): Promise<boolean>;
}

const MOVING: Reply = {
  ok: false,
  error: toFailure(new BookError('conflict', fact('errors.opensAnother'))),
};

/** Opens books one after another, whoever asks: the menu, a double click, a second start. */
export class BookOpening {
  private readonly session: BookSession;
  private readonly view: OpeningView;
  private last: Promise<unknown> = Promise.resolve();
  private moving = false;

  constructor(session: BookSession, view: OpeningView) {
    this.session = session;
    this.view = view;
  }

  /** Serves the page; while books change, the old page must not write into the new book. */
  call(name: string, input: unknown, options?: CallOptions): Promise<Reply> {
    return this.moving ? Promise.resolve(MOVING) : this.session.call(name, input, options);
  }

  /** Runs after every opening before it. Rejects with a sentence; the book that was open stays open then. */
  inTurn<T>(work: () => Promise<T>): Promise<T> {
    const mine = this.last.then(work, work);
    this.last = mine.catch(() => undefined);
    return mine;
  }

  /** Opens a book in the place of the one that is open. */
  change(asked: AskedBook): Promise<void> {
    return this.inTurn(async () => {
      const open = this.session.bookPath;
      if (open !== undefined && sameFile(open, asked.path)) return this.view.show();
      if (this.session.busy)
        throw new BookError(
          'conflict',
          fact('errors.taskRuns', { open: path.basename(open ?? ''), asked: path.basename(asked.path) }),
          'book',
        );
      if (this.view.holdsUnsaved()) {
        this.view.show();
        if (!(await this.view.askToLeave(path.basename(asked.path)))) return;
      }
      this.moving = true;
      try {
        await this.session.open(asked.path, asked.create);
        await this.view.startAfresh();
      } finally {
        this.moving = false;
      }
      this.view.show();
    });
  }
}

function sameFile(one: string, other: string): boolean {
  if (one === other) return true;
  try {
    const [a, b] = [statSync(one, { bigint: true }), statSync(other, { bigint: true })];
    return a.dev === b.dev && a.ino === b.ino;
  } catch {
    return false;
  }
}
