import { heardOf } from '#capture';
import { editionOf, parseCatalogue } from '#catalogue';
import {
  createGrammar,
  lint,
  spellOut,
  type Grammar,
  type Pronunciations,
  type Weights,
} from '#grammar';
import type { Hearing, Heed, ProofLine, WordSound } from '#screens';
import { instancesOf, type Catalogue, type Check } from '#shared/catalogue';
import { FIRST_SCENE } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { bad, good } from '../outcome.ts';

export interface HearingParts {
  pronunciations(): Promise<Pronunciations>;
  /** The learned scores; null where they cannot be used. */
  weights(): Promise<Weights | null>;
  say(words: string): Promise<boolean>;
}

/** File name in sentences about what is being written. */
const FILE = 'this catalogue';
/** Other names of a check that the proof walk says too; each costs a reading of a millisecond or so. */
const PROOF_NAMES = 4;

/** How a catalogue sounds, through the grammar's own functions. The latest grammar is kept: typing asks for it again and again. */
export function workshopHearing(parts: HearingParts): Hearing {
  let latest: { readonly edition: string; readonly grammar: Grammar } | null = null;

  async function grammarOf(catalogue: Catalogue): Promise<Grammar> {
    const edition = editionOf(catalogue);
    if (latest?.edition === edition) return latest.grammar;
    const grammar = createGrammar(catalogue, {
      pronunciations: await parts.pronunciations(),
      weights: await parts.weights(),
    });
    latest = { edition, grammar };
    return grammar;
  }

  function read(grammar: Grammar, text: string, station: string | null): readonly Statement[] {
    return grammar.read(said(text), { ...FIRST_SCENE, station }).statements;
  }

  return {
    async heed(text) {
      const parsed = parseCatalogue(text, FILE);
      if (!parsed.ok)
        return parsed.problems.map((p): Heed => ({
          check: null,
          line: p.line,
          sort: 'error',
          text: p.text,
          sentences: [],
        }));
      const { catalogue, warnings } = parsed;
      const grammar = await grammarOf(catalogue);
      const checks = new Map(
        catalogue.stations.flatMap((s) => s.checks.map((c) => [c.id, { check: c, station: s.id }])),
      );
      return [
        ...warnings.map((p): Heed => ({
          check: null,
          line: p.line,
          sort: 'doubt',
          text: p.text,
          sentences: [],
        })),
        ...lint(catalogue, await parts.pronunciations()).map((problem): Heed => {
          const own = problem.path.split('.').at(-1) ?? '';
          const other = [...problem.text.matchAll(/check "([^"]+)"/g)]
            .map((m) => m[1] ?? '')
            .find((id) => id !== own && checks.has(id));
          return {
            // A sign of the whole catalogue is of no one check.
            check: checks.has(own) ? own : null,
            line: null,
            sort: 'by-ear',
            text: problem.text,
            sentences: [own, ...(other === undefined ? [] : [other])].flatMap((id) => {
              const at = checks.get(id);
              if (at === undefined) return [];
              const words = `${sentenceName(at.check)} is good`;
              return [
                {
                  said: words,
                  read: meaning(
                    grammar.explain(said(words), { ...FIRST_SCENE, station: at.station }),
                  ),
                },
              ];
            }),
          };
        }),
      ];
    },
    async tryOut(text, sentence, station) {
      if (sentence.trim() === '') return bad('Say or type a sentence first.');
      const parsed = parseCatalogue(text, FILE);
      if (!parsed.ok)
        return bad(`Line ${parsed.problems[0]?.line ?? 1}: ${parsed.problems[0]?.text ?? ''}`);
      const grammar = await grammarOf(parsed.catalogue);
      return good(grammar.explain(said(sentence), { ...FIRST_SCENE, station }));
    },
    async proof(text) {
      const parsed = parseCatalogue(text, FILE);
      if (!parsed.ok)
        return bad(`Line ${parsed.problems[0]?.line ?? 1}: ${parsed.problems[0]?.text ?? ''}`);
      const { catalogue } = parsed;
      const grammar = await grammarOf(catalogue);
      return good(
        catalogue.stations.flatMap((station) =>
          station.checks.flatMap((check) =>
            samples(check).map((words): ProofLine => {
              const statements = read(grammar, words, station.id);
              return {
                check: check.id,
                said: words,
                understood: statements.some((s) => isAbout(s, check.id)),
                read: meaning(
                  grammar.explain(said(words), { ...FIRST_SCENE, station: station.id }),
                ),
              };
            }),
          ),
        ),
      );
    },
    async sounds(text, names) {
      const dictionary = await parts.pronunciations();
      const parsed = parseCatalogue(text, FILE);
      const own = new Map(
        parsed.ok
          ? parsed.catalogue.stations.flatMap((s) =>
              s.checks.flatMap((c) =>
                Object.entries(c.pronounce).map(([word, phones]) => [word.toLowerCase(), phones]),
              ),
            )
          : [],
      );
      // What the recogniser is given, where the file can be read.
      const given = new Map(
        parsed.ok
          ? (await grammarOf(parsed.catalogue)).vocabulary().map((v) => [v.word, v.phones])
          : [],
      );
      const words = names.flatMap((name) => name.toLowerCase().match(/[\p{L}\d']+/gu) ?? []);
      return [...new Set(words)].map((word): WordSound => {
        const author = own.get(word);
        if (author !== undefined) return { word, phones: author, by: 'author' };
        const known = dictionary.of(word)[0];
        const phones = given.get(word) ?? known ?? spellOut(word);
        return {
          word,
          phones: phones.join(' '),
          by: known === undefined ? 'spelling' : 'dictionary',
        };
      });
    },
    say: (words) => parts.say(words),
  };
}

/** Sentences that a pilot may say of a check: each of its names, of all its places, and its value. */
function samples(check: Check): string[] {
  const names = [check.name, ...check.say].slice(0, PROOF_NAMES);
  const many = instancesOf(check).length > 1;
  return [
    ...names.map(
      (name) => `${many ? 'all the ' : ''}${name.toLowerCase()} ${many ? 'are' : 'is'} good`,
    ),
    `no cracks on the ${sentenceName(check)}`,
    ...instancesOf(check)
      .filter((place) => many && !/^\d+$/.test(place))
      .map((place) => `${place} ${check.name.toLowerCase()} is good`),
  ];
}

function sentenceName(check: Check): string {
  return check.name.toLowerCase();
}

function isAbout(s: Statement, check: string): boolean {
  if (s.kind === 'observation') return s.about.kind === 'check' && s.about.check === check;
  // It is asked about, and this is one of the answers (R5).
  return s.kind === 'two-candidates' && s.candidates.some((c) => c.check === check);
}

/** The line of an explanation that says what it means. */
function meaning(explained: string): string {
  const means = explained
    .split('\n')
    .filter((l) => l.trim().startsWith('means: '))
    .map((l) => l.trim().slice('means: '.length));
  return means.length === 0 ? 'nothing' : means.join('; ');
}

function said(text: string) {
  return heardOf({ id: 'tried', by: 'typed', text });
}
