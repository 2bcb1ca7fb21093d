import { addDays } from '../dates.ts';

/**
 * The days of a span on which a system could water: from its start-up to the day before its winterization. A year of which
 * neither is known counts as running throughout; one with only one of them is open on the other side.
 */
export function runningSpells(
  seasons: readonly { year: number; startedUpOn: string | null; winterizedOn: string | null }[],
  fromDate: string,
  toDate: string,
): { fromDate: string; toDate: string }[] {
  const turns = seasons
    .flatMap((season) => [
      ...(season.startedUpOn !== null ? [{ date: season.startedUpOn, on: true }] : []),
      ...(season.winterizedOn !== null ? [{ date: season.winterizedOn, on: false }] : []),
    ])
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : a.on ? 1 : -1));
  const before = turns.filter((turn) => turn.date <= fromDate).at(-1);
  let on = before ? before.on : turns[0] ? !turns[0].on : true;
  const spells: { fromDate: string; toDate: string }[] = [];
  let from = fromDate;
  for (const turn of turns) {
    if (turn.date <= fromDate || turn.date > toDate) continue;
    if (on && !turn.on) spells.push({ fromDate: from, toDate: addDays(turn.date, -1) });
    if (turn.on && !on) from = turn.date;
    on = turn.on;
  }
  if (on) spells.push({ fromDate: from, toDate });
  return spells.filter((spell) => spell.fromDate <= spell.toDate);
}
