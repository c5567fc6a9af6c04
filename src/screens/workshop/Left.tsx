import { LEFT_HEAD } from '#catalogue';
import { useText } from '../text/text.ts';

/** Lines of the pasted text that became nothing. They stand at the end of the file until its author takes them out there. */
export function Left({ text }: { text: string }) {
  const t = useText();
  const lines = text.split('\n');
  const head = lines.findIndex((l) => l.replace(/^#\s*/, '') === LEFT_HEAD);
  if (head < 0) return null;
  const left = lines
    .slice(head + 1)
    .filter((l) => l.startsWith('#'))
    .map((l) => l.replace(/^#\s*/, ''));
  if (left.length === 0) return null;
  return (
    <details className="left-lines">
      <summary>{t('shop-left', { n: left.length })}</summary>
      <ul className="lines">
        {left.map((l, i) => (
          <li key={`${i} ${l}`}>{l}</li>
        ))}
      </ul>
    </details>
  );
}
