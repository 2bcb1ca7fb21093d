import type { PathChoiceName } from '../core/contract/places.ts';
import type { Progress, Reply, Topic } from '../core/contract/index.ts';

// What crosses between the window and the main process, on the one channel there is.

export const CHANNEL = 'valvebook';
export const APP_SCHEME = 'app';
export const APP_ORIGIN = 'app://valvebook';

export type ToMain =
  | { kind: 'call'; callId: string; name: string; input: unknown }
  | { kind: 'cancel'; callId: string }
  | { kind: 'unsaved'; callId: string; holds: boolean }
  | { kind: 'choose'; callId: string; choice: PathChoiceName; from: string };
export type ToWindow = { kind: 'progress'; callId: string; progress: Progress } | { kind: 'changed'; topics: Topic[] };

/** What the preload puts on the window as `valvebook`. Signals do not cross, so a call is cancelled by its number. */
export interface Bridge {
  call(name: string, input: unknown, callId: string, onProgress?: (progress: Progress) => void): Promise<Reply>;
  cancel(callId: string): void;
  /** Tells whether the page holds changes that would be lost with it. */
  unsaved(holds: boolean): void;
  /** The system's own dialog for a path; `from` is what stands in the field. Answers null where none was chosen. */
  choosePath(choice: PathChoiceName, from: string): Promise<Reply<string | null>>;
  onChange(listener: (topics: Topic[]) => void): () => void;
}
