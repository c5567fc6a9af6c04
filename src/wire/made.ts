import type { LastHeard } from '#screens';
import type { Catalogue } from '#shared/catalogue';
import { CIRCUMSTANCE_WORDS } from '#shared/circumstance';
import { STANDING_WORDS, type Coverage, type Standing } from '#shared/coverage';
import type { Happened } from '#shared/happened';
import { nameAt, placeOf } from '#shared/names';
import { isHappening } from '#shared/sign';
import { SEVERITY_WORDS } from '#shared/severity';
import type { Force, Observation, Statement } from '#shared/statement';

const TALK: Readonly<Record<Exclude<Force, 'result'>, string>> = {
  intention: 'an intention',
  teaching: 'teaching',
  hypothesis: 'a what-if',
  question: 'a question',
  past: 'about the past',
  hearsay: 'hearsay',
};

/** What was made of the last utterance, a line a statement, for a glance. */
export function lastHeard(
  happened: Happened,
  catalogue: Catalogue,
  before: Coverage,
  after: Coverage,
): LastHeard | null {
  const heard = happened.events.find((e) => e.what.kind === 'heard');
  if (heard?.what.kind !== 'heard') return null;
  // Words that another recogniser was quicker with, and nothing new in them: what came of those stays shown.
  const late = heard.what.heard.alternatives.some((a) => a.told === true);
  if (late && happened.statements.length === 0) return null;
  const made = happened.statements.flatMap((s) => lineFor(s, catalogue, before, after));
  const own = new Set(happened.statements.map((s) => s.id));
  const finding = after.findings.find((f) => f.statements.some((id) => own.has(id)))?.id;
  return {
    ...(finding === undefined ? {} : { finding }),
    event: heard.id,
    words: heard.what.heard.text,
    made: made.length === 0 ? [nothingMade(happened)] : [...new Set(made)],
    sort: sortOf(happened, before, after),
    checks: [...new Set(happened.statements.flatMap((s) => checksOf(s, before, after)))],
  };
}

function nothingMade(happened: Happened): string {
  if (happened.dropped === 'own-voice') return 'Not taken: it was our own voice';
  if (happened.dropped === 'repeated') return 'Delivered twice; taken once';
  return 'Talk; nothing counts';
}

function sortOf(happened: Happened, before: Coverage, after: Coverage): LastHeard['sort'] {
  if (happened.asked !== null) return 'asked';
  if (happened.statements.some((s) => s.kind === 'not-understood' && !s.chatter)) {
    return 'not-understood';
  }
  const own = new Set(happened.statements.map((s) => s.id));
  if (after.findings.some((f) => f.statements.some((id) => own.has(id)))) return 'finding';
  const changed = after.checks.some((c, i) => c.standing !== before.checks[i]?.standing);
  const counts = happened.statements.some(
    (s) =>
      s.kind !== 'not-understood' &&
      !(s.kind === 'observation' && (s.force !== 'result' || s.about.kind === 'station')),
  );
  return changed || counts ? 'counted' : 'nothing';
}

/** The checks that words about the aircraft were put to. */
function checksOf(said: Statement, before: Coverage, after: Coverage): readonly string[] {
  if (said.kind === 'set-aside') return [said.check];
  if (said.kind !== 'observation' || said.force !== 'result') return [];
  if (said.about.kind === 'check') return [said.about.check];
  return said.about.kind === 'station' ? coveredBy(said.about.station, before, after) : [];
}

/** What a verdict over a whole station changed: R7 leaves it few checks, and often none. */
function coveredBy(station: string, before: Coverage, after: Coverage): readonly string[] {
  return after.checks.flatMap((c, i) =>
    c.station === station && c.standing !== before.checks[i]?.standing ? [c.check] : [],
  );
}

/** Why a verdict over a station counted for nothing. */
function emptyBlanket(station: string, after: Coverage): string {
  const open = after.checks.some(
    (c) =>
      c.station === station &&
      c.required.today &&
      c.standing !== 'spoken' &&
      c.standing !== 'set-aside',
  );
  return open ? 'counts for no check, name each one' : 'nothing was open there';
}

function lineFor(
  statement: Statement,
  catalogue: Catalogue,
  before: Coverage,
  after: Coverage,
): string[] {
  switch (statement.kind) {
    case 'observation':
      return [observationLine(statement, catalogue, before, after)];
    case 'two-candidates':
      return [`Which one: ${names(statement.candidates.slice(0, 3), catalogue)}?`];
    case 'rating':
      return [SEVERITY_WORDS[statement.severity]];
    case 'retraction':
      return [statement.words === undefined ? 'Taken back' : `Taken back: “${statement.words}”`];
    case 'clearance':
      return ['Cleared by maintenance, as said'];
    case 'set-aside':
      return [`${checkName(statement.check, catalogue)}: set aside, ${statement.reason}`];
    case 'circumstance':
      return [`${CIRCUMSTANCE_WORDS[statement.circumstance]}: ${statement.holds ? 'yes' : 'no'}`];
    case 'arrival':
      return [
        catalogue.stations.find((s) => s.id === statement.station)?.name ?? statement.station,
      ];
    case 'command':
      return [`Order: ${statement.command.replaceAll('-', ' ')}`];
    case 'not-understood':
      return statement.chatter ? [] : [`Not understood: “${statement.span.words}”`];
  }
}

function observationLine(
  said: Observation,
  catalogue: Catalogue,
  before: Coverage,
  after: Coverage,
): string {
  const about = aboutName(said, catalogue);
  if (said.force !== 'result') return `Not counted, ${TALK[said.force]}: ${about}`;
  if (said.doubtful !== null) {
    // A doubt about a good that waits leaves its check half said, or as it was.
    const standing = standingOf(said, after) ?? 'question';
    return `${about}: ${STANDING_WORDS[standing]}, ${said.doubtful}`;
  }
  const present = said.conditions.filter((c) => c.present);
  if (isHappening(catalogue, present) && said.about.kind === 'unplaced')
    return `The aircraft: ${said.about.part}`;
  const found = present.map((c) => c.condition);
  if (found.length > 0) return `${about}: ${found.join(', ').replaceAll('-', ' ')}`;
  if (said.about.kind === 'station') {
    const covered = coveredBy(said.about.station, before, after).length;
    if (covered === 0) return `${about}: ${emptyBlanket(said.about.station, after)}`;
    return `${about}: ${covered} ${covered === 1 ? 'check' : 'checks'} spoken for`;
  }
  const standing = standingOf(said, after);
  return standing === undefined ? about : `${about}: ${STANDING_WORDS[standing]}`;
}

function standingOf({ about }: Observation, { checks }: Coverage): Standing | undefined {
  return about.kind === 'check' ? checks.find((c) => c.check === about.check)?.standing : undefined;
}

function aboutName(said: Observation, catalogue: Catalogue): string {
  const { about } = said;
  if (about.kind === 'unplaced') return `Not placed, “${about.part}”`;
  if (about.kind === 'station') {
    const station = catalogue.stations.find((s) => s.id === about.station);
    return `Everything at ${station?.name ?? about.station}`;
  }
  const place = placeOf(catalogue, about.check);
  return place === null ? about.check : nameAt(place.check, about.which.instances);
}

function checkName(id: string, catalogue: Catalogue): string {
  return placeOf(catalogue, id)?.check.name ?? id;
}

function names(
  candidates: readonly { check: string; instances: readonly string[] }[],
  catalogue: Catalogue,
): string {
  return candidates
    .map((c) => {
      const place = placeOf(catalogue, c.check);
      return place === null ? c.check : nameAt(place.check, c.instances);
    })
    .join(' or ');
}
