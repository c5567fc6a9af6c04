import { many } from '../parts/words.ts';

/**
 * Words that were heard and are not on the disk yet (R10): they count for
 * nothing until they are, and would be lost with the app.
 */
export function Unkept({ words }: { words: readonly string[] }) {
  const last = words.at(-1);
  return (
    <div role="alert">
      {last !== undefined && (
        <div className="notice caution">
          <p>
            <strong>{many(words.length, 'utterance')} heard and not yet kept:</strong> “{last}”.
            Keep the app open and say the next thing: what waits is written first.
          </p>
        </div>
      )}
    </div>
  );
}
