import type { Circumstance } from '#shared/circumstance';
import type { Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { commandOf } from '../commands.ts';
import { DECIDE } from '../decide.ts';
import { lexicon } from '../lexicon.ts';
import type { Roster } from '../matches/roster.ts';
import { ORDERS, type Scores } from '../scores/net.ts';
import type { Inputs } from '../scores/inputs.ts';
import { denialOf } from '../scope.ts';
import { phraseWords } from '../tokens.ts';
import { Trie } from '../trie.ts';
import { severitiesIn, spanIn, type Words } from './said.ts';

/** What is said to Talkround itself, or about the walk and not about a check. */

type Dialogue = { kind: 'retract' | 'aside' } | { kind: 'circumstance'; of: Circumstance };

let phrases: Trie<Dialogue> | null = null;
function dialogueTrie(): Trie<Dialogue> {
  if (phrases !== null) return phrases;
  phrases = new Trie();
  const { dialogue } = lexicon();
  for (const phrase of dialogue.retract) phrases.add(phraseWords(phrase), { kind: 'retract' });
  for (const phrase of [...dialogue.setaside, ...dialogue.notfitted])
    phrases.add(phraseWords(phrase), { kind: 'aside' });
  for (const [of, say] of Object.entries(dialogue.circumstance) as [Circumstance, string[]][])
    for (const phrase of say) phrases.add(phraseWords(phrase), { kind: 'circumstance', of });
  return phrases;
}

interface Ordering {
  readonly heard: string;
  readonly words: Words;
  readonly scene: Scene;
  readonly roster: Roster;
  readonly inputs: Inputs;
  readonly scores: Scores;
  nextId(): string;
}

/** An order that is the whole utterance, or a sentence of it. */
export function commandsIn(o: Ordering): { statements: Statement[]; whole: boolean } {
  const { tokens } = o.words;
  const share = o.scores.orders[ORDERS.indexOf('command')] ?? 0;
  const bounds = [0, ...tokens.flatMap((t, i) => (i > 0 && t.gap === 2 ? [i] : [])), tokens.length];
  const statements: Statement[] = [];
  let covered = 0;
  bounds.slice(0, -1).forEach((from, k) => {
    const to = bounds[k + 1] ?? tokens.length;
    const words = tokens.slice(from, to).map((t) => t.word);
    const alone = to - from === tokens.length;
    const command = commandOf(words, o.scene.question !== null, alone);
    // Said alone the words are enough; in the midst of talk the net has to hear an order too.
    if (command === null || (!alone && share < DECIDE.order)) return;
    if (alone && share < DECIDE.order / 4 && !/^(yes|no)$/.test(command)) return;
    covered += to - from;
    statements.push({
      ...common(o, from, to, [`"${words.join(' ')}" stands alone: an order to Talkround`]),
      kind: 'command',
      command,
    });
  });
  return { statements, whole: covered === tokens.length };
}

/** Retractions, ratings, what is set aside, what is special today. */
export function othersIn(o: Ordering, finding: boolean): Statement[] {
  const { tokens } = o.words;
  const list = tokens.map((t) => t.word);
  const share = (name: (typeof ORDERS)[number]): number =>
    o.scores.orders[ORDERS.indexOf(name)] ?? 0;
  const out: Statement[] = [];
  for (let i = 0; i < list.length; i += 1) {
    const hit = dialogueTrie().longest(list, i);
    if (hit === null) continue;
    const { item, from, to } = hit;
    i = to - 1;
    if (item.kind === 'retract' && o.scene.lastId !== null && share('retract') >= DECIDE.order)
      out.push({
        ...common(o, from, to, ['taken back: it stays in the log and no longer counts (R6)']),
        kind: 'retraction',
        of: o.scene.lastId,
      });
    if (item.kind === 'aside' && share('aside') >= DECIDE.order) {
      const aside = setAside(o, from, to);
      if (aside !== null) out.push(aside);
    }
    if (item.kind === 'circumstance' && share('circumstance') >= DECIDE.order)
      out.push({
        ...common(o, from, to, [`"${spanIn(o.words, from, to).words}" says what is special today`]),
        kind: 'circumstance',
        circumstance: item.of,
        holds: denialOf(list, { from, to }).count === 0,
      });
  }
  const severity = severitiesIn(tokens)[0];
  if (!finding && severity !== undefined && share('rating') >= DECIDE.order)
    out.push({
      ...common(o, 0, list.length, [`the latest finding is rated "${severity}"`]),
      kind: 'rating',
      severity,
      of: null,
    });
  return out;
}

function setAside(o: Ordering, from: number, to: number): Statement | null {
  let best: { index: number; share: number } | null = null;
  o.scores.candidates.slice(0, -1).forEach((s, index) => {
    if (o.inputs.candidates[index]?.member?.check == null) return;
    const share = Math.max(s.result, s.talk);
    if (best === null || share > best.share) best = { index, share };
  });
  const found = best as { index: number } | null;
  const member = found === null ? null : o.inputs.candidates[found.index]?.member;
  const check = member?.check;
  if (found === null || member == null || check == null) return null;
  const places = member.instances.filter(
    (_, i) => (o.scores.candidates[found.index]?.places[i] ?? 0) >= DECIDE.place,
  );
  return {
    ...common(o, from, to, [`set aside: "${member.names[0]?.join(' ') ?? ''}"`]),
    kind: 'set-aside',
    check: check.id,
    instances:
      places.length > 0 ? places : member.instances.length > 0 ? [...member.instances] : ['once'],
    reason: spanIn(o.words, 0, o.words.tokens.length).words,
  };
}

function common(
  o: Ordering,
  from: number,
  to: number,
  why: string[],
): { v: 1; id: string; heard: string; span: ReturnType<typeof spanIn>; why: string[] } {
  return { v: 1, id: o.nextId(), heard: o.heard, span: spanIn(o.words, from, to), why };
}
