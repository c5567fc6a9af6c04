import { FluentBundle, FluentResource, type FluentVariable } from '@fluent/bundle';
import { createContext, useContext } from 'react';
import de from './de.ftl?raw';
import en from './en.ftl?raw';
import { saidIn } from './house.ts';
import workshopDe from './workshop.de.ftl?raw';
import workshopEn from './workshop.en.ftl?raw';

/** Languages that the screen speaks. The recogniser and the record stay English. */
export type Language = 'en' | 'de';

/** A sentence of the catalogue by its id, with what stands in it. */
export interface Text {
  (id: string, values?: Readonly<Record<string, FluentVariable>>): string;
  /** What the ear, the record or the device said in English, in this language. */
  said(sentence: string): string;
  readonly language: Language;
}

const SOURCES: Readonly<Record<Language, string>> = {
  en: `${en}\n${workshopEn}`,
  de: `${de}\n${workshopDe}`,
};
const made = new Map<Language, Text>();

/**
 * The sentences of one language; one that it lacks is English. Throws when no
 * language has it, or when something that stands in it was not given: a mistake
 * of ours, and tests/screens/text.test.ts finds it first.
 */
export function textIn(language: Language): Text {
  const before = made.get(language);
  if (before !== undefined) return before;
  const bundles = [...new Set<Language>([language, 'en'])].map(bundleOf);
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

function bundleOf(language: Language): FluentBundle {
  // Without isolation marks: both languages run the same way, and the words are copied and searched.
  const bundle = new FluentBundle(language, { useIsolating: false });
  const [mistake] = bundle.addResource(new FluentResource(SOURCES[language]));
  if (mistake !== undefined) throw mistake;
  return bundle;
}

export const TextPlace = createContext<Text>(textIn('en'));

/** The sentences in the language under Settings. */
export function useText(): Text {
  return useContext(TextPlace);
}
