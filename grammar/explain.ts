import type { Catalogue } from '#shared/catalogue';
import type { Candidate, Force, Observation, Statement, ValueSaid } from '#shared/statement';
import { lexicon } from './lexicon.ts';
import { plainly } from './reasons.ts';

/** Candidates shown beside the one that was taken. */
const RIVALS = 4;

/** Why an utterance was read as it was, for a person: each statement, what it says, and the steps that led there. */
export function explainStatements(
  text: string,
  statements: readonly Statement[],
  catalogue: Catalogue,
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
    .map((s) => {
      const rivals = s.kind === 'observation' || s.kind === 'two-candidates' ? s.candidates : [];
      return [
        `"${s.span.words}"`,
        `  means: ${meaning(s, names)}`,
        ...s.why.flatMap((why) => reason(why, names)),
        ...ranked(rivals, names),
      ].join('\n');
    })
    .join('\n');
}

/** Ids of the catalogue as a person knows them. */
interface Names {
  check(id: string): string;
  station(id: string): string;
}

/** A reason as a line; none where there is nothing in it for a person. */
function reason(why: string, names: Names): string[] {
  const named = /^"(.*)" is ([\w-]+): (.*)$/.exec(why);
  if (named !== null && names.check(named[2] ?? '') !== named[2]) {
    const [, said = '', id = '', how = ''] = named;
    const words = said.replace(/[,.;:!?]+$/, '');
    const known = found(how, names.check(id));
    return [
      words === ''
        ? `  because the check "${names.check(id)}" is meant, ${known}`
        : `  because "${words}" is the check "${names.check(id)}", ${known}`,
    ];
  }
  const tie = /^(".*" is \d+ checks fit about as well: )(.*?)( \(R5\))?$/.exec(why);
  if (tie !== null) {
    const list = (tie[2] ?? '').split(', ').map((id) => names.check(id));
    return [`  because ${plainly(`${tie[1] ?? ''}${list.join(', ')}`) ?? ''}`];
  }
  const aside = /^set aside: ([\w-]+): (.*)$/.exec(why);
  if (aside !== null)
    return [
      `  because it is not to be looked at today; the check "${names.check(aside[1] ?? '')}" is meant, ${found(aside[2] ?? '', names.check(aside[1] ?? ''))}`,
    ];
  const blanket = /^a blanket over ([\w-]+)/.exec(why);
  const told = plainly(
    blanket === null ? why : `a blanket over ${names.station(blanket[1] ?? '')}`,
  );
  return told === null ? [] : [`  because ${told}`];
}

/** How a check was known: by which of its names, and how that was heard. */
function found(how: string, check: string): string {
  const [, part = '', name = '', heard = '', more = ''] =
    /^(part of )?"(.*)", (heard to the letter|by its sound \(.*?\))(.*)$/.exec(how) ?? [];
  if (heard === '') return how;
  const by =
    part !== ''
      ? `by a part of its name "${name}"`
      : name.toLowerCase() === check.toLowerCase()
        ? 'by its name'
        : `by its other name "${name}"`;
  const score = /\((.*)\)/.exec(heard)?.[1];
  const sure =
    score === undefined ? 'heard to the letter' : `which it sounds like (${score} of 1 at most)`;
  return `${by}, ${sure}${beside(more)}`;
}
function beside(more: string): string {
  return more
    .replace(/^, on the (.*) side$/, ', and the $1 one is meant')
    .replace(/^, at this station$/, ', and it is at the station where the speaker stands');
}

/** What else the words could have meant, likest first; nothing where only one check was near and heard to the letter. */
function ranked(rivals: readonly Candidate[], names: Names): string[] {
  if (rivals.length < 2) return [];
  return rivals
    .slice(0, RIVALS)
    .map(
      (c) =>
        `  weighed: "${names.check(c.check)}" ${c.score.toFixed(2)}, ${found(c.how, names.check(c.check))}`,
    );
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
      return 'the last statement is taken back';
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
