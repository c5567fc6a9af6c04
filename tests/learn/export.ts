import { readFileSync, writeFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { parseDictionary } from '#grammar';
import type { Catalogue } from '#shared/catalogue';
import { FIRST_TALK, SAID, TURNS, type Talk } from '#shared/talk';
import { ownPronunciations } from '../../grammar/sound/own.ts';
import { Matcher } from '../../grammar/matches/matches.ts';
import { rosterOf, type Roster } from '../../grammar/matches/roster.ts';
import { senses } from '../../grammar/matches/senses.ts';
import { Signs } from '../../grammar/matches/heardas.ts';
import { vectorsOf, type Vectors } from '../../grammar/matches/vectors.ts';
import { settled } from '../../grammar/scores/belief.ts';
import type { Asked, Inputs } from '../../grammar/scores/around.ts';
import { InputMaker, MOST_WORDS } from '../../grammar/scores/inputs.ts';
import { earOf } from '../../grammar/sound/ear.ts';
import { tokensOf } from '../../grammar/tokens.ts';
import { damageAll, random } from '../bench/channel.ts';
import { dictionaryText } from '../bench/phones.ts';
import { conditionLabels, ownCorpus, type CorpusSet } from '../corpus/load.ts';
import { singlesOf, singleWriters } from '../corpus/singles.ts';
import { followsOf, followWriters, placedFollows } from '../corpus/follows.ts';
import { placedSeveral, severalOf, severalWriters } from '../corpus/several.ts';
import { placedTurns, turnsOf, turnWriters } from '../corpus/turns.ts';
import { ownWalks, writersOf, type SpokenWalk } from '../corpus/walks.ts';
import type { Claim, Label } from '../corpus/format.ts';
import { Rewording } from './reword.ts';

/**
 * Puts the walks to learn from and to tune with through the reader's own matching and
 * writes what the net sees and what it should say, for grammar/learn/train.py:
 *
 *   node tests/load.mjs tests/learn/export.ts VECTORS OUT [--levels 0,10,20,30] [--prose FILE]
 *     [--share 0/2] [--writers A,B] [--turns TIMES] [--follows TIMES] [--only turns] [--draw 1]
 *
 * `--share 0/2` writes every second walk, single utterance and dozen sentences of prose, the first
 * among them; grammar/learn/data.py takes several files, parted by commas, as one. `--turns` adds
 * turns of speech, each said so many times of another part, `--follows` what is said next; with
 * `--only turns` there is nothing else. `--draw 1` (and 2, …) writes the walks misheard and
 * reworded once more, otherwise; what is as written and the prose are left to draw 0.
 */

/** Rows of bytes that grow. */
class Bytes {
  private data = new Uint8Array(1 << 16);
  length = 0;
  push(...values: number[]): void {
    if (this.length + values.length > this.data.length) {
      const more = new Uint8Array(Math.max(this.data.length * 2, this.length + values.length));
      more.set(this.data);
      this.data = more;
    }
    this.data.set(values, this.length);
    this.length += values.length;
  }
  done(): Uint8Array {
    return this.data.subarray(0, this.length);
  }
}
class Ints {
  private data = new Int32Array(1 << 14);
  length = 0;
  push(...values: number[]): void {
    if (this.length + values.length > this.data.length) {
      const more = new Int32Array(Math.max(this.data.length * 2, this.length + values.length));
      more.set(this.data);
      this.data = more;
    }
    this.data.set(values, this.length);
    this.length += values.length;
  }
  done(): Uint8Array {
    const kept = this.data.slice(0, this.length);
    return new Uint8Array(kept.buffer);
  }
}

/** Numbers 0 to 1.27 as bytes. */
const byte = (x: number): number => Math.max(0, Math.min(255, Math.round(x * 200)));

const OUT = ['RES', 'GOOD', 'FIND', 'VAL', 'ASK', 'TALK', 'DONE', 'AMEND', 'EXCEPT'] as const;
const FORCES = ['intention', 'teaching', 'hypothesis', 'question', 'past', 'hearsay'];
const ORDERS = ['command', 'rating', 'retract', 'aside', 'circumstance', 'arrive'];
/** How bad a fault is said to be, by an order or by what is reported: `RATINGS` of scored.ts. */
const RATINGS = ['ground', 'defer', 'watch', 'note'];
const AT_HIDDEN = 3;
/** Share of decisions that are dropped; the other mishaps go with it. About what the first nets got wrong. */
const SHAKEN = 0.14;

function hashed(text: string): number {
  let h = 2166136261;
  for (const c of text) h = Math.imul(h ^ c.charCodeAt(0), 16777619) >>> 0;
  return h;
}

interface Piece {
  /** Catalogue, writer, walk and where in it. */
  readonly writer: string;
  readonly walk: string;
  readonly form: string;
}

class Sink {
  readonly strings = new Map<string, number>();
  readonly meta: { writer: string; walk: string; form: string; level: string; keys: string[] }[] =
    [];
  readonly byName: Record<string, Bytes | Ints> = {};

  bytes(name: string): Bytes {
    return (this.byName[name] ??= new Bytes()) as Bytes;
  }
  ints(name: string): Ints {
    return (this.byName[name] ??= new Ints()) as Ints;
  }
  word(w: string): number {
    let at = this.strings.get(w);
    if (at === undefined) this.strings.set(w, (at = this.strings.size));
    return at;
  }
}

const labelIds = Object.keys(conditionLabels());
/** The lexicon's name of each label. */
const lexiconIds = Object.entries(conditionLabels()).map(([id, { accept }]) => accept[0] ?? id);

/** What a row of labels says about one key. */
function targetsOf(
  labels: readonly Label[],
  key: string,
): {
  out: number[];
  force: number;
  which: number;
  claims: Claim[];
} {
  const out = OUT.map(() => 0);
  let force = -1;
  let which = -1;
  const own: Claim[] = [];
  const set = (name: (typeof OUT)[number]): void => {
    out[OUT.indexOf(name)] = 1;
  };
  for (const label of labels) {
    if (label.kind === 'unclear' && key === '') set('ASK');
    if (label.kind !== 'claim') continue;
    if (label.unplaced) {
      if (key === '' && label.force === 'result') {
        set('RES');
        if (label.signs.some((s) => s.present) || label.good === false) set('FIND');
      }
      continue;
    }
    if (label.except.includes(key)) set('EXCEPT');
    const keys = label.station !== null ? [`station:${label.station}`] : label.checks;
    if (!keys.includes(key)) continue;
    if (label.force !== 'result') {
      set('TALK');
      force = FORCES.indexOf(label.force);
      continue;
    }
    const tie = keys.length > 1;
    if (label.asked || tie) set('ASK');
    own.push(label);
    const found = label.good === false || label.signs.some((s) => s.present);
    if (found) set('FIND');
    if (tie) continue;
    set('RES');
    const well = (label.good === true && !label.actOnly) || label.signs.some((s) => !s.present);
    const plural = label.instances.includes('plural');
    if (well && (!label.asked || plural)) set('GOOD');
    if (label.amounts.length > 0) set('VAL');
    if (label.actOnly) set('DONE');
    if (label.amends) set('AMEND');
    which = plural ? 2 : label.instances.includes('one') ? 1 : 0;
  }
  return { out, force, which, claims: own };
}

const rates = (label: Label, severity: string): boolean =>
  label.kind === 'order'
    ? label.name === 'rating' && label.of === severity
    : label.kind === 'claim' && label.severity === severity;

/** Decisions as the conversation remembers them. */
export function saidOf(labels: readonly Label[]): Talk['turns'][number]['said'] {
  const said: Record<string, { what: number; places: string[] }> = {};
  for (const label of labels) {
    if (label.kind !== 'claim' || label.unplaced) continue;
    const keys = label.station !== null ? [`station:${label.station}`] : label.checks;
    for (const key of keys) {
      const row = (said[key] ??= { what: 0, places: [] });
      if (label.force !== 'result') row.what |= SAID.talk;
      else {
        if (label.asked || keys.length > 1) row.what |= SAID.asked;
        if (keys.length === 1) {
          row.what |= SAID.result;
          if (label.good === true || label.signs.some((s) => !s.present)) row.what |= SAID.good;
          if (label.good === false || label.signs.some((s) => s.present)) row.what |= SAID.finding;
        }
        row.places.push(
          ...label.instances.filter((i) => i !== 'once' && i !== 'plural' && i !== 'one'),
        );
      }
    }
  }
  return said;
}

/**
 * One's own decisions as a reader would have made them: some dropped, some put on a
 * neighbour, some unsure, now and then one out of nothing. What learns from the truth
 * alone trusts itself too much.
 */
function shaken(
  said: Talk['turns'][number]['said'],
  roster: Roster,
  station: number,
  rate: number,
  draw: () => number,
): Talk['turns'][number]['said'] {
  const out: Record<string, { what: number; places: string[] }> = {};
  const neighbour = (index: number): string | null => {
    const pool = roster.members.filter((m) => m.stationIndex === index && m.check !== null);
    return pool[Math.floor(draw() * pool.length)]?.key ?? null;
  };
  for (const [key, row] of Object.entries(said)) {
    const x = draw();
    const home = roster.byKey.get(key)?.stationIndex ?? station;
    if (x < rate) continue;
    if (x < 1.4 * rate) out[neighbour(home) ?? key] = row;
    else if (x < 1.8 * rate)
      out[key] = { ...row, what: (row.what & ~(SAID.good | SAID.finding)) | SAID.asked };
    else if (x < 2.1 * rate && (roster.byKey.get(key)?.instances.length ?? 0) > 0)
      out[key] = {
        ...row,
        places: draw() < 0.5 ? [] : [...(roster.byKey.get(key)?.instances ?? [])],
      };
    else out[key] = row;
  }
  if (draw() < rate / 3) {
    const key = neighbour(station);
    if (key !== null) out[key] = { what: SAID.result | SAID.good, places: [] };
  }
  return out;
}

class Writer {
  private readonly makers = new Map<string, { maker: InputMaker; roster: Roster }>();
  private readonly sink: Sink;
  private readonly vectors: Vectors;
  private readonly dictionary = parseDictionary(dictionaryText());
  private readonly accept = conditionLabels();
  due = 0;
  had = 0;
  cands = 0;

  constructor(sink: Sink, vectors: Vectors) {
    this.sink = sink;
    this.vectors = vectors;
  }

  private makerOf(key: string, catalogue: Catalogue): { maker: InputMaker; roster: Roster } {
    let made = this.makers.get(key);
    if (made === undefined) {
      const roster = rosterOf(catalogue);
      const ear = earOf(this.dictionary, ownPronunciations(catalogue));
      const matcher = new Matcher(roster, ear, this.vectors);
      this.makers.set(
        key,
        (made = { roster, maker: new InputMaker(roster, matcher, new Signs(catalogue)) }),
      );
    }
    return made;
  }

  /** One walk in one state of damage. */
  walk(piece: Piece, walk: SpokenWalk, texts: readonly string[], level: string): void {
    const { maker, roster } = this.makerOf(walk.catalogueKey, walk.catalogue);
    let talk: Talk = FIRST_TALK;
    let said: Record<string, string[]> = {};
    let previous: number[] = [];
    const draw = random(hashed(`${walk.id} ${level}`));
    walk.talk.forEach((u, i) => {
      const text = texts[i] ?? '';
      const { tokens } = tokensOf({ text, words: [] });
      if (tokens.length === 0) return;
      const before = talk.belief;
      const belief = maker.believe(before, text);
      const asked: Asked | null =
        u.asked === null
          ? null
          : {
              kind: u.asked.kind,
              checks: new Set(u.asked.options.map((o) => o.replace(/\(.*/, ''))),
            };
      const inputs = maker.make(
        text,
        tokens,
        { ...talk, belief, at: u.at },
        before.length === 0 ? belief : before,
        said,
        asked,
      );
      previous = this.write(piece, inputs, u.labels, level, previous, tokens.length);
      const top = belief.indexOf(Math.max(...belief));
      const own = shaken(saidOf(u.labels), roster, top, level === '0' ? SHAKEN / 2 : SHAKEN, draw);
      const ever = { ...talk.ever };
      let now = belief;
      for (const [key, { what, places }] of Object.entries(own)) {
        ever[key] = (ever[key] ?? 0) | what;
        const member = roster.byKey.get(key);
        if (member !== undefined && (what & SAID.result) !== 0) {
          now = settled(now, member.stationIndex);
          said = { ...said, [key]: [...new Set([...(said[key] ?? []), ...places])] };
        }
      }
      talk = {
        ...FIRST_TALK,
        turns: [...talk.turns, { heard: String(i), text, said: own }].slice(-TURNS),
        ever,
        belief: now,
        was: belief,
        at: null,
      };
    });
  }

  private write(
    piece: Piece,
    inputs: Inputs,
    labels: readonly Label[],
    level: string,
    previous: number[],
    length: number,
  ): number[] {
    const { sink } = this;
    const index = sink.meta.length;
    const keys = inputs.candidates.map((c) => c.member?.key ?? '');
    sink.meta.push({ ...piece, level, keys });
    // tokens
    const token = sink.bytes('token');
    const senseAt = sink.ints('senseEnd');
    const sense = sink.ints('sense');
    for (const t of inputs.tokens) {
      sink.ints('word').push(sink.word(t.word));
      token.push(
        t.gap,
        t.asks ? 1 : 0,
        t.side ? 1 : 0,
        byte(t.best),
        byte(t.second),
        byte(t.station),
      );
      sense.push(...t.senses);
      senseAt.push(sense.length);
    }
    sink.ints('tokenEnd').push(sink.ints('word').length);
    // the utterances before it, as numbers of utterances in this file; -1 none
    const back = [0, 1, 2].map((lag) => (lag < inputs.before.length ? (previous[lag] ?? -1) : -1));
    sink.ints('back').push(...back);
    // conditions
    for (const c of inputs.conditions) sink.bytes('conditionSpan').push(c.from, c.to);
    sink.ints('conditionEnd').push(sink.bytes('conditionSpan').length / 2);
    // order heads
    sink
      .bytes('order')
      .push(
        ...ORDERS.map((name) =>
          labels.some((l) => l.kind === 'order' && l.name === name) ? 1 : 0,
        ),
        ...RATINGS.map((name) => (labels.some((l) => rates(l, name)) ? 1 : 0)),
      );
    for (const candidate of inputs.candidates) {
      const key = candidate.member?.key ?? '';
      const { out, force, which, claims } = targetsOf(labels, key);
      sink.bytes('out').push(...out);
      sink.bytes('force').push(force + 1, which + 1);
      sink.bytes('station').push(candidate.member?.stationIndex ?? 255);
      sink.bytes('feature').push(...candidate.features.map(byte));
      const marks = sink.ints('mark');
      for (const m of candidate.marks)
        marks.push(m.lag, m.token, byte(m.name), byte(m.meaning), m.flags);
      sink.ints('markEnd').push(marks.length / 5);
      const signs = claims.flatMap((c) => c.signs);
      candidate.conditions.forEach((row, i) => {
        const id = inputs.conditions[i]?.id ?? '';
        const hit = signs.find((s) => (this.accept[s.id]?.accept ?? [s.id]).includes(id));
        sink.bytes('conditionRow').push(...row.map(byte));
        sink.bytes('conditionIs').push(hit === undefined ? 0 : hit.present ? 1 : 2);
      });
      const present = labelIds.map((id) => (signs.some((s) => s.present && s.id === id) ? 1 : 0));
      const absent = labelIds.map((id) => (signs.some((s) => !s.present && s.id === id) ? 1 : 0));
      const named = sink.ints('named');
      present.forEach((x, i) => {
        if (x === 1) named.push(i);
      });
      absent.forEach((x, i) => {
        if (x === 1) named.push(labelIds.length + i);
      });
      sink.ints('namedEnd').push(named.length);
      const spoken = new Set(
        claims.flatMap((c) => [
          ...(c.good !== null && !c.actOnly ? c.aspects : []),
          ...c.signs.flatMap((s) => s.aspects),
        ]),
      );
      const aspects = candidate.member?.check?.aspects ?? [];
      candidate.aspects.forEach((row, i) => {
        sink.bytes('aspectRow').push(...row.map(byte));
        sink.bytes('aspectIs').push(spoken.has(aspects[i]?.id ?? '') ? 1 : 0);
        sink.bytes('aspectAt').push(...(candidate.aspectAt[i] ?? []));
        sink.ints('aspectAtEnd').push(sink.bytes('aspectAt').length);
      });
      const bad = (c: Claim): boolean => c.good === false || c.signs.some((x) => x.present);
      const well = (c: Claim): boolean =>
        (c.good === true && !c.actOnly) || c.signs.some((x) => !x.present);
      candidate.places.forEach((row, i) => {
        const place = candidate.member?.instances[i] ?? '';
        const here = claims.filter((c) => c.instances.includes(place));
        sink.bytes('placeRow').push(...row.map(byte));
        sink
          .bytes('placeIs')
          .push(here.length > 0 ? 1 : 0, here.some(well) ? 1 : 0, here.some(bad) ? 1 : 0);
        sink.bytes('placeAt').push(...(candidate.placeAt[i] ?? []));
        sink.ints('placeAtEnd').push(sink.bytes('placeAt').length);
      });
      sink.ints('aspectEnd').push(sink.bytes('aspectIs').length);
      sink.ints('placeEnd').push(sink.bytes('placeIs').length / 3);
      sink.ints('conditionRowEnd').push(sink.bytes('conditionIs').length);
    }
    sink.ints('candidateEnd').push(sink.bytes('force').length / 2);
    this.cands += inputs.candidates.length;
    const due = new Set(
      labels.flatMap((l) =>
        l.kind === 'claim' && l.force === 'result' && !l.unplaced
          ? l.station !== null
            ? [`station:${l.station}`]
            : l.checks
          : [],
      ),
    );
    for (const key of due) {
      this.due += 1;
      if (keys.includes(key)) this.had += 1;
    }
    if (length > MOST_WORDS)
      console.log(`${piece.walk}: an utterance of ${String(length)} words is cut.`);
    return [index, ...previous].slice(0, 3);
  }
}

/** As a recogniser without punctuation writes. */
const bare = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[,.;:!?"()…—–]+/g, ' ')
    .replace(/ - /g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

export function main(words: string[]): number {
  const [vectorFile = '', outFile = ''] = words;
  const option = (name: string): string | null => {
    const i = words.indexOf(name);
    return i < 0 ? null : (words[i + 1] ?? null);
  };
  const levels = (option('--levels') ?? '0,10,20,30').split(',').map(Number);
  const vectors = readVectors(vectorFile);
  const sink = new Sink();
  const writer = new Writer(sink, vectors);
  const [share = 0, shares = 1] = (option('--share') ?? '0/1').split('/').map(Number);
  const draw = Number(option('--draw') ?? 0);
  const seed = draw * DRAW_SEED;
  const mine = (n: number): boolean => n % shares === share;
  const hosts = ownWalks('learn');
  const times = Number(option('--turns') ?? 0);
  if (times > 0) turns(writer, hosts, times, seed, mine);
  const next = Number(option('--follows') ?? 0);
  if (next > 0) follows(writer, hosts, next, seed, mine);
  const alone = option('--only') === 'turns';
  const walks = alone ? [] : [...hosts, ...(draw === 0 ? ownWalks('tune') : [])];
  const tune = new Set(writersOf('tune'));
  const only = option('--writers')?.split(',');
  walks.forEach((walk, w) => {
    if (!mine(w) || only?.includes(walk.writer) === false) return;
    const says = walk.talk.map((u) => u.say);
    const piece: Piece = { writer: walk.writer, walk: walk.id, form: walk.form };
    for (const level of levels) {
      // Lightly and badly heard by turns: what lies between and what is worse are learned alike.
      if (level === ((w + 2 * draw) % 4 < 2 ? 10 : 30) && !tune.has(walk.writer)) continue;
      if (level === 0 && draw > 0) continue;
      const texts = damageAll(says, level / 100, seed + 1000 * level + w).texts;
      writer.walk(piece, walk, texts, String(level));
      if (level === 0) writer.walk(piece, walk, says.map(bare), 'bare');
      else if (level === 20) writer.walk(piece, walk, texts.map(bare), 'bare20');
    }
    const rewording = new Rewording(walk.catalogue, random(seed + hashed(`${walk.id} reworded`)));
    const others = walk.talk.map((u) => rewording.of(u));
    writer.walk(piece, walk, (w + 2 * draw) % 4 < 2 ? others : others.map(bare), 'reworded');
    if (Math.floor(w / shares) % 20 === 0)
      console.log(
        `${walk.id} ${String(sink.meta.length)} recall ${(writer.had / Math.max(1, writer.due)).toFixed(3)} candidates ${(writer.cands / sink.meta.length).toFixed(1)}`,
      );
  });
  // Single utterances, of the old corpus or of the writers named: what was said before them makes a short walk.
  const old = alone || only !== undefined ? [] : ownCorpus('work');
  const strangers = alone
    ? []
    : singleWriters('learn').filter((name) => only?.includes(name) !== false);
  for (const set of [...old, ...strangers.flatMap(singlesOf)])
    singles(writer, set, levels, seed, mine);
  const prose = option('--prose');
  if (prose !== null && !alone && only === undefined && draw === 0) {
    const lines = readFileSync(prose, 'utf8')
      .split('\n')
      .filter((l) => l.trim() !== '');
    // In pieces of a dozen sentences, each beside another aircraft.
    for (let n = 0; n * DOZEN < lines.length; n += 1) {
      const host = walks[n % walks.length];
      if (host === undefined) break;
      if (!mine(n)) continue;
      const says = lines.slice(n * DOZEN, (n + 1) * DOZEN);
      const walk: SpokenWalk = {
        ...host,
        id: `prose/${String(n)}`,
        writer: 'prose',
        form: 'prose',
        talk: says.map((say) => ({ at: null, say, asked: null, labels: [] })),
      };
      const piece: Piece = { writer: 'prose', walk: walk.id, form: 'prose' };
      writer.walk(piece, walk, n % 3 === 0 ? says.map(bare) : says, '0');
    }
  }
  console.log(
    `${String(sink.meta.length)} utterances, recall ${(writer.had / writer.due).toFixed(3)}, candidates ${(writer.cands / sink.meta.length).toFixed(1)}`,
  );
  const parts: Uint8Array[] = [];
  const shape: Record<string, [string, number]> = {};
  for (const [name, list] of Object.entries(sink.byName)) {
    const data = list.done();
    shape[name] = [list instanceof Ints ? 'i4' : 'u1', data.length];
    parts.push(data);
  }
  const head = Buffer.from(
    JSON.stringify({
      shape,
      meta: sink.meta,
      strings: [...sink.strings.keys()],
      senses: senses().names,
      out: OUT,
      forces: FORCES,
      orders: [...ORDERS, ...RATINGS],
      labels: lexiconIds,
      hidden: AT_HIDDEN,
      tune: [...tune],
    }),
  );
  const size = Buffer.alloc(4);
  size.writeUInt32LE(head.length);
  writeFileSync(outFile, gzipSync(Buffer.concat([size, head, ...parts]), { level: 4 }));
  return 0;
}

const DOZEN = 12;
/** Far enough apart that two draws share no seed of damage: those of one draw lie below 31,000 and the number of walks. */
const DRAW_SEED = 100_000;

/** Single utterances as said, without punctuation, misheard, and in other words. */
function singles(
  writer: Writer,
  set: CorpusSet,
  levels: readonly number[],
  seed: number,
  mine: (n: number) => boolean,
): void {
  set.utterances.forEach((u, n) => {
    if (!mine(n)) return;
    const empty = { at: u.at ?? null, asked: null, labels: [] };
    const walk: SpokenWalk = {
      id: `old/${set.name}/${u.id}`,
      writer: 'old',
      form: 'single',
      catalogue: set.catalogue,
      catalogueKey: `old/${set.catalogue.id}`,
      talk: [
        ...u.after.map((say) => ({ ...empty, say })),
        { at: u.at ?? null, say: u.say, asked: u.asked ?? null, labels: u.labels },
      ],
    };
    const piece: Piece = { writer: 'old', walk: walk.id, form: 'single' };
    const put = (text: string, level: string): void =>
      writer.walk(piece, walk, [...u.after, text], level);
    for (const level of levels) {
      if (level === 0 && seed > 0) continue;
      const text = damageAll([u.say], level / 100, seed + 7000 + 100 * level + n).texts[0] ?? '';
      put(text, String(level));
      if (level === 0) put(bare(text), 'bare');
    }
    const rewording = new Rewording(set.catalogue, random(seed + hashed(`${walk.id} reworded`)));
    put(rewording.of({ at: null, asked: null, say: u.say, labels: u.labels }), 'reworded');
  });
}

/** Turns of speech, each said of parts of many aircraft: as written or without punctuation, and misheard. */
function turns(
  writer: Writer,
  walks: readonly SpokenWalk[],
  times: number,
  seed: number,
  mine: (n: number) => boolean,
): void {
  const catalogues = [...new Map(walks.map((w) => [w.catalogueKey, w.catalogue])).values()];
  const said = turnWriters('learn').flatMap(turnsOf);
  const several = severalWriters('learn').flatMap(severalOf);
  const sets = [
    ...placedTurns(said, catalogues, times, random(TURNS_SEED + seed)),
    ...placedSeveral(several, catalogues, times, random(TURNS_SEED + seed)),
  ];
  sets.forEach((set, k) => {
    if (!mine(k)) return;
    set.utterances.forEach((u, n) => {
      const empty = { at: u.at ?? null, asked: null, labels: [] };
      const walk: SpokenWalk = {
        id: `old/${set.name}/${u.id}`,
        writer: 'old',
        form: 'turn',
        catalogue: set.catalogue,
        catalogueKey: `${set.name}/${set.catalogue.id}`,
        talk: [
          ...u.after.map((say) => ({ ...empty, say })),
          { at: u.at ?? null, say: u.say, asked: null, labels: u.labels },
        ],
      };
      const piece: Piece = { writer: 'old', walk: walk.id, form: 'turn' };
      const put = (texts: readonly string[], level: string): void =>
        writer.walk(piece, walk, texts, level);
      const says = [...u.after, u.say];
      put(n % 2 === 0 ? says : says.map(bare), n % 2 === 0 ? '0' : 'bare');
      put(damageAll(says, [0.1, 0.2, 0.3][n % 3] ?? 0.2, seed + 9000 + n).texts, '20');
    });
    console.log(`${set.name} ${String(set.utterances.length)}`);
  });
}
const TURNS_SEED = 7;

/** What is said next (tests/corpus/follows.ts), both sentences labelled: a short walk each. */
function follows(
  writer: Writer,
  hosts: readonly SpokenWalk[],
  times: number,
  seed: number,
  mine: (n: number) => boolean,
): void {
  const catalogues = [...new Map(hosts.map((w) => [w.catalogueKey, w.catalogue])).values()];
  const all = followWriters('learn').flatMap(followsOf);
  placedFollows(all, catalogues, times, random(TURNS_SEED + seed)).forEach((set, k) => {
    if (!mine(k)) return;
    set.said.forEach((said, n) => {
      const walk: SpokenWalk = {
        id: `follows/${set.name}/${said.id}`,
        writer: 'follows',
        form: 'turn',
        catalogue: set.catalogue,
        catalogueKey: `${set.name}/${set.catalogue.id}`,
        talk: said.lines.map(({ say, labels }) => ({ at: said.at, say, asked: null, labels })),
      };
      const piece: Piece = { writer: 'follows', walk: walk.id, form: 'turn' };
      const says = said.lines.map(({ say }) => say);
      writer.walk(piece, walk, n % 2 === 0 ? says : says.map(bare), n % 2 === 0 ? '0' : 'bare');
      writer.walk(
        piece,
        walk,
        damageAll(says, [0.1, 0.2, 0.3][n % 3] ?? 0.2, seed + 9000 + n).texts,
        '20',
      );
    });
  });
}

/** The word vectors as `grammar/learn/vectors.py` writes them. */
function readVectors(file: string): Vectors {
  const data = readFileSync(file);
  const end = data.indexOf(10);
  const head = JSON.parse(data.subarray(0, end).toString('utf8')) as {
    dims: number;
    words: string;
  };
  return vectorsOf(
    head.words.split(' '),
    head.dims,
    new Int8Array(data.buffer, data.byteOffset + end + 1, data.length - end - 1),
  );
}
