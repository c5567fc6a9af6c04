import { ONCE } from '#shared/catalogue';
import { TONE_WORDS, type Replied } from '#shared/replied';
import { SEVERITY_WORDS } from '#shared/severity';
import type { Statement } from '#shared/statement';
import type { Names } from '../parts/words.ts';
import { capital } from '../parts/words.ts';

type Observation = Extract<Statement, { kind: 'observation' }>;

const FORCES: Readonly<Record<Observation['force'], string>> = {
  result: '',
  intention: 'an intention, not counted',
  teaching: 'teaching, not counted',
  hypothesis: 'a hypothesis, not counted',
  question: 'a question, not counted',
  past: 'the past, not counted',
  hearsay: 'hearsay, not counted',
};

/** "Talkround, finding recorded: Drive belts: slack belt." What was given back, in one line. */
export function replyWords({ tone, text, how }: Omit<Replied, 'from' | 'answers'>): string {
  const who = ['Talkround', ...(tone === null ? [] : [TONE_WORDS[tone]])];
  if (how === 'shown') who.push('on the screen');
  return text === '' ? who.join(', ') : `${who.join(', ')}: ${text}`;
}

/** What a statement was read as, in one line. */
export function readingWords(s: Statement, names: Names): string {
  switch (s.kind) {
    case 'observation':
      return observationWords(s, names);
    case 'arrival':
      return `At ${names.station.get(s.station)?.name ?? s.station}`;
    case 'command':
      return `Command: ${s.command.replace(/-/g, ' ')}`;
    case 'rating':
      return `Severity: ${SEVERITY_WORDS[s.severity]}`;
    case 'retraction':
      return s.words === undefined ? 'Takes back what was said before' : `Takes back “${s.words}”`;
    case 'clearance':
      return 'Said to have been cleared by maintenance';
    case 'set-aside':
      return `${capital(names.check.get(s.check)?.name ?? s.check)}: set aside, ${s.reason}`;
    case 'circumstance':
      return `Today: ${s.holds ? '' : 'not '}${s.circumstance.replace(/-/g, ' ')}`;
    case 'two-candidates':
      return `Asked: ${s.candidates.map((c) => names.check.get(c.check)?.name ?? c.check).join(' or ')}?`;
    case 'not-understood':
      return s.chatter ? 'Not about a check' : 'Not understood';
  }
}

function observationWords(s: Observation, names: Names): string {
  const said: string[] = [];
  for (const c of s.conditions) {
    said.push(
      `${c.present ? '' : 'no '}${[c.degree, c.condition.replace(/-/g, ' ')].filter((x) => x !== null).join(' ')}`,
    );
  }
  for (const v of s.values) said.push(v.span.words);
  if (s.verdict !== null) {
    const of =
      s.verdict.aspects.length > 0
        ? `${s.verdict.aspects.map((a) => a.replace(/-/g, ' ')).join(', ')} `
        : '';
    said.push(
      s.verdict.actOnly ? 'done, not what was found' : `${of}${s.verdict.good ? 'good' : 'bad'}`,
    );
  }
  if (s.severity !== null) said.push(SEVERITY_WORDS[s.severity]);
  if (s.doubtful !== null) said.push(s.doubtful);
  const force = FORCES[s.force];
  if (force !== '') said.push(force);
  return `${aboutWords(s, names)}: ${said.length === 0 ? 'named' : said.join('; ')}`;
}

function aboutWords(s: Observation, names: Names): string {
  if (s.about.kind === 'unplaced') return `Not placed (${s.about.part})`;
  if (s.about.kind === 'station') {
    return `Everything at ${names.station.get(s.about.station)?.name ?? s.about.station}`;
  }
  const check = names.check.get(s.about.check);
  const places = s.about.which.instances.filter((i) => i !== ONCE);
  const name = capital(check?.name ?? s.about.check);
  const all = check?.repeat?.instances.length ?? 0;
  return places.length === 0 || places.length === all ? name : `${name} (${places.join(', ')})`;
}
