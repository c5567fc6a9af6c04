import { editionWords, sourceWords } from '#report';
import type { Catalogue } from '#shared/catalogue';

/** At a sheet's foot: the edition that was walked, its source and its licence, in words. */
export function Foot({ catalogue, edition }: { catalogue: Catalogue; edition: string | null }) {
  return (
    <>
      <p className="small quiet edition-words">{editionWords(catalogue, edition)}</p>
      {sourceWords(catalogue).map((line) => (
        <p key={line} className="small quiet">
          {line}
        </p>
      ))}
    </>
  );
}
