import { dateTime } from '../parts/words.ts';
import type { CodeView } from '../services.ts';
import { useText } from '../text/text.ts';

/** A code to be scanned, with what it is for. */
export function Code({ code, what }: { code: CodeView; what: string }) {
  const t = useText();
  return (
    <div className="code-of">
      <img src={code.drawn} alt={t('code-drawn', { link: code.link })} width="240" height="240" />
      <div>
        <p>{what}</p>
        <p className="code-words" data-link={code.link}>
          {code.code}
        </p>
        <p className="quiet">{t('code-good', { when: dateTime(code.expires) })}</p>
      </div>
    </div>
  );
}
