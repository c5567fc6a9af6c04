import type { Measure } from '#shared/catalogue';
import { aspectsOf } from './aspects.ts';
import { lexicon } from './lexicon.ts';
import type { CheckEntry, Names } from './names.ts';
import { phraseWords } from './tokens.ts';

/**
 * The grammar as JSGF (W3C Note, JSpeech Grammar Format, 5 June 2000), for the
 * recogniser on the device. Narrower than what `read` understands: the common forms
 * only, because every rare one costs accuracy in noise.
 */
export interface JsgfOptions {
  /** With one-phone words in parallel, so that other speech has somewhere to go. */
  readonly phoneLoop?: boolean;
  /** Only the checks of this station, and the commands. */
  readonly station?: string;
}

const FORMS = { general: 8, aspect: 5, condition: 3, command: 4, severity: 3 };
/** Weight of a sentence against one phone of the loop. */
const SENTENCE_WEIGHT = 1;
const PHONE_WEIGHT = 0.1;
const PHONES =
  'AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH'.split(
    ' ',
  );

/** A phrase as the tokens of a recogniser: lower-case words, figures spelt out. */
export function spokenWords(phrase: string): string[] {
  return phraseWords(phrase)
    .flatMap((w) =>
      /^\d+$/.test(w) ? [...w].map((d) => DIGITS[Number(d)] ?? '') : [w.replace(/[^a-z']/g, '')],
    )
    .filter((w) => w !== '');
}
const DIGITS = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

function either(phrases: readonly string[]): string {
  const unique = [...new Set(phrases.map((p) => spokenWords(p).join(' ')))].filter((p) => p !== '');
  return unique.length === 0 ? '<VOID>' : `(${unique.join(' | ')})`;
}

export function compileJsgf(names: Names, options: JsgfOptions = {}): string {
  const { verdicts, conditions, commands, severities, units } = lexicon();
  const general = verdicts
    .filter((v) => v.aspect === undefined)
    .flatMap((v) => v.say.slice(0, FORMS.general));
  const checks = names.checks.filter(
    (e) => options.station === undefined || e.station.id === options.station,
  );
  const rules: string[] = [];
  const rule = (name: string, body: string, shown = false): void => {
    rules.push(`${shown ? 'public ' : ''}<${name}> = ${body};`);
  };
  rule('good', either(general));
  rule('copula', '(is | are | looks | has)');
  rule('degree', '(slight | small | severe | bad)');
  rule('condition', either(conditions.flatMap((c) => c.say.slice(0, FORMS.condition))));
  rule('found', '[a] [<degree>] <condition>');
  rule('absent', '(no | not) <condition> [(no | or | and) <condition>]');
  rule('digit', '(zero | one | two | three | four | five | six | seven | eight | nine | niner)');
  rule(
    'tens',
    '(ten | eleven | twelve | thirteen | fourteen | fifteen | sixteen | seventeen | eighteen | nineteen | (twenty | thirty | forty | fifty | sixty | seventy | eighty | ninety) [<digit>])',
  );
  rule(
    'number',
    '(<tens> | <digit>+ [(point | decimal) <digit>+] | <digit> and a (half | quarter) | <digit> hundred [<tens>] | a quarter | half | three quarters)',
  );
  rule(
    'side',
    '(left | right | upper | lower | forward | aft | front | rear | both | all | first | second | third | number <digit>)',
  );
  const sentences: string[] = [];
  checks.forEach((entry, i) => {
    rule(`check${String(i)}`, either(entry.names));
    sentences.push(`[the] [<side>] <check${String(i)}> [<side>] ${predicate(entry)}`);
  });
  sentences.push(
    '<found> (on | in) [the] [<side>] <name>',
    '<absent> (on | in) [the] [<side>] <name>',
    'everything [(on | at)] [the] <station> [is] <good>',
    '<command>',
    '<severity>',
    '<good>',
    '<number> [<unit>]',
  );
  rule(
    'name',
    checks.length === 0 ? '<VOID>' : checks.map((_, i) => `<check${String(i)}>`).join(' | '),
  );
  const stations = [...names.stations.values()].filter(
    (s) => options.station === undefined || s.id === options.station,
  );
  rule('station', either(stations.flatMap((s) => [s.name, ...s.say])));
  rule('command', either(Object.values(commands).flatMap((say) => say.slice(0, FORMS.command))));
  rule(
    'severity',
    either(Object.values(severities).flatMap((say) => say.slice(0, FORMS.severity))),
  );
  rule('unit', either(units.flatMap((u) => u.say.slice(0, 2))));
  rule('sentence', sentences.join('\n  | '));
  if (options.phoneLoop === true) {
    rule('phone', PHONES.map((p) => `ph_${p.toLowerCase()}`).join(' | '));
    rule(
      'utterance',
      `( /${String(SENTENCE_WEIGHT)}/ <sentence> | /${String(PHONE_WEIGHT)}/ <phone> )+`,
      true,
    );
  } else rule('utterance', '<sentence>+', true);
  return `#JSGF V1.0;\ngrammar talkround;\n${rules.join('\n')}\n`;
}

/** What may be said of one check. */
function predicate(entry: CheckEntry): string {
  const map = aspectsOf(entry.check);
  const { verdicts } = lexicon();
  const own = verdicts
    .filter((v) => v.aspect !== undefined && map.of(v.aspect).length > 0)
    .flatMap((v) => v.say.slice(0, FORMS.aspect));
  const parts = ['<good>', '<absent>', '<found>'];
  if (own.length > 0) parts.push(either(own));
  for (const measure of entry.check.measures) parts.push(value(measure));
  const aspects = entry.check.aspects.flatMap((a) => [a.name, ...a.say]);
  if (aspects.length > 0) parts.push(`${either(aspects)} <good>`);
  return `[<copula>] (${parts.join(' | ')})+`;
}

function value(measure: Measure): string {
  return measure.unit === undefined ? '<number>' : '<number> [<unit>]';
}

/** Every word of the grammar that a dictionary has to know. */
export function grammarWords(names: Names): string[] {
  const text = compileJsgf(names).replace(/^#JSGF[^;]*;|grammar talkround;|public|<[^>]*>/gm, ' ');
  return [...new Set(text.match(/[a-z']+/g) ?? [])].sort();
}
