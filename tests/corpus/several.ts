import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { z } from 'zod';
import { instancesOf, type Catalogue, type Check, type Station } from '#shared/catalogue';
import { checksById, CorpusError, parseLabel, type Utterance } from './format.ts';
import { conditionLabels, type CorpusSet } from './load.ts';
import { isKind, labelOf, TURN_PARTS, type TurnPart } from './turns.ts';

/**
 * Turns of speech about parts of which there are several alike: "both fine", "all but the left one". As
 * in turns.ts each can be said of parts of many aircraft; here the gaps are their plural, one of them, and
 * the places. One a line, `[2 |3 ]WHO=KIND … | text`; what stands for what is in tests/corpus/README.md.
 */
export interface Several {
  /** Of how many parts it can be said. */
  readonly least: number;
  readonly most: number;
  /** Who is how: "ALL", "REST", "ONE", or a letter of `PLACES`; empty where it is talk. */
  readonly are: readonly (readonly [who: string, kind: string])[];
  /** "T past" or "N" where nothing may be written down. */
  readonly talk: string | null;
  readonly say: readonly string[];
}

const PLACES = ['A', 'Z', 'M'] as const;
/** Nothing on an aircraft is counted aloud that there is more of. */
const MOST = 12;

const here = join(dirname(fileURLToPath(import.meta.url)), 'several');

/** The writers of a part, as files. */
export function severalWriters(part: TurnPart): string[] {
  const table = z
    .record(z.string(), z.enum(TURN_PARTS))
    .parse(parse(readFileSync(join(here, 'parts.yaml'), 'utf8')));
  return Object.entries(table).flatMap(([writer, own]) => (own === part ? [writer] : []));
}

/** What one writer says of several. Throws CorpusError with one sentence. */
export function severalOf(writer: string): Several[] {
  const file = join(here, `${writer}.txt`);
  return parseSeveral(readFileSync(file, 'utf8'), file);
}

/** Reads a file of such turns. Throws CorpusError that names the line. */
export function parseSeveral(text: string, file: string): Several[] {
  return text.split('\n').flatMap((line, n): Several[] => {
    if (line.trim() === '') return [];
    const wrong = (why: string): CorpusError =>
      new CorpusError(`${file}, line ${String(n + 1)}: ${why}`);
    const match = /^(?:([23]) )?(.+?) \| (.+)$/s.exec(line.trim());
    const [, number, kinds = '', words = ''] = match ?? [];
    if (match === null) throw wrong('it is not "KINDS | text".');
    if (!/\{[PN]\}/.test(words)) throw wrong('no {P} or {N} says where the name stands.');
    const talk = kinds === 'N' || kinds.startsWith('T ') ? kinds : null;
    if (talk !== null && !isKind(talk)) throw wrong(`"${talk}" is no kind of turn.`);
    const are = (talk === null ? kinds.split(' ') : []).map((one) => {
      const [who = '', kind = ''] = one.split(/=(.*)/s);
      const place = PLACES.find((p) => p === who);
      if (place === undefined && !['ALL', 'REST', 'ONE'].includes(who))
        throw wrong(`"${one}" does not say of which of them.`);
      if (place !== undefined && !words.includes(`{${place}}`))
        throw wrong(`{${place}} is not in the text.`);
      if (!isKind(kind) || kind === 'N' || kind.startsWith('T '))
        throw wrong(`"${kind}" is no way for them to be.`);
      return [who, kind] as const;
    });
    const spoken = PLACES.filter((p) => words.includes(`{${p}}`)).length;
    const rest = are.some(([who]) => who === 'REST') ? 1 : 0;
    return [
      {
        least: Math.max(2, Number(number ?? 2), spoken + rest),
        most: number === '2' ? 2 : MOST,
        are,
        talk,
        say: words.split(/\s*\/\/\s*/),
      },
    ];
  });
}

/** Parts alike that such a turn can be said of, and what they are called. */
export interface Alike {
  readonly one: string;
  readonly many: string;
  readonly check: Check;
  readonly station: Station;
  readonly places: readonly string[];
}

/** What checks of several places alone are called; what two checks share, or has no plain plural, is left out. */
export function alikeIn(catalogue: Catalogue): Alike[] {
  const calls = catalogue.stations.flatMap((station) =>
    station.checks.flatMap((check) =>
      [check.name, ...check.say].map((name) => ({ name: oneOf(name), check, station })),
    ),
  );
  return calls.flatMap(({ name, check, station }): Alike[] => {
    const places = instancesOf(check);
    const plain = /^[a-z][a-z -]*$/.test(name) && !/ (of|on|in|and|for) /.test(name);
    const shared = calls.some(
      (c) => c.check !== check && (c.name === name || c.name.endsWith(` ${name}`)),
    );
    const sayable = places.every((p) => /^([a-z]+|\d+)$/.test(p)) && places.length <= MOST;
    // What is only measured is neither loose nor cracked.
    return places.length < 2 || check.aspects.length === 0 || !plain || shared || !sayable
      ? []
      : [{ one: name, many: manyOf(name), check, station, places }];
  });
}

const oneOf = (name: string): string =>
  name
    .toLowerCase()
    .replace(/([^aeiou])ies$/, '$1y')
    .replace(/(ch|sh|x|ss)es$/, '$1')
    .replace(/([^su])s$/, '$1');

