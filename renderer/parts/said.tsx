import { Fragment } from 'react';
import type { ReactNode } from 'react';

/** A said sentence with elements in it: every `{name}` of the text gives way to the element of that name, wherever the language puts it. */
export function Said({ text, parts }: { text: string; parts: Readonly<Record<string, ReactNode>> }) {
  return text
    .split(/\{(\w+)\}/)
    .map((piece, index) => <Fragment key={index}>{index % 2 === 0 ? piece : parts[piece]}</Fragment>);
}
