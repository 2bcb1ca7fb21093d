import type { OutputOf } from '../../core/contract/index.ts';
import { say } from '../state/say.ts';

export type Seal = OutputOf<'book.seal'>;

/** A seal's digits in groups that can be read out and typed again. */
export const sealDigits = (seal: string): string => seal.match(/.{1,8}/g)?.join(' ') ?? '';

/** The book's seal at the foot of a sheet of paper; on the screen it is not shown. */
export function SealLine({ seal }: { seal: Seal | undefined }) {
  if (seal === undefined) return null;
  return (
    <p className="seal-line">
      {say('parts.sealOf', { date: seal.date, count: seal.count })}{' '}
      <span className="seal-digits">{sealDigits(seal.seal)}</span>
    </p>
  );
}
