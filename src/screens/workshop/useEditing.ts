import { useCallback, useEffect, useRef, useState } from 'react';
import { edited, type Edit } from '#catalogue';
import { useTell } from '../parts/Tell.tsx';
import type { Workshop } from './desk.ts';

/** Steps that can be taken back; the text of each is kept whole. */
const STEPS = 200;
/** Typing that goes on within this is one step. Milliseconds. */
const ONE_STEP = 1200;
/** A change is kept when nothing was changed for this long; leaving keeps it at once. Milliseconds. */
const KEEP_AFTER = 300;

interface Course {
  readonly past: readonly string[];
  readonly text: string;
  readonly future: readonly string[];
}

/** The one text that all views of a draft show, with its way back. */
export interface Editing {
  readonly text: string;
  /** Changes by form, drag or key: a step of its own each. */
  edit(edits: readonly Edit[]): boolean;
  /** The text as it was typed. */
  type(text: string): void;
  readonly undo: (() => void) | null;
  readonly redo: (() => void) | null;
  /** Resolves when what is shown is kept. */
  kept(): Promise<void>;
}

export function useEditing(shop: Workshop, id: string, first: string): Editing {
  const { tell } = useTell();
  const [course, setCourse] = useState<Course>({ past: [], text: first, future: [] });
  const latest = useRef(course.text);
  const stored = useRef(first);
  const typedAt = useRef(0);
  useEffect(() => {
    latest.current = course.text;
  });
  const keep = useCallback(async () => {
    const text = latest.current;
    if (text === stored.current) return;
    stored.current = text;
    tell(await shop.keep(id, text));
  }, [shop, id, tell]);
  useEffect(() => {
    const timer = setTimeout(() => void keep(), KEEP_AFTER);
    return () => clearTimeout(timer);
  }, [course.text, keep]);
  useEffect(() => () => void keep(), [keep]);

  const put = (text: string, joins: boolean) => {
    latest.current = text;
    setCourse((c) =>
      text === c.text
        ? c
        : { past: joins ? c.past : [...c.past.slice(-STEPS), c.text], text, future: [] },
    );
  };
  const { past, future } = course;
  return {
    text: course.text,
    edit(edits) {
      const after = edited(latest.current, edits);
      typedAt.current = 0;
      if (after.ok) put(after.text, false);
      return tell(after.ok ? { ok: true, value: null } : after);
    },
    type(text) {
      const now = performance.now();
      const joins = now - typedAt.current < ONE_STEP && past.length > 0;
      typedAt.current = now;
      put(text, joins);
    },
    undo:
      past.length === 0
        ? null
        : () =>
            setCourse((c) => ({
              past: c.past.slice(0, -1),
              text: c.past.at(-1) ?? c.text,
              future: [c.text, ...c.future],
            })),
    redo:
      future.length === 0
        ? null
        : () =>
            setCourse((c) => ({
              past: [...c.past, c.text],
              text: c.future[0] ?? c.text,
              future: c.future.slice(1),
            })),
    kept: keep,
  };
}
