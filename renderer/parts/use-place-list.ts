import { useEffect, useRef, useState } from 'react';
import type { OutputOf } from '../../core/contract/index.ts';
import type { PathChoice } from '../../core/contract/places.ts';
import type { Failure } from '../../core/errors.ts';
import { ask } from '../state/use-request.ts';

export type Listing = OutputOf<'place.list'>;
export type PlaceEntry = Listing['entries'][number];

/**
 * One folder after another, asked afresh each time: what another program made meanwhile must be seen. It begins where
 * the field says, as far as that is there, else at the backups or beside the book. The last folder stays while the next
 * is on its way, and when there is none.
 */
export function usePlaceList(choice: PathChoice, from: string) {
  const [listing, setListing] = useState<Listing | null>(null);
  const [error, setError] = useState<Failure | null>(null);
  const [loading, setLoading] = useState(true);
  const asked = useRef(0);
  const list = (path: string | null) =>
    ask('place.list', {
      path,
      want: choice.want === 'folder' ? 'folder' : 'file',
      extensions: choice.want === 'folder' ? [] : [choice.extension],
    });
  const show = async (answer: ReturnType<typeof list>): Promise<void> => {
    asked.current += 1;
    const mine = asked.current;
    setLoading(true);
    const reply = await answer;
    if (mine !== asked.current) return;
    setLoading(false);
    setError(reply.ok ? null : reply.error);
    if (reply.ok) setListing(reply.data);
  };
  const begin = async () => {
    const typed = from.trim();
    for (const path of typed === '' ? [] : [typed, folderOf(typed)]) {
      const reply = await list(path);
      if (reply.ok) return reply;
    }
    const beside = await list(null);
    const backups = beside.ok ? beside.data.places.find(({ kind }) => kind === 'backups') : undefined;
    return choice.want === 'open' && backups !== undefined ? list(backups.path) : beside;
  };
  useEffect(() => {
    void show(begin());
    // Once: where the field points later is chosen here.
    // oxlint-disable-next-line react-hooks/exhaustive-deps
  }, []);
  return { listing, error, loading, go: (path: string) => void show(list(path)) };
}

function folderOf(path: string): string {
  return path.replace(/[\\/][^\\/]*$/, '') || '/';
}
