import { wordsOfKey } from './fingerprint.ts';
import { timeOf, textIn, type Held } from './held.ts';
import type { Judged, Version } from './judge.ts';
import type { KeyUse } from './keys.ts';
import { readHeld } from './opened.ts';
import { deviceWords, idWords, nameWords, quoted } from './plain-words.ts';

/** What may be said of a walk, in words. */
export interface Sentences {
  /** It is sealed by a key of the walk, whole, and nobody else claims to be it. */
  readonly whole: boolean;
  /** One sentence for the foot of the sheet. */
  readonly text: string;
  /** What is missing, what was added, by whom, when: one sentence each. */
  readonly remarks: readonly string[];
}

/** Sentences of one kind that are written out; the rest is counted. */
const WRITTEN_OUT = 5;

const count = (n: number, noun: string) => `${n} ${noun}${n === 1 ? '' : 's'}`;

/** "2026-01-05 08:14 UTC", by the clock of the device that wrote it. */
export function when(event: Held): string {
  const at = timeOf(event);
  const date = at === null ? null : new Date(at);
  if (date === null || Number.isNaN(date.getTime())) return 'at no time that can be read';
  return `${date.toISOString().slice(0, 16).replace('T', ' ')} UTC`;
}

/** Whose a key is, in words. */
export function keyWords(key: KeyUse): string {
  const name = deviceWords(key.name, key.device);
  const words = `“${wordsOfKey(key.publicKey)}”`;
  switch (key.standing) {
    case 'own':
      return `the key of this device, ${words}`;
    case 'compared':
      return `the key ${words} of ${name}, which was compared`;
    case 'met':
      return `the key ${words} of ${name}, as before; nobody has compared it yet`;
    case 'new':
      return `the key ${words} of ${name}, met here for the first time; nobody has compared it yet`;
    case 'changed':
      return `a NEW key ${words} of ${name}, which was met under another key before: ask whoever holds it, and compare the words`;
  }
}

/**
 * @param which the version to be spoken of; the first one when left out
 */
export function sentencesOf(judged: Judged, which: Version | null = judged.version): Sentences {
  if (which === null)
    return {
      whole: false,
      text: 'The beginning of this walk is missing.',
      remarks: asides(judged),
    };
  const rivals = [judged.version, ...judged.others].flatMap((v) =>
    v === null || v === which ? [] : [v],
  );
  const unread = which.counts.length - readHeld(which.counts).length;
  const remarks = [
    ...(unread === 0 ? [] : [unreadText(unread)]),
    ...which.faults.map((f) => `Event ${idWords(f.event)}: ${f.why}`),
    ...rivals.map(rival),
    ...asides(judged, which),
    ...judged.beside.missing,
  ];
  const changed = which.seal?.key.standing === 'changed';
  const whole =
    which.standing === 'sealed' && !changed && !judged.contested && which === judged.version;
  const text = textOf(judged, which);
  // The sheet counts what it can read, and whole is said only of what it counts.
  if (whole && unread > 0)
    return {
      whole: false,
      text: text.replace('is sealed and whole', 'is sealed, and not all of it can be read here'),
      remarks,
    };
  return { whole, text, remarks };
}

function unreadText(n: number): string {
  return `${count(n, 'event')} of this walk cannot be read by this version of Talkround and ${n === 1 ? 'is' : 'are'} not counted here: a newer one may have written ${n === 1 ? 'it' : 'them'}. Update Talkround and look again.`;
}

function textOf(judged: Judged, v: Version): string {
  const n = count(v.counts.length, 'event');
  const upTo = v.end?.kind === 'signed' ? ', up to the signature' : '';
  const first = v === judged.version;
  switch (v.standing) {
    case 'sealed': {
      const key = v.seal === null ? '' : keyWords(v.seal.key);
      if (v.seal?.key.standing === 'changed')
        return `This walk is whole (${n}${upTo}) under ${key}.`;
      if (judged.contested)
        return `This version of the walk is whole (${n}${upTo}) under ${key}. There is another version, and nothing here says which of them is the walk: compare the keys.`;
      if (!first)
        return `This is another version of the walk; it is whole (${n}${upTo}) under ${key}.`;
      return `This walk is sealed and whole: ${n}${upTo}, under ${key}.${afterText(v)}`;
    }
    case 'other-key':
      return `This walk is NOT sealed by the key that it was begun with: ${n}${upTo} are under ${v.seal === null ? 'another key' : keyWords(v.seal.key)}. Ask whoever holds the device.`;
    case 'unsealed':
      return `This walk was signed and is NOT sealed: ${n}, and nothing proves that they are all. A walk whose seal was taken out looks like this.`;
    case 'open':
      return `This walk is not signed and not sealed: ${n} so far; what may have come after them cannot be told.`;
    case 'broken':
      return `The record of this walk does not hold at event ${idWords(v.faults[0]?.event ?? '')}: ${v.faults[0]?.why ?? ''}`;
  }
}

