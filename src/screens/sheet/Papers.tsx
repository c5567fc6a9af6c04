import { Link } from 'wouter';
import { handOut } from '../parts/handOut.ts';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import type { Paper, WalkRecord } from '../services.ts';
import { useText } from '../text/text.ts';

/** What can be taken away from the sheet; each button says what it makes. */
export function Papers({ record }: { record: WalkRecord }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const t = useText();
  const give = async (kind: Paper, share: boolean) => {
    const outcome = await house.paper(record.id, kind);
    if (tell(outcome) && outcome.ok) await handOut(outcome.value.name, outcome.value.blob, share);
  };
  return (
    <div className="tools noprint">
      <button type="button" className="press" onClick={() => window.print()}>
        {t('sheet-print', { paper: t(`paper-${settings.paper}`) })}
      </button>
      <button type="button" className="press" onClick={() => void give('sheet-pdf', true)}>
        {t('sheet-pdf')}
      </button>
      <button type="button" className="press" onClick={() => void give('form-pdf', true)}>
        {t('sheet-form')}
      </button>
      <button type="button" className="press" onClick={() => void give('sheet-csv', false)}>
        {t('sheet-csv')}
      </button>
      <button type="button" className="press" onClick={() => void give('sheet-json', false)}>
        {t('sheet-json')}
      </button>
      <Link className="press" href={`/debrief/${record.id}`}>
        {t('sheet-debrief')}
      </Link>
    </div>
  );
}
