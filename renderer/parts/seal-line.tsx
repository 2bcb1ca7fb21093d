import type { OutputOf } from '../../core/contract/index.ts';
import { formatCount, formatDate } from './format.ts';

export type Seal = OutputOf<'book.seal'>;

/** A seal's digits in groups that can be read out and typed again. */
export const sealDigits = (seal: string): string => seal.match(/.{1,8}/g)?.join(' ') ?? '';

/** The book's seal at the foot of a sheet of paper; on the screen it is not shown. */
export function SealLine({ seal }: { seal: Seal | undefined }) {
  if (seal === undefined) return null;
  return (
    <p className="seal-line">
      Seal of the book on {formatDate(seal.date)}, over {formatCount(seal.count)} entries and program revisions:{' '}
      <span className="seal-digits">{sealDigits(seal.seal)}</span>
    </p>
  );
}
