import { contextBridge, ipcRenderer, type IpcRendererEvent } from 'electron';
import type { Progress, Reply, Topic } from '../core/contract/index.ts';
import type { Bridge } from '../core/contract/bridge.ts';
import { CHANNEL, type ToMain, type ToWindow } from './bridge.ts';

// Runs in the sandbox before the page: hands it a few functions and nothing of Electron.

const progressOf = new Map<string, (progress: Progress) => void>();
const changeListeners = new Set<(topics: Topic[]) => void>();

ipcRenderer.on(CHANNEL, (_event: IpcRendererEvent, message: ToWindow) => {
  if (message.kind === 'progress') progressOf.get(message.callId)?.(message.progress);
  else for (const listener of changeListeners) listener(message.topics);
});

function send(message: ToMain): Promise<Reply> {
  return ipcRenderer.invoke(CHANNEL, message) as Promise<Reply>;
}

const bridge: Bridge = {
  async call(name, input, callId, onProgress) {
    if (onProgress !== undefined) progressOf.set(callId, onProgress);
    try {
      return await send({ kind: 'call', callId, name, input });
    } finally {
      progressOf.delete(callId);
    }
  },
  cancel(callId) {
    void send({ kind: 'cancel', callId });
  },
  unsaved(holds) {
    void send({ kind: 'unsaved', callId: 'unsaved', holds });
  },
  reader({ language, units }) {
    void send({ kind: 'reader', callId: 'reader', language, units });
  },
  choosePath: (choice, from) =>
    send({ kind: 'choose', callId: 'choose', choice, from }) as Promise<Reply<string | null>>,
  onChange(listener) {
    changeListeners.add(listener);
    return () => void changeListeners.delete(listener);
  },
};

contextBridge.exposeInMainWorld('valvebook', bridge);
