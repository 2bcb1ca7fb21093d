import { isContactLink } from '../core/contract/contact-links.ts';
import { BookError } from '../core/errors.ts';
import { fact } from '../core/text/say.ts';

const AGAIN_MS = 1000;

/**
 * The one door out of the app: phone numbers and mail addresses go to the system's own programs, nothing else goes
 * anywhere. One click may be told of twice (a navigation of the frame and of the page), so the same address within a
 * second is opened once.
 */
export function outsideDoor(
  open: (address: string) => Promise<void>,
  explain: (error: unknown) => void,
  now: () => number = Date.now,
): (address: string) => void {
  let last = { address: '', at: -Infinity };
  return (address) => {
    if (!isContactLink(address)) return;
    const at = now();
    if (address === last.address && at - last.at < AGAIN_MS) return;
    last = { address, at };
    open(address).catch((error: unknown) => {
      const does = address.startsWith('tel:') ? 'call' : 'mail';
      explain(new BookError('not-found', fact('errors.noProgramFor', { does }), undefined, { cause: error }));
    });
  };
}