function manyOf(one: string): string {
  if (/[^aeiou]y$/.test(one)) return one.replace(/y$/, 'ies');
  return /(ch|sh|x|s)$/.test(one) ? `${one}es` : `${one}s`;
}

const FIGURES = 'one two three four five six seven eight nine ten eleven twelve'.split(' ');
const figure = (n: number): string => FIGURES[n - 1] ?? String(n);

/** The text said of these parts, with these of their places in its gaps. */
export function saidOf(text: string, alike: Alike, chosen: readonly string[]): string {
  const numbered = alike.places.every((p) => /^\d+$/.test(p));
  const called = (place: string): string => (numbered ? figure(Number(place)) : place);
  let said = text;
  PLACES.forEach((letter, i) => {
    const place = called(chosen[i] ?? '');
    // "Left brake", but "brake one"; "the left one", but "number one".
    if (numbered)
      said = said
        .replaceAll(`number {${letter}}`, `number ${place}`)
        .replaceAll(`{${letter}} {N}`, `${alike.one} ${place}`)
        .replace(new RegExp(`(the )?\\{${letter}\\} ones?\\b`, 'g'), `number ${place}`);
    said = said.replaceAll(`{${letter}}`, place);
  });
  const size = alike.places.length;
  return said
    .replaceAll('{P}', alike.many)
    .replaceAll('{N}', alike.one)
    .replaceAll('{BOTH}', size === 2 ? 'both' : `all ${figure(size)}`)
    .replaceAll('{ALL}', figure(size));
}

/** The labels of such a turn, in the corpus's label language. */
export function labelsOfSeveral(turn: Several, alike: Alike, chosen: readonly string[]): string {
  const at = (places: readonly string[]): string => `${alike.check.id}(${places.join(',')})`;
  if (turn.talk !== null) return labelOf(turn.talk, at(alike.places));
  const named = turn.are.flatMap(([who]) => chosen[PLACES.indexOf(who as 'A')] ?? []);
  const spoken = named.length > 0 ? named : chosen;
  return turn.are
    .map(([who, kind]) => {
      const own = chosen[PLACES.indexOf(who as 'A')];
      const places =
        own !== undefined
          ? [own]
          : who === 'ONE'
            ? ['one']
            : who === 'REST'
              ? alike.places.filter((p) => !spoken.includes(p))
              : alike.places;
      return labelOf(kind, at(places));
    })
    .join('; ');
}

/** How often the station is given, as a screen would. */
const STATION_SHARE = 0.5;

/**
 * Such turns said of parts of these catalogues; one that no catalogue has parts for is left out.
 *
 * @param times how often each is said, of other parts each time
 * @param draw numbers from 0 to 1; equal draws place equally
 */
export function placedSeveral(
  turns: readonly Several[],
  catalogues: readonly Catalogue[],
  times: number,
  draw: () => number,
): CorpusSet[] {
  const conditions = conditionLabels();
  const hosts = catalogues.map((catalogue, n) => ({
    catalogue,
    n,
    checks: checksById(catalogue),
    utterances: [] as Utterance[],
  }));
  const all = hosts.flatMap((host) => alikeIn(host.catalogue).map((alike) => ({ host, alike })));
  for (let round = 0; round < times; round += 1)
    turns.forEach((turn, n) => {
      const wanted = turn.are.flatMap(([, kind]) => conditions[kind.slice(1)]?.aspects ?? []);
      const many = all.filter(
        ({ alike: { places } }) => places.length >= turn.least && places.length <= turn.most,
      );
      const apt = many.filter(({ alike: { check } }) =>
        check.aspects.some((a) => wanted.includes(a.id)),
      );
      const fit = apt.length > 0 ? apt : many;
      const picked = fit[Math.floor(draw() * fit.length)];
      if (picked === undefined) return;
      const { host, alike } = picked;
      const used = PLACES.filter((p) => turn.say.some((text) => text.includes(`{${p}}`)));
      const chosen = placesFor(alike.places, used.length, draw);
      const says = turn.say.map((text) => saidOf(text, alike, chosen));
      const is = labelsOfSeveral(turn, alike, chosen);
      const own = draw() < STATION_SHARE ? { at: alike.station.id } : {};
      host.utterances.push({
        ...own,
        id: `several-${String(n)}-${String(round)}`,
        say: says.at(-1) ?? '',
        is,
        after: says.slice(0, -1),
        heard: [],
        voice: 'several',
        part: 'work',
        catalogue: host.catalogue.id,
        labels: is
          .split('; ')
          .flatMap((one) =>
            one === '' ? [] : [parseLabel(one, host.catalogue, host.checks, conditions)],
          ),
      });
    });
  return hosts.flatMap(({ catalogue, n, utterances }) =>
    utterances.length === 0 ? [] : [{ name: `several/${String(n)}`, catalogue, utterances }],
  );
}

/** So many of the places: mostly in their order, as people go. */
function placesFor(all: readonly string[], count: number, draw: () => number): string[] {
  const start = draw() < IN_ORDER ? 0 : Math.floor(draw() * all.length);
  return Array.from({ length: count }, (_, i) => all[(start + i) % all.length] ?? '');
}
/** How often they are spoken of from the first. */
const IN_ORDER = 0.6;
