import type { Catalogue } from '#shared/catalogue';
import type { CheckCoverage, Coverage } from '#shared/coverage';
import { DECIDES, DEMANDS, sentencesOf } from '#shared/speech';
import { Mark } from '../parts/Mark.tsx';
import { capital, isOpen, namesOf } from '../parts/words.ts';
import type { WalkView } from '../services.ts';
import { useText } from '../text/text.ts';

/** More than this at once is not read at a glance; the rest are counted, and stand at their stations. */
const AT_A_GLANCE = 3;

/**
 * What a finding demands at stations other than this one: said large where the
 * pilot looks, since the list of open checks shows only the station they stand
 * at. It stays until every one is answered (R7: no blanket does).
 */
export function Demanded({ walk, pick }: { walk: WalkView; pick: (check: CheckCoverage) => void }) {
  const t = useText();
  const names = namesOf(walk.catalogue);
  const open = demandedElsewhere(walk);
  const rest = open.length - AT_A_GLANCE;
  return (
    // Always there, so that a screen reader tells what comes into it.
    <div role="status">
      {open.length > 0 && (
        <section className="demanded" aria-label={t('demanded-label')}>
          <h2>
            <Mark of="finding" severity="defer" label="" />
            {t('demanded', { n: open.length })}
          </h2>
          <ul className="here">
            {open.slice(0, AT_A_GLANCE).map((c) => (
              <li key={c.check}>
                <button type="button" onClick={() => pick(c)}>
                  <Mark of={c.standing} />
                  <span>
                    {capital(names.check.get(c.check)?.name ?? c.check)}
                    <span className="because small">
                      {names.station.get(c.station)?.name ?? c.station}
                    </span>
                  </span>
                </button>
              </li>
            ))}
          </ul>
          {rest > 0 && <p className="quiet">{t('demanded-more', { n: rest })}</p>}
          {cautionsOf(walk.catalogue, walk.coverage).map((text) => (
            <p key={text} className="cautions">
              {text}
            </p>
          ))}
        </section>
      )}
    </div>
  );
}

/** What the signs that demand something warn of, each sentence once. */
function cautionsOf(catalogue: Catalogue, coverage: Coverage): readonly string[] {
  const found = new Set(
    coverage.findings
      .filter((f) => f.settled !== 'taken-back')
      .flatMap((f) => f.conditions.map((c) => c.sign)),
  );
  const signs = [
    ...catalogue.signs,
    ...catalogue.stations.flatMap((s) => s.checks).flatMap((c) => c.signs),
  ];
  const texts = signs.flatMap((s) =>
    typeof s !== 'string' && found.has(s.id) && s.followUps.length > 0 && s.caution !== undefined
      ? [s.caution]
      : [],
  );
  return [...new Set(texts)];
}

function demandedElsewhere(walk: WalkView): readonly CheckCoverage[] {
  return walk.coverage.checks.filter(
    (c) => c.required.by === 'follow-up' && isOpen(c.standing) && c.station !== walk.station,
  );
}

/**
 * Words that could not be spoken, less those that say what stands on the screen
 * already: what is demanded, what it warns of, the caution of the station, and
 * why it does not hear.
 */
export function shownBeside(walk: WalkView, why: string | null = null): string {
  const { shown, question } = walk;
  if (shown === null || shown === undefined || shown === question?.text) return '';
  const above = new Set([...cautionsHere(walk), ...sentencesOf(why ?? '')].map(bare));
  const demanded = question === null && demandedElsewhere(walk).length > 0;
  if (demanded) {
    for (const text of cautionsOf(walk.catalogue, walk.coverage).flatMap(sentencesOf))
      above.add(bare(text));
  }
  return sentencesOf(shown)
    .filter((s) => !(demanded && (s.startsWith(DEMANDS) || bare(s) === DECIDES)))
    .filter((s) => !above.has(bare(s)))
    .join(' ');
}

/** The caution of the station where the pilot stands: it has its own line, once. */
function cautionsHere({ catalogue, station }: WalkView): readonly string[] {
  return sentencesOf(catalogue.stations.find((s) => s.id === station)?.caution ?? '');
}

function bare(text: string): string {
  return text.replace(/[.?!]+$/, '');
}
