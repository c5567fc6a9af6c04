import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { z } from 'zod';
import { SEVERITIES } from '#shared/severity';
import type { Catalogue } from '#shared/catalogue';
import { checksById, CorpusError, parseLabel, type Label } from './format.ts';
import { conditionLabels } from './load.ts';
import { calledIn, isKind, labelOf, TURN_PARTS, type Called, type TurnPart } from './turns.ts';

/**
 * What is said next: two sentences about one part, of which the first brings it up and the second goes
 * on without its name, and faults told together with how bad they are. As in turns.ts each can be said
 * of parts of many aircraft. One a line, `FIRST > SECOND | first // second` or `KIND @RATING | text`; what
 * stands for what is in tests/corpus/README.md.
 */
export interface Follow {
  /** Of what is said first, and alone where nothing follows. */
  readonly first: string;
  /** Null where one sentence says it all. */
  readonly second: string | null;
  readonly rating: string | null;
  readonly say: readonly string[];
}

const GAP = '{N}';
const RATES = new RegExp(`^R (${SEVERITIES.join('|')})$`);

const here = join(dirname(fileURLToPath(import.meta.url)), 'follows');

/** The writers of a part, as files. */
export function followWriters(part: TurnPart): string[] {
  const table = z
    .record(z.string(), z.enum(TURN_PARTS))
    .parse(parse(readFileSync(join(here, 'parts.yaml'), 'utf8')));
  return Object.entries(table).flatMap(([writer, own]) => (own === part ? [writer] : []));
}

/** What one writer lets follow. Throws CorpusError with one sentence. */
export function followsOf(writer: string): Follow[] {
  const file = join(here, `${writer}.txt`);
  return parseFollows(readFileSync(file, 'utf8'), file);
}

/** Reads a file of them. Throws CorpusError that names the line. */
export function parseFollows(text: string, file: string): Follow[] {
  return text.split('\n').flatMap((line, n): Follow[] => {
    if (line.trim() === '') return [];
    const wrong = (why: string): CorpusError =>
      new CorpusError(`${file}, line ${String(n + 1)}: ${why}`);
    const [kind, words] = line.split(/ \| (.*)/s).map((part) => part.trim());
    if (kind === undefined || words === undefined) throw wrong('it is not "KIND | text".');
    const say = words.split(/\s*\/\/\s*/);
    if (say[0]?.includes(GAP) !== true) throw wrong(`no ${GAP} says where the name stands.`);
    const [, alone, rating] = /^(.+) @(.+)$/.exec(kind) ?? [];
    if (alone !== undefined && rating !== undefined) {
      if (!isFault(alone) || !RATES.test(`R ${rating}`)) throw wrong(`"${kind}" rates no fault.`);
      return [{ first: alone, second: null, rating, say }];
    }
    const [first = '', second = ''] = kind.split(' > ');
    if (!isKind(first)) throw wrong(`"${first}" is nothing that is said first.`);
    const follows = isKind(second) || second === 'M' || RATES.test(second);
    if (!follows) throw wrong(`"${second}" is nothing that is said next.`);
    if (second !== 'M' && !RATES.test(second)) return checked();
    if (!isFault(first) && first !== '?') throw wrong(`"${second}" wants a fault before it.`);
    return checked();
    function checked(): Follow[] {
      if (say.length < 2) throw wrong('nothing follows.');
      return [{ first, second, rating: RATES.exec(second)?.[1] ?? null, say }];
    }
  });
}

const isFault = (kind: string): boolean => kind === 'B' || (isKind(kind) && kind.startsWith('+'));

/** The labels of each of the sentences, in the corpus's label language. */
export function labelsOfFollow(follow: Follow, target: string, bare: boolean): string[] {
  const { first, second, rating, say } = follow;
  if (second === null) return [`${labelOf(first, target)} @${rating ?? ''}`];
  const last =
    rating !== null
      ? bare
        ? `${target} @${rating}`
        : `rating ${rating}`
      : second === 'M'
        ? labelOf(first, target)
        : `${labelOf(second, target)}${isFault(first) && second === 'G' ? ' amends' : ''}`;
  return say.map((_, i) => (i === 0 ? labelOf(first, target) : i === say.length - 1 ? last : ''));
}

export interface FollowSaid {
  readonly id: string;
  readonly follow: Follow;
  readonly part: Called;
  /** The station that a screen would give; null where none does. */
  readonly at: string | null;
  readonly lines: readonly { readonly say: string; readonly labels: readonly Label[] }[];
}

/** How often the station is given, as a screen would. */
const STATION_SHARE = 0.5;
/** Walks call about half of all remarks on how bad a fault is a rating, and half a report of that check. */
const BARE_SHARE = 0.5;
/** Parts that are tried until the fault is one that may be found there. */
const TRIES = 6;

/**
 * Such pairs said of parts of these catalogues.
 *
 * @param times how often each is said, of another part each time
 * @param draw numbers from 0 to 1; equal draws place equally
 */
export function placedFollows(
  follows: readonly Follow[],
  catalogues: readonly Catalogue[],
  times: number,
  draw: () => number,
): { name: string; catalogue: Catalogue; said: FollowSaid[] }[] {
  const conditions = conditionLabels();
  const hosts = catalogues.flatMap((catalogue, n) => {
    const called = calledIn(catalogue);
    const said: FollowSaid[] = [];
    return called.length < 5
      ? []
      : [{ name: `follows/${String(n)}`, catalogue, called, said, checks: checksById(catalogue) }];
  });
  const pick = <T>(list: readonly T[]): T => {
    const one = list[Math.floor(draw() * list.length)];
    if (one === undefined) throw new Error('Nothing to pick from.');
    return one;
  };
  for (let round = 0; round < times; round += 1)
    follows.forEach((follow, n) => {
      const host = pick(hosts);
      const wanted = [follow.first, follow.second ?? ''].flatMap(
        (kind) => conditions[kind.slice(1)]?.aspects ?? [],
      );
      let part = pick(host.called);
      for (let i = 0; i < TRIES && wanted.length > 0; i += 1) {
        if (part.check.aspects.some((a) => wanted.includes(a.id))) break;
        part = pick(host.called);
      }
      const labels = labelsOfFollow(follow, part.target, draw() < BARE_SHARE);
      host.said.push({
        id: `follow-${String(n)}-${String(round)}`,
        follow,
        part,
        at: draw() < STATION_SHARE ? part.station.id : null,
        lines: follow.say.map((text, i) => ({
          say: text.replaceAll(GAP, part.name),
          labels:
            (labels[i] ?? '') === ''
              ? []
              : [parseLabel(labels[i] ?? '', host.catalogue, host.checks, conditions)],
        })),
      });
    });
  return hosts.filter(({ said }) => said.length > 0);
}
