import { ToggleButton } from 'react-aria-components';
import { say } from '../state/say.ts';

/** A battery holder drawn with its cells; tapping a cell turns it on or off. */
export function Battery({
  label,
  cells,
  on,
  onWord,
  offWord,
  hintOf,
  onChange,
}: {
  label: string;
  cells: number;
  /** Which cells are on. */
  on: readonly boolean[];
  onWord: string;
  offWord: string;
  /** What stands below: so many of the cells are on. */
  hintOf: (given: { count: number; cells: number }) => string;
  onChange: (on: boolean[]) => void;
}) {
  const count = on.filter(Boolean).length;
  return (
    <div className="fd-battery-box">
      <span className="fd-label" id={`battery-${label.replace(/\W+/g, '-')}`}>
        {label}
      </span>
      <div className="fd-battery" role="group" aria-labelledby={`battery-${label.replace(/\W+/g, '-')}`}>
        {Array.from({ length: cells }, (_cell, index) => (
          <ToggleButton
            key={index}
            className="fd-cell"
            isSelected={on[index] === true}
            aria-label={say('field.cell', { number: index + 1, state: on[index] === true ? onWord : offWord })}
            onChange={(selected) =>
              onChange(Array.from({ length: cells }, (_other, at) => (at === index ? selected : on[at] === true)))
            }
          >
            <span className="fd-cell-plus" aria-hidden="true">
              +
            </span>
            <span className="fd-cell-word" aria-hidden="true">
              {on[index] === true ? `✓ ${onWord}` : `✕ ${offWord}`}
            </span>
          </ToggleButton>
        ))}
        <span className="fd-battery-tip" aria-hidden="true" />
      </div>
      <span className="fd-hint">{hintOf({ count, cells })}</span>
    </div>
  );
}
