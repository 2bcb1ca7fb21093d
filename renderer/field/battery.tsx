import { ToggleButton } from 'react-aria-components';

/** A battery holder drawn with its cells; tapping a cell turns it on or off. */
export function Battery({
  label,
  cells,
  on,
  onWord,
  offWord,
  onChange,
}: {
  label: string;
  cells: number;
  /** Which cells are on. */
  on: readonly boolean[];
  onWord: string;
  offWord: string;
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
            aria-label={`Cell ${index + 1}: ${on[index] === true ? onWord : offWord}`}
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
      <span className="fd-hint">
        {count} of {cells} {cells === 1 ? 'cell' : 'cells'} {onWord}. Tap a cell to change it.
      </span>
    </div>
  );
}
