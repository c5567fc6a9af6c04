import type { Catalogue } from '#shared/catalogue';
import type { CheckCoverage, Coverage } from '#shared/coverage';
import type { Happened } from '#shared/happened';
import { DECIDES, DEMANDS } from '#shared/speech';
import { placeOf } from '#shared/names';
import {
  checkName,
  exception,
  newFindings,
  type Around,
  type Line,
  type ReplySettings,
} from './lines.ts';
import { list } from './wording.ts';

/** Checks that a finding has just made necessary. */
export function demanded(around: Around, { catalogue }: ReplySettings): Line[] {
  const { before, after } = around;
  const known = new Set(
    (before?.checks ?? []).filter((c) => c.required.by === 'follow-up').map((c) => c.check),
  );
  const fresh = after.checks.filter((c) => c.required.by === 'follow-up' && !known.has(c.check));
  if (fresh.length === 0) return [];
  const names = fresh.map((c) => checkName(catalogue, c.check));
  const decides = signCautions(around, catalogue).some((text) => /maintenance decides/i.test(text));
  return [exception(list(DEMANDS, names, 4), 1), ...(decides ? [] : [exception(DECIDES, 1)])];
}

/** Cautions of the station just reached, of the check that is next or was just announced, and of a sign. */
export function cautions(happened: Happened, around: Around, { catalogue }: ReplySettings): Line[] {
  const { before, after } = around;
  const texts: string[] = [];
  if (after.station !== null && before?.station !== after.station) {
    texts.push(catalogue.stations.find((s) => s.id === after.station)?.caution ?? '');
  }
  const next = nextHere(after);
  if (next !== null && (before === null || nextHere(before)?.check !== next.check)) {
    texts.push(placeOf(catalogue, next.check)?.check.caution ?? '');
  }
  for (const s of happened.statements) {
    if (s.kind === 'observation' && s.force === 'intention' && s.about.kind === 'check') {
      texts.push(placeOf(catalogue, s.about.check)?.check.caution ?? '');
    }
  }
  texts.push(...signCautions(around, catalogue));
  return texts.filter((t) => t !== '').map((text) => exception(text, 0));
}

function nextHere(coverage: Coverage): CheckCoverage | null {
  const open = coverage.open.find((o) => o.check !== null && o.station === coverage.station);
  return coverage.checks.find((c) => c.check === open?.check) ?? null;
}

function signCautions(around: Around, catalogue: Catalogue): string[] {
  return newFindings(around).flatMap((finding) =>
    finding.conditions.map(({ sign }) => (sign === null ? '' : signCaution(catalogue, sign))),
  );
}

function signCaution(catalogue: Catalogue, id: string): string {
  const own = catalogue.stations.flatMap((s) => s.checks).flatMap((c) => c.signs);
  for (const sign of [...catalogue.signs, ...own]) {
    if (typeof sign !== 'string' && sign.id === id) return sign.caution ?? '';
  }
  return '';
}
