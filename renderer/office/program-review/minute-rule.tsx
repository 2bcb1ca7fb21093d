import type { ReviewRow } from '../../../core/programs/contract.ts';

import { minutesADay } from './review-words.ts';
import { say } from '../../state/say.ts';

/** The longest figure any row's picture has to hold, so that all rows share one scale. */
export function ruleEnd(rows: readonly ReviewRow[], edits: ReadonlyMap<string, number>): number {
  const longest = rows.reduce(
    (most, row) =>
      Math.max(
        most,
        minutesADay(row.now),
        row.advice.upperMinutes,
        row.advice.runMinutes,
        row.thumb?.minutesTo ?? 0,
        edits.get(row.zoneId) ?? 0,
      ),
    0,
  );
  const step = longest <= 30 ? 5 : longest <= 90 ? 15 : 30;
  return Math.max(step, Math.ceil((longest * 1.04) / step) * step);
}

/** Minutes a watering day on one line: what is set, the advised span with its mark, the rule of thumb. */
export function MinuteRule({ row, minutes, end }: { row: ReviewRow; minutes: number; end: number }) {
  const at = (value: number) => `${Math.min(100, (value / end) * 100)}%`;
  const now = minutesADay(row.now);
  const { lowerMinutes: lower, upperMinutes: upper } = row.advice;
  const spoken = say('pr.ruleSpoken', { end, now, advised: minutes, lower, upper, thumb: row.thumb });
  return (
    <svg className="pr-rule" width="100%" height="30" role="img" aria-label={spoken}>
      <title>{spoken}</title>
      <line className="pr-rule-base" x1="0" x2="100%" y1="14" y2="14" />
      {upper > lower ? (
        <rect
          className="pr-rule-span"
          x={at(lower)}
          y="7"
          width={`${((Math.min(upper, end) - lower) / end) * 100}%`}
          height="14"
        />
      ) : null}
      {row.thumb === null ? null : (
        <g className="pr-rule-thumb">
          <line x1={at(row.thumb.minutesFrom)} x2={at(row.thumb.minutesTo)} y1="26" y2="26" />
          <line x1={at(row.thumb.minutesFrom)} x2={at(row.thumb.minutesFrom)} y1="22" y2="29" />
          <line x1={at(row.thumb.minutesTo)} x2={at(row.thumb.minutesTo)} y1="22" y2="29" />
        </g>
      )}
      <line className="pr-rule-advice" x1={at(minutes)} x2={at(minutes)} y1="3" y2="25" />
      <svg x={at(now)} y="14" overflow="visible">
        <path className="pr-rule-now" d="M0 -6.5L6.5 0 0 6.5 -6.5 0z" />
      </svg>
    </svg>
  );
}

/** What the marks of the picture mean. */
export function RuleLegend({ end }: { end: number }) {
  return (
    <ul className="pr-rule-legend small">
      <li className="quiet">{say('pr.ruleTo', { end })}</li>
      <li>
        <svg width="16" height="16" aria-hidden="true">
          <path className="pr-rule-now" d="M8 1.5L14.5 8 8 14.5 1.5 8z" />
        </svg>{' '}
        {say('pr.legend.now')}
      </li>
      <li>
        <svg width="10" height="18" aria-hidden="true">
          <line className="pr-rule-advice" x1="5" x2="5" y1="1" y2="17" />
        </svg>{' '}
        {say('pr.legend.advice')}
      </li>
      <li>
        <svg width="26" height="16" aria-hidden="true">
          <rect className="pr-rule-span" x="0.5" y="1" width="25" height="14" />
        </svg>{' '}
        {say('pr.legend.limits')}
      </li>
      <li>
        <svg width="26" height="12" aria-hidden="true" className="pr-rule-thumb">
          <line x1="1" x2="25" y1="6" y2="6" />
          <line x1="1" x2="1" y1="2" y2="10" />
          <line x1="25" x2="25" y1="2" y2="10" />
        </svg>{' '}
        {say('pr.legend.thumb')}
      </li>
    </ul>
  );
}
