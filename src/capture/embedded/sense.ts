import type { Piece } from './decoder.ts';
import { END, type Network } from './network.ts';

/** A run of words that one hub of the plan says; `hub` is `loop` for sounds that are no words. */
export interface Segment {
  readonly hub: string;
  readonly words: readonly string[];
}

/** The likeliest way through a network, and its likelihood as a natural logarithm. */
export interface Way {
  readonly segments: readonly Segment[];
  readonly logp: number;
}

interface Walked {
  readonly logp: number;
  readonly last: Link | null;
}

interface Link {
  readonly hub: string;
  readonly word: string;
  /** Begins a new segment. */
  readonly fresh: boolean;
  readonly before: Link | null;
}

const SOUND = /^ph_/;
const SILENCE = /^[<[(]/;

/**
 * Which parts of the plan the decoded words came from. Null when the network
 * cannot say them: they came from elsewhere.
 */
export function wayOf(
  network: Network,
  pieces: readonly Piece[],
  boost: (state: number, word: string) => number = () => 1,
): Way | null {
  let at = new Map<number, Walked>([[0, { logp: 0, last: null }]]);
  for (const { word } of pieces) {
    if (SILENCE.test(word)) continue;
    const next = new Map<number, Walked>();
    const offer = (to: number, logp: number, last: Link): void => {
      const known = next.get(to);
      if (known === undefined || known.logp < logp) next.set(to, { logp, last });
    };
    for (const [state, { logp, last }] of at) {
      if (SOUND.test(word)) {
        const p = state === network.loop ? 1 : network.joins[state]?.get(network.loop ?? END);
        if (network.loop === null || p === undefined) continue;
        offer(network.loop, logp + Math.log(p), {
          hub: 'loop',
          word,
          fresh: state !== network.loop,
          before: last,
        });
        continue;
      }
      const say = (from: number, p: number, fresh: boolean): void => {
        const to = network.arcs[from]?.get(word);
        if (to === undefined) return;
        const share = network.likely[from]?.get(word) ?? 1 / (network.arcs[from]?.size ?? 1);
        const hub = network.hubs[from] ?? '';
        const own = Math.min(1, share * boost(from, word));
        offer(to, logp + Math.log(p * own), { hub, word, fresh, before: last });
      };
      say(state, 1, false);
      for (const [to, p] of network.joins[state] ?? [])
        if (to !== END && to !== network.loop) say(to, p, true);
    }
    at = next;
  }
  let best: Walked | null = null;
  for (const [state, walked] of at) {
    const p = network.joins[state]?.get(END);
    if (p === undefined) continue;
    const logp = walked.logp + Math.log(p);
    if (best === null || logp > best.logp) best = { logp, last: walked.last };
  }
  return best === null ? null : { segments: segmentsOf(best.last), logp: best.logp };
}

function segmentsOf(last: Link | null): Segment[] {
  const links: Link[] = [];
  for (let link = last; link !== null; link = link.before) links.push(link);
  const out: { hub: string; words: string[] }[] = [];
  for (const { hub, word, fresh } of links.reverse()) {
    const open = out.at(-1);
    if (fresh || open === undefined) out.push({ hub, words: [word] });
    else open.words.push(word);
  }
  return out;
}

/** Hubs that say what something is like. */
const RESULT = /^(general|condition|value|step|unfitted|is-.*|own-.*)$/;
/** Hubs that nothing ends with. */
const OPEN = /^(join|be|article|degree|absent|at|the|now|skip|everything|squawk)$/;
/** Hubs that say what is spoken of. */
const ANCHOR = /^(name|station|it)$/;

const said = (segment: Segment | undefined): string => segment?.words.join(' ') ?? '';

/**
 * Do the words hang together as people speak of an aircraft: each result after
 * what it is said of, each name with a result, no sounds between, nothing left
 * hanging? Chance words for other sounds seldom do.
 */
export function hangsTogether(all: readonly Segment[]): boolean {
  // Breath and noise before and after the words are no words.
  const spoken = all.findIndex(({ hub }) => hub !== 'loop');
  const segments = all.slice(Math.max(0, spoken), all.findLastIndex((s) => s.hub !== 'loop') + 1);
  if (segments.length === 0) return false;
  const last = segments.at(-1);
  if (last === undefined || OPEN.test(last.hub)) return false;
  const orders = segments.filter((s) => s.hub === 'order' || s.hub === 'command');
  if (orders.length > 0) return segments.length === 1;
  let anchored = false;
  let named = false;
  /** A name that nothing has been said of. */
  let waiting = false;
  let place = false;
  let good = false;
  let bad = false;
  let denied = false;
  /** The result before this one was a denial. */
  let denies = false;
  for (const [i, { hub }] of segments.entries()) {
    const before = segments[i - 1]?.hub ?? '';
    if (hub === 'loop') return false;
    // "That is are": what points has its verb with it.
    if (before === 'it' && hub === 'be') return false;
    if (before === 'join' && (hub === 'value' || hub === 'now')) return false;
    // "Six", "eleven": a value is said of a name, or with its unit.
    if (hub === 'value' && !/^(name|own-.*|be|general)$/.test(before)) return false;
    if (hub === 'value' && !named && segments[i + 1]?.hub !== 'unit') return false;
    if (hub === 'at') place = true;
    else if (ANCHOR.test(hub)) {
      if (place) {
        if (!anchored) return false;
        place = false;
        continue;
      }
      if (waiting) return false;
      anchored = true;
      named ||= hub === 'name';
      waiting = hub !== 'it';
      good = bad = false;
    } else if (RESULT.test(hub)) {
      if (!anchored) return false;
      // "Wiped or out" asserts neither; "no cracks or dents" denies both.
      if (said(segments[i - 1]) === 'or' && !denies) return false;
      waiting = false;
      if (hub === 'condition' && !denied) bad = true;
      if (hub === 'general' || hub.startsWith('is-')) good = true;
      if (good && bad) return false;
      denies = denied || (denies && before === 'join');
      denied = false;
    } else if (hub === 'absent') denied = true;
  }
  return !waiting || segments.every(({ hub }) => !RESULT.test(hub));
}
