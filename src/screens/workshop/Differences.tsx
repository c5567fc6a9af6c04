import { useText } from '../text/text.ts';

/** Differences in plain words, a line each. */
export function Differences({ of }: { of: readonly string[] }) {
  const t = useText();
  if (of.length === 0) return <p>{t('shop-same')}</p>;
  return (
    <ul className="lines differences">
      {of.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
