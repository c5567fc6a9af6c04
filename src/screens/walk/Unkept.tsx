import { useText } from '../text/text.ts';

/**
 * Words that were heard and are not on the disk yet (R10): they count for
 * nothing until they are, and would be lost with the app.
 */
export function Unkept({ words }: { words: readonly string[] }) {
  const t = useText();
  const last = words.at(-1);
  return (
    <div role="alert">
      {last !== undefined && (
        <div className="notice caution">
          <p>
            <strong>{t('unkept', { n: words.length })}</strong> {t('unkept-what', { words: last })}
          </p>
        </div>
      )}
    </div>
  );
}
