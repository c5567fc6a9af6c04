import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { z } from 'zod';
import { instancesOf, type Catalogue, type Check, type Station } from '#shared/catalogue';
import { checksById, CorpusError, parseLabel, type Utterance } from './format.ts';
import { conditionLabels, type CorpusSet } from './load.ts';

/**
 * Turns of speech: how strangers say that a part is well, or is not, or only talk of it, with a gap
 * where the part's name stands. Each can be said of hundreds of parts, so what is learned from them,
 * and what they measure, is the way of saying and no name. One a line, `KIND | text`; what KIND may
 * be is in tests/corpus/README.md.
 */
export interface Turn {
  readonly kind: string;
  /** What is said before it, and it: the last one carries the label. */
  readonly say: readonly string[];
}

export const TURN_PARTS = ['learn', 'tune', 'sealed'] as const;
export type TurnPart = (typeof TURN_PARTS)[number];
const FORCES = ['intention', 'teaching', 'hypothesis', 'question', 'past', 'hearsay'];
/** Where the name stands. */
const GAP = '{N}';

const here = join(dirname(fileURLToPath(import.meta.url)), 'turns');

/** The writers of a part, as files. */
export function turnWriters(part: TurnPart): string[] {
  const table = z
    .record(z.string(), z.enum(TURN_PARTS))
    .parse(parse(readFileSync(join(here, 'parts.yaml'), 'utf8')));
  return Object.entries(table).flatMap(([writer, own]) => (own === part ? [writer] : []));
}

/** The turns of one writer. Throws CorpusError with one sentence. */
export function turnsOf(writer: string): Turn[] {
  const file = join(here, `${writer}.txt`);
  return parseTurns(readFileSync(file, 'utf8'), file);
}

/** Reads a file of turns. Throws CorpusError that names the line. */
export function parseTurns(text: string, file: string): Turn[] {
  return text.split('\n').flatMap((line, n): Turn[] => {
    if (line.trim() === '') return [];
    const wrong = (why: string): CorpusError =>
      new CorpusError(`${file}, line ${String(n + 1)}: ${why}`);
    const [kind, words] = line.split(/ \| (.*)/s).map((part) => part.trim());
    if (kind === undefined || words === undefined) throw wrong('it is not "KIND | text".');
    if (!isKind(kind)) throw wrong(`"${kind}" is no kind of turn.`);
    if (!words.includes(GAP)) throw wrong(`no ${GAP} says where the name stands.`);
    return [{ kind, say: words.split(/\s*\/\/\s*/) }];
  });
}

/** Whether KIND is one that tests/corpus/README.md lists. */
export function isKind(kind: string): boolean {
  const condition = /^[+-]([a-z]+)$/.exec(kind)?.[1];
  const force = /^T ([a-z]+)$/.exec(kind)?.[1];
  return (
    ['G', 'B', 'N', '?'].includes(kind) ||
    (condition !== undefined && condition in conditionLabels()) ||
    (force !== undefined && FORCES.includes(force))
  );
}

/** The label of a turn at a check and place, in the corpus's label language. */
export function labelOf(kind: string, target: string): string {
  if (kind === 'N') return '';
  if (kind === 'G') return `${target} good`;
  if (kind === 'B') return `${target} bad`;
  return kind.startsWith('T ') ? `${kind.slice(2)} ${target}` : `${target} ${kind}`;
}

/** A part that a turn can be said of: what it is called, and which check and place that is. */
export interface Called {
  readonly name: string;
  readonly target: string;
  readonly check: Check;
  readonly station: Station;
}

/** What one part alone is called in a catalogue, in the singular; what two share is left out. */
export function calledIn(catalogue: Catalogue): Called[] {
  const calls = catalogue.stations.flatMap((station) =>
    station.checks.flatMap((check) =>
      [check.name, ...check.say].map((name) => ({ name: name.toLowerCase(), check, station })),
    ),
  );
  /** "Door" beside "baggage door" may be either. */
  const shared = (name: string, check: Check): boolean =>
    calls.some((c) => c.check !== check && (c.name === name || c.name.endsWith(` ${name}`)));
  return calls.flatMap(({ name, check, station }): Called[] => {
    if (shared(name, check) || (/[^s]s$/.test(name) && check.repeat === undefined)) return [];
    const places = instancesOf(check);
    if (places.length === 1) return [{ name, target: check.id, check, station }];
    const one = name.replace(/([^s])s$/, '$1');
    return places.flatMap((place) => {
      if (place.includes(' ')) return [];
      const called = /^\d+$/.test(place) ? `${one} ${place}` : `${place} ${one}`;
      return [{ name: called, target: `${check.id}(${place})`, check, station }];
    });
  });
}

/** How often another part of the station is spoken of before a turn that has no scene of its own. */
const SCENE_SHARE = 0.4;
/** How often the station is given, as a screen would. */
const STATION_SHARE = 0.5;
/** Parts that are tried until the fault is one that may be found there. */
const TRIES = 6;

/**
 * Turns said of parts of these catalogues.
 *
 * @param times how often each turn is said, of another part each time
 * @param draw numbers from 0 to 1; equal draws place equally
 */
export function placedTurns(
  turns: readonly Turn[],
  catalogues: readonly Catalogue[],
  times: number,
  draw: () => number,
): CorpusSet[] {
  const pick = <T>(list: readonly T[]): T => {
    const one = list[Math.floor(draw() * list.length)];
    if (one === undefined) throw new Error('Nothing to pick from.');
    return one;
  };
  const conditions = conditionLabels();
  const hosts = catalogues.flatMap((catalogue, n) => {
    const called = calledIn(catalogue);
    const utterances: Utterance[] = [];
    return called.length < 5
      ? []
      : [{ catalogue, n, called, utterances, checks: checksById(catalogue) }];
  });
  const goods = turns.filter((t) => t.kind === 'G' && t.say.length === 1);
  for (let round = 0; round < times; round += 1)
    turns.forEach((turn, n) => {
      const host = pick(hosts);
      const wanted = conditions[turn.kind.slice(1)]?.aspects ?? [];
      let part = pick(host.called);
      for (let i = 0; i < TRIES && wanted.length > 0; i += 1) {
        if (part.check.aspects.some((a) => wanted.includes(a.id))) break;
        part = pick(host.called);
      }
      const put = (text: string, { name }: Called): string => text.replaceAll(GAP, name);
      const before = turn.say.slice(0, -1).map((text) => put(text, part));
      const near = host.called.filter((c) => c.station === part.station && c.check !== part.check);
      if (before.length === 0 && near.length > 0 && goods.length > 0 && draw() < SCENE_SHARE)
        before.push(put(pick(goods).say[0] ?? '', pick(near)));
      const label = labelOf(turn.kind, part.target);
      const own = draw() < STATION_SHARE ? { at: part.station.id } : {};
      host.utterances.push({
        ...own,
        id: `turn-${String(n)}-${String(round)}`,
        say: put(turn.say.at(-1) ?? '', part),
        is: label,
        after: before,
        heard: [],
        voice: 'turn',
        part: 'work',
        catalogue: host.catalogue.id,
        labels: label === '' ? [] : [parseLabel(label, host.catalogue, host.checks, conditions)],
      });
    });
  return hosts.flatMap(({ catalogue, n, utterances }) =>
    utterances.length === 0 ? [] : [{ name: `turns/${String(n)}`, catalogue, utterances }],
  );
}
