import type { Heard } from '#shared/heard';
import type { NotUnderstood } from '#shared/statement';

/** What stands for an utterance whose reading failed: the words, and why (R5, R10). */
export function unreadable(heard: Heard, error: unknown): NotUnderstood {
  const words = heard.text.split(/\s+/).filter((w) => w !== '');
  const why = error instanceof Error ? error.message : String(error);
  return {
    v: 1,
    kind: 'not-understood',
    id: `${heard.id}/unreadable`,
    heard: heard.id,
    span: { from: 0, to: words.length, words: heard.text },
    why: [`The reading of these words failed: ${why}`],
    chatter: false,
  };
}
