import { byUrgency, dueJudge, type Due, type DueFacts } from './due.ts';
import { DUE_KINDS, type DueKind } from './contract.ts';
import type { Handler } from '../context.ts';
import { readDueFacts, dueSites } from './queries.ts';
import { readSettings } from '../settings/index.ts';
import { type Site, dueItem } from './due-item.ts';

const dueList: Handler<'due.list'> = async ({ db, today }, input) => {
  const onDate = input.onDate ?? today;
  const judge = dueJudge(onDate, input.horizonDays, await readSettings(db));
  const facts = await readDueFacts(db, null);
  const sites = await dueSites(db, input.routeId);
  const counts = Object.fromEntries(DUE_KINDS.map((kind) => [kind, 0])) as Record<DueKind, number>;
  const found: { facts: DueFacts; site: Site; due: Due }[] = [];
  for (const one of facts.values()) {
    const site = sites.get(one.propertyId);
    if (!site) continue;
    for (const due of judge(one)) {
      if (due.bookedVisitId !== null && !input.includeBooked) continue;
      counts[due.kind] += 1;
      if (input.kinds === undefined || input.kinds.includes(due.kind)) found.push({ facts: one, site, due });
    }
  }
  found.sort(
    (a, b) =>
      byUrgency(a.due, b.due) || a.site.street.localeCompare(b.site.street) || a.due.kind.localeCompare(b.due.kind),
  );
  return {
    onDate,
    items: found
      .slice(input.offset, input.offset + input.limit)
      .map(({ facts: { propertyId }, site, due }) => dueItem(propertyId, site, due)),
    total: found.length,
    counts,
  };
};

export const dueHandlers = {
  'due.list': dueList,
};
