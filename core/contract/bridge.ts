import type { Progress, Reply, Topic } from './index.ts';
import type { Reader } from '../text/say.ts';
import type { PathChoiceName } from './places.ts';

/** What Electron's preload puts on the window as `valvebook`. Signals do not cross, so a call is cancelled by its number. */
export interface Bridge {
  call(name: string, input: unknown, callId: string, onProgress?: (progress: Progress) => void): Promise<Reply>;
  cancel(callId: string): void;
  /** Tells whether the page holds changes that would be lost with it. */
  unsaved(holds: boolean): void;
  /** The system's own dialog for a path; `from` is what stands in the field. Answers null where none was chosen. */
  choosePath(choice: PathChoiceName, from: string): Promise<Reply<string | null>>;
  /** Tells who reads: the menu and the system's dialogs speak their language. */
  reader(reader: Reader): void;
  onChange(listener: (topics: Topic[]) => void): () => void;
}
