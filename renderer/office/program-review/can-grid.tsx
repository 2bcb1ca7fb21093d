import { useEffect, useRef } from 'react';
import type { ClipboardEvent, KeyboardEvent } from 'react';
import { readVolume, volumesIn } from './can-volumes.ts';
import { say } from '../../state/say.ts';

const GROWS_BY = 6;
export const FIRST_CANS = Array.from({ length: 24 }, () => '');

/** A cell a can: type a volume and press Enter for the next; or paste the whole list into any of them. */
export function CanGrid({
  texts,
  low,
  onChange,
}: {
  texts: readonly string[];
  low: ReadonlySet<number>;
  onChange: (texts: string[]) => void;
}) {
  const grid = useRef<HTMLDivElement>(null);
  const wanted = useRef<number | null>(null);
  const fields = () => [...(grid.current?.querySelectorAll('input') ?? [])];
  useEffect(() => {
    if (wanted.current === null) return;
    const field = fields()[wanted.current];
    wanted.current = null;
    field?.focus();
    field?.select();
  });
  const set = (index: number, text: string) => onChange(texts.map((old, at) => (at === index ? text : old)));
  const go = (index: number) => {
    if (index < 0) return;
    wanted.current = index;
    if (index >= texts.length) onChange([...texts, ...Array.from({ length: GROWS_BY }, () => '')]);
    else onChange([...texts]);
  };
  const onPaste = (index: number) => (event: ClipboardEvent) => {
    const found = volumesIn(event.clipboardData.getData('text'));
    if (found.length < 2) return;
    event.preventDefault();
    const next = [...texts];
    found.slice(0, 400 - index).forEach((volume, at) => {
      next[index + at] = volume;
    });
    wanted.current = Math.min(index + found.length, next.length - 1);
    onChange(next);
  };
  const onKeyDown = (index: number) => (event: KeyboardEvent<HTMLInputElement>) => {
    if (event.key === 'Enter') go(index + 1);
    else if (event.key === 'Backspace' && event.currentTarget.value === '' && index > 0) go(index - 1);
    else if (event.key === 'ArrowDown' || event.key === 'ArrowUp')
      go(neighbour(fields(), index, event.key === 'ArrowDown' ? 1 : -1));
    else return;
    event.preventDefault();
  };
  return (
    <div ref={grid} className="pr-cans" role="group" aria-label={say('pr.volumes')}>
      {texts.map((text, index) => {
        const wrong = Number.isNaN(readVolume(text));
        return (
          <label key={index} className={`pr-can${wrong ? ' wrong' : low.has(index) ? ' low' : ''}`}>
            <span aria-hidden="true">{index + 1}</span>
            <input
              inputMode="decimal"
              autoComplete="off"
              value={text}
              aria-label={say('pr.canNumber', { number: index + 1, low: low.has(index) })}
              aria-invalid={wrong || undefined}
              maxLength={8}
              onChange={(event) => set(index, event.target.value)}
              onKeyDown={onKeyDown(index)}
              onPaste={onPaste(index)}
              onFocus={(event) => event.target.select()}
            />
          </label>
        );
      })}
    </div>
  );
}

/** The field right above or below, as the grid stands on the screen. */
function neighbour(fields: readonly HTMLInputElement[], index: number, step: 1 | -1): number {
  const left = fields[index]?.getBoundingClientRect().left ?? 0;
  for (let at = index + step; at >= 0 && at < fields.length; at += step) {
    if (Math.abs((fields[at]?.getBoundingClientRect().left ?? 0) - left) < 2) return at;
  }
  return step === 1 ? fields.length : index;
}
