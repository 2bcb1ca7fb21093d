import type { PathChoiceName } from '../core/contract/places.ts';
import type { Reader } from '../core/text/say.ts';
import type { Progress, Topic } from '../core/contract/index.ts';

// What crosses between the window and the main process, on the one channel there is.

export const CHANNEL = 'valvebook';
export const APP_SCHEME = 'app';
export const APP_ORIGIN = 'app://valvebook';

export type ToMain =
  | { kind: 'call'; callId: string; name: string; input: unknown }
  | { kind: 'cancel'; callId: string }
  | { kind: 'unsaved'; callId: string; holds: boolean }
  | ({ kind: 'reader'; callId: string } & Reader)
  | { kind: 'choose'; callId: string; choice: PathChoiceName; from: string };
export type ToWindow = { kind: 'progress'; callId: string; progress: Progress } | { kind: 'changed'; topics: Topic[] };