/** What came behind the seal: it bears on nothing that is counted, and nothing proves whose it is. */
function afterText(v: Version): string {
  const seal = v.seal?.event;
  const behind = v.after.filter((e) => e !== seal && e.kind !== 'sealed');
  if (behind.length === 0) return '';
  const kinds = [...new Set(behind.map((e) => idWords(e.kind)))].join(', ');
  return ` Behind it came ${count(behind.length, 'event')} that it does not cover (${kinds}).`;
}

function rival(v: Version): string {
  const key = v.seal === null ? 'not sealed' : `under ${keyWords(v.seal.key)}`;
  return `There is another version of this walk: begun ${when(v.beginning)} on device ${idWords(v.device)}, ${count(v.counts.length, 'event')}, ${key}. It is kept and counts nowhere.`;
}

/** What was added and does not count: the same reason once. */
function asides(judged: Judged, which: Version | null = null): string[] {
  const late = which === null || which === judged.version ? [] : which.late;
  const all = which === null || which === judged.version ? judged.aside : late;
  const byWhy = new Map<string, Held[]>();
  for (const { event, why } of all) byWhy.set(why, [...(byWhy.get(why) ?? []), event]);
  const lines = [...byWhy].map(([why, events]) => {
    const [first] = events;
    const kinds = [...new Set(events.map((e) => idWords(e.kind)))].slice(0, WRITTEN_OUT).join(', ');
    const at = first === undefined ? '' : when(first);
    return `Added and not counted: ${count(events.length, 'event')} (${kinds}), the first ${at}, of device ${idWords(first?.device ?? '')}. ${why}${saidIn(judged, events)}`;
  });
  return lines.length <= WRITTEN_OUT
    ? lines
    : [...lines.slice(0, WRITTEN_OUT), `And ${lines.length - WRITTEN_OUT} more of other kinds.`];
}

/** Letters of an utterance that are written out on the sheet. */
const LONGEST_WORDS = 200;

/** R4: what somebody said who was let in is told in its words, also where it does not count. */
function saidIn(judged: Judged, events: readonly Held[]): string {
  const words = events.flatMap((e) => {
    const heard = judged.version?.guests.has(e.device) === true ? heardIn(e) : null;
    return heard === null ? [] : [quoted(heard.slice(0, LONGEST_WORDS))];
  });
  if (words.length === 0) return '';
  const more = words.length - WRITTEN_OUT;
  const rest = more > 0 ? `, and ${more} more` : '';
  return ` It was said: ${words.slice(0, WRITTEN_OUT).join(', ')}${rest}.`;
}

function heardIn(event: Held): string | null {
  const what = event.raw['what'];
  const heard: unknown =
    event.kind === 'heard' && typeof what === 'object' && what !== null
      ? Reflect.get(what, 'heard')
      : null;
  const text: unknown =
    typeof heard === 'object' && heard !== null ? Reflect.get(heard, 'text') : null;
  return typeof text === 'string' ? text : null;
}

/** That sound or a picture was erased, when, and who says that it was asked for. */
export function erasedLine(e: Held): string {
  const noun = e.kind === 'picture-erased' ? 'picture' : 'sound';
  const id = textIn(e, noun === 'picture' ? 'picture' : 'recording') ?? '';
  return `The ${noun} ${idWords(id)} was erased on request, ${when(e)}, on device ${idWords(e.device)}; the words stay.`;
}

/** What was said beside the walk, one line each: "Reviewed by …". */
export function besideLines(judged: Judged): string[] {
  const erased = judged.beside.erased.map(erasedLine);
  const said = judged.beside.said.map(({ event, key, holds }) => {
    const what = event.kind === 'reviewed' ? 'Reviewed' : 'Amended';
    const under =
      key === null ? `on device ${idWords(event.device)}, not sealed` : `under ${keyWords(key)}`;
    const doubt = holds
      ? ''
      : ' It does not hold: it was changed, or its device wrote two things in one place.';
    const by = `${what} by ${nameWords(textIn(event, 'by') ?? 'nobody named')}, ${when(event)}`;
    return event.kind === 'amendment'
      ? `${by}: ${quoted(textIn(event, 'note') ?? '')} It stands ${under}.${doubt}`
      : `${by}, ${under}.${doubt}`;
  });
  return [...said, ...erased];
}
