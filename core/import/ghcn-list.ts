import type { ParsedInputOf } from '../contract/index.ts';
import { decodeText } from '../csv/index.ts';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { gatherGhcn, ghcnFormatOf } from '../weather/index.ts';
import type { Findings } from './notes.ts';

const LOOKED_AT = 50;
const LINES_A_TICK = 500;

type Input = ParsedInputOf<'import.preview'>;

/**
 * A file of GHCN-Daily as a list of days with the units in its headings; any other list as it is. What was left out is told.
 * @throws BookError 'bad-input' if it holds several stations
 */
export function plainDays(input: Input, findings: Findings, tick: () => void): Input {
  if (input.target !== 'weather') return input;
  const bytes = Buffer.from(input.bytesBase64, 'base64');
  const head = bytes.subarray(0, 32_768).toString('latin1');
  // The last line of what was looked at may be cut.
  const first = head.split(/\r?\n/).filter((line) => line !== '');
  if (bytes.length > head.length) first.pop();
  const format = ghcnFormatOf(first.slice(0, LOOKED_AT));
  if (format === null) return input;
  let line = 0;
  const { stationIds, days, ...counts } = gatherGhcn(linesOf(decodeText(bytes, input.encoding).text), format, () => {
    line += 1;
    if (line % LINES_A_TICK === 0) tick();
  });
  if (stationIds.length > 1) throw new BookError('bad-input', fact('errors.severalGhcnStations'), 'bytesBase64');
  findings.tell(fact('import.why.ghcn', { station: stationIds[0] ?? '' }));
  if (counts.flagged > 0) findings.tell(fact('import.why.ghcnFlagged', { count: counts.flagged }));
  if (counts.missing > 0) findings.tell(fact('import.why.ghcnMissing', { count: counts.missing }));
  if (counts.repeated > 0) findings.tell(fact('import.why.ghcnRepeated', { count: counts.repeated }));
  if (counts.badLines > 0) findings.tell(fact('import.why.ghcnBadLines', { count: counts.badLines }));
  const rows = ['Date,TMax C,TMin C,Rain mm,Wind m/s'];
  const tenth = (tenths: number | undefined) => (tenths === undefined ? '' : String(tenths / 10));
  for (const [date, { TMAX, TMIN, PRCP, AWND }] of [...days].toSorted(([a], [b]) => (a < b ? -1 : 1))) {
    const cells = [TMAX, TMIN, PRCP, AWND].map(tenth);
    // A day of which nothing is left says nothing.
    if (cells.some((cell) => cell !== '')) rows.push([date, ...cells].join(','));
  }
  return {
    ...input,
    bytesBase64: Buffer.from(rows.join('\n')).toString('base64'),
    encoding: 'utf-8',
    delimiter: ',',
    hasHeader: true,
  };
}

/** One line after the other, so that a long file is not split whole. */
function* linesOf(text: string): Generator<string> {
  for (let from = 0; from < text.length;) {
    const end = text.indexOf('\n', from);
    const to = end === -1 ? text.length : end;
    yield text.slice(from, text[to - 1] === '\r' ? to - 1 : to);
    from = to + 1;
  }
}
