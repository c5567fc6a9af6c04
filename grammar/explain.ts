import type { Catalogue } from '#shared/catalogue';
import type { Scene } from '#shared/scene';
import type { Candidate, Force, Observation, Statement, ValueSaid } from '#shared/statement';
import { lexicon } from './lexicon.ts';
import { carriers, type Ground } from './reasons/carried.ts';
import type { Parts } from './piece.ts';

/** Rivals shown beside the one that was taken. */
const RIVALS = 3;

/** Why an utterance was read as it was, for a person: each statement, what it says, what it rests on, and its rivals. */
export function explainStatements(
  text: string,
  statements: readonly Statement[],
  catalogue: Catalogue,
  scene: Scene,
  parts: Parts | null,
): string {
  if (statements.length === 0) return `"${text.trim()}"\n  Nothing was said.`;
  const checks = new Map(
    catalogue.stations.flatMap((s) => s.checks).map((check) => [check.id, check.name]),
  );
  const stations = new Map(catalogue.stations.map((s) => [s.id, s.name]));
  const names: Names = {
    check: (id) => checks.get(id) ?? id,
    station: (id) => stations.get(id) ?? id,
  };
  return statements
    .map((s) =>
      [
        `"${s.span.words}"`,
        `  means: ${meaning(s, names)}`,
        ...s.why.map((why) => `  because ${why}`),
        ...carried(s, text, scene, parts),
        ...rivals(s, names),
      ].join('\n'),
    )
    .join('\n');
}

/** Ids of the catalogue as a person knows them. */
interface Names {
  check(id: string): string;
  station(id: string): string;
}

/** The words that a learned decision rests on, and how sure it is. */
function carried(s: Statement, text: string, scene: Scene, parts: Parts | null): string[] {
  if (s.kind !== 'observation' || s.sure === undefined || parts === null) return [];
  const key =
    s.about.kind === 'check'
      ? s.about.check
      : s.about.kind === 'station'
        ? `station:${s.about.station}`
        : '';
  const words = carriers(text, scene, key, groundOf(s), parts);
  const sure = `  sure: ${s.sure.toFixed(2)} of 1`;
  return words.length === 0
    ? [`${sure}; no single word carries it`]
    : [`${sure}; carried by ${words.map((w) => `"${w.replace(/[.,;:!?]+$/, '')}"`).join(', ')}`];
}

function groundOf(o: Observation): Ground {
  if (o.force !== 'result') return 'talk';
  if (o.conditions.some((c) => c.present) || o.verdict?.good === false) return 'finding';
  return o.verdict?.good === true ? 'good' : 'result';
}

/** What else the words could have meant, likest first. */
function rivals(s: Statement, names: Names): string[] {
  const own = s.kind === 'observation' && s.about.kind === 'check' ? s.about.check : null;
  const list: readonly Candidate[] =
    s.kind === 'observation' || s.kind === 'two-candidates' ? s.candidates : [];
  return list
    .filter((c) => c.check !== own)
    .slice(0, RIVALS)
    .map((c) => `  rival: "${names.check(c.check)}" ${c.score.toFixed(2)}, ${c.how}`);
}

function meaning(s: Statement, names: Names): string {
  switch (s.kind) {
    case 'observation':
      return told(s, names);
    case 'two-candidates':
      return `a question: ${s.candidates.map((c) => names.check(c.check)).join(' or ')}?`;
    case 'command':
      return `an order: ${s.command}`;
    case 'rating':
      return `the latest finding is rated "${s.severity}"`;
    case 'retraction':
      return `taken back: "${s.words ?? 'the last statement'}"`;
    case 'clearance':
      return 'maintenance is said to have cleared what happened: it demands nothing more';
    case 'set-aside':
      return `${names.check(s.check)} is set aside`;
    case 'circumstance':
      return `today: ${s.holds ? '' : 'not '}${s.circumstance}`;
    case 'arrival':
      return `the speaker is at ${names.station(s.station)}`;
    case 'not-understood':
      return s.chatter ? 'small talk' : 'not understood, to be asked about';
  }
}

function told(o: Observation, names: Names): string {
  const about =
    o.about.kind === 'check'
      ? names.check(o.about.check)
      : o.about.kind === 'station'
        ? `everything at ${names.station(o.about.station)}`
        : `something not placed ("${o.about.part}")`;
  const parts: string[] = [];
  if (o.verdict !== null)
    parts.push(
      o.verdict.actOnly
        ? 'done, without saying what was found'
        : `${o.verdict.good ? 'good' : 'not good'}${o.verdict.aspects.length > 0 ? ` as to ${o.verdict.aspects.join(' and ')}` : ''}`,
    );
  for (const c of o.conditions)
    parts.push(
      `${c.present ? '' : 'no '}${c.condition}${c.degree === null ? '' : ` (${c.degree})`}${c.extent === null ? '' : `, ${String(c.extent.count)}${c.extent.of === null ? '' : ` of ${String(c.extent.of)}`}`}${c.place === null ? '' : ` ${c.place}`}`,
    );
  for (const v of o.values)
    parts.push(
      v.step === null
        ? `${String(v.low)}${v.low === v.high ? '' : ` to ${String(v.high)}`} ${unit(v)}`
        : v.step.name,
    );
  if (o.severity !== null) parts.push(`severity "${o.severity}"`);
  return `${about}${places(o)}: ${parts.length > 0 ? parts.join(', ') : 'only named'}. ${weight(o)}`;
}

/** Whether it counts, and what is asked before it does. */
function weight(o: Observation): string {
  if (o.force !== 'result') return `${TALK[o.force]}: it never counts.`;
  if (o.doubtful !== null) return `Asked about before it counts (${o.doubtful}).`;
  const open = [
    ...(o.about.kind === 'check' && o.about.which.how === 'plural' ? ['how many'] : []),
    ...(o.values.some((v) => v.trouble !== null) ? ['the value'] : []),
  ];
  return open.length === 0 ? 'A result.' : `A result; ${open.join(' and ')} is asked about.`;
}
const TALK: Readonly<Record<Exclude<Force, 'result'>, string>> = {
  teaching: 'Said in teaching',
  hypothesis: 'Said of what could be',
  intention: 'Said of what is to be done, or only turned to',
  question: 'Asked',
  past: 'Said of the past',
  hearsay: "Said on somebody else's word",
};

/** Which of a repeated thing: "left", "1 and 2, all of them". */
function places(o: Observation): string {
  if (o.about.kind !== 'check') return '';
  const { how, instances } = o.about.which;
  if (instances.length === 0 || instances[0] === 'once') return '';
  const list = instances.join(' and ');
  const extent = { all: ', all of them', plural: ', how many is not said', named: '', one: '' };
  return ` (${list}${extent[how]})`;
}

/** The unit in the speaker's word and by its code. */
function unit(v: ValueSaid): string {
  if (v.unit === null) return 'without a unit';
  const said = v.span.words.toLowerCase().replace(/[^\p{L}\p{N} ]/gu, '');
  const code = v.unit;
  const word = lexicon()
    .units.filter((u) => u.code.includes(code))
    .flatMap((u) => u.say)
    .filter((say) => ` ${said}`.endsWith(` ${say}`))
    .reduce((a, b) => (b.length > a.length ? b : a), '');
  if (word === '') return code;
  return code.replace(/[^a-z]/gi, '') === word ? word : `${word}, UCUM ${code}`;
}
