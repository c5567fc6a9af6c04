import { Fragment, type ReactNode } from 'react';
import type { FluentVariable } from '@fluent/bundle';
import { useText } from '../text/text.ts';

/** Stands for something that is no words while the message is made; no keyboard has it (U+E000 is for private use). */
const FIRST = 0xe000;

/** A sentence with more than words in it, such as a link: where each stands is for the language to say. */
export function Woven({
  id,
  values,
  of,
}: {
  id: string;
  values?: Readonly<Record<string, FluentVariable>>;
  /** What stands at each name of the message. */
  of: Readonly<Record<string, ReactNode>>;
}) {
  const t = useText();
  const all = Object.entries(of);
  const marks = all.map(([name], i) => [name, String.fromCharCode(FIRST + i)] as const);
  const said = t(id, { ...values, ...Object.fromEntries(marks) });
  return said
    .split(/([\ue000-\ue0ff])/)
    .map((part, i) => (
      <Fragment key={i}>{i % 2 === 0 ? part : all[part.charCodeAt(0) - FIRST]?.[1]}</Fragment>
    ));
}
