import { FluentBundle, FluentResource } from '@fluent/bundle';
import { sentencesOf } from '#shared/speech';
import de from './house.de.ftl?raw';
import en from './house.en.ftl?raw';
import type { Language } from './text.ts';

/** One sentence of the house: how it is known again, and its id. */
interface Known {
  readonly id: string;
  readonly as: RegExp;
}

/** What somebody said: it is nobody's to translate. */
const SAID: ReadonlySet<string> = new Set(['words', 'earlier', 'later']);
/** What stands in a sentence and may be sentences itself: what somebody said, and why something failed. */
const SENTENCES: ReadonlySet<string> = new Set([...SAID, 'why']);

/**
 * The English sentences as patterns, where what stands in one may be anything
 * that does not go on into the next sentence.
 * The more words of our own, the earlier it is tried: "The microphone is back."
 * is no "The recogniser stopped: …".
 */
const KNOWN: readonly Known[] = new FluentResource(en).body
  .flatMap(({ id, value }) => {
    if (value === null) return [];
    const parts = typeof value === 'string' ? [value] : value;
    const own = parts.filter((p) => typeof p === 'string').join('').length;
    const source = parts
      .map((p) => {
        if (typeof p === 'string') return p.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
        if (p.type !== 'var') return '';
        return `(?<${p.name}>${SENTENCES.has(p.name) ? '.' : '(?:(?![.?!] ).)'}+?)`;
      })
      .join('');
    return [{ id, own, as: new RegExp(`^${source}$`, 's') }];
  })
  .sort((a, b) => b.own - a.own);

const BUNDLES: Readonly<Record<Exclude<Language, 'en'>, FluentBundle>> = { de: bundleOf(de, 'de') };

function bundleOf(source: string, language: Language): FluentBundle {
  const bundle = new FluentBundle(language, { useIsolating: false });
  bundle.addResource(new FluentResource(source));
  return bundle;
}

/**
 * What the ear, the record or the device said in English, in the language of the
 * screen. A sentence that is not known stays as it is: English is better than silence.
 */
export function saidIn(language: Language, text: string): string {
  if (language === 'en') return text;
  const before = kept.get(text);
  if (before !== undefined) return before;
  const said = madeIn(language, text);
  if (kept.size >= KEPT) kept.clear();
  kept.set(text, said);
  return said;
}

/** As many sentences are remembered: a sheet has a few hundred, and is drawn again at every touch. */
const KEPT = 2000;
/** By the English sentence, in the one other language that there is. */
const kept = new Map<string, string>();

function madeIn(language: Exclude<Language, 'en'>, text: string): string {
  const bundle = BUNDLES[language];
  const sentences = sentencesOf(text);
  const out: string[] = [];
  for (let at = 0; at < sentences.length;) {
    // Two sentences that are known as one are one.
    let to = sentences.length;
    let said = one(bundle, sentences.slice(at, to).join(' '), language);
    while (said === null && to > at + 1) {
      to -= 1;
      said = one(bundle, sentences.slice(at, to).join(' '), language);
    }
    out.push(said ?? sentences[at] ?? '');
    at = to;
  }
  return out.join(' ');
}

function one(bundle: FluentBundle, text: string, language: Exclude<Language, 'en'>): string | null {
  for (const { id, as } of KNOWN) {
    const found = as.exec(text);
    const pattern = bundle.getMessage(id)?.value;
    if (found === null || pattern === undefined || pattern === null) continue;
    const values = Object.entries(found.groups ?? {}).map(
      // Why something failed is often another sentence of the house.
      ([name, inner]) => [name, SAID.has(name) ? inner : saidIn(language, inner)] as const,
    );
    return bundle.formatPattern(pattern, Object.fromEntries(values));
  }
  return null;
}
