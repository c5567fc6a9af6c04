import type { Heard } from '#shared/heard';
import type { Reading } from '#shared/reader';
import type { Observation, Statement } from '#shared/statement';

/**
 * The recogniser's other readings of the same sound. The best one is read; where it yields
 * nothing, or only a doubt about words, the next ones may say it. They never overrule what
 * the best one says: a result that it denies or doubts for another reason stays in question,
 * and where the others do not agree among themselves it is asked (R5). Where the best one
 * says that all is well and another that something is not, it is asked as well: a "not" is
 * short and easily lost, a question too many costs a word, and a finding lost costs more.
 */

/** Doubts that another reading can settle: a word that was not known, a name taken by its sound. */
const SETTLED_BY_WORDS = /^took "|was not understood$|^the end is missing$/;

/** What the recogniser heard, from its best reading and the others. */
export function bestOf(first: Reading, heard: Heard, read: (text: string) => Reading): Reading {
  if (heard.alternatives.length === 0) return first;
  if (first.statements.some(isClear)) return contradicted(first, heard, read);
  const asked = observations(first.statements);
  if (asked.some((o) => o.doubtful !== null && !SETTLED_BY_WORDS.test(o.doubtful))) return first;
  const others = heard.alternatives.map(({ text }) => ({ text, reading: read(text) }));
  const taken = others.find(
    ({ reading: { statements } }) =>
      statements.some((s) => tells(s, asked)) && agree(asked, observations(statements)),
  );
  if (taken === undefined) return first;
  const { statements } = taken.reading;
  const own = observations(statements);
  const rival = others.find(
    (o) => o !== taken && !agree(own, observations(o.reading.statements), true),
  );
  // An order that is not sure is none: "hold" or "finish" is said again.
  if (rival !== undefined && own.length === 0) return first;
  const why = `the first reading "${heard.text}" names nothing; this one was heard as well: "${taken.text}"`;
  return doubted(taken.reading, (s) => {
    const told = { ...s, why: [...s.why, why] };
    return rival !== undefined && told.kind === 'observation' && told.doubtful === null
      ? { ...told, doubtful: `heard as "${taken.text}" or as "${rival.text}"` }
      : told;
  });
}

/** A clear reading in which what is good is doubted where another reading finds something. */
function contradicted(first: Reading, heard: Heard, read: (text: string) => Reading): Reading {
  if (!first.statements.some(isWell)) return first;
  const bad = new Map<string, string>();
  for (const { text } of heard.alternatives)
    for (const o of observations(read(text).statements)) {
      const check = checkOf(o);
      if (check !== null && o.force === 'result' && o.doubtful === null && leaning(o) === -1)
        bad.set(check, bad.get(check) ?? text);
    }
  return doubted(first, (s) => {
    const text = isWell(s) ? bad.get(checkOf(s) ?? '') : undefined;
    return text === undefined || s.kind !== 'observation'
      ? s
      : { ...s, doubtful: `heard as well: "${text}"` };
  });
}

/** A reading with its statements changed; the scene that it leaves goes on from these. */
function doubted(reading: Reading, change: (s: Statement) => Statement): Reading {
  const statements = reading.statements.map(change);
  const { last } = reading.scene;
  const now = statements.find((s) => s.kind === 'observation' && s.id === last?.id);
  return {
    statements,
    scene: now?.kind === 'observation' ? { ...reading.scene, last: now } : reading.scene,
  };
}

/** A clear result that all is well. */
function isWell(s: Statement): s is Observation {
  return (
    s.kind === 'observation' && s.force === 'result' && s.doubtful === null && leaning(s) === 1
  );
}

function observations(statements: readonly Statement[]): Observation[] {
  return statements.flatMap((s) => (s.kind === 'observation' ? [s] : []));
}

/** Whether nothing is left to settle. */
function isClear(s: Statement): boolean {
  return s.kind !== 'not-understood' && (s.kind !== 'observation' || s.doubtful === null);
}

/** Whether a statement of another reading says something, and of a check that the first one may have meant. */
function tells(s: Statement, asked: readonly Observation[]): boolean {
  if (s.kind === 'not-understood' || s.kind === 'two-candidates') return false;
  if (s.kind !== 'observation') return true;
  const { about } = s;
  if (s.doubtful !== null || about.kind !== 'check') return false;
  const meant = asked.flatMap((o) => (o.about.kind === 'check' ? [o.about.check] : []));
  return meant.length === 0 || meant.includes(about.check);
}

/**
 * Whether no check is said to be good in one and not good in the other, or told with another
 * force. With `strict`, a clear result on another check is against it as well: one of the two
 * names was heard wrongly.
 */
function agree(
  one: readonly Observation[],
  other: readonly Observation[],
  strict = false,
): boolean {
  return other.every((b) => {
    const same = one.filter((a) => checkOf(a) === checkOf(b));
    if (same.length === 0)
      return !strict || b.force !== 'result' || b.doubtful !== null || checkOf(b) === null;
    return same.some(
      (a) =>
        a.force === b.force && (leaning(a) === leaning(b) || leaning(a) === 0 || leaning(b) === 0),
    );
  });
}

function checkOf({ about }: Observation): string | null {
  return about.kind === 'check' ? about.check : null;
}

/** 1 where it says that all is well, -1 where something is not, 0 where it says neither. */
function leaning(o: Observation): -1 | 0 | 1 {
  if (o.verdict?.good === false || o.conditions.some((c) => c.present)) return -1;
  return o.verdict !== null || o.conditions.length > 0 ? 1 : 0;
}
