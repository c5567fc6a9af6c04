import { LEFT_HEAD } from '#catalogue';

/** Lines of the pasted text that became nothing. They stand at the end of the file until its author takes them out there. */
export function Left({ text }: { text: string }) {
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
      <summary>Lines of the text that became nothing: {left.length}</summary>
      <ul className="lines">
        {left.map((l, i) => (
          <li key={`${i} ${l}`}>{l}</li>
        ))}
      </ul>
    </details>
  );
}
