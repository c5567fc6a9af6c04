import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Station } from '#shared/catalogue';
import type { CheckCoverage } from '#shared/coverage';
import { useHouse } from '../parts/house.ts';
import { Mark } from '../parts/Mark.tsx';
import { Modal } from '../parts/Modal.tsx';
import { Reasons } from '../parts/Reasons.tsx';
import { useTell } from '../parts/Tell.tsx';
import { byStation, capital, isOpen, missingWords, namesOf } from '../parts/words.ts';
import type { WalkView } from '../services.ts';
import { useText, type Text } from '../text/text.ts';
import { LeaveOpen } from '../walk/LeaveOpen.tsx';

/** More gaps than this at one station are walked, not answered one by one. */
const AT_A_GLANCE = 6;

/**
 * The gaps by station, in walking order. A gap is walked back to and said, or
 * left open with its reason; a "good" from memory is not offered, since filling
 * in from memory is what a walk aloud exists to end.
 */
export function Gaps({ walk }: { walk: WalkView }) {
  const t = useText();
  const [picked, setPicked] = useState<string | null>(null);
  const groups = byStation(walk.coverage);
  const coverage = walk.coverage.checks.find((c) => c.check === picked);
  return (
    <section className="gaps" aria-labelledby="gaps">
      <h2 id="gaps">{t('finish-gaps-head')}</h2>
      <p className="quiet">{t('finish-gaps-how')}</p>
      {walk.catalogue.stations.map((s, i) => {
        const open = (groups.get(s.id) ?? []).filter((c) => c.required.today && isOpen(c.standing));
        if (open.length === 0) return null;
        return (
          <section key={s.id} className="gap-station">
            <div className="gap-head">
              <h3>
                {t('where-at', { number: i + 1, station: s.name })}
                <span className="quiet">, {t('gaps', { n: open.length })}</span>
              </h3>
              {!walk.coverage.finished && <WalkThere station={s} number={i + 1} />}
            </div>
            <List open={open} walk={walk} pick={setPicked} />
          </section>
        );
      })}
      {coverage !== undefined && (
        <Why walk={walk} coverage={coverage} close={() => setPicked(null)} />
      )}
    </section>
  );
}

/** The gaps of one station; of one that was hardly walked, their number, to be opened. */
function List({
  open,
  walk,
  pick,
}: {
  open: readonly CheckCoverage[];
  walk: WalkView;
  pick: (check: string) => void;
}) {
  const t = useText();
  const names = namesOf(walk.catalogue);
  const list = (
    <ul className="lines">
      {open.map((c) => (
        <li key={c.check}>
          <button type="button" className="gap" onClick={() => pick(c.check)}>
            <Mark of={c.standing} label="" />
            <span>
              {capital(names.check.get(c.check)?.name ?? c.check)}
              <span className="quiet small">{whyOpen(c, walk, t)}</span>
            </span>
          </button>
        </li>
      ))}
    </ul>
  );
  // What a finding demands is never folded away (R7: nothing but an answer ends it).
  const demanded = open.some((c) => c.required.by === 'follow-up');
  if (open.length <= AT_A_GLANCE || demanded) return list;
  return (
    <details className="gap-fold">
      <summary>{t('finish-show-gaps', { n: open.length })}</summary>
      {list}
    </details>
  );
}

function WalkThere({ station, number }: { station: Station; number: number }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [, go] = useLocation();
  return (
    <button
      type="button"
      className="press"
      aria-label={t('finish-walk-there-long', { number, station: station.name })}
      onClick={() => void house.goTo(station.id).then((o) => tell(o) && go('/walk'))}
    >
      {t('finish-walk-there', { number })}
    </button>
  );
}

/** One gap: what stands of it, and the two ways to answer it. */
function Why({
  walk,
  coverage,
  close,
}: {
  walk: WalkView;
  coverage: CheckCoverage;
  close: () => void;
}) {
  const t = useText();
  const names = namesOf(walk.catalogue);
  const check = names.check.get(coverage.check)?.name ?? coverage.check;
  const station = names.station.get(coverage.station);
  const number = walk.catalogue.stations.findIndex((s) => s.id === coverage.station) + 1;
  return (
    <Modal title={t('finish-say-why', { check })} close={close}>
      <div className="check-card">
        <Reasons reasons={coverage.reasons} />
        {!walk.coverage.finished && station !== undefined && (
          <WalkThere station={station} number={number} />
        )}
        <LeaveOpen check={coverage.check} done={close} />
      </div>
    </Modal>
  );
}

function whyOpen(c: CheckCoverage, walk: WalkView, t: Text): string {
  const lacking = missingWords(c, namesOf(walk.catalogue).check.get(c.check));
  return [
    ...(c.standing === 'question' ? [t('finish-gap-question')] : []),
    ...(c.standing === 'part'
      ? [lacking === '' ? t('finish-gap-result') : t('finish-gap-part', { missing: lacking })]
      : []),
    ...(c.required.by === 'follow-up' ? [t('finish-gap-demanded')] : []),
  ].join(', ');
}
