import { instancesOf, type Check } from '#shared/catalogue';
import type { CheckCoverage } from '#shared/coverage';
import type { Heard } from '#shared/heard';
import type { Reader } from '#shared/reader';
import type { Severity } from '#shared/severity';
import { BY_TOUCH, type Observation, type Span, type Statement } from '#shared/statement';

/**
 * What is settled by touch goes the way of words: it is heard, in words that
 * say what was done, and stated. Only the reading is not left to the grammar,
 * since the touch was exact.
 */
export interface ByHand {
  readonly reader: Reader;
  /** What the utterance of this id is to be read as. */
  prepare(heard: string, make: (heard: Heard) => Made): void;
}

/** What a touch states: one thing, or several at once. */
export type Made = Statement | readonly Statement[];

/** A reader that reads prepared utterances as prepared, and all others by the grammar. */
export function byHand(grammar: Reader): ByHand {
  const prepared = new Map<string, (heard: Heard) => Made>();
  return {
    reader: {
      ...(grammar.by === undefined ? {} : { by: grammar.by }),
      read(heard, scene) {
        const make = prepared.get(heard.id);
        if (make === undefined) return grammar.read(heard, scene);
        prepared.delete(heard.id);
        const made = make(heard);
        const statements = 'kind' in made ? [made] : made;
        return { statements, scene: statements.reduce((now, s) => grammar.follow(now, s), scene) };
      },
      hear: (scene, heard) => grammar.hear?.(scene, heard) ?? scene,
      follow: (scene, statement) => grammar.follow(scene, statement),
    },
    prepare: (heard, make) => void prepared.set(heard, make),
  };
}

function common(heard: Heard) {
  const span: Span = { from: 0, to: heard.text.split(/\s+/).length, words: heard.text };
  return { v: 1 as const, id: `${heard.id}.0`, heard: heard.id, span, why: [BY_TOUCH] };
}

/** Everything that is still to be said about a check, said to be good. */
export function settled(heard: Heard, coverage: CheckCoverage): Observation {
  const parts = common(heard);
  const aspects = [...new Set(coverage.missing.aspects.map((a) => a.aspect))];
  return {
    ...parts,
    kind: 'observation',
    force: 'result',
    about: {
      kind: 'check',
      check: coverage.check,
      which: { how: 'all', instances: [] },
      span: parts.span,
    },
    candidates: [],
    verdict: { good: true, aspects, actOnly: false, span: parts.span },
    conditions: [],
    values: [],
    acts: [],
    severity: null,
    amends: null,
    answers: null,
    compared: null,
    squawk: false,
    doubtful: null,
  };
}

export function setAside(heard: Heard, check: string, reason: string): Statement {
  return { ...common(heard), kind: 'set-aside', check, instances: [], reason };
}

export function rated(heard: Heard, finding: string, severity: Severity): Statement {
  return { ...common(heard), kind: 'rating', severity, of: finding };
}

/** Every statement of an utterance, taken back; the last one first. */
export function takenBack(heard: Heard, of: readonly string[], words: string): Statement[] {
  return [...of].reverse().map((id, i) => ({
    ...common(heard),
    id: `${heard.id}.${i}`,
    kind: 'retraction',
    of: id,
    words,
  }));
}

/** What was said, put on another check: the first saying stays in the log (R6). */
export function putOn(heard: Heard, said: Observation, check: Check): Observation {
  const own = check.aspects.find((a) => a.id === 'condition') ?? check.aspects[0];
  const all = instancesOf(check);
  const places =
    said.about.kind === 'check' ? said.about.which.instances.filter((i) => all.includes(i)) : [];
  const parts = common(heard);
  // How bad it was called before was said of the other check.
  const rest = { ...said };
  delete rest.usual;
  return {
    ...rest,
    ...parts,
    about: {
      kind: 'check',
      check: check.id,
      which:
        all.length === 1
          ? { how: 'all', instances: [...all] }
          : { how: places.length > 0 ? 'named' : 'one', instances: places },
      span: parts.span,
    },
    candidates: [],
    // What the signs of the other check call it is theirs to say.
    conditions: said.conditions.map((c) => ({ ...c, sign: null })),
    verdict:
      said.verdict === null
        ? null
        : { ...said.verdict, aspects: own === undefined ? [] : [own.id] },
    values: [],
    amends: said.id,
    answers: null,
    doubtful: null,
    waits: false,
    squawk: false,
  };
}
