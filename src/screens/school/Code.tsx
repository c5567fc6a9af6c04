import { dateTime } from '../parts/words.ts';
import type { CodeView } from '../services.ts';

/** A code to be scanned, with what it is for. */
export function Code({ code, what }: { code: CodeView; what: string }) {
  return (
    <div className="code-of">
      <img src={code.drawn} alt={`QR code: ${code.link}`} width="240" height="240" />
      <div>
        <p>{what}</p>
        <p className="code-words" data-link={code.link}>
          {code.code}
        </p>
        <p className="quiet">Good once, until {dateTime(code.expires)}.</p>
      </div>
    </div>
  );
}
