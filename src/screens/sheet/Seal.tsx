import { Link } from 'wouter';
import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import type { WalkSeal } from '../services.ts';
import { useText } from '../text/text.ts';
import { Findings } from './Findings.tsx';

/**
 * What somebody has to know of the seal before the sheet is believed: that a
 * signed walk is not sealed, what was added, what is missing, and which other
 * versions of it there are, with their findings (R4). Nothing when all is well.
 */
export function SealDoubts({
  seal,
  coverage,
  catalogue,
}: {
  seal: WalkSeal | null;
  coverage: Coverage;
  catalogue: Catalogue;
}) {
  const t = useText();
  if (seal === null) return null;
  const doubted = !seal.whole && coverage.signed !== null;
  if (!doubted && seal.remarks.length === 0 && seal.versions.length === 0) return null;
  return (
    <section className="seal-doubts" aria-labelledby="seal-doubts">
      <h2 id="seal-doubts">{t(seal.whole ? 'sheet-added' : 'sheet-doubt')}</h2>
      <ul className="lines">
        {!seal.whole && <li>{seal.text}</li>}
        {seal.remarks.map((remark) => (
          <li key={remark}>{remark}</li>
        ))}
      </ul>
      {seal.versions.map((version) => (
        <div key={version.id} className="seal-version">
          <h3>{t('sheet-version')}</h3>
          <p>{version.text}</p>
          <Findings catalogue={catalogue} findings={version.findings} />
          <Link className="press noprint" href={`/sheet/${version.id}`}>
            {t('sheet-version-open')}
          </Link>
        </div>
      ))}
    </section>
  );
}

/** Reviews and amendments: beside the walk, never in its coverage. */
export function SaidBeside({ seal }: { seal: WalkSeal | null }) {
  const t = useText();
  if (seal === null || seal.beside.length === 0) return null;
  return (
    <section className="said-beside">
      <h2>{t('sheet-beside')}</h2>
      <p className="quiet">{t('sheet-beside-note')}</p>
      <ul className="lines">
        {seal.beside.map((line, i) => (
          <li key={i}>{line}</li>
        ))}
      </ul>
    </section>
  );
}
