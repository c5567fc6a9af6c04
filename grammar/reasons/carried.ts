import type { Scene } from '#shared/scene';
import { look, type Parts } from '../piece.ts';
import type { Scored } from '../scores/scored.ts';
import { tokensOf } from '../tokens.ts';

/** Which of the scores a statement rests on. */
export type Ground = 'good' | 'finding' | 'result' | 'talk' | 'ask';

/** A word is said to carry a score when that falls by so much without it. */
const CARRIES = 0.15;
/** More words than this are not tried one by one. */
const MOST = 60;

/**
 * The words without which a score would fall: each is left out once and the rest scored
 * anew. In the order in which they were said.
 */
export function carriers(
  text: string,
  scene: Scene,
  key: string,
  ground: Ground,
  parts: Parts,
): string[] {
  const written = text.split(/\s+/).filter((w) => w !== '');
  if (written.length > MOST) return [];
  const whole = shareOf(text, scene, key, ground, parts);
  const falls = written.map((_, i) => {
    const rest = written.filter((__, k) => k !== i).join(' ');
    return rest === '' ? whole : whole - shareOf(rest, scene, key, ground, parts);
  });
  return written.filter((_, i) => (falls[i] ?? 0) >= CARRIES);
}

function shareOf(text: string, scene: Scene, key: string, ground: Ground, parts: Parts): number {
  const { tokens } = tokensOf({ text, words: [] });
  if (tokens.length === 0) return 0;
  const { inputs, scores } = look('explained', text, tokens, scene, parts);
  const index = inputs.candidates.findIndex((c) => (c.member?.key ?? '') === key);
  const scored: Scored | undefined = scores.candidates[index];
  return scored === undefined ? 0 : scored[ground];
}
