import {
  instancesOf,
  ONCE,
  signsOf,
  type Catalogue,
  type Check,
  type Station,
} from '#shared/catalogue';
import { lexicon } from '../lexicon.ts';
import { ARTICLES, SIDE_WORDS, stem, stems, withoutSides } from '../names.ts';
import { phraseWords } from '../tokens.ts';

/** One thing that a speaker can mean: a check, or a whole station. */
export interface Member {
  readonly index: number;
  /** The check's id, or `station:` and the station's. */
  readonly key: string;
  readonly check: Check | null;
  readonly station: Station;
  readonly stationIndex: number;
  /** Its names as stems, the catalogue's own first. */
  readonly names: readonly (readonly string[])[];
  /** Side words of its names, and of its station's. */
  readonly sides: ReadonlySet<string>;
  readonly stationSides: ReadonlySet<string>;
  readonly aspectWords: ReadonlySet<string>;
  readonly signWords: ReadonlySet<string>;
  readonly instances: readonly string[];
  /** Stems of each place, side synonyms folded. */
  readonly instanceWords: readonly (readonly string[])[];
  /** Indexes of the members that have its name but for the side. */
  readonly twins: readonly number[];
  readonly measured: boolean;
  readonly blanket: boolean;
  /** Its name words that are worth comparing in meaning, with the share that each has of the name. */
  readonly meaning: readonly { word: string; share: number }[];
}

/** Everything that can be meant on one aircraft, and what each word of its names is worth. */
export interface Roster {
  readonly catalogue: Catalogue;
  readonly members: readonly Member[];
  readonly byKey: ReadonlyMap<string, Member>;
  readonly stations: readonly Station[];
  /** How much a word of the names tells, 0 to 1: rare words more. */
  readonly worth: ReadonlyMap<string, number>;
}

/** Side words tell which of two, and words of the lexicon mean other things as well. */
const SIDE_WORTH = 0.5;
const COMMON_WORTH = 0.7;
const LEAST_WORTH = 0.25;

/** Words that the lexicon knows by themselves: poor names. */
let common: ReadonlySet<string> | null = null;
function commonWords(): ReadonlySet<string> {
  if (common !== null) return common;
  const { conditions, verdicts, fillers, places, aspects } = lexicon();
  const phrases = [
    ...conditions.flatMap((c) => [...c.say, ...c.weak]),
    ...verdicts.flatMap((v) => v.say),
    ...fillers.words,
    ...places.parts,
    ...aspects.flatMap((a) => a.names),
  ];
  common = new Set(phrases.flatMap((p) => phraseWords(p).map(stem)));
  return common;
}

const wordsOf = (phrases: readonly string[]): Set<string> =>
  new Set(phrases.flatMap((p) => phraseWords(p).map(stem)).filter((w) => !ARTICLES.has(w)));

/** The roster of a catalogue. */
export function rosterOf(catalogue: Catalogue): Roster {
  const members: Member[] = [];
  const add = (station: Station, stationIndex: number, check: Check | null): void => {
    const said = check === null ? [station.name, ...station.say] : [check.name, ...check.say];
    const measures = (check?.measures ?? []).flatMap((m) => [m.name, ...m.say]);
    const named = said.map(stems).filter((n) => n.length > 0);
    const extra = measures.map(stems).filter((n) => n.length > 1);
    const names = unique([...named, ...extra]);
    const instances = check === null ? [] : instancesOf(check).filter((i) => i !== ONCE);
    members.push({
      index: members.length,
      key: check === null ? `station:${station.id}` : check.id,
      check,
      station,
      stationIndex,
      names,
      sides: new Set((names[0] ?? []).filter((w) => SIDE_WORDS.has(w))),
      stationSides: new Set(stems(station.name).filter((w) => SIDE_WORDS.has(w))),
      aspectWords: wordsOf((check?.aspects ?? []).flatMap((a) => [a.name, ...a.say])),
      signWords: wordsOf(
        (check === null ? [] : signsOf(catalogue, check)).flatMap((s) => [s.name, ...s.say]),
      ),
      instances,
      instanceWords: instances.map((i) => phraseWords(i).map(stem)),
      twins: [],
      measured: (check?.measures.length ?? 0) > 0,
      blanket: check?.blanket ?? false,
      meaning: [],
    });
  };
  catalogue.stations.forEach((station, s) => {
    add(station, s, null);
    for (const check of station.checks) add(station, s, check);
  });
  const count = new Map<string, number>();
  for (const member of members)
    for (const word of new Set(member.names.flat())) count.set(word, (count.get(word) ?? 0) + 1);
  const worth = new Map<string, number>();
  const vague = commonWords();
  for (const [word, n] of count) {
    const rare = Math.max(LEAST_WORTH, Math.log(members.length / n) / Math.log(members.length));
    const plain = SIDE_WORDS.has(word) ? SIDE_WORTH : vague.has(word) ? COMMON_WORTH : 1;
    worth.set(word, rare * plain);
  }
  const whole = members.map((m) => ({
    ...m,
    meaning: meaningOf(m, worth),
    twins: twinsOf(m, members),
  }));
  return {
    catalogue,
    members: whole,
    byKey: new Map(whole.map((m) => [m.key, m])),
    stations: catalogue.stations,
    worth,
  };
}

/** A left strut is the twin of a right one; so are two of one name at stations of two sides. */
function twinsOf(member: Member, members: readonly Member[]): number[] {
  const bare = (m: Member): string => withoutSides(m.names[0] ?? []).join(' ');
  const own = bare(member);
  if (own === '' || member.check === null) return [];
  return members
    .filter((m) => m !== member && m.check !== null && bare(m) === own)
    .map((m) => m.index);
}

/** The words of a member's names, each with the most that it makes up of any of them. */
function meaningOf(member: Member, worth: ReadonlyMap<string, number>): Member['meaning'] {
  const share = new Map<string, number>();
  for (const name of member.names) {
    const own = name.filter((w) => !SIDE_WORDS.has(w) && !/^\d+$/.test(w));
    const all = own.reduce((sum, w) => sum + (worth.get(w) ?? 0), 0);
    for (const w of own)
      share.set(w, Math.max(share.get(w) ?? 0, all === 0 ? 0 : (worth.get(w) ?? 0) / all));
  }
  return [...share].map(([word, part]) => ({ word, share: part }));
}

function unique(names: readonly (readonly string[])[]): (readonly string[])[] {
  const seen = new Set<string>();
  return names.filter((n) => {
    const key = n.join(' ');
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
