import type { Heard } from '#shared/heard';

/*
 * R11: Talkround never takes its own voice for the pilot's. From the first
 * sound of a spoken reply until ECHO seconds after its end nothing is taken.
 *
 * Earcons alone do not close the gate. They carry no words, and each check
 * understood has one: a gate closed for 1.5 s after every tone would drop the
 * next thing a brisk pilot says.
 */

/**
 * Seconds for which our voice may still come back through headset and hangar
 * after its end (design note: about 1.5 s). Too short: our words count as the
 * pilot's. Too long: the pilot's next words are asked for again.
 */
export const ECHO = 1.5;

/**
 * Share of the words heard that were also ours, from which they are taken for
 * an echo and not for the pilot talking over us. Too low: a pilot who answers
 * in the question's own words is not asked again. Too high: we ask again
 * because of our own echo, once.
 */
export const ECHO_SHARE = 0.6;

/** What we said, seconds since the walk began; `to` null while it still sounds. */
export interface Spoken {
  readonly text: string;
  readonly from: number;
  readonly to: number | null;
}

export interface Admission {
  /** What may be read; null: nothing of it. */
  readonly take: Heard | null;
  /** The pilot spoke while the gate was closed, and something of it was not taken. */
  readonly talkedOver: boolean;
}

function words(text: string): string[] {
  return text.toLowerCase().match(/[\p{L}\p{N}']+/gu) ?? [];
}

/** Whether words heard are our own coming back. */
export function isEcho(heard: string, spoken: string): boolean {
  const ours = new Set(words(spoken));
  const theirs = words(heard);
  if (theirs.length === 0) return true;
  return theirs.filter((w) => ours.has(w)).length / theirs.length >= ECHO_SHARE;
}

/**
 * What of an utterance may be taken. It is judged by when it began, however
 * late it was delivered. One that began before our voice and ran into it keeps
 * the words before it: by their times, or, where there are none, up to where
 * our own words begin.
 */
export function admit(heard: Heard, spoken: readonly Spoken[]): Admission {
  const { from, to } = heard;
  if (from === null || heard.by === 'typed') return { take: heard, talkedOver: false };
  const over = spoken.find((s) => from >= s.from && (s.to === null || from < s.to + ECHO));
  if (over !== undefined) {
    return { take: null, talkedOver: !isEcho(heard.text, over.text) };
  }
  const into = spoken.find((s) => s.from > from && s.from < (to ?? from));
  if (into === undefined) return { take: heard, talkedOver: false };
  return ranInto(heard, into);
}

function ranInto(heard: Heard, into: Spoken): Admission {
  const timed = heard.words.every((w) => w.to !== null) && heard.words.length > 0;
  const kept = timed ? heard.words.filter((w) => (w.to ?? 0) <= into.from) : null;
  const text = kept === null ? upToOurs(heard.text, into.text) : kept.map((w) => w.text).join(' ');
  const lost = heard.text.length > text.length ? rest(heard.text, text) : '';
  const talkedOver = lost !== '' && !isEcho(lost, into.text);
  if (words(text).length === 0) return { take: null, talkedOver };
  if (lost === '') return { take: heard, talkedOver: false };
  return {
    take: { ...heard, text, words: kept ?? [], alternatives: [], to: into.from },
    talkedOver,
  };
}

/** Words of ours in a row from which on it is us: two may be chance. */
const ROW = 3;

function upToOurs(text: string, ours: string): string {
  const said = words(ours);
  const row = Math.min(ROW, said.length);
  const parts = text.split(/\s+/);
  const heard = parts.map((p) => words(p).join(''));
  for (let at = 0; at + row <= parts.length; at += 1) {
    for (let k = 0; k + row <= said.length; k += 1) {
      if (said.slice(k, k + row).every((w, i) => w === heard[at + i])) {
        return parts.slice(0, at).join(' ');
      }
    }
  }
  return text;
}

function rest(whole: string, kept: string): string {
  return words(whole).slice(words(kept).length).join(' ');
}
