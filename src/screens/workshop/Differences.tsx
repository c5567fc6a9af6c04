/** Differences in plain words, a line each. */
export function Differences({ of }: { of: readonly string[] }) {
  if (of.length === 0) return <p>It means the same as the one that is here.</p>;
  return (
    <ul className="lines differences">
      {of.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
