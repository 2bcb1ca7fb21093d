/** Six dots: can be picked up. */
export function GripIcon() {
  return (
    <svg className="icon" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true" focusable="false">
      <g fill="currentColor" stroke="none">
        {[4, 8, 12].flatMap((y) => [6, 10].map((x) => <circle key={`${x} ${y}`} cx={x} cy={y} r="1.2" />))}
      </g>
    </svg>
  );
}

/** A padlock: stays where it is. */
export function LockIcon() {
  return (
    <svg className="icon" viewBox="0 0 16 16" width="12" height="12" aria-hidden="true" focusable="false">
      <path d="M3.500 7.500h9V14h-9zM5.500 7.500V5a2.500 2.500 0 0 1 5 0v2.500" />
    </svg>
  );
}
