import { useState } from 'react';
import type { Reply } from '../../core/contract/index.ts';
import type { Failure } from '../../core/errors.ts';

/** One form's way to the book: whether it is saving, and why the book refused it last. */
export function useSaving() {
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  /** Waits for the answer; null where the book refused, which `failure` then tells. */
  const answered = async <Data>(sent: Promise<Reply<Data>>): Promise<Data | null> => {
    setSaving(true);
    const reply = await sent;
    setSaving(false);
    if (reply.ok) return reply.data;
    setFailure(reply.error);
    return null;
  };
  return { failure, setFailure, saving, answered };
}
