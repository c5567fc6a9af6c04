import { FluentBundle, FluentResource, type FluentVariable } from '@fluent/bundle';
import { createContext, useContext } from 'react';
import de from './de.ftl?raw';
import en from './en.ftl?raw';
import { saidIn } from './house.ts';

/** Languages that the screen speaks. The recogniser and the record stay English. */
export type Language = 'en' | 'de';

/** A sentence of the catalogue by its id, with what stands in it. */
export interface Text {
  (id: string, values?: Readonly<Record<string, FluentVariable>>): string;
  /** What the ear, the record or the device said in English, in this language. */
  said(sentence: string): string;
  readonly language: Language;
}

const BUNDLES: Readonly<Record<Language, FluentBundle>> = {
  en: bundleOf('en'),
  de: bundleOf('de'),
};
const made = new Map<Language, Text>();
addSentences('en', en);
addSentences('de', de);

/**
 * The sentences of one language; one that it lacks is English. Throws when no
 * language has it, or when something that stands in it was not given: a mistake
 * of ours, and tests/screens/text.test.ts finds it first.
 */
export function textIn(language: Language): Text {
  const before = made.get(language);
  if (before !== undefined) return before;
  const bundles = [BUNDLES[language], BUNDLES.en];
  const text = Object.assign(
    (id: string, values: Readonly<Record<string, FluentVariable>> = {}): string => {
      for (const bundle of bundles) {
        const pattern = bundle.getMessage(id)?.value;
        if (pattern !== undefined && pattern !== null) return bundle.formatPattern(pattern, values);
      }
      throw new Error(`The message "${id}" is in no language.`);
    },
    { language, said: (sentence: string) => saidIn(language, sentence) },
  );
  made.set(language, text);
  return text;
}

/** Makes the sentences of one more file known; what was said in them before is told anew. */
export function addSentences(language: Language, source: string): void {
  BUNDLES[language].addResource(new FluentResource(source), { allowOverrides: true });
}

function bundleOf(language: Language): FluentBundle {
  // Without isolation marks: both languages run the same way, and the words are copied and searched.
  return new FluentBundle(language, { useIsolating: false });
}

export const TextPlace = createContext<Text>(textIn('en'));

/** The sentences in the language under Settings. */
export function useText(): Text {
  return useContext(TextPlace);
}
