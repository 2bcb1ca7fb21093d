import { useEffect, useState } from 'react';

/** A value that follows once it has been still for a moment, so that typing does not ask the book at every key. */
export function useDebounced<T>(value: T, milliseconds = 250): T {
  const [held, setHeld] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setHeld(value), milliseconds);
    return () => clearTimeout(timer);
  }, [value, milliseconds]);
  return held;
}
