import type { Heard } from '#shared/heard';
import type { Span, Statement } from '#shared/statement';

type Retraction = Extract<Statement, { kind: 'retraction' }>;

/** Which utterance takes something back, and with which of its words. */
export interface Taking {
  readonly heard: Pick<Heard, 'id'>;
  readonly span: Span;
  nextId(): string;
}

/** What was said is taken back: it stays in the log with its words and no longer counts (R4, R6). */
export function retracted(
  { heard, span, nextId }: Taking,
  { id, words }: { readonly id: string; readonly words: string | null },
  why: string,
): Retraction {
  return {
    v: 1,
    id: nextId(),
    heard: heard.id,
    kind: 'retraction',
    span,
    why: [why],
    of: id,
    ...(words === null ? {} : { words }),
  };
}

/**
 * What was asked about or corrected is not so: it is open again, or was never more than a guess.
 *
 * @param nothing the question that was answered with "nothing": the whole of what was said was
 *   about nothing, which can be learned
 */
export function notSo(
  a: Pick<Taking, 'heard' | 'nextId'>,
  span: Span,
  said: { readonly id: string; readonly span: Span },
  why: string,
  nothing: string | null = null,
): Retraction {
  const taking = { heard: a.heard, span, nextId: () => a.nextId() };
  const made = retracted(taking, { id: said.id, words: said.span.words }, why);
  return nothing === null ? made : { ...made, nothing };
}
