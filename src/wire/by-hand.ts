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
  prepare(heard: string, make: (heard: Heard) => Statement): void;
}

/** A reader that reads prepared utterances as prepared, and all others by the grammar. */
export function byHand(grammar: Reader): ByHand {
  const prepared = new Map<string, (heard: Heard) => Statement>();
  return {
    reader: {
      ...(grammar.by === undefined ? {} : { by: grammar.by }),
      read(heard, scene) {
        const make = prepared.get(heard.id);
        if (make === undefined) return grammar.read(heard, scene);
        prepared.delete(heard.id);
        const statement = make(heard);
        return { statements: [statement], scene: grammar.follow(scene, statement) };
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

export function takenBack(heard: Heard, of: string): Statement {
  return { ...common(heard), kind: 'retraction', of };
}
