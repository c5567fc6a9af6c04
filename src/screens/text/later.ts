import { addSentences, type Language } from './text.ts';

/*
 * The sentences of all screens but the first: every `area.language.ftl` of this
 * folder. They are loaded with the first such screen that is gone to, so that the
 * first script stays small; Begin, Walk and the frame have theirs in `en.ftl` and
 * `de.ftl`. What the house says is known by its words and no id: house.ts has it.
 */
const FILES = import.meta.glob<string>(['./*.en.ftl', './*.de.ftl', '!./house.*.ftl'], {
  eager: true,
  query: '?raw',
  import: 'default',
});

for (const [path, source] of Object.entries(FILES)) {
  const language: Language = path.endsWith('.de.ftl') ? 'de' : 'en';
  addSentences(language, source);
}
