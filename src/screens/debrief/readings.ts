import { ONCE } from '#shared/catalogue';
import type { Replied } from '#shared/replied';
import type { Statement } from '#shared/statement';
import type { Names } from '../parts/words.ts';
import { capital } from '../parts/words.ts';
import type { Text } from '../text/text.ts';

type Observation = Extract<Statement, { kind: 'observation' }>;

/** "Talkround, finding recorded: Drive belts: slack belt." What was given back, in one line. */
export function replyWords(
  { tone, text, how }: Omit<Replied, 'from' | 'answers'>,
  t: Text,
): string {
  const who = ['Talkround', ...(tone === null ? [] : [t(`reply-tone-${tone}`)])];
  if (how === 'shown') who.push(t('reply-shown'));
  return text === '' ? who.join(', ') : `${who.join(', ')}: ${text}`;
}

/** What a statement was read as, in one line. What is the catalogue's or the speaker's stays English. */
export function readingWords(s: Statement, names: Names, t: Text): string {
  switch (s.kind) {
    case 'observation':
      return t('read-of', { of: aboutWords(s, names, t), what: observedWords(s, t) });
    case 'arrival':
      return t('read-at', { station: names.station.get(s.station)?.name ?? s.station });
    case 'command':
      return t('read-command', { command: s.command.replace(/-/g, ' ') });
    case 'rating':
      return t('read-severity', { severity: t(`severity-${s.severity}`) });
    case 'retraction':
      return s.words === undefined
        ? t('read-taken-back')
        : t('read-taken-back-words', { words: s.words });
    case 'clearance':
      return t('read-cleared');
    case 'set-aside':
      return t('read-set-aside', {
        check: capital(names.check.get(s.check)?.name ?? s.check),
        reason: s.reason,
      });
    case 'circumstance':
      return t(s.holds ? 'read-today' : 'read-today-not', {
        what: t(`circumstance-${s.circumstance}`),
      });
    case 'two-candidates':
      return t('read-asked', {
        checks: s.candidates
          .map((c) => names.check.get(c.check)?.name ?? c.check)
          .reduce((one, other) => t('read-or', { one, other })),
      });
    case 'not-understood':
      return t(s.chatter ? 'read-chatter' : 'read-not-understood');
  }
}

function observedWords(s: Observation, t: Text): string {
  const said: string[] = [];
  for (const c of s.conditions) {
    const what = [c.degree, c.condition.replace(/-/g, ' ')].filter((x) => x !== null).join(' ');
    said.push(c.present ? what : t('read-absent', { what }));
  }
  for (const v of s.values) said.push(v.span.words);
  if (s.verdict !== null) said.push(verdictWords(s.verdict, t));
  if (s.severity !== null) said.push(t(`severity-${s.severity}`));
  if (s.doubtful !== null) said.push(t.said(s.doubtful));
  if (s.force !== 'result') said.push(t(`force-${s.force}`));
  return said.length === 0 ? t('read-named') : said.join('; ');
}

function verdictWords(verdict: NonNullable<Observation['verdict']>, t: Text): string {
  if (verdict.actOnly) return t('read-done');
  if (verdict.aspects.length === 0) return t(verdict.good ? 'read-good' : 'read-bad');
  const aspects = verdict.aspects.map((a) => a.replace(/-/g, ' ')).join(', ');
  return t(verdict.good ? 'read-aspects-good' : 'read-aspects-bad', { aspects });
}

function aboutWords(s: Observation, names: Names, t: Text): string {
  if (s.about.kind === 'unplaced') return t('read-unplaced', { part: s.about.part });
  if (s.about.kind === 'station') {
    return t('read-everything', {
      station: names.station.get(s.about.station)?.name ?? s.about.station,
    });
  }
  const check = names.check.get(s.about.check);
  const places = s.about.which.instances.filter((i) => i !== ONCE);
  const name = capital(check?.name ?? s.about.check);
  const all = check?.repeat?.instances.length ?? 0;
  return places.length === 0 || places.length === all ? name : `${name} (${places.join(', ')})`;
}
