import { useSyncExternalStore } from 'react';

const query = window.matchMedia('(max-width: 760px)');
const subscribe = (listener: () => void) => {
  query.addEventListener('change', listener);
  return () => query.removeEventListener('change', listener);
};

/** Whether the window is too narrow for a week side by side. */
export function useNarrow(): boolean {
  return useSyncExternalStore(subscribe, () => query.matches);
}
